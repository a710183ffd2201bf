"""A camera: sensitivities, the maker's matrix, and from light on the sensor to the values of a file.

Three sensitivities are measured ones, from the registry package colour-science; the rest are mixed from them and
shifted, widened and leaked into one another. How far, is a guess at the spread between cameras (from memory; no source).
"""

from dataclasses import dataclass
from functools import cache

import colour
import cv2
import numpy as np
import spectra
from scipy.interpolate import PchipInterpolator

XYZ_TO_SRGB = np.linalg.inv(
    np.array([[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]])
)
LUMA = np.array([0.2126729, 0.7151522, 0.0721750])
SHOULDER = PchipInterpolator([0, 0.1, 0.25, 0.5, 0.75, 0.9, 1], [0, 0.075, 0.27, 0.63, 0.87, 0.965, 1])


@cache
def measured():
    """The measured sensitivities, each 81 wavelengths by red, green and blue, the highest of each channel 1."""
    known = [m.copy().align(spectra.SHAPE).values for _, m in sorted(colour.MSDS_CAMERA_SENSITIVITIES.items())]
    table = np.loadtxt(spectra.resource("*RGB_Sensitivities.csv"), delimiter=",", skiprows=1)
    known.append(np.stack([np.interp(spectra.NM, table[:, 0], column, 0, 0) for column in table[:, 1:].T], 1))
    return [np.clip(np.nan_to_num(s), 0, None) / np.nanmax(s, 0) for s in known]


def perturbed(rng, stacked=0.12, far=1.0, base=None):
    """A plausible camera: a base, each channel shifted, widened, leaked into, the infrared cut moved.

    Without a base the measured ones are mixed, at most `stacked` of the second, whose photodiodes lie on one another.
    """
    mixed = base if base is not None else _mixed(rng, stacked)
    channels = [_moved(c, rng.normal(0, 4 * far), rng.normal(1, 0.06 * far)) for c in mixed.T]
    s = np.stack(channels, 1) @ (np.eye(3) + np.abs(rng.normal(0, 0.03 * far, (3, 3))))
    cut = 1 / (1 + np.exp((spectra.NM - rng.normal(665, 10 * far)) / 8))
    return s * cut[:, None] / (s * cut[:, None]).max(0)


def _mixed(rng, stacked):
    first, second, third = measured()
    share, of_second = rng.uniform(0, 1), rng.uniform(0, stacked)
    return (1 - of_second) * (share * first + (1 - share) * third) + of_second * second


def _moved(channel, shift, width):
    peak = spectra.NM[np.argmax(channel)]
    return np.interp(peak + (spectra.NM - peak - shift) / width, spectra.NM, channel, 0, 0)


def seen(sensitivities, light, reflectance):
    """What the sensor makes of reflectances in a light, balanced so that the perfect diffuser is 1, 1, 1."""
    weights = sensitivities * light[:, None]
    return np.asarray(reflectance) @ (weights / weights.sum(0))


def makers_matrix(sensitivities, light, reflectance, look=0.0):
    """The matrix from balanced sensor values to linear sRGB that keeps white and fits reflectances by least squares.

    `look` is how much more colourful than the truth the maker likes its pictures: 0.1 is a tenth.
    """
    wanted = spectra.xyz(reflectance) / 100 @ XYZ_TO_SRGB.T
    got = seen(sensitivities, light, reflectance)
    # Rows sum to one: fit the differences to green, and the last column follows.
    free = got - got[:, 1:2]
    rows = [np.linalg.lstsq(free[:, [0, 2]], wanted[:, i] - got[:, 1], rcond=None)[0] for i in range(3)]
    matrix = np.array([[r, 1 - r - b, b] for r, b in rows])
    return pushed(look) @ matrix


def pushed(look):
    """The matrix over linear sRGB that moves every colour away from the grey of its own luminance by a part `look`."""
    return (1 + look) * np.eye(3) - look * np.tile(LUMA, (3, 1))


def encoded(linear):
    """sRGB's own curve (IEC 61966-2-1)."""
    x = np.clip(linear, 0, 1)
    return np.where(x <= 0.0031308, 12.92 * x, 1.055 * np.power(x, 1 / 2.4, where=x > 0, out=np.zeros_like(x)) - 0.055)


@dataclass
class Camera:
    """A camera and how it renders."""

    sensitivities: np.ndarray
    look: float = 0.0  # see `makers_matrix`
    s_curve: float = 0.0  # 0 none, 1 full: (1 - s) e + s (3 e^2 - 2 e^3)
    shoulder: float = 0.0  # 0 none, 1 a phone's base curve: middle tones up, lights flattened
    balance_sd: float = 0.05  # how far its guess of the light strays, natural logarithm
    noise: float = 1.0
    quality: tuple = (75, 92)

    def matrix(self, light):
        """The maker's matrix for a light."""
        return makers_matrix(self.sensitivities, light, spectra.patches_24(), self.look)

    def develop(self, sensed, light, exposure, rng):
        """An 8-bit picture (BGR) from balanced sensor values, height by width by 3."""
        cast = rng.normal(0, self.balance_sd)
        gains = np.exp([cast + rng.normal(0, 0.01), 0, -cast + rng.normal(0, 0.01)])
        flare = rng.uniform(0.002, 0.008) * sensed.mean((0, 1))
        sensed = (cv2.GaussianBlur(sensed, (0, 0), 0.8) + flare) * np.float32(exposure)
        spread = np.sqrt(4e-5 * np.maximum(sensed, 0) + 2e-6) * np.float32(self.noise)
        grain = cv2.GaussianBlur(rng.standard_normal(sensed.shape, dtype=np.float32), (0, 0), 0.7) * 2
        linear = (sensed + spread * grain) @ (self.matrix(light) * gains).T.astype(np.float32)
        e = self.toned(encoded(linear))
        return np.round(e[..., ::-1] * 255).astype(np.uint8)

    def toned(self, e):
        """The base curve, laid over encoded values."""
        e = (1 - self.s_curve) * e + self.s_curve * (3 * e * e - 2 * e**3)
        if self.shoulder:
            steps = np.linspace(0, 1, 2049)
            e = (1 - self.shoulder) * e + self.shoulder * np.interp(e, steps, SHOULDER(steps))
        return np.clip(e, 0, 1)
