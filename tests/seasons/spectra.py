"""Reflectances, lights, and the way from a spectrum to CIELAB.

Everything here is sampled from 380 to 780 nm in steps of 5 nm. Reflectances are shares of a perfect diffuser, 0 to 1.
Measured spectra come from the registry package colour-science: the 99 test colours of CIE 224:2017 and the 190
training patches that its camera module ships. Those of dyed cloth are mixed from them (see `coloured`).
"""

import glob
import os
from functools import cache

import colour
import numpy as np
from scipy.optimize import least_squares

SHAPE = colour.SpectralShape(380, 780, 5)
NM = SHAPE.wavelengths
WHITE = np.array([95.047, 100.0, 108.883])  # D65 of ASTM E308, the white of every Lab in this project
DARKEST, LIGHTEST = 0.012, 0.97  # no cloth, ink or paper reflects less or more


def resource(pattern):
    """The one file of colour-science's camera module whose name fits the pattern."""
    folder = os.path.join(os.path.dirname(colour.__file__), "characterisation", "datasets")
    return glob.glob(os.path.join(folder, "**", pattern), recursive=True)[0]


@cache
def measured():
    """All measured reflectances, one a row."""
    from colour.quality.cfi2017 import load_TCS_CIE2017

    tested = load_TCS_CIE2017(SHAPE).values.T
    trained = np.loadtxt(resource("190_Patches.csv"), delimiter=",", skiprows=1)[:, 1:].T
    return np.clip(np.vstack([tested, trained]), DARKEST, LIGHTEST)


@cache
def patches_24():
    """The 24 patches of ISO 17321-1, one a row."""
    patches = colour.SDS_COLOURCHECKERS["ISO 17321-1"]
    return np.array([sd.copy().align(SHAPE).values for sd in patches.values()])


def daylight(kelvin):
    """Relative power of CIE daylight of a colour temperature, 4000 to 25000 K."""
    xy = colour.temperature.CCT_to_xy_CIE_D(kelvin)
    return normal(colour.sd_CIE_illuminant_D_series(xy).align(SHAPE).values)


def lamp(name):
    """Relative power of a CIE illuminant by its name: A, FL2, LED-B3."""
    return normal(colour.SDS_ILLUMINANTS[name].copy().align(SHAPE).values)


def normal(power):
    """Power scaled so that its mean is 1."""
    return np.asarray(power) / np.mean(power)


@cache
def observer():
    """The CIE 1931 2 degree observer, one wavelength a row."""
    return colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(SHAPE).values


@cache
def weights():
    """What turns reflectances into X, Y, Z under D65, the perfect diffuser being WHITE."""
    w = lamp("D65")[:, None] * observer()
    return w / w.sum(0) * WHITE


def xyz(reflectance):
    """X, Y, Z under D65, the perfect diffuser being Y 100."""
    return np.asarray(reflectance) @ weights()


def xyz_to_lab(values):
    """CIELAB from X, Y, Z under D65 (ISO/CIE 11664-4)."""
    t = np.asarray(values) / WHITE
    f = np.where(t > (6 / 29) ** 3, np.cbrt(np.maximum(t, 1e-12)), (841 / 108) * t + 4 / 29)
    x, y, z = np.moveaxis(f, -1, 0)
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], -1)


def lab(reflectance):
    """CIELAB of reflectances under D65."""
    return xyz_to_lab(xyz(reflectance))


def lab_under(name, reflectance):
    """CIELAB of reflectances under another CIE illuminant, against that illuminant's own white."""
    w = lamp(name)[:, None] * observer()
    return xyz_to_lab(np.asarray(reflectance) @ (w / w.sum(0)) * WHITE)


@cache
def _known():
    return lab(measured())


def coloured(target, rng, loose=12):
    """A smooth spectrum of a wanted CIELAB colour: measured ones near it mixed, the rest bent in.

    Three of the `loose` nearest measured spectra are mixed as dyes mix (by absorbance), then bent by a quadratic over
    the wavelengths until the colour is the wanted one. Two calls give two metamers.
    """
    near = np.argsort(np.linalg.norm(_known() - target, axis=1))[:loose]
    chosen = rng.choice(near, 3, replace=False)
    absorbed = -np.log(measured()[chosen]).T @ rng.dirichlet([1.0, 1.0, 1.0])
    return bent(absorbed, target)


def bent(absorbed, target):
    """The spectrum exp(-absorbance) bent by a quadratic over the wavelengths to a wanted CIELAB colour."""
    t = (NM - 560) / 160
    powers = np.stack([np.ones_like(t), t, t * t])

    def spectrum(k):
        return np.clip(np.exp(k @ powers - absorbed), DARKEST, LIGHTEST)

    return spectrum(least_squares(lambda k: lab(spectrum(k)) - target, np.zeros(3)).x)


def absorbed_more(reflectance, times):
    """A reflectance whose ratio of absorption to scattering grew (Kubelka and Munk 1931): cloth that is wet, or faded."""
    r = np.clip(reflectance, DARKEST, LIGHTEST)
    ratio = times * (1 - r) ** 2 / (2 * r)
    return np.clip(1 + ratio - np.sqrt(ratio * ratio + 2 * ratio), DARKEST / 2, LIGHTEST)
