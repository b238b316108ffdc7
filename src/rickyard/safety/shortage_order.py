"""Whom a shortage harms least: the order in which stock goes short, and what that weighs.

One table says it by kind of stock, stage and condition. From its rows are made the prices of what
is missing in the season program, and the sentence that says why one group goes short before
another.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from importlib.resources import files

from rickyard.farm import Farm, Group
from rickyard.safety.binding import counts_as_pregnant
from rickyard.safety.whom import classes_bound, days_in_stage


@dataclass(frozen=True, slots=True)
class ShortagePlace:
    """One row of the table: who stands in which place when energy or protein is short.

    It holds for the classes and the stage that ``stock`` and ``stage`` name, at a condition score
    above ``score_above`` and up to ``score_upto``, 1 to 9; a score that is not known meets neither.
    ``place`` counts from 1, those who go short first. ``weight`` is what an amount that is missing
    counts against the same amount of those in the first place. ``because`` says why, in words.
    """

    row_id: str
    stock: tuple[str, ...]
    stage: str
    score_above: float | None
    score_upto: float | None
    place: int
    weight: float
    because: str
    source: str
    evidence: str

    def fits(self, group: Group) -> bool:
        """Say whether a group is of the stock and in the condition that the row names."""
        if group.animal_class not in classes_bound(self.stock):
            return False
        if self.score_above is None and self.score_upto is None:
            return True
        score = group.condition_score
        if score is None:
            return False
        over = self.score_above is None or score > self.score_above
        return over and (self.score_upto is None or score <= self.score_upto)


@cache
def shortage_places() -> tuple[ShortagePlace, ...]:
    """Return every row of the table; of those that fit a group the first holds.

    Examples
    --------
    >>> [one.row_id for one in shortage_places() if one.place == 1]
    ['fleshy']
    >>> sorted({one.weight for one in shortage_places()})
    [1.0, 1.5, 2.0, 3.0, 4.0]
    """
    path = files("rickyard.safety").joinpath("data", "shortage_order.csv")
    rows = csv.DictReader(path.read_text(encoding="utf-8").splitlines())
    return tuple(_place(row) for row in rows)


def _place(row: dict[str, str]) -> ShortagePlace:
    def number(name: str) -> float | None:
        return float(row[name]) if row[name] else None

    return ShortagePlace(
        row["id"],
        tuple(row["stock"].split()),
        row["stage"],
        number("score_above"),
        number("score_upto"),
        int(row["place"]),
        float(row["weight"]),
        row["because"],
        row["source"],
        row["evidence"],
    )


def places_of(
    farm: Farm, group: Group, starts: Sequence[date], lengths: Sequence[int]
) -> tuple[ShortagePlace, ...]:
    """Return the place of a group when energy or protein is short, period by period.

    Parameters
    ----------
    farm : Farm
        Its season is read.
    group : Group
        Class, days of birth, weaning and breeding, condition and weight are read.
    starts : sequence of date
        The first day of each period.
    lengths : sequence of int
        How long each is. [d]

    Returns
    -------
    tuple of ShortagePlace
        One for each period: that of its day on which a shortage would harm most.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass, Season
    >>> cows = Group("c", "Cows", AnimalClass.COW, 20, 550.0, calving_on=date(2027, 4, 1))
    >>> farm = Farm("Home", Season(date(2026, 11, 1), date(2027, 5, 1)), groups=(cows,))
    >>> days = [date(2026, 12, 1), date(2027, 1, 31), date(2027, 4, 5)]
    >>> [(one.row_id, one.weight) for one in places_of(farm, cows, days, [7, 7, 7])]
    [('grown', 1.5), ('birth-cattle', 4.0), ('nursing', 4.0)]
    """
    pregnant = counts_as_pregnant(group, farm)
    open_rows = [
        (row, spans)
        for row in shortage_places()
        if row.fits(group)
        and (spans := days_in_stage(group, row.stage, farm, pregnant=pregnant)) is not None
    ]
    found = []
    for start, days in zip(starts, lengths, strict=True):
        end = start + timedelta(days=days)
        found.append(
            next(
                row
                for row, spans in open_rows
                if not spans or any(start < last and first < end for first, last in spans)
            )
        )
    return tuple(found)
