"""Reads printed tags with a decoder that has nothing to do with this project, and compares.

    python tests/decoders/read_tags.py FOLDER

FOLDER holds pages of tags (PNG, PDF) and expected.json, which says what stands on each; `cargo test --test printed_tags`
writes it to target/tmp/printed_tags. Needs, from the Python package index: see requirements.txt beside this file.
Exit status 1 where anything differs or nothing was there to read.
"""

import json
import pathlib
import sys

import pypdfium2
import zxingcpp
from PIL import Image


def pages(file):
    if file.suffix == ".pdf":
        document = pypdfium2.PdfDocument(file)
        return [page.render(scale=2.5).to_pil().convert("L") for page in document]
    return [Image.open(file).convert("L")]


def texts(file):
    found = []
    for page in pages(file):
        for code in zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormat.QRCode):
            if code.ec_level != "M":
                sys.exit(f"{file.name}: “{code.text}” has error correction {code.ec_level}, not M")
            found.append(code.text)
    return sorted(found)


def main(folder):
    expected = json.loads((folder / "expected.json").read_text(encoding="utf-8"))
    wrong = 0
    for name, wanted in expected.items():
        found = texts(folder / name)
        if found != sorted(wanted):
            wrong += 1
            missing = sorted(set(wanted) - set(found))
            surplus = sorted(set(found) - set(wanted))
            print(f"{name}: not read {missing}, read instead {surplus}")
        else:
            print(f"{name}: {len(found)} tags read")
    return 1 if wrong or not expected else 0


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    sys.exit(main(pathlib.Path(sys.argv[1])))
