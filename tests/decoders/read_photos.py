"""Opens photos with libheif, libjpeg and LittleCMS, which have nothing to do with this project, and compares.

    python tests/decoders/read_photos.py PHOTOS OPENED

PHOTOS holds photo files, OPENED what the program made of each; `cargo test --test opened_photos` writes it to
target/tmp/opened_photos. Only HEIC files and files with an ICC profile are compared. Needs, from the Python package index: see
requirements.txt beside this file. Exit status 1 where anything differs or nothing was there to compare.
"""

import ctypes
import json
import pathlib
import sys

import numpy as np
import PIL
import pillow_heif
from PIL import Image, ImageOps

pillow_heif.register_heif_opener()
P = ctypes.c_void_p
lcms = ctypes.CDLL(str(next(pathlib.Path(PIL.__file__).parent.parent.glob("[Pp]illow.libs/liblcms2*"))))
for name in ("cmsOpenProfileFromMem", "cmsCreate_sRGBProfile", "cmsCreateRGBProfile", "cmsCreateXYZProfile"):
    getattr(lcms, name).restype = P
lcms.cmsCreateTransform.restype = P
lcms.cmsCreateTransform.argtypes = [P, ctypes.c_uint32, P, ctypes.c_uint32, ctypes.c_uint32, ctypes.c_uint32]
lcms.cmsBuildParametricToneCurve.restype = P
lcms.cmsDoTransform.argtypes = [P, P, P, ctypes.c_uint32]
WHITE = np.array([0.95047, 1.0, 1.08883])  # ASTM E308, D65, 2 degrees
D50 = np.array([0.9642, 1.0, 0.8249])  # ICC.1:2022
# Means over 8 by 8 pixels, in linear light, are compared: where colour is kept at half size, libraries place it half a pixel apart. CIE76, on the
# mean over the picture and in its worst hundredth.
BLOCK, MEAN, WORST = 8, 0.6, 5.0


def display_p3():
    """The space of H.273 primaries 12 with the curve of sRGB."""
    white = (ctypes.c_double * 3)(0.3127, 0.3290, 1.0)
    primaries = (ctypes.c_double * 9)(0.680, 0.320, 1, 0.265, 0.690, 1, 0.150, 0.060, 1)
    five = (ctypes.c_double * 5)(2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)
    curve = lcms.cmsBuildParametricToneCurve(None, 4, five)
    return lcms.cmsCreateRGBProfile(white, primaries, (P * 3)(curve, curve, curve))


def xyz(picture, space):
    """XYZ of 8-bit RGB by LittleCMS, from its D50 to our D65 by Bradford."""
    double = 1 << 22
    change = lcms.cmsCreateTransform(space, (4 << 16) | (3 << 3) | 1, lcms.cmsCreateXYZProfile(), double | (9 << 16) | (3 << 3), 1, 0x40)
    given = np.ascontiguousarray(picture.reshape(-1, 3))
    got = np.empty(given.shape, np.float64)
    lcms.cmsDoTransform(change, given.ctypes.data, got.ctypes.data, len(given))
    m = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
    return np.linalg.solve(m, np.diag((m @ WHITE) / (m @ D50)) @ m @ got.T).T


def lab(values):
    e, k = (6 / 29) ** 3, (29 / 3) ** 3
    t = values / WHITE
    f = np.where(t > e, np.cbrt(np.maximum(t, 0)), (k * t + 16) / 116)
    return np.stack([116 * f[:, 1] - 16, 500 * (f[:, 0] - f[:, 1]), 200 * (f[:, 1] - f[:, 2])], -1)


def blocks(values, width, height):
    across, down = width // BLOCK, height // BLOCK
    grid = values.reshape(height, width, 3)[: down * BLOCK, : across * BLOCK]
    return grid.reshape(down, BLOCK, across, BLOCK, 3).mean((1, 3)).reshape(-1, 3)


def expected(file):
    """Width, height and XYZ of a photo, or None where it is not to be compared."""
    heic = file.suffix == ".heic"
    image = Image.open(file)
    icc, points = image.info.get("icc_profile"), image.info.get("nclx_profile") or {}
    told = json.loads(file.with_name(file.name + ".json").read_text())
    unused = {"profile-broken", "profile-not-used"} & set(told["cautions"])
    if image.info.get("bit_depth", 8) > 8:
        return None  # Pillow cuts 10 bits to 8 where the program rounds.
    if unused or image.mode not in ("RGB", "RGBA") or not (heic or icc):
        return None
    if icc:
        space = lcms.cmsOpenProfileFromMem(icc, len(icc))
    else:
        space = display_p3() if points.get("color_primaries") == 12 else lcms.cmsCreate_sRGBProfile()
    upright = np.asarray((image if heic else ImageOps.exif_transpose(image)).convert("RGB"))
    return upright.shape[1], upright.shape[0], xyz(upright, space)


def main(photos, opened):
    compared = wrong = 0
    for file in sorted(photos.iterdir()):
        if file.suffix == ".json" or not (wanted := expected(file)):
            continue
        lines = (opened / f"{file.name}.csv").read_text().splitlines()
        width, height = map(int, lines[0].split(","))
        compared += 1
        if (width, height) != wanted[:2]:
            wrong += 1
            print(f"{file.name}: {width} by {height}, not {wanted[0]} by {wanted[1]}")
            continue
        got = np.array([line.split(",") for line in lines[1:]], float)
        got, wanted = (lab(blocks(v, width, height)) for v in (got, wanted[2]))
        off = np.linalg.norm(got - wanted, axis=1)
        mean, worst = off.mean(), np.quantile(off, 0.99)
        bad = mean > MEAN or worst > WORST
        wrong += bad
        print(f"{file.name}: {mean:.3f} off on the mean, {worst:.3f} in the worst hundredth{', too far' if bad else ''}")
    print(f"{compared} photos compared, {wrong} wrong")
    return 1 if wrong or compared < 20 else 0


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    sys.exit(main(*map(pathlib.Path, sys.argv[1:])))
