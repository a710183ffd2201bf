"""Tags and charts in a scene: paper, ink and patches as reflectances, drawn fine and laid in at a slant."""

import cv2
import numpy as np
import qrcode
import spectra
from fields import HEIGHT, WIDTH

FINE = 3  # drawn so many times finer than the picture
PAPER, INK = (96.0, 0.0, 0.0), (25.0, 0.0, 0.0)  # what the project assumes of a tag


def modules(payload):
    """A QR code (ISO/IEC 18004), error correction M, with its quiet zone of four modules: 1 is ink."""
    code = qrcode.QRCode(error_correction=qrcode.constants.ERROR_CORRECT_M, border=4)
    code.add_data(payload)
    code.make(fit=True)
    return np.array(code.get_matrix(), np.float32)


def placed(rng, middle, half, turn, slant):
    """Corners of a flat thing in the picture, clockwise from its upper left; `slant` is how far perspective pulls them."""
    corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)], float) * half
    corners *= 1 + rng.uniform(-slant, slant, (4, 1))
    return corners @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]]) + middle


def laid(drawing, corners):
    """A drawing (0 to 1) seen at four corners, as cover of the picture's pixels."""
    h, w = drawing.shape
    low = np.maximum(np.floor(corners.min(0)).astype(int) - 2, 0)
    high = np.minimum(np.ceil(corners.max(0)).astype(int) + 2, (WIDTH, HEIGHT))
    cover = np.zeros((HEIGHT, WIDTH), np.float32)
    if (high <= low).any():
        return cover
    size = tuple(int(n) for n in high - low)
    fit = cv2.getPerspectiveTransform(np.float32([(0, 0), (w, 0), (w, h), (0, h)]), np.float32((corners - low) * FINE))
    fine = cv2.warpPerspective(drawing, fit, (size[0] * FINE, size[1] * FINE), flags=cv2.INTER_LINEAR)
    cover[low[1] : high[1], low[0] : high[0]] = cv2.resize(fine, size, interpolation=cv2.INTER_AREA)
    return cover


def tag(scene, rng, payload, corners, paper=PAPER, ink=INK, margin=1):
    """Lay a tag: paper with `margin` modules about the quiet zone, then its ink."""
    code = np.pad(modules(payload), margin)
    black = np.kron(code, np.ones((24, 24), np.float32))
    scene.lay(laid(np.ones_like(black), corners), spectra.coloured(np.array(paper), rng, 4))
    scene.lay(laid(black, corners), spectra.coloured(np.array(ink), rng, 4))


class Chart:
    """Patches in rows and columns; `gap` between and `edge` about them in parts of a patch; `frame` a CIELAB colour or none."""

    def __init__(self, reflectances, rows, gap=0.2, edge=0.25, frame=(14.0, 0.0, 0.0)):
        self.reflectances = np.asarray(reflectances)
        self.rows, self.columns = rows, len(reflectances) // rows
        self.gap, self.edge, self.frame = gap, edge, frame

    def size(self):
        """Width and height in patches."""
        return [n + (n - 1) * self.gap + 2 * self.edge for n in (self.columns, self.rows)]

    def lay(self, scene, rng, corners):
        """Lay the chart into a scene at four corners."""
        unit = 48
        w, h = (int(round(s * unit)) for s in self.size())
        if self.frame is not None:
            scene.lay(laid(np.ones((h, w), np.float32), corners), spectra.coloured(np.array(self.frame), rng, 4))
        for i, reflectance in enumerate(self.reflectances):
            drawing = np.zeros((h, w), np.float32)
            row, column = divmod(i, self.columns)
            left, top = (int(round((self.edge + k * (1 + self.gap)) * unit)) for k in (column, row))
            drawing[top : top + unit, left : left + unit] = 1
            scene.lay(laid(drawing, corners), reflectance)

    def cgats(self, illuminant="D65"):
        """The chart as a CGATS.17 file: CIELAB under an illuminant, or with none its spectra."""
        names = [f"{chr(65 + i // self.columns)}{i % self.columns + 1}" for i in range(len(self.reflectances))]
        if illuminant is None:
            kept = (spectra.NM >= 400) & (spectra.NM <= 700) & (spectra.NM % 10 == 0)
            fields = [f"SPECTRAL_NM{nm:.0f}" for nm in spectra.NM[kept]]
            values = self.reflectances[:, kept]
        else:
            fields, values = ["LAB_L", "LAB_A", "LAB_B"], spectra.lab_under(illuminant, self.reflectances)
        head = ["CGATS.17", 'ORIGINATOR "made season"', f'DESCRIPTOR "{self.rows} rows of {self.columns}"']
        if illuminant:
            head += [f'WEIGHTING_FUNCTION "ILLUMINANT, {illuminant}"', 'WEIGHTING_FUNCTION "OBSERVER, 2 degree"']
        head += [f"NUMBER_OF_FIELDS {len(fields) + 1}", "BEGIN_DATA_FORMAT", " ".join(["SAMPLE_ID"] + fields)]
        head += ["END_DATA_FORMAT", f"NUMBER_OF_SETS {len(names)}", "BEGIN_DATA"]
        rows = [" ".join([name] + [f"{v:.4f}" for v in row]) for name, row in zip(names, values)]
        return "\n".join(head + rows + ["END_DATA", ""])
