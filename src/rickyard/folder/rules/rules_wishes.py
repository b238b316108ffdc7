"""What the rows of ``wishes.csv`` must be to the farm, to the season and to each other."""

from __future__ import annotations

from bisect import bisect_left, bisect_right, insort
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Final, TypeAlias

from rickyard.farm import Season, Wanted
from rickyard.folder.rules.rules_ids import Ids, order_faults, unknown_ids
from rickyard.folder.tables import WISHES, Fault, TableRow


@dataclass(frozen=True, slots=True)
class Known:
    """The names that a wish may speak of; ``None`` where they could not be read."""

    sources: Ids | None
    groups: Ids | None


def wish_faults(rows: Sequence[TableRow], known: Known, season: Season | None) -> Iterator[Fault]:
    """Yield what is wrong with wishes.

    Parameters
    ----------
    rows : sequence of TableRow
        The rows of ``wishes.csv``, or of a file like it.
    known : Known
        The lots and feeds, and the groups.
    season : Season or None
        The season, if it could be read.

    Yields
    ------
    Fault
        The faults.
    """
    if known.sources is not None:
        yield from unknown_ids(rows, "source_id", known.sources, "lots.csv or feeds.csv")
    if known.groups is not None:
        yield from unknown_ids(rows, "group_id", known.groups | {""}, "groups.csv")
    for row in rows:
        yield from _amount_faults(row)
        yield from _day_faults(row, season)


def _amount_faults(row: TableRow) -> Iterator[Fault]:
    wish, amount = row.get("wish"), row.get("as_fed_kg_per_head_day")
    if wish is None or not row.sure:
        return
    name = "as_fed_kg_per_head_day"
    if wish is not Wanted.AMOUNT and name in row.cells:
        yield row.fault(
            name,
            f'"{row.text(name)}" is an amount, and the wish is {wish.value}.',
            "Write amount as the wish, or clear the cell.",
            "an empty cell",
        )
    elif wish is Wanted.AMOUNT and name not in row.cells:
        yield row.fault(
            name,
            "the wish is an amount, and none is written.",
            "Write what each head is to be fed in a day, as fed; or write feed as the wish.",
            "an amount",
        )
    elif amount == 0.0:
        yield row.fault(
            name,
            f'"{row.text(name)}" is nothing.',
            "Write keep_off as the wish, and clear the cell.",
            "an amount",
        )


def _day_faults(row: TableRow, season: Season | None) -> Iterator[Fault]:
    yield from order_faults(row, WISHES.file)
    if season is None:
        return
    start, end = row.get("start"), row.get("end")
    if start is not None and start >= season.end:
        yield row.fault(
            "start",
            f'"{start}" is not in the season, which ends {season.end}.',
            "Check the year, or delete the row.",
            "a day before the season's end",
        )
    if end is not None and end <= season.start:
        yield row.fault(
            "end",
            f'"{end}" leaves no day of the season, which starts {season.start}.',
            "Check the year, or delete the row.",
            "a day after the season's start",
        )


def wish_questions(rows: Sequence[TableRow]) -> Iterator[Fault]:
    """Yield wishes that cannot both come true of the same hay, animals and days.

    The program keeps the one that stands first, and says so of the other.
    """
    # Rows that want the same of the same days and animals are looked at once.
    before: dict[str, dict[tuple[object, ...], TableRow]] = {}
    for row in rows:
        wanted = before.setdefault(row.get("source_id"), {})
        for other in wanted.values():
            what = _clash(other, row)
            if what and _share_animals(other, row) and _share_days(other, row):
                yield row.fault(
                    "wish",
                    f'"{row.text("wish")}" {what} row {other.number}, for the same animals '
                    "and days.",
                    "Is the order right? The row that stands first counts.",
                )
                break
        wanted.setdefault(tuple(row.get(name) for name in _WANTED), row)


_WANTED: Final = ("wish", "as_fed_kg_per_head_day", "group_id", "start", "end")


def _clash(one: TableRow, other: TableRow) -> str:
    kinds = {one.get("wish"), other.get("wish")}
    if Wanted.KEEP_OFF in kinds and len(kinds) > 1:
        return "is against"
    amounts = {one.get("as_fed_kg_per_head_day"), other.get("as_fed_kg_per_head_day")}
    if kinds == {Wanted.AMOUNT} and None not in amounts and len(amounts) > 1:
        return "is another amount than in"
    return ""


def _share_animals(one: TableRow, other: TableRow) -> bool:
    groups = {one.get("group_id"), other.get("group_id")}
    return "" in groups or len(groups) == 1


def _share_days(one: TableRow, other: TableRow) -> bool:
    return _starts(one) < _ends(other) and _starts(other) < _ends(one)


def _starts(row: TableRow) -> date:
    return row.get("start") or date.min


def _ends(row: TableRow) -> date:
    return row.get("end") or date.max


_Span: TypeAlias = tuple[date, date, int]  # first day, first day no longer, row


@dataclass
class DaysTaken:
    """The days that rows have taken so far; finding whose they are takes no walk through all."""

    _apart: list[_Span] = field(default_factory=list)  # in order of days, none overlaps another
    _others: list[_Span] = field(default_factory=list)  # each overlaps one before it: a fault

    def taken(self, start: date, end: date, row: int) -> int | None:
        """Take the days from ``start`` to before ``end``; return the first row that had one.

        >>> days = DaysTaken()
        >>> days.taken(date(2026, 1, 1), date(2026, 2, 1), 2)
        >>> days.taken(date(2026, 2, 1), date(2026, 3, 1), 3)
        >>> days.taken(date(2026, 1, 31), date(2026, 2, 2), 4)
        2
        """
        first = bisect_right(self._apart, start, key=lambda span: span[1])
        last = bisect_left(self._apart, end, key=lambda span: span[0])
        overlapping = [span[2] for span in self._apart[first:last]]
        overlapping += [span[2] for span in self._others if start < span[1] and span[0] < end]
        if overlapping:
            self._others.append((start, end, row))
            return min(overlapping)
        insort(self._apart, (start, end, row))
        return None
