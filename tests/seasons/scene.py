"""A scene: layers of reflectance painted over one another under one or several lights, then photographed."""

import cv2
import numpy as np
from fields import HEIGHT, WIDTH

FINE = 4  # polygons are drawn to a sixteenth of a pixel


def filled(polygon):
    """Cover of each pixel by a polygon, 0 to 1."""
    cover = np.zeros((HEIGHT, WIDTH), np.uint8)
    points = np.round(np.asarray(polygon) * 2**FINE).astype(np.int32)
    cv2.fillPoly(cover, [points], 255, cv2.LINE_AA, FINE)
    return cover.astype(np.float32) / 255


class Scene:
    """What lies before the camera: for each light one picture in balanced sensor values."""

    def __init__(self, lens, lights):
        """`lights`: list of (relative power by wavelength, share of it over the picture)."""
        self.lens = lens
        self.lights = lights
        self.pictures = [np.zeros((HEIGHT, WIDTH, 3), np.float32) for _ in lights]

    def lay(self, cover, reflectance, texture=1.0):
        """Paint a reflectance where `cover` is 1, its light multiplied by `texture`."""
        self.lay_mixed(cover, [np.ones((1, 1), np.float32)], [reflectance], texture)

    def lay_mixed(self, cover, layers, reflectances, texture=1.0):
        """Paint where `cover` is 1: reflectances in the parts that `layers` give at each pixel."""
        box = _box(cover)
        alpha = cover[box][..., None]
        shade = texture[box][..., None] if np.ndim(texture) else texture
        for (power, _), picture in zip(self.lights, self.pictures):
            rgb = [self._balanced(power, r).astype(np.float32) for r in reflectances]
            mixed = sum((layer[box] if layer.size > 1 else layer)[..., None] * c for layer, c in zip(layers, rgb))
            picture[box] += alpha * (shade * mixed - picture[box])

    def darken(self, times):
        """Let less light fall on everything painted so far."""
        for picture in self.pictures:
            picture *= times[..., None]

    def _balanced(self, power, reflectance):
        """Sensor values of a reflectance, balanced for the first light."""
        main = (self.lens.sensitivities * self.lights[0][0][:, None]).sum(0)
        return reflectance @ (self.lens.sensitivities * power[:, None]) / main

    def photograph(self, exposure, rng):
        """The picture as the camera's file has it, BGR."""
        sensed = sum(p * share[..., None] for (_, share), p in zip(self.lights, self.pictures))
        return self.lens.develop(sensed.astype(np.float32), self.lights[0][0], exposure, rng)


def _box(cover):
    """The rows and columns that a cover touches."""
    rows, cols = np.flatnonzero(cover.any(1)), np.flatnonzero(cover.any(0))
    if not len(rows):
        return slice(0, 0), slice(0, 0)
    return slice(rows[0], rows[-1] + 1), slice(cols[0], cols[-1] + 1)
