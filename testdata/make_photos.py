"""Makes the small photo files in good/photos and bad/photos, and the expectation beside each good one.

Needs Pillow, pillow-heif (which brings libheif and an encoder), numpy, tifffile and colour-science; the tests of the project do not need this script, only what it wrote. Colours
are expected from two libraries that the project does not use: files without an ICC profile from colour-science (which
computes the spaces from their standards' primaries), files with one from LittleCMS, which also makes the profiles. The
colours themselves are invented. Run it in this folder.
"""

import ctypes
import io
import json
import pathlib
import shutil
import struct
import zlib

import colour
import numpy as np
import PIL
import pillow_heif
import tifffile
from PIL import Image, features
from PIL.TiffImagePlugin import IFDRational

WIDTH, HEIGHT = 48, 32
WHITE = np.array([0.95047, 1.0, 1.08883])  # ASTM E308, D65, 2 degrees
GOOD, BAD = pathlib.Path("good/photos"), pathlib.Path("bad/photos")
LCMS = f"LittleCMS {features.version('littlecms2')}, in double precision, PCS to D65 by Bradford"
SCIENCE = f"colour-science {colour.__version__}"

# ---- LittleCMS, as Pillow carries it ------------------------------------------------------------------------------
lib = ctypes.CDLL(
    str(next(pathlib.Path(PIL.__file__).parent.parent.glob("[Pp]illow.libs/liblcms2*")))
)
for name in (
    "cmsCreateRGBProfile",
    "cmsCreateGrayProfile",
    "cmsBuildGamma",
    "cmsBuildParametricToneCurve",
    "cmsBuildTabulatedToneCurve16",
    "cmsOpenProfileFromMem",
    "cmsCreateXYZProfile",
    "cmsCreateTransform",
    "cmsMLUalloc",
    "cmsD50_xyY",
):
    getattr(lib, name).restype = ctypes.c_void_p
lib.cmsBuildGamma.argtypes = [ctypes.c_void_p, ctypes.c_double]
lib.cmsSetProfileVersion.argtypes = [ctypes.c_void_p, ctypes.c_double]
P = ctypes.c_void_p


def profile(curves, primaries=None, white=(0.3127, 0.3290), version=4.3, title="made for a test"):
    """ICC bytes of an RGB profile (or a grey one, without primaries)."""
    if primaries:
        xyy = (ctypes.c_double * 3)(*white, 1.0)
        nine = (ctypes.c_double * 9)(*[v for xy in primaries for v in (*xy, 1.0)])
        three = (P * 3)(*(curves * 3)[:3])
        made = lib.cmsCreateRGBProfile(xyy, nine, three)
    else:
        made = lib.cmsCreateGrayProfile(P(lib.cmsD50_xyY()), P(curves[0]))
    lib.cmsSetProfileVersion(P(made), version)
    text = lib.cmsMLUalloc(None, 1)
    lib.cmsMLUsetASCII(P(text), b"en", b"US", title.encode())
    lib.cmsWriteTag(P(made), 0x64657363, P(text))
    size = ctypes.c_uint32()
    lib.cmsSaveProfileToMem(P(made), None, ctypes.byref(size))
    room = ctypes.create_string_buffer(size.value)
    lib.cmsSaveProfileToMem(P(made), room, ctypes.byref(size))
    # Made today, but the same tomorrow.
    return room.raw[:24] + struct.pack(">6H", 2026, 1, 1, 0, 0, 0) + room.raw[36:]


def gamma(g):
    return lib.cmsBuildGamma(None, g)


def srgb_curve():
    five = (ctypes.c_double * 5)(2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)
    return lib.cmsBuildParametricToneCurve(None, 4, five)


def sampled_curve(count=1024):
    x = np.linspace(0, 1, count)
    values = np.round(65535 * (0.4 * x + 0.6 * x**3)).astype(np.uint16)
    return lib.cmsBuildTabulatedToneCurve16(None, count, (ctypes.c_uint16 * count)(*values.tolist()))


SRGB = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
P3 = ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060))
ADOBE = ((0.64, 0.33), (0.21, 0.71), (0.15, 0.06))


