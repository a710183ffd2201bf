"""Reads notes with PDFium and Pillow, which have nothing to do with this project: sizes of pages, text, typefaces, and what a PNG says of itself.

    python tests/decoders/read_notes.py FOLDER [PICTURE]

FOLDER holds notes (PDF, PNG) and expected.json, which says what each must be; `cargo test --test program note` writes it to
target/tmp/written_notes. PICTURE, where it is named, gets both sides of the card as a PNG: so docs/note.png is made. Needs, from the
Python package index: see requirements.txt beside this file. Exit status 1 where anything differs or nothing was there to read.
"""

import json
import pathlib
import sys

import pypdfium2
import pypdfium2.raw as raw
from PIL import Image

CARD = "LB008-note.pdf"


def words(text):
    return " ".join(text.split())


def figures(page):
    """What the figures of a page say to those who do not see them (ISO 32000-1, 14.9.3)."""

    def text(read, element):
        length = read(element, None, 0)
        buffer = (raw.ctypes.c_char * max(length, 2))()
        read(element, buffer, length)
        return bytes(buffer)[: max(length - 2, 0)].decode("utf-16-le")

    def below(element):
        if text(raw.FPDF_StructElement_GetType, element) == "Figure":
            yield text(raw.FPDF_StructElement_GetAltText, element)
        for place in range(raw.FPDF_StructElement_CountChildren(element)):
            child = raw.FPDF_StructElement_GetChildAtIndex(element, place)
            if child:
                yield from below(child)

    tree = raw.FPDF_StructTree_GetForPage(page)
    for place in range(raw.FPDF_StructTree_CountChildren(tree)):
        yield from below(raw.FPDF_StructTree_GetChildAtIndex(tree, place))


def wrong_in_pdf(file, wanted):
    """What is not as it must be."""
    document = pypdfium2.PdfDocument(file)
    if len(document) != wanted["pages"]:
        yield f"{len(document)} pages, not {wanted['pages']}"
    for page in document:
        size = [points / 72 * 25.4 for points in page.get_size()]
        if any(abs(a - b) > 0.05 for a, b in zip(size, wanted["mm"])):
            yield f"{size} mm, not {wanted['mm']}"
    text = words(" ".join(page.get_textpage().get_text_range() for page in document))
    for said in wanted["says"]:
        if said not in text:
            yield f"does not say “{said}”: {text}"
    drawn = [shape for page in document for shape in page.get_objects(max_depth=8)]
    kinds = {shape.type for shape in drawn}
    if raw.FPDF_PAGEOBJ_PATH not in kinds:
        yield "has no drawn colours"
    fonts = [raw.FPDFTextObj_GetFont(shape) for shape in drawn if shape.type == raw.FPDF_PAGEOBJ_TEXT]
    told = [said for page in document for said in figures(page)]
    if not told or not all(told):
        yield f"has pictures that say nothing: {told}"
    if not fonts or not all(raw.FPDFFont_GetIsEmbedded(font) == 1 for font in fonts):
        yield "does not carry all its typefaces"


def wrong_in_png(file, wanted):
    image = Image.open(file)
    image.load()
    if list(image.size) != wanted["pixels"] or image.mode != "RGB":
        yield f"{image.size} {image.mode}"
    if "srgb" not in image.info:
        yield "does not say that it is sRGB"
    if image.getexif():
        yield "holds EXIF"


def main(folder, picture=None):
    expected = json.loads((folder / "expected.json").read_text(encoding="utf-8"))
    wrong = 0
    for name, wanted in expected.items():
        check = wrong_in_png if name.endswith(".png") else wrong_in_pdf
        found = list(check(folder / name, wanted))
        wrong += len(found)
        print(f"{name}: {'; '.join(found) or 'as it must be'}")
    if picture:
        sides = [page.render(scale=2).to_pil() for page in pypdfium2.PdfDocument(folder / CARD)]
        gap = 24
        width = sum(side.width for side in sides) + 3 * gap
        both = Image.new("RGB", (width, sides[0].height + 2 * gap), (225, 225, 225))
        for place, side in enumerate(sides):
            both.paste(side, (gap + place * (side.width + gap), gap))
        both.save(picture, optimize=True)
    return 1 if wrong or not expected else 0


if __name__ == "__main__":
    if not 2 <= len(sys.argv) <= 3:
        sys.exit(__doc__)
    sys.exit(main(*map(pathlib.Path, sys.argv[1:])))
