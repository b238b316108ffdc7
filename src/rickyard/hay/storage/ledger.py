"""The yard's book: every bale that came, went, was moved or counted, lot by lot.

Lines are only ever added. The book of a lot is what they come to in the order of days, so it
does not matter in which order they were written. What the book cannot explain is a line of its
own: a count that differs, or bales taken that were never there.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from enum import IntEnum, auto
from itertools import pairwise
from typing import Final

from rickyard.farm import FedRow, Lot, MoveKind, MoveRow
from rickyard.quantities import OutOfRange

#: Bales under this are rounding.
DUST: Final = 1e-9

#: Dry matter of one bale on a day. [kg]
DryPerBale = Callable[[date], float]


class DayPart(IntEnum):
    """The parts of a day: hay that came is counted with the rest, what went left afterwards.

    What was missing stands before whatever took it.
    """

    CAME = auto()
    COUNTED = auto()
    MISSING = auto()
    CORRECTED = auto()
    WENT = auto()


_PART: Final = {
    "put_up": DayPart.CAME,
    "bought": DayPart.CAME,
    "moved_in": DayPart.CAME,
    "opening": DayPart.CAME,
    "count": DayPart.COUNTED,
    "missing": DayPart.MISSING,
    "correction": DayPart.CORRECTED,
    "fed": DayPart.WENT,
    "sold": DayPart.WENT,
    "lost": DayPart.WENT,
    "moved_out": DayPart.WENT,
}

#: Every kind of line, in the order in which an account tells them.
KINDS: Final = tuple(_PART)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a lot's book. ``bales`` are positive when they come and negative when they go.

    ``kind`` is one of `KINDS`: ``opening`` is what stood before the book begins, ``count`` what a
    count found more or fewer, ``missing`` what was taken without standing there.
    """

    day: date
    kind: str
    bales: float
    about: str = ""
    note: str = ""

    @property
    def at(self) -> tuple[date, DayPart]:
        """Return the day and the part of it."""
        return self.day, _PART[self.kind]

    @property
    def _order(self) -> tuple[tuple[date, DayPart], str, float, str, str]:
        return (self.at, self.kind, self.bales, self.about, self.note)


@dataclass(frozen=True, slots=True)
class LotBook:
    """The book of one lot: its lines in the order of days, and what a bale holds when."""

    lot: Lot
    lines: tuple[Line, ...]
    dry_per_bale: DryPerBale

    def bales_on(self, day: date) -> float:
        """Return the bales that stand at the end of a day."""
        return _sum(line.bales for line in self.lines if line.day <= day)

    def dry_kg_on(self, day: date) -> float:
        """Return the dry matter that stands at the end of a day. [kg]."""
        return self.bales_on(day) * self.dry_per_bale(day)

    def since_count(self, before: date) -> float:
        """Return the bales that came, less those that went, since the count and before a day."""
        at = (self.lot.counted_on, DayPart.COUNTED)
        return _sum(line.bales for line in self.lines if line.at > at and line.day < before)

    @property
    def unexplained(self) -> tuple[Line, ...]:
        """Return the lines for which the book has no reason and a person is asked."""
        return tuple(line for line in self.lines if line.kind in ("missing", "count"))


@dataclass(frozen=True, slots=True)
class Account:
    """What became of a lot between the ends of two days, in bales and in dry matter.

    ``opening`` and what came, less what went and what storage took, is ``closing``: to the last
    kilogram. ``bales`` and ``dry_kg`` hold the lines by kind, what goes as negative.
    """

    opening_bales: float
    opening_dry_kg: float
    bales: dict[str, float]
    dry_kg: dict[str, float]
    storage_loss_kg: float
    closing_bales: float
    closing_dry_kg: float


def lot_book(
    lot: Lot,
    moves: Sequence[MoveRow],
    fed: Sequence[FedRow],
    dry_per_bale: DryPerBale,
    dm_pct: float,
) -> LotBook:
    """Make the book of a lot, from the farm's movements and feeding log in any order.

    The lot's bales are a count on the morning of ``counted_on``, hay that came on that day
    included. A weight is turned into bales by the dry matter of one on that day. Stock is never
    negative: bales that were taken and never stood there get a line ``missing`` of their own.
    ``cored`` takes nothing: twenty cores are half a pound.

    Parameters
    ----------
    lot : Lot
        The lot with its count.
    moves, fed : sequence
        The farm's movements and feeding log.
    dry_per_bale : callable
        The dry matter of one bale on a day. [kg]
    dm_pct : float
        Dry matter of the hay as fed. [%]

    Returns
    -------
    LotBook
        The book.

    Examples
    --------
    >>> from rickyard.farm import Forage, Package, Storage
    >>> lot = Lot("A", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0,
    ...           date(2026, 6, 1), date(2026, 10, 1))
    >>> sold = MoveRow(date(2026, 11, 1), "A", MoveKind.SOLD, bales=15.0)
    >>> book = lot_book(lot, [sold], [], lambda day: 450.0, 88.0)
    >>> book.bales_on(date(2026, 10, 31)), book.bales_on(date(2026, 11, 1))
    (40.0, 25.0)
    """

    def bales_of(row: MoveRow | FedRow) -> float:
        if row.bales is not None:
            return row.bales
        return (row.mass_kg or 0.0) * dm_pct / 100.0 / dry_per_bale(row.day)

    lines = [line for row in moves for line in _lines_of(row, lot.lot_id, bales_of)]
    lines += [
        Line(row.day, "fed", -bales_of(row), row.group_id, row.note)
        for row in fed
        if row.source_id == lot.lot_id
    ]
    return LotBook(lot, _balanced(lot, lines), dry_per_bale)