def table_profile():
    """ICC bytes of an RGB profile that is a table (lut16Type) to Lab, with no matrix to fall back on."""

    def lut16():
        grid = [(r, g, b) for r in (0, 1) for g in (0, 1) for b in (0, 1)]
        lab = [(int(65280 * (r + g + b) / 3), 32768, 32768) for r, g, b in grid]
        head = b"mft2" + bytes(4) + bytes([3, 3, 2, 0])
        eye = struct.pack(">9i", 65536, 0, 0, 0, 65536, 0, 0, 0, 65536)
        line = struct.pack(">6H", *[0, 65535] * 3)
        return head + eye + struct.pack(">2H", 2, 2) + line + b"".join(struct.pack(">3H", *v) for v in lab) + line

    tags = {b"A2B0": lut16(), b"wtpt": b"XYZ " + bytes(4) + struct.pack(">3i", 63190, 65536, 54061)}
    at, table, body = 128 + 4 + 12 * len(tags), b"", b""
    for key, data in tags.items():
        data += bytes(-len(data) % 4)
        table += key + struct.pack(">2I", at + len(body), len(data))
        body += data
    head = struct.pack(">I4sI4s4s4s", at + len(body), b"\0" * 4, 0x02400000, b"scnr", b"RGB ", b"Lab ")
    head += struct.pack(">6H", 2026, 1, 1, 0, 0, 0) + b"acsp" + bytes(28)
    head += struct.pack(">3i", 63190, 65536, 54061) + bytes(48)
    return head[:128] + struct.pack(">I", len(tags)) + table + body


# ---- expected colours ----------------------------------------------------------------------------------------------
def lab(xyz):
    e, k = (6 / 29) ** 3, (29 / 3) ** 3
    f = [t ** (1 / 3) if t > e else (k * t + 16) / 116 for t in np.asarray(xyz) / WHITE]
    return [round(float(v), 4) for v in (116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2]))]


def bradford(xyz, source):
    m = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
    return np.linalg.solve(m, m @ xyz * (m @ WHITE) / (m @ source))


def by_space(code, depth=255, space="sRGB"):
    """Lab of a sample in one of colour-science's RGB spaces."""
    made = colour.RGB_COLOURSPACES[space]
    linear = made.cctf_decoding(np.array(code) / depth)
    xyz = colour.normalised_primary_matrix(made.primaries, colour.xy_to_XYZ(made.whitepoint)[:2] / sum(colour.xy_to_XYZ(made.whitepoint))) @ linear
    return lab(bradford(xyz, colour.xy_to_XYZ(made.whitepoint)))


def by_profile(icc, code, depth=255):
    """Lab of a sample under an ICC profile, by LittleCMS."""
    double, grey = 1 << 22, np.ndim(code) == 0
    source = lib.cmsOpenProfileFromMem(icc, len(icc))
    kind = double | ((3 << 16) | (1 << 3) if grey else (4 << 16) | (3 << 3))
    target = lib.cmsCreateXYZProfile()
    change = lib.cmsCreateTransform(P(source), kind, P(target), double | (9 << 16) | (3 << 3), 1, 0x40)
    given = (ctypes.c_double * 3)(*(np.atleast_1d(code) / depth))
    got = (ctypes.c_double * 3)()
    lib.cmsDoTransform(P(change), given, got, 1)
    return lab(bradford(np.array(got), np.array([0.9642, 1.0, 0.8249])))


# ---- files ---------------------------------------------------------------------------------------------------------
def flat(code, dtype=np.uint8):
    picture = np.zeros((HEIGHT, WIDTH, np.size(code)), dtype)
    picture[:] = code
    return picture[..., 0] if np.size(code) == 1 else picture


def png(picture, kind, *chunks, depth=8):
    def chunk(name, data):
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    rows = picture.astype(">u2") if depth == 16 else picture
    raw = b"".join(b"\0" + row.tobytes() for row in rows)
    head = struct.pack(">2I5B", picture.shape[1], picture.shape[0], depth, kind, 0, 0, 0)
    body = b"".join(chunk(*c) for c in chunks)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + body + chunk(b"IDAT", zlib.compress(raw)) + chunk(b"IEND", b"")


def iccp(icc):
    return b"iCCP", b"profile\0\0" + zlib.compress(icc)


def saved(picture, form="JPEG", **options):
    out = io.BytesIO()
    if form == "JPEG":
        options = {"quality": 95, "subsampling": 0} | options
    (picture if isinstance(picture, Image.Image) else Image.fromarray(picture)).save(out, form, **options)
    return out.getvalue()


