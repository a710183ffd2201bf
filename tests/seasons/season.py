"""A season: its pieces, and four photos of each with what is true of them."""

import csv
import json
import os
from dataclasses import dataclass, replace

import backdrop
import cloth
import cv2
import fields
import numpy as np
import references
import spectra
from camera import Camera
from fields import HEIGHT, WIDTH
from scene import Scene

STATES = ("wet", "dry", "dry", "washed")
MORDANTS = ("alum", "iron", "tannin", "copper")
LEAVES = {"alum": "walnut; birch", "iron": "oak; alder", "tannin": "chestnut; maple", "copper": "nettle; elder"}
SHEET = ["piece", "bundle", "made", "layer", "fibre", "weave", "momme", "width_cm", "length_cm", "mordant", "plants"]
SHEET += ["simmer_low_c", "simmer_high_c", "simmer_min"]


@dataclass
class Season:
    """How a season is photographed. Each list is walked through photo by photo."""

    name: str
    prefix: str  # of the pieces' codes
    seed: int
    camera: Camera
    pieces: int = 5
    counts: tuple = (5, 4, 6)  # colours of a piece
    vivid: bool = False
    reference: str = "tag"  # tag, tags, chart, card or none
    chart: references.Chart | None = None
    illuminant: str | None = "D65"  # of the chart's file; none: spectra
    turn: float = 0.12  # how far tags and cloth are turned, radians
    turns: tuple = (0.0,)  # what a chart is turned by besides, radians
    slant: float = 0.05
    backs: tuple = ("wood", "plaster", "slate")
    lights: tuple = (5000, 5500, 6500, 7500)
    plane: float = 0.10
    vignette: float = 0.12
    blotches: float = 0.025
    papers: tuple = ((references.PAPER, references.INK),)
    events: tuple = ("",)  # what goes wrong, see `photo`
    card: str = ""  # the name in the QR code of the studio's own card


def make(season, folder):
    """Write a season: photos, truth.json, sheet.csv and the chart's file if it has one."""
    os.makedirs(os.path.join(folder, "photos"), exist_ok=True)
    truth, rows = {}, []
    for number in range(season.pieces):
        piece = Piece(season, number)
        rows.append(piece.row())
        for shot, state in enumerate(STATES):
            name = f"{piece.code}-{state}-{shot}.jpg"
            rng = np.random.default_rng([season.seed, number, shot])
            picture, truth[name] = photo(season, piece, state, number * len(STATES) + shot, rng)
            quality = int(rng.integers(*season.camera.quality))
            cv2.imwrite(os.path.join(folder, "photos", name), picture, [cv2.IMWRITE_JPEG_QUALITY, quality])
    with open(os.path.join(folder, "truth.json"), "w") as out:
        json.dump(truth, out, indent=1)
    with open(os.path.join(folder, "sheet.csv"), "w", newline="") as out:
        csv.writer(out).writerows([SHEET, *rows])
    if season.chart:
        with open(os.path.join(folder, "chart.txt"), "w") as out:
            out.write(season.chart.cgats(season.illuminant))


class Piece:
    """A piece of cloth: its code, colours and leaves."""

    def __init__(self, season, number):
        rng = np.random.default_rng([season.seed, number])
        self.code = f"{season.prefix}{number + 1:03}"
        self.number = number
        self.mordant = MORDANTS[(number + season.seed) % 4]
        self.dry = cloth.palette(self.mordant, season.counts[number % len(season.counts)], rng, season.vivid)
        self.half = (rng.uniform(0.15, 0.27) * WIDTH, rng.uniform(0.34, 0.44) * HEIGHT)
        shares = None
        if season.vivid:  # one or two small prints, the rest as they come
            shares = rng.dirichlet(np.full(len(self.dry) - 1, 6.0)) * 0.55
            shares[:2] = rng.uniform(0.012, 0.04, len(shares[:2]))
        self.leaves = cloth.design(rng, len(self.dry), self.half[1] / self.half[0], shares)

    def row(self):
        """The piece in the sheet."""
        bundle = f"B{self.number // 3 + 1:02}"
        made = [bundle, "2026-06-07", self.number % 3 + 1, "silk", "habotai", 10, 40, 150]
        return [self.code, *made, self.mordant, LEAVES[self.mordant], 82, 88, 90]


def photo(season, piece, state, at, rng):
    """One photo and what is true of it. `at` counts the season's photos.

    Events: `dapple` (sun through leaves), `shade` (its edge across the picture), `wind` (edges and folds blown),
    `line` (another piece beside it), `cut` (out of the frame), `alike` (backdrop of nearly the ground's colour), or a
    lamp by the name of its CIE illuminant.
    """
    event = season.events[at % len(season.events)]
    light, lights, illumination = lit(season, event, rng)
    scene = Scene(season.camera, lights)
    back = season.backs[at % len(season.backs)]
    reflectances = cloth.in_state(piece.dry, state, rng)
    if event == "alike":
        back = "alike"
        backdrop.alike(scene, rng, spectra.lab(reflectances[0]))
    else:
        backdrop.paint(scene, back, rng)
    backdrop.clutter(scene, rng, int(rng.integers(0, 4)))
    side = 1 if rng.random() < 0.7 else -1  # cloth right of the reference, or left
    if event == "line":
        hang_another(scene, season, piece, side, rng)
    polygon, palette = hang(scene, season, piece, reflectances, side, event, rng)
    paper, ink = season.papers[piece.number % len(season.papers)]
    things = refer(scene, season, piece, side, paper, ink, rng)
    exposure = rng.uniform(0.58, 0.9) / np.quantile(illumination, 0.98)
    truth = {
        "piece": piece.code,
        "state": state,
        "light": light,
        "back": back,
        "palette": palette,
        "geometry": {"piece": polygon.round(1).tolist(), **things},
        "mordant": piece.mordant,
        "event": event,
        "paper": list(paper),
        "ink": list(ink),
    }
    return scene.photograph(float(exposure), rng), truth


