#!/usr/bin/env python3
"""Makes the seasons: python3 make.py FOLDER [NAME…]. See README.md."""

import os
import sys

import camera
import numpy as np
import references
import season as seasons
import spectra
from camera import Camera
from season import Season

FIRST, _, THIRD = camera.measured()


def lens(seed, far=1.0):
    """A camera's sensitivities, perturbed with a seed."""
    return camera.perturbed(np.random.default_rng(seed), far=far)


def chosen(count, seed):
    """Reflectances for a chart: white to black, and measured ones that lie far apart."""
    rng = np.random.default_rng(seed)
    greys = [spectra.coloured(np.array((l, 0.0, 0.0)), rng) for l in (95, 78, 60, 42, 22)]
    kept = list(greys)
    known = spectra.measured()
    while len(kept) < count:
        apart = np.linalg.norm(spectra.lab(known)[:, None] - spectra.lab(np.array(kept))[None], axis=2).min(1)
        kept.append(known[rng.choice(np.argsort(apart)[-12:])])
    return kept


QUARTER = np.pi / 2
PATCHES = spectra.patches_24()
WHITENED = ((94.0, 1.2, -6.0), (25.0, 0.0, 0.0))
CREAMY = ((91.0, 0.5, 7.0), (32.0, 0.5, 1.0))
OFFICE = ((95.0, 0.3, -3.0), (15.0, 0.0, 0.5))
BACKS = ("lawn", "gravel", "blanket", "sheet", "wood", "slate", "plaster")
HARD = ("dapple", "A", "wind", "line", "FL2", "cut", "alike", "LED-B3", "shade")

SEASONS = [
    Season("s1", "MA", 1, Camera(THIRD, s_curve=0.5)),
    Season("s2", "MB", 2, Camera(lens(22), look=0.08, shoulder=0.9, s_curve=0.1), backs=("plaster", "wood", "sheet")),
    Season("s3", "MC", 3, Camera(lens(33), look=0.05, s_curve=0.4), backs=BACKS, plane=0.35, vignette=0.3, blotches=0.06),
    Season("s4", "MD", 4, Camera(lens(44), s_curve=0.3, shoulder=0.4), reference="tags", backs=BACKS, plane=0.25, blotches=0.04),
    Season("s5", "ME", 5, Camera(lens(55), look=0.1, s_curve=0.5), reference="chart", illuminant="D50",
           chart=references.Chart(PATCHES, 4, gap=0.3, edge=0.4), turns=(0, QUARTER, 2 * QUARTER, 3 * QUARTER, 0.6), backs=BACKS),
    Season("s6", "MF", 6, Camera(lens(66), shoulder=0.8), reference="chart", illuminant=None, slant=0.12,
           chart=references.Chart(PATCHES, 4, gap=0.08, edge=0.0, frame=None), backs=("wood", "slate", "gravel", "lawn")),
    Season("s7", "MG", 7, Camera(lens(77), look=0.08, s_curve=0.2, shoulder=0.5, balance_sd=0.08), reference="none", backs=BACKS),
    Season("s8", "MH", 8, Camera(FIRST, look=0.05, s_curve=0.45), papers=(WHITENED, CREAMY, OFFICE)),
    Season("s9", "MI", 9, Camera(lens(99), s_curve=0.4, shoulder=0.3), pieces=6, counts=(2, 3, 4, 6, 7, 8), vivid=True, backs=BACKS),
    Season("s10", "MJ", 10, Camera(lens(110), look=0.1, s_curve=0.3, shoulder=0.4), pieces=6, backs=BACKS, events=HARD),
    Season("s11", "MK", 11, Camera(lens(121), look=0.12, shoulder=0.7), reference="card", card="yard",
           chart=references.Chart(chosen(20, 11), 4, gap=0.15, edge=0.2, frame=(92.0, 0.0, 2.0)), backs=BACKS),
    Season("t1", "TA", 22, Camera(lens(145), s_curve=0.3), backs=("plaster", "wood", "slate")),
    Season("t2", "TB", 21, Camera(lens(144), s_curve=0.35), reference="tags", backs=("plaster", "wood", "slate")),
    Season("t5", "TE", 23, Camera(lens(146), s_curve=0.35), reference="chart", chart=references.Chart(PATCHES, 4, gap=0.1, edge=0.2),
           backs=("plaster", "wood", "slate")),
]  # fmt: skip


def main(folder, names):
    """Make the seasons of these names, or all."""
    for one in SEASONS:
        if not names or one.name in names:
            seasons.make(one, os.path.join(folder, one.name))
            print(one.name, flush=True)


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit("Which folder shall the seasons go to? python3 make.py FOLDER [NAME…]")
    main(sys.argv[1], sys.argv[2:])