def exif(first, more=None, interop=None):
    made = Image.Exif()
    made.update(first)
    made.get_ifd(0x8769).update(more or {})
    if interop:
        made.get_ifd(0x8769)[0xA005] = {1: interop}
    return made.tobytes()


def good(name, data, lab, within, by, encoding, cautions=(), size=(WIDTH, HEIGHT), **facts):
    (GOOD / name).write_bytes(data)
    case = {"width": size[0], "height": size[1], "lab": lab, "within": within, "by": by}
    case |= {"encoding": encoding, "cautions": list(cautions), "facts": facts}
    (GOOD / f"{name}.json").write_text(json.dumps(case, indent=1) + "\n")


def make_good():
    for ending, data in whole_files().items():
        middle = np.asarray(Image.open(io.BytesIO(data)).convert("RGB"))[24, 32]
        by = f"the decoders of Pillow {PIL.__version__}, then {SCIENCE}"
        good(f"busy.{ending}", data, by_space(middle), 1.5 if "jpg" in ending else 0.01, by, "assumed sRGB", size=(64, 48))
    tan, leaf, rust = (176, 138, 78), (74, 96, 61), (201, 66, 40)
    exact, lossy = 0.01, 0.9
    guess = "assumed sRGB"
    good("plain.png", png(flat(tan), 2), by_space(tan), exact, SCIENCE, guess)
    good("marked.png", png(flat(tan), 2, (b"sRGB", b"\0")), by_space(tan), exact, SCIENCE, "sRGB")
    deep = (45232, 35466, 20046)
    good("deep.png", png(flat(deep, np.uint16), 2, depth=16), by_space(deep, 65535), exact, SCIENCE, guess)
    good("grey.png", png(flat(119), 0), by_space((119,) * 3), exact, SCIENCE, guess, ["photo-without-colour"])
    good("grey-deep.png", png(flat(30583, np.uint16), 0, depth=16), by_space((119,) * 3), exact, SCIENCE, guess, ["photo-without-colour"])
    two = (b"PLTE", bytes((0, 0, 0, *leaf)))
    good("palette.png", png(flat(1), 3, two), by_space(leaf), exact, SCIENCE, guess)
    good("opaque.png", png(flat((*leaf, 255)), 6), by_space(leaf), exact, SCIENCE, guess)
    cut = flat((*leaf, 255))
    cut[:4, :, 3] = 0
    good("cut-out.png", png(cut, 6), by_space(leaf), exact, SCIENCE, guess, ["transparency-ignored"])
    good("grey-alpha.png", png(flat((119, 255)), 4), by_space((119,) * 3), exact, SCIENCE, guess, ["photo-without-colour"])
    dated = exif({0x0112: 1, 0x0132: "2026:03:04 05:06:07"}).removeprefix(b"Exif\0\0")
    good("dated.png", png(flat(leaf), 2, (b"eXIf", dated)), by_space(leaf), exact, SCIENCE, guess, taken="2026-03-04T05:06:07")
    good("png-named.jpg", png(flat(tan), 2), by_space(tan), exact, SCIENCE, guess)

    p3 = profile([srgb_curve()], P3, title="Display P3 for a test")
    adobe = profile([gamma(2 + 51 / 256)], ADOBE, version=2.1, title="Adobe RGB for a test")
    odd = profile([sampled_curve(), gamma(1.8), srgb_curve()], SRGB, version=2.1, title="three unlike curves")
    grey = profile([gamma(1.8)], version=2.1, title="grey, 1.8")
    good("p3.png", png(flat(rust), 2, iccp(p3)), by_profile(p3, rust), exact, LCMS, "Display P3 for a test")
    good("p3-standard.png", png(flat(rust), 2, iccp(p3)), by_space(rust, space="Display P3"), 0.03, SCIENCE, "Display P3 for a test")
    deep = tuple(257 * v for v in rust)
    good("p3-deep.png", png(flat(deep, np.uint16), 2, iccp(p3), depth=16), by_profile(p3, rust), exact, LCMS, "Display P3 for a test")
    good("adobe.png", png(flat(leaf), 2, iccp(adobe)), by_profile(adobe, leaf), exact, LCMS, "Adobe RGB for a test")
    good("curves.png", png(flat(tan), 2, iccp(odd)), by_profile(odd, tan), exact, LCMS, "three unlike curves")
    good("grey-profile.png", png(flat(119), 0, iccp(grey)), by_profile(grey, 119), exact, LCMS, "grey, 1.8", ["photo-without-colour"])
    good("grey-in-rgb.png", png(flat(119), 0, iccp(p3)), by_profile(p3, (119,) * 3), exact, LCMS, "Display P3 for a test", ["photo-without-colour"])
    good("profile-of-grey.png", png(flat(tan), 2, iccp(grey)), by_space(tan), exact, SCIENCE, guess, ["profile-not-used"])
    usual, straight = (b"gAMA", struct.pack(">I", 45455)), (b"gAMA", struct.pack(">I", 100000))
    good("gamma.png", png(flat(tan), 2, usual), by_space(tan), exact, SCIENCE, guess)
    good("gamma-straight.png", png(flat(tan), 2, straight), by_space(tan), exact, SCIENCE, guess, ["profile-not-used"])
    good("gamma-and-profile.png", png(flat(rust), 2, straight, iccp(p3)), by_profile(p3, rust), exact, LCMS, "Display P3 for a test")
    good("points.png", png(flat(tan), 2, (b"cICP", bytes([1, 13, 0, 1]))), by_space(tan), exact, SCIENCE, "sRGB")
    good("points-wide.png", png(flat(tan), 2, (b"cICP", bytes([9, 16, 0, 1]))), by_space(tan), exact, SCIENCE, guess, ["profile-not-used"])
    good("profile-cut.png", png(flat(tan), 2, iccp(p3[:200])), by_space(tan), exact, SCIENCE, guess, ["profile-broken"])
    garbled = (b"iCCP", b"profile\0\0" + b"not deflated at all")
    good("profile-garbled.png", png(flat(tan), 2, garbled), by_space(tan), exact, SCIENCE, guess, ["profile-broken"])

    good("plain.jpg", saved(flat(tan)), by_space(tan), lossy, SCIENCE, guess)
    good("grey.jpg", saved(flat(119)), by_space((119,) * 3), lossy, SCIENCE, guess, ["photo-without-colour"])
    good("progressive.jpg", saved(flat(tan), progressive=True), by_space(tan), lossy, SCIENCE, guess)
    good("half-chroma.jpg", saved(flat(tan), subsampling=2), by_space(tan), lossy, SCIENCE, guess)
    good("restarts.jpg", saved(flat(tan), restart_marker_blocks=2), by_space(tan), lossy, SCIENCE, guess)
    good("untransformed.jpg", saved(flat(tan), keep_rgb=True), by_space(tan), lossy, SCIENCE, guess)
    good("more-after-the-end.jpg", saved(flat(tan)) + bytes(range(256)) * 4, by_space(tan), lossy, SCIENCE, guess)
    good("broken-exif.jpg", saved(flat(tan), exif=b"Exif\0\0MM\0*\0\0\0\x08\xff\xff\1\2"), by_space(tan), lossy, SCIENCE, guess, ["exif-unreadable"])
    good("profile-broken.jpg", saved(flat(tan), icc_profile=p3[:300]), by_space(tan), lossy, SCIENCE, guess, ["profile-broken"])
    split = saved(flat(tan), icc_profile=p3).replace(b"ICC_PROFILE\0\1\1", b"ICC_PROFILE\0\1\2")
    good("profile-half.jpg", split, by_space(tan), lossy, SCIENCE, guess, ["profile-broken"])
    good("profile-table.jpg", saved(flat(tan), icc_profile=table_profile()), by_space(tan), lossy, SCIENCE, guess, ["profile-not-used"])
    lost = exif({}, {0xA001: 65535})
    good("profile-missing.jpg", saved(flat(leaf), exif=lost), by_space(leaf), lossy, SCIENCE, guess, ["profile-missing"])
    marked = exif({}, {0xA001: 1})
    good("marked.jpg", saved(flat(leaf), exif=marked), by_space(leaf), lossy, SCIENCE, "sRGB")
    wide = exif({}, {0xA001: 2})
    good("adobe-marked.jpg", saved(flat(leaf), exif=wide), by_space(leaf, space="Adobe RGB (1998)"), lossy, SCIENCE, "Adobe RGB (1998)")
    wide = exif({}, {0xA001: 65535}, "R03")
    good("adobe-interop.jpg", saved(flat(leaf), exif=wide), by_space(leaf, space="Adobe RGB (1998)"), lossy, SCIENCE, "Adobe RGB (1998)")
    phone = exif(
        {0x0112: 6, 0x010F: "Some Works", 0x0110: "Model One", 0x0132: "2026:05:02 10:00:00"},
        {
            0x9003: "2026:05:01 17:45:10", 0x9011: "+02:00", 0x829A: IFDRational(1, 120), 0x829D: IFDRational(9, 5), 0x8827: 64,
            0x9209: 16, 0xA001: 65535,
        },
    )  # fmt: skip
    good(
        "phone.jpg", saved(flat(rust), exif=phone, icc_profile=p3), by_profile(p3, rust), lossy, LCMS, "Display P3 for a test",
        size=(HEIGHT, WIDTH), taken="2026-05-01T17:45:10+02:00", camera="Some Works Model One", seconds=1 / 120, f_number=1.8,
        iso=64.0, flash=False,
    )  # fmt: skip
    unset = exif({0x0110: "Some Works X", 0x010F: "Some Works", 0x0132: "2026:05:02 10:00:00"}, {0x9003: "0000:00:00 00:00:00", 0x829A: IFDRational(0, 0), 0x9209: 1})
    good("clock-unset.jpg", saved(flat(tan), exif=unset), by_space(tan), lossy, SCIENCE, guess, ["flash-fired"], taken="2026-05-02T10:00:00", camera="Some Works X", flash=True)

    good("lzw.tif", saved(flat(leaf), "TIFF", compression="tiff_lzw", icc_profile=adobe), by_profile(adobe, leaf), exact, LCMS, "Adobe RGB for a test")
    deep = (45232, 35466, 20046)
    out = io.BytesIO()
    tifffile.imwrite(out, flat(deep, np.uint16), photometric="rgb", metadata=None, datetime="2026:02:28 23:59:59",
                     extratags=[(0x0112, 3, 1, 8, True)])  # fmt: skip
    good("deep.tif", out.getvalue(), by_space(deep, 65535), exact, SCIENCE, guess, size=(HEIGHT, WIDTH), taken="2026-02-28T23:59:59")
    out = io.BytesIO()
    tifffile.imwrite(out, flat(30583, np.uint16), photometric="minisblack", metadata=None, byteorder=">")
    good("grey-deep.tif", out.getvalue(), by_space((119,) * 3), exact, SCIENCE, guess, ["photo-without-colour"])

    good("lossless.webp", saved(flat(rust), "WEBP", lossless=True, icc_profile=p3), by_profile(p3, rust), exact, LCMS, "Display P3 for a test")
    late = exif({0x0112: 8}, {0x9003: "2026:12:31 23:59:60"})
    good("lossy.webp", saved(flat(tan), "WEBP", quality=95, exif=late), by_space(tan), 2.0, SCIENCE, guess, size=(HEIGHT, WIDTH), taken="2026-12-31T23:59:59")


