"""The bales of a lot as they are drawn: on one scale for all lots of a page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from rickyard.farm import Lot, Package
from rickyard.hay.yard import YardLine
from rickyard.web.drawn import LOT_COLUMNS, Part, lot_bales, per_mark, whole_marks
from rickyard.web.shown.words import bales_text

#: Bales of a lot are drawn in so many rows at most; then one mark stands for several.
_MOST_ROWS: Final = 4
#: So many small squares are drawn as one mark.
_SMALL_SQUARES: Final = 20


@dataclass(frozen=True, slots=True)
class BaleScale:
    """How many bales one mark stands for on a page, and that in words."""

    marks: int
    words: str


def marks_of_bales(lots: Iterable[tuple[YardLine, Lot]]) -> BaleScale:
    """Return the scale of the lots of a page: that of the lot that ever had the most bales.

    Parameters
    ----------
    lots : iterable of (YardLine, Lot)
        The lots.

    Returns
    -------
    BaleScale
        How many bales a mark is.
    """
    most = max(
        ((line.standing.bales + _gone(line)) / _in_a_mark(lot) for line, lot in lots), default=0
    )
    per = per_mark(most, LOT_COLUMNS * _MOST_ROWS)
    many = "one bale" if per == 1 else f"{per} bales"
    return BaleScale(per, f"One mark is {many}, or {per * _SMALL_SQUARES} small squares.")


def bales_drawn(
    line: YardLine, lot: Lot, per: int, number: int, *, barred: bool, left: float = 0.0
) -> str:
    """Return the bales of a lot, those that are gone first.

    Parameters
    ----------
    line : YardLine
        What stands and what is gone.
    lot : Lot
        Of what.
    per : int
        How many bales a mark is.
    number : int
        The number of the drawing on its page.
    barred : bool
        Whether a danger is to be read first.
    left : float
        How many of those that stand are left at the end. [bales]

    Returns
    -------
    str
        SVG.
    """
    gone, standing = _gone(line), line.standing.bales
    counts = whole_marks([gone, standing - left, left], per * _in_a_mark(lot))
    kinds = ("gone", "barred" if barred else "stands", "free")
    told = [(standing, "standing"), (gone, "gone"), (left, "left at the end")]
    label = ", ".join(f"{bales_text(bales, lot)} {word}" for bales, word in told if round(bales))
    parts = [Part(kind, count) for kind, count in zip(kinds, counts, strict=True)]
    return lot_bales(parts, label, f"lot{number}")


def _gone(line: YardLine) -> float:
    """Return the bales of a lot that were fed, sold, moved away or lost."""
    return -sum(bales for bales in line.account.bales.values() if bales < 0.0)


def _in_a_mark(lot: Lot) -> int:
    return _SMALL_SQUARES if lot.package is Package.SMALL_SQUARE else 1