def lit(season, event, rng):
    """The light's name, the scene's lights with their share over the picture, and how bright it is in all."""
    fall = fields.fall_of_light(rng, rng.uniform(0.3, 1) * season.plane, season.vignette, season.blotches)
    if event in ("dapple", "shade"):
        sun = fields.dapple(rng) if event == "dapple" else fields.shade_edge(rng)
        kelvin = 5300
        lights = [(spectra.daylight(kelvin), fall * sun * 0.7), (spectra.daylight(9500), fall * 0.3)]
        return event, lights, fall * (0.3 + 0.7 * sun)
    if event in ("A", "FL2", "LED-B3"):
        return event, [(spectra.lamp(event), fall)], fall
    kelvin = int(rng.choice(season.lights))
    return f"D{kelvin // 100}", [(spectra.daylight(kelvin), fall)], fall


def hang(scene, season, piece, reflectances, side, event, rng):
    """Hang the piece; its outline in pixels and its palette with the shares that are to be seen."""
    aside = rng.uniform(0, 0.04) if season.reference == "tags" else rng.uniform(0.08, 0.16)
    middle = np.array([WIDTH * (0.5 + side * aside), HEIGHT * rng.uniform(0.46, 0.54)])
    if event == "cut":
        middle += [side * 0.2 * WIDTH, 0.22 * HEIGHT]
    wild = event == "wind"
    place = cloth.Place(rng, middle, piece.half, rng.uniform(-1, 1) * season.turn * (2 if wild else 1))
    polygon = cloth.outline(rng, place, 5.0 if wild else 1.0)
    cover, layers = cloth.covers(polygon, place, piece.leaves, len(reflectances))
    scene.darken(backdrop.shadow(cover, rng))
    shading = cloth.shading(rng, 0.2 if wild else rng.uniform(0.04, 0.1))
    scene.lay_mixed(cover, layers, reflectances, shading)
    areas = np.array([float((cover * layer).sum()) for layer in layers])
    colours = spectra.lab(reflectances).round(3).tolist()
    shares = (areas / areas.sum()).round(4).tolist()
    return polygon, [{"lab": c, "share": s} for c, s in zip(colours, shares)]


def hang_another(scene, season, piece, side, rng):
    """Hang a second cloth beside, without a tag, partly out of the frame."""
    other = Piece(replace(season, seed=season.seed + 50), piece.number)
    middle = np.array([WIDTH * (0.5 + side * 0.47), HEIGHT * 0.5])
    place = cloth.Place(rng, middle, other.half)
    cover, layers = cloth.covers(cloth.outline(rng, place), place, other.leaves, len(other.dry))
    scene.lay_mixed(cover, layers, other.dry, cloth.shading(rng, 0.07))


def refer(scene, season, piece, side, paper, ink, rng):
    """Lay tags, chart or card; their corners in pixels by name."""
    turn = rng.uniform(-1, 1) * season.turn * 1.5
    beside = np.array([WIDTH * (0.5 - side * rng.uniform(0.33, 0.38)), HEIGHT * rng.uniform(0.3, 0.7)])
    half = rng.uniform(95, 150)

    def placed(middle, half, turn):
        return references.placed(rng, middle, half, turn, season.slant)

    margin = int(rng.integers(0, 3))
    if season.reference == "tag":
        corners = placed(beside, half, turn)
        references.tag(scene, rng, piece.code, corners, paper, ink, margin)
        return {"tag": corners.round(1).tolist()}
    if season.reference == "tags":
        ends = [(WIDTH * (0.5 - side * 0.36), HEIGHT * 0.2), (WIDTH * (0.5 + side * 0.40), HEIGHT * 0.82)]
        both = [placed(np.array(e) + rng.normal(0, 20, 2), half * 0.85, turn + k) for k, e in enumerate(ends)]
        for corners in both:
            references.tag(scene, rng, piece.code, corners, paper, ink, margin)
        return {"tag": both[0].round(1).tolist(), "tag_2": both[1].round(1).tolist()}
    if season.reference in ("chart", "card"):
        return refer_chart(scene, season, beside, turn, placed, margin, rng)
    return {}


def refer_chart(scene, season, beside, turn, placed, margin, rng):
    """Lay a chart, and for a card the QR code that is glued below it, flat with it."""
    width, height = season.chart.size()
    further = season.turns[int(rng.integers(len(season.turns)))]
    card = season.reference == "card"
    if card:
        beside[1] = min(beside[1], 0.55 * HEIGHT)
    half = np.array([width, height]) / width * rng.uniform(240, 290) / (1.15 if card else 1)
    corners = placed(beside, half, turn + further)
    season.chart.lay(scene, rng, corners)
    things = {"chart": corners.round(1).tolist()}
    if card:
        flat = np.float32([(0, 0), (width, 0), (width, height), (0, height)])
        seen = cv2.getPerspectiveTransform(flat, np.float32(corners))
        code = np.float32([(0.3, 0.2), (2.5, 0.2), (2.5, 2.4), (0.3, 2.4)]) + np.float32([0, height])
        code = cv2.perspectiveTransform(code[None], seen)[0].astype(float)
        references.tag(scene, rng, f"card:{season.card}", code, margin=margin)
        things["card"] = code.round(1).tolist()
    return things