def heic(picture, exif=None, icc=None, **options):
    """A HEIC by libheif and its encoder; without more options without loss, in RGB."""
    data = np.ascontiguousarray(picture)
    kind = ("RGBA" if data.shape[-1] == 4 else "RGB") + (";16" if data.dtype == np.uint16 else "")
    made = pillow_heif.from_bytes(kind, (data.shape[1], data.shape[0]), data.tobytes())
    if icc:
        made.info["icc_profile"] = icc
    out = io.BytesIO()
    options = options or {"quality": -1, "chroma": 444, "matrix_coefficients": 0}
    made.save(out, exif=exif, **options)
    return out.getvalue()


def make_heic():
    tan, leaf, rust = (176, 138, 78), (74, 96, 61), (201, 66, 40)
    exact, lossy = 0.01, 0.9
    p3 = profile([srgb_curve()], P3, title="Display P3 for a test")
    usual = {"quality": 95, "chroma": 420}
    good("plain.heic", heic(flat(tan)), by_space(tan), exact, SCIENCE, "sRGB")
    good("usual.heic", heic(flat(tan), **usual), by_space(tan), lossy, SCIENCE, "sRGB")
    good("p3.heic", heic(flat(rust), icc=p3), by_profile(p3, rust), exact, LCMS, "Display P3 for a test")
    points = {"quality": -1, "chroma": 444, "matrix_coefficients": 0, "color_primaries": 12, "transfer_characteristics": 13}
    good("p3-points.heic", heic(flat(rust), **points), by_space(rust, space="Display P3"), exact, SCIENCE, "Display P3")
    points |= {"color_primaries": 9, "transfer_characteristics": 16}
    good("points-wide.heic", heic(flat(tan), **points), by_space(tan), exact, SCIENCE, "assumed sRGB", ["profile-not-used"])
    deep = flat(tuple(257 * v for v in leaf), np.uint16)
    good("deep.heic", heic(deep, **usual), by_space(leaf), lossy, SCIENCE, "sRGB")
    cut = flat((*leaf, 255))
    cut[:4, :, 3] = 0
    good("cut-out.heic", heic(cut, quality=95, chroma=444), by_space(leaf), lossy, SCIENCE, "sRGB", ["transparency-ignored"])
    night = exif({0x010F: "Some Works"}, {0xA406: 3, 0x829A: IFDRational(1, 10), 0x829D: IFDRational(9, 5), 0x8827: 400, 0x9209: 16})
    good("night.heic", heic(flat(leaf), night), by_space(leaf), exact, SCIENCE, "sRGB", ["local-tone", "light-poor"], camera="Some Works", seconds=0.1, f_number=1.8, iso=400.0, flash=False)
    # Turned by its boxes, and EXIF says so once more: a corner of the picture is rust.
    corner = flat(leaf)
    corner[: HEIGHT // 4, : WIDTH // 4] = rust
    for orientation in range(1, 9):
        size = (WIDTH, HEIGHT) if orientation < 5 else (HEIGHT, WIDTH)
        told = exif({0x0112: orientation})
        good(f"turned-{orientation}.heic", heic(corner, told), by_space(leaf), exact, SCIENCE, "sRGB", size=size)
    # EXIF alone says that it is turned, which does not count: the boxes do.
    alone = heic(flat(leaf), exif({0x0112: 1})).replace(b"\x01\x12\0\x03\0\0\0\x01\0\x01", b"\x01\x12\0\x03\0\0\0\x01\0\x06")
    good("turned-by-exif-alone.heic", alone, by_space(leaf), exact, SCIENCE, "sRGB")
    # Where chroma is kept at half size, libraries place it half a pixel apart, which shows in so fine a pattern and not in a photo.
    piece = Image.open("season/photos/LB001-dry.jpg").convert("RGB").resize((256, 192))
    whole = heic(np.asarray(piece), quality=90, chroma=420)
    middle = np.asarray(pillow_heif.open_heif(io.BytesIO(whole)))[96, 128]
    library = f"libheif {pillow_heif.libheif_version()}, then {SCIENCE}"
    good("piece.heic", whole, by_space(middle), 1.5, library, "sRGB", size=(256, 192))
    whole = heic(busy(), quality=95, chroma=444)
    middle = np.asarray(pillow_heif.open_heif(io.BytesIO(whole)))[24, 32]
    good("busy.heic", whole, by_space(middle), 0.5, library, "sRGB", size=(64, 48))
    for missing in (2, 40, 300):
        (BAD / f"cut-{missing}-bytes.heic").write_bytes(whole[:-missing])
    (BAD / "cut-in-half.heic").write_bytes(whole[: len(whole) // 2])
    for name, side in (("claims-60000.heic", 60000), ("cut-claims-14000.heic", 14000)):
        (BAD / name).write_bytes(whole.replace(b"ispe" + struct.pack(">3I", 0, 64, 64), b"ispe" + struct.pack(">3I", 0, side, side)))
    for brand in (b"msf1", b"hevc"):
        head = struct.pack(">I", 20) + b"ftyp" + brand + bytes(4) + brand
        (BAD / f"series-{brand.decode()}.heic").write_bytes(head + bytes(64))
    bare = struct.pack(">I", 24) + b"ftypheic" + bytes(4) + b"mif1heic" + bytes(64)
    (BAD / "cut-boxes-missing.heic").write_bytes(bare)
    (BAD / "rare-coding.heic").write_bytes(whole.replace(b"hvc1", b"jpeg"))


def busy():
    """A picture that takes some kilobytes, so that cutting a little off its end takes picture data, not only an end mark."""
    y, x = np.mgrid[0:48, 0:64]
    wave = 120 + 60 * np.sin(x / 5) + 50 * np.cos(y / 3 + x / 11)
    return np.stack([wave, np.roll(wave, 9, 0), np.roll(wave, 17, 1)], -1).clip(0, 255).astype(np.uint8)


def claims_jpeg(side):
    whole = bytearray(saved(flat((1, 2, 3))))
    at = whole.index(b"\xff\xc0")
    whole[at + 5 : at + 9] = struct.pack(">2H", side, side)
    return bytes(whole)


def whole_files():
    picture = busy()
    return {
        "jpg": saved(picture, quality=90, subsampling=2), "png": png(picture, 2), "webp": saved(picture, "WEBP", lossless=True),
        "tif": saved(picture, "TIFF", compression="tiff_lzw"), "progressive.jpg": saved(picture, quality=90, progressive=True),
    }  # fmt: skip


def make_bad():
    whole = whole_files()
    slow = whole["progressive.jpg"]
    for ending, data in whole.items():
        (BAD / f"cut-in-half.{ending}").write_bytes(data[: len(data) // 2])
    for name, data in (("cut", whole["jpg"]), ("cut-progressive", slow)):
        for missing in (2, 3, 40, 300):
            (BAD / f"{name}-{missing}-bytes.jpg").write_bytes(data[:-missing])
    (BAD / "cut-300-bytes.png").write_bytes(whole["png"][:-300])
    (BAD / "cut-zeros-at-the-end.jpg").write_bytes(whole["jpg"][:-300] + bytes(300))
    (BAD / "cut-claims-20000.jpg").write_bytes(claims_jpeg(14000))
    (BAD / "cut-header-only.jpg").write_bytes(whole["jpg"][:3])
    (BAD / "empty.jpg").write_bytes(b"")
    (BAD / "nophoto-text.jpg").write_text("LB007, dry, in the shade of the walnut\n")
    (BAD / "nophoto-zeros.jpg").write_bytes(bytes(400))
    (BAD / "nophoto-one-byte.png").write_bytes(b"\x89")
    (BAD / "nophoto.gif").write_bytes(saved(flat(3), "GIF"))
    (BAD / "claims-60000.jpg").write_bytes(claims_jpeg(60000))
    huge = bytearray(png(flat((1, 2, 3)), 2))
    huge[16:24] = struct.pack(">2I", 60000, 60000)
    huge[29:33] = struct.pack(">I", zlib.crc32(huge[12:29]))
    (BAD / "claims-60000.png").write_bytes(huge)
    out = io.BytesIO()
    tifffile.imwrite(out, flat((1, 2, 3)), photometric="rgb", metadata=None)
    huge = out.getvalue()
    for tag, side in ((256, WIDTH), (257, HEIGHT), (278, HEIGHT)):
        for form in ("<HHIHH", "<HHII"):
            old = struct.pack(form, tag, 3 if form == "<HHIHH" else 4, 1, side, *([0] if form == "<HHIHH" else []))
            huge = huge.replace(old, struct.pack("<HHII", tag, 4, 1, 60000))
    (BAD / "claims-60000.tif").write_bytes(huge)
    (BAD / "cmyk.jpg").write_bytes(saved(Image.new("CMYK", (WIDTH, HEIGHT), (10, 40, 60, 5))))
    (BAD / "cmyk.tif").write_bytes(saved(Image.new("CMYK", (WIDTH, HEIGHT), (10, 40, 60, 5)), "TIFF"))
    for name, brand in (("avif.avif", b"avif"), ("avif-named.heic", b"mif1avif"), ("raw.cr3", b"crx "), ("film.mov", b"qt  ")):
        (BAD / name).write_bytes(struct.pack(">I", 24) + b"ftyp" + brand[:4] + bytes(4) + b"mif1" + brand[-4:] + bytes(64))
    out = io.BytesIO()
    tifffile.imwrite(out, flat((1, 2, 3)), photometric="rgb", metadata=None, subfiletype=1)
    (BAD / "raw-preview.tif").write_bytes(out.getvalue())
    out = io.BytesIO()
    tifffile.imwrite(out, flat((0.1, 0.2, 0.3), np.float32), photometric="rgb", metadata=None)
    (BAD / "rare-float.tif").write_bytes(out.getvalue())


for folder, make in ((GOOD, make_good), (BAD, make_bad)):
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    make()
make_heic()
