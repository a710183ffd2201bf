"""What the cloth lies on or hangs before, and what lies about."""

import cv2
import fields
import numpy as np
import spectra
from fields import HEIGHT, WIDTH
from scene import filled

EVERYWHERE = np.ones((HEIGHT, WIDTH), np.float32)


def paint(scene, kind, rng):
    """Paint a backdrop over the whole scene by its name."""
    KINDS[kind](scene, rng)


def _ground(scene, rng, colour, texture):
    scene.lay(EVERYWHERE, spectra.coloured(np.array(colour) + rng.normal(0, 2, 3), rng), texture)


def wood(scene, rng):
    """Boards, each of its own brown, with grain."""
    _ground(scene, rng, (58, 12, 26), np.exp(0.12 * fields.waves(rng, 34, 1.2) + 0.1 * fields.clouds(rng, 30, (1, 9))))
    for left in range(0, WIDTH, rng.integers(260, 420)):
        board = np.zeros_like(EVERYWHERE)
        board[:, left : left + 180] = rng.uniform(0, 0.5)
        board[:, left : left + 5] = 0.8
        scene.lay(board, spectra.coloured(np.array((40, 12, 20)), rng), 1.0)


def lawn(scene, rng):
    """Grass: blades, light and dark, with yellow ones among them."""
    blades = fields.clouds(rng, 7, (1, 4)) + fields.clouds(rng, 9, (3, 1))
    _ground(scene, rng, (45, -20, 34), np.exp(0.3 * blades + 0.15 * fields.clouds(rng, 200)))
    dead = np.clip(fields.clouds(rng, 8, (1, 4)) - 1.4, 0, 1)
    scene.lay(dead, spectra.coloured(np.array((66, 4, 34)), rng), np.exp(0.1 * blades))


def slate(scene, rng):
    """Dark stone in plates."""
    _ground(scene, rng, (36, -1, -5), np.exp(0.16 * fields.clouds(rng, 120) + 0.06 * fields.clouds(rng, 5)))


def plaster(scene, rng):
    """A pale wall, mottled."""
    _ground(scene, rng, (78, 1, 7), np.exp(0.07 * fields.clouds(rng, 90) + 0.03 * fields.clouds(rng, 4)))


def sheet(scene, rng):
    """A white bed sheet in folds."""
    _ground(scene, rng, (90, 0, -1), np.exp(0.06 * fields.waves(rng, 300) + 0.05 * fields.clouds(rng, 220)))


def blanket(scene, rng):
    """A coloured woollen cloth in folds."""
    colours = [(38, 16, -20), (42, -16, -8), (52, 26, 14)]
    _ground(scene, rng, colours[rng.integers(3)], np.exp(0.1 * fields.waves(rng, 260) + 0.06 * fields.clouds(rng, 4)))


def gravel(scene, rng):
    """Pebbles from grey to brown, dark between them."""
    _ground(scene, rng, (24, 2, 6), 1.0)
    colours = [spectra.coloured(np.array(c), rng) for c in [(64, 2, 8), (52, 4, 12), (74, 1, 6), (46, 0, -2)]]
    masks = [np.zeros((HEIGHT, WIDTH), np.uint8) for _ in colours]
    for x, y in rng.uniform((0, 0), (WIDTH, HEIGHT), (4200, 2)):
        axes = tuple(int(a) for a in rng.integers(9, 30, 2))
        which = rng.integers(len(colours))
        for i, mask in enumerate(masks):
            cv2.ellipse(mask, (int(x), int(y)), axes, rng.uniform(0, 180), 0, 360, 255 * int(i == which), -1)
    rough = np.exp(0.12 * fields.clouds(rng, 12))
    for colour, mask in zip(colours, masks):
        scene.lay(cv2.GaussianBlur(mask.astype(np.float32) / 255, (0, 0), 2), colour, rough)


def alike(scene, rng, colour):
    """Plain cloth of nearly a given CIELAB colour."""
    _ground(scene, rng, np.array(colour) + (-4, 1, -3), np.exp(0.06 * fields.waves(rng, 380)))


KINDS = {f.__name__: f for f in (wood, lawn, slate, plaster, sheet, blanket, gravel)}


def clutter(scene, rng, count):
    """Things left lying: stones, lids, boxes, cord. Painted before cloth and tag, so these hide them."""
    for _ in range(count):
        at = rng.uniform((0, 0), (WIDTH, HEIGHT))
        colour = spectra.coloured(rng.uniform((20, -12, -18), (80, 25, 35)), rng)
        scene.lay(filled(_thing(rng, at)), colour, np.exp(0.05 * fields.clouds(rng, 50)))


def _thing(rng, at):
    """A polygon: a round thing, a box or a length of cord."""
    t = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    turn = rng.uniform(0, np.pi)
    turned = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    kind = rng.integers(3)
    if kind == 0:
        return at + np.stack([np.cos(t), np.sin(t)], 1) * rng.uniform(50, 170, 2) @ turned
    half = rng.uniform(60, 150, 2) if kind == 1 else np.array([rng.uniform(300, 700), rng.uniform(6, 14)])
    return at + np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * half @ turned


def shadow(cover, rng, depth=0.35):
    """The shadow that a thing throws around itself, to be laid under it: 1 where there is none."""
    across, down = rng.uniform(-18, 18), rng.uniform(6, 22)
    moved = cv2.warpAffine(cover, np.float32([[1, 0, across], [0, 1, down]]), (WIDTH, HEIGHT))
    return 1 - depth * cv2.GaussianBlur(moved, (0, 0), rng.uniform(6, 16))
