"""Cuts the bundled faces out of DejaVu Sans Condensed: run by hand when the character set changes.

    python3 -m service.drawing.fonts.subset /usr/share/fonts/truetype/dejavu

The folder is where Debian's package fonts-dejavu-extra puts its files. The licence asks for another
name on a changed font, so the family is called Bench Sans.
"""

import sys
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

FACES = {"Regular": "DejaVuSansCondensed.ttf", "Bold": "DejaVuSansCondensed-Bold.ttf"}
RANGES = (
    (0x20, 0x7E), (0xA0, 0x17F), (0x391, 0x3A9), (0x3B1, 0x3C9), (0x400, 0x45F),
    (0x2010, 0x2015), (0x2018, 0x201E), (0x2020, 0x2022), (0x2026, 0x2026), (0x2030, 0x2033),
    (0x2039, 0x203A), (0x2044, 0x2044), (0x20AC, 0x20AC), (0x2116, 0x2116), (0x2122, 0x2122),
    (0x2153, 0x215E), (0x2190, 0x2195), (0x2205, 0x2205), (0x2212, 0x2212), (0x2248, 0x2248),
    (0x2260, 0x2260), (0x2264, 0x2265), (0x2300, 0x2300), (0x25A1, 0x25A1), (0x25CB, 0x25CB),
    (0x25CF, 0x25CF), (0x2713, 0x2713), (0x2717, 0x2717), (0xFFFD, 0xFFFD),
)  # fmt: skip
NAMES_KEPT = (0, 7, 13, 14)
"""Copyright, trademark and licence."""


def main(folder: Path, target: Path) -> None:
    """Write one face of the family for each entry of `FACES` into `target`."""
    for style, file in FACES.items():
        face = TTFont(folder / file, recalcTimestamp=False)
        _cut(face)
        _rename(face, style)
        face.save(target / f"BenchSans-{style}.ttf")


def _cut(face: TTFont) -> None:
    options = Options(
        hinting=False, layout_features=[], name_IDs=["*"], notdef_outline=True, glyph_names=False,
        drop_tables=["GPOS", "GSUB", "GDEF", "kern", "FFTM", "DSIG"], recalc_timestamp=False,
    )  # fmt: skip
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[code for first, last in RANGES for code in range(first, last + 1)])
    subsetter.subset(face)


def _rename(face: TTFont, style: str) -> None:
    names = face["name"]
    names.names = [record for record in names.names if record.nameID in NAMES_KEPT]
    postscript = f"BenchSans-{style}"
    family = {
        1: "Bench Sans",
        2: style,
        3: postscript,
        4: f"Bench Sans {style}",
        5: "Version 1",
        6: postscript,
    }
    for number, text in family.items():
        names.setName(text, number, 3, 1, 0x409)
    face["OS/2"].usWidthClass = 5


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(__file__).parent)
