"""Cut the letters of the pages out of two packages of npm, which hold them under an open licence.

``npm pack @fontsource-variable/besley@5.3.0 @fontsource-variable/archivo@5.3.0``, unpack each
archive beside the other, then ``python tools/fonts.py FOLDER`` with the folder that holds them. It
needs fonttools 4.68 and brotli 1.2, which neither the program nor its tests do. What is kept: the
letters of western Europe, the weights and widths that the style sheet uses, and the licence.
"""

from __future__ import annotations

import io
import sys
from pathlib import Path
from typing import Any, Final

STATIC: Final = Path(__file__).resolve().parents[1] / "src" / "rickyard" / "web" / "static"

#: Latin-1, and the dashes, quotation marks, minus, arrows and spaces that are set.
LETTERS: Final = (
    *range(0x20, 0x7F),
    *range(0xA0, 0x100),
    *(0x131, 0x152, 0x153, 0x2009, 0x2013, 0x2014, 0x2018, 0x2019, 0x201C, 0x201D, 0x2022),
    *(0x2026, 0x202F, 0x2032, 0x2033, 0x20AC, 0x2190, 0x2191, 0x2192, 0x2193, 0x2212),
)
#: The package, its file, and how far its axes go. Besley sets answers, Archivo the rest.
FONTS: Final[dict[str, tuple[str, str, dict[str, tuple[int, int]]]]] = {
    "besley": (
        "fontsource-variable-besley-5.3.0",
        "besley-latin-wght-normal.woff2",
        {"wght": (500, 900)},
    ),
    "archivo": (
        "fontsource-variable-archivo-5.3.0",
        "archivo-latin-wdth-normal.woff2",
        {"wdth": (80, 100), "wght": (400, 800)},
    ),
}
FEATURES: Final = ("kern", "liga", "tnum", "lnum", "mark", "mkmk", "ccmp", "locl", "case", "frac")


def cut(source: Path, axes: dict[str, tuple[int, int]]) -> bytes:
    """Return a font with fewer letters and shorter axes, as WOFF2."""
    from fontTools import subset
    from fontTools.ttLib import TTFont
    from fontTools.varLib import instancer

    shorter: Any = instancer.instantiateVariableFont(TTFont(source, recalcTimestamp=False), axes)
    held = io.BytesIO()
    shorter.save(held)
    held.seek(0)
    font: Any = TTFont(held, recalcTimestamp=False)
    options: Any = subset.Options()
    options.layout_features = list(FEATURES)
    options.hinting = False
    few: Any = subset.Subsetter(options)
    few.populate(unicodes=LETTERS)
    few.subset(font)
    font.flavor = "woff2"
    found = io.BytesIO()
    font.save(found)
    return found.getvalue()


def main(folder: Path) -> None:
    """Write the fonts and their licences beside the style sheets."""
    for name, (package, file, axes) in FONTS.items():
        place = folder / package / "package"
        (STATIC / f"{name}.woff2").write_bytes(cut(place / "files" / file, axes))
        licence = (place / "LICENSE").read_text(encoding="utf-8")
        (STATIC / f"{name}-OFL.txt").write_text(licence, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
