"""Cloth: its colours, its outline, the leaves printed on it, and what water and washing do to it.

The colours are invented after what leaves give on mordanted silk (common practice, no source); their spectra are mixed
from measured ones.
"""

import cv2
import fields
import numpy as np
import spectra
from scene import filled

GROUNDS = {
    "alum": [(88, 1, 12), (80, 4, 22), (76, 2, 34)],
    "iron": [(62, 2, 6), (50, 2, 1), (72, 2, 12)],
    "tannin": [(78, 7, 22), (70, 10, 26), (84, 4, 16)],
    "copper": [(76, -8, 26), (68, -6, 18), (82, -5, 14)],
}
PRINTS = {
    "alum": [(70, 10, 56), (52, 32, 42), (62, 2, 44), (60, -14, 36), (45, 40, 22), (38, 14, 14)],
    "iron": [(30, 2, 2), (38, 12, -6), (34, 5, 14), (44, 0, 24), (24, 3, -4), (48, -5, 10)],
    "tannin": [(42, 22, 26), (55, 26, 44), (34, 10, 12), (64, 14, 36), (28, 12, -4), (50, 10, 24)],
    "copper": [(46, -14, 18), (54, -8, 40), (36, 2, 20), (60, -18, 26), (40, 10, 22), (33, -4, 4)],
}
VIVID = [(44, 52, 26), (70, 24, 68), (36, 34, -28), (40, -4, -34), (56, -32, 34), (78, 4, 74)]
LEAST_APART = 11.0  # nearest two colours of a piece, in CIELAB


def palette(mordant, count, rng, vivid=False):
    """Reflectances of a piece: the ground first, then its prints; none of them nearly alike."""
    pool = PRINTS[mordant] + (VIVID if vivid else [])
    chosen = [_near(GROUNDS[mordant][rng.integers(3)], rng)]
    start = len(PRINTS[mordant]) if vivid else 0
    order = np.r_[start + rng.permutation(len(pool) - start), rng.permutation(start)]
    for at in [int(i) for i in order] + list(rng.integers(0, len(pool), 60)):
        colour = _near(pool[at], rng)
        if len(chosen) < count and min(np.linalg.norm(colour - c) for c in chosen) > LEAST_APART:
            chosen.append(colour)
    return np.array([spectra.coloured(c, rng) for c in chosen])


def _near(colour, rng):
    return np.asarray(colour, float) + rng.normal(0, [3, 2, 3])


def in_state(reflectances, state, rng):
    """The same cloth wet (drained, dripping or gone translucent), dry or washed."""
    if state == "wet":
        times, through = [(1.5, 1.0), (2.2, 1.0), (2.0, 0.86)][rng.integers(3)]
        return np.array([through * spectra.absorbed_more(r, times) for r in reflectances])
    if state == "washed":
        return np.array([spectra.absorbed_more(r, 0.82) for r in reflectances])
    return reflectances


class Place:
    """Where a cloth is in the picture: middle and half sizes in pixels, turn in radians, corners pulled by its slant."""

    def __init__(self, rng, middle, half, turn=0.0, slant=0.04):
        self.middle, self.half, self.turn = np.asarray(middle, float), np.asarray(half, float), turn
        self.pull = rng.normal(0, slant, (2, 2)) * np.array([[0, 1], [1, 0]])

    def __call__(self, points):
        """Pixels of points given from -1 to 1 across and down the cloth."""
        p = np.asarray(points, float)
        p = p * (1 + p[:, ::-1] * self.pull.sum(0)) * self.half
        c, s = np.cos(self.turn), np.sin(self.turn)
        return p @ np.array([[c, s], [-s, c]]) + self.middle


def outline(rng, place, ragged=1.0):
    """A wavy four-sided polygon, in pixels."""
    corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)], float)
    return np.vstack([_edge(place(np.array([a, b])), rng, ragged) for a, b in zip(corners, np.roll(corners, -1, 0))])


def _edge(ends, rng, ragged):
    """A side from one corner to the next, waving by some hundredths of its length."""
    t = np.linspace(0, 1, 24, endpoint=False)
    along = ends[1] - ends[0]
    across = np.array([along[1], -along[0]])
    swing = sum(rng.normal(0, 0.016 / k) * np.sin(k * np.pi * t) for k in range(1, 7))
    return ends[0] + t[:, None] * along + (ragged * swing)[:, None] * across


def leaf(rng, at, length):
    """The outline of a leaf: a blade, a round one, one with lobes or a notched fan."""
    t = np.linspace(0, 2 * np.pi, 90, endpoint=False)
    kind = rng.integers(4)
    radius = [
        0.35 + 0.65 * np.abs(np.cos(t)) ** 1.6,
        0.8 + 0.06 * np.cos(9 * t),
        0.55 + 0.4 * np.abs(np.cos(2.5 * t)) ** 1.5,
        0.3 + 0.7 * np.abs(np.cos(t / 2)) - 0.12 * np.cos(7 * t) ** 2,
    ][kind]
    turn = rng.uniform(0, 2 * np.pi)
    shape = radius[:, None] * np.stack([np.cos(t + turn), np.sin(t + turn)], 1)
    return at + length * shape


def design(rng, count, aspect, shares=None):
    """Leaves of a piece, the lowest first: pairs of a print (1 to count - 1) and its outline from -1 to 1 on the cloth.

    `aspect` is height over width; `shares` how large a part of the cloth each print should come to, else about alike.
    """
    wanted = shares if shares is not None else rng.dirichlet(np.full(count - 1, 6.0)) * rng.uniform(0.5, 0.7)
    seen, leaves = np.zeros((240, 240), np.uint8), []
    for print_ in sorted(range(1, count), key=lambda i: -wanted[i - 1]):
        for _ in range(60):
            if (seen == print_).mean() >= 0.92 * wanted[print_ - 1]:
                break
            length = 2 * np.sqrt(min(wanted[print_ - 1], 0.16)) * rng.uniform(0.35, 0.6)
            stretch = np.array([np.sqrt(aspect), 1 / np.sqrt(aspect)])
            shape = rng.uniform(-0.95, 0.95, 2) + leaf(rng, 0, length) * stretch
            leaves.append((print_, shape))
            cv2.fillPoly(seen, [np.int32((shape + 1) * 120)], print_)
    return leaves


def covers(polygon, place, leaves, count, soft=1.2):
    """How much of each pixel the piece covers, and how much of that each of its colours, the ground first."""
    layers = [np.zeros((fields.HEIGHT, fields.WIDTH), np.float32) for _ in range(count)]
    layers[0][:] = 1.0
    for print_, shape in leaves:
        cover = filled(place(shape))
        for layer in layers:
            layer *= 1 - cover
        layers[print_] += cover
    return filled(polygon), [cv2.GaussianBlur(layer, (0, 0), soft) for layer in layers]


def shading(rng, depth):
    """Light over cloth in folds with its weave and the print's own mottling; 1 on the mean."""
    weave = rng.standard_normal((fields.HEIGHT, fields.WIDTH)).astype(np.float32)
    weave = cv2.GaussianBlur(weave, (0, 0), 1.2)
    folds = depth * (fields.waves(rng, rng.uniform(180, 420)) + 0.6 * fields.clouds(rng, 160)) / 1.4
    return np.exp(folds + 0.03 * fields.clouds(rng, 40) + 0.05 * weave)