def _lines_of(row: MoveRow, lot_id: str, bales_of: Callable[[MoveRow], float]) -> Iterable[Line]:
    if row.kind is MoveKind.CORED or lot_id not in (row.lot_id, row.to_lot_id):
        return
    bales = bales_of(row)
    if row.kind is MoveKind.MOVED:
        if row.to_lot_id == lot_id:
            yield Line(row.day, "moved_in", bales, row.lot_id, row.note)
        else:
            yield Line(row.day, "moved_out", -bales, row.to_lot_id, row.note)
    elif row.kind is MoveKind.CORRECTION:
        if not row.named.strip():
            raise OutOfRange(f"the correction of {row.day} to {lot_id} has no name under it.")
        yield Line(row.day, "correction", bales, row.named, row.note)
    else:
        comes = row.kind in (MoveKind.PUT_UP, MoveKind.BOUGHT)
        yield Line(row.day, row.kind.value, bales if comes else -bales, "", row.note)


def _balanced(lot: Lot, lines: list[Line]) -> tuple[Line, ...]:
    """Order the lines, and add what stood before, what the count changed and what was missing."""
    ordered = sorted(lines, key=lambda line: line._order)
    place = bisect_left(ordered, (lot.counted_on, DayPart.COUNTED), key=lambda line: line.at)
    before, after = ordered[:place], ordered[place:]
    began = [line for line in before if line.bales > 0.0 and line.kind != "correction"]
    opening: list[Line] = []
    if not began:
        # The book does not say how the hay came: what was counted, and what went before, stood.
        first = min([lot.baled_on, lot.counted_on, *(line.day for line in before)])
        stood = lot.bales - _sum(line.bales for line in before)
        opening = [Line(first, "opening", max(0.0, stood))]
    explained = _with_missing([*opening, *before])
    differs = _sum([lot.bales, *(-line.bales for line in explained)])
    counted = [Line(lot.counted_on, "count", differs)] if differs else []
    return _with_missing([*explained, *counted, *after])


def _with_missing(lines: Sequence[Line]) -> tuple[Line, ...]:
    """Put a line before each that takes more than stands."""
    found: list[Line] = []
    parts: list[float] = []
    for line in sorted(lines, key=lambda line: line._order):
        after = _sum([*parts, line.bales])
        if after < 0.0:
            found.append(Line(line.day, "missing", -after, line.kind, line.note))
            _add(parts, -after)
        found.append(line)
        _add(parts, line.bales)
    return tuple(found)


def _add(parts: list[float], value: float) -> None:
    """Add a number to a sum that is held exactly, in parts none of which overlap.

    Source: Shewchuk (1997), Discrete and Computational Geometry 18, 305-363, Grow-Expansion (from
    memory).
    """
    place = 0
    for part in parts:
        large, small = (value, part) if abs(value) >= abs(part) else (part, value)
        value = large + small
        rest = small - (value - large)
        if rest:
            parts[place] = rest
            place += 1
    parts[place:] = [value]


def _at_ends(lines: Sequence[Line], days: Sequence[date]) -> list[float]:
    """Return the bales that stand at the end of each of some days, both in their order.

    As `LotBook.bales_on` says of each, to the last digit; a book of three years is gone through
    once instead of once for each of its days.
    """
    found: list[float] = []
    parts: list[float] = []
    place = 0
    for day in days:
        while place < len(lines) and lines[place].day <= day:
            _add(parts, lines[place].bales)
            place += 1
        found.append(_sum(parts))
    return found


def _sum(values: Iterable[float]) -> float:
    """Add without regard to order, and call dust nothing."""
    total = math.fsum(values)
    return 0.0 if abs(total) < DUST else total


def account(book: LotBook, start: date, end: date) -> Account:
    """Account for every bale and kilogram of a lot between the ends of two days.

    Each line counts with the dry matter that a bale holds on its day; what storage takes is the
    bales that stand from line to line times what each loses meanwhile.

    Parameters
    ----------
    book : LotBook
        The book.
    start, end : date
        The days, in their order; what happens on the first is before, on the last within.

    Returns
    -------
    Account
        What came, what went and what storage took.
    """
    if end < start:
        raise OutOfRange(f"{end} is before {start}.")
    within = [line for line in book.lines if start < line.day <= end]
    bales: dict[str, float] = {}
    dry: dict[str, float] = {}
    for kind in KINDS:
        mine = [line for line in within if line.kind == kind]
        if mine:
            bales[kind] = math.fsum(line.bales for line in mine)
            dry[kind] = math.fsum(line.bales * book.dry_per_bale(line.day) for line in mine)
    days = sorted({start, end, *(line.day for line in within)})
    stood = _at_ends(book.lines, days)
    lost = math.fsum(
        bales * (book.dry_per_bale(first) - book.dry_per_bale(second))
        for bales, (first, second) in zip(stood, pairwise(days), strict=False)
    )
    return Account(
        opening_bales=book.bales_on(start),
        opening_dry_kg=book.dry_kg_on(start),
        bales=bales,
        dry_kg=dry,
        storage_loss_kg=lost,
        closing_bales=book.bales_on(end),
        closing_dry_kg=book.dry_kg_on(end),
    )
