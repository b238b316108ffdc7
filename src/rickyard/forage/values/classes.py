"""A published table of classes: limits, labels, and to which class a limit itself belongs.

Grades and hazard levels are all such tables; they stand in ``data/class_tables.csv``, and two on
one hazard are never averaged. One number gives one label; an array gives the places of its
labels, so that a district's million results are classed at once.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, cast

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Forage
from rickyard.forage import shipped_rows
from rickyard.quantities import Numeric, OutOfRange

#: The place of a value that is not given.
NOT_GIVEN: Final = -1


def above(limit: float) -> float:
    """Return the limit of a class that begins only above the printed number.

    >>> above(185.0) > 185.0, round(above(185.0), 9)
    (True, 185.0)
    """
    return math.nextafter(limit, math.inf)


@dataclass(frozen=True, slots=True)
class ClassTable:
    """Classes that follow each other along one quantity.

    Parameters
    ----------
    name : str
        What the table classes, in plain words.
    unit : str
        Unit and basis of the limits, in plain words.
    limits : tuple of float
        Limits between neighbouring classes, rising; one fewer than labels.
    labels : tuple of str
        The class below the first limit, then upward.
    limit_goes : {"down", "up"}
        Whether a value on a limit belongs to the class below it or above it.
    source : str
        Who published the table.

    Examples
    --------
    >>> table = ClassTable("size", "m", (1.0, 2.0), ("small", "middle", "large"), "down", "-")
    >>> table.label(1.0), table.label(1.5), table.label(9.0)
    ('small', 'middle', 'large')
    >>> table.places(np.array([0.5, 2.5, np.nan]))
    array([ 0,  2, -1], dtype=int8)
    """

    name: str
    unit: str
    limits: tuple[float, ...]
    labels: tuple[str, ...]
    limit_goes: Literal["down", "up"]
    source: str

    def __post_init__(self) -> None:
        if len(self.labels) != len(self.limits) + 1:
            raise ValueError("A class table has one label more than limits.")
        if list(self.limits) != sorted(self.limits):
            raise ValueError("The limits of a class table must rise.")

    def places(self, values: Numeric) -> NDArray[np.int8]:
        """Return the place of each value's class in ``labels``; -1 where none is given (NaN).

        Examples
        --------
        >>> table = ClassTable("size", "m", (1.0,), ("small", "large"), "up", "-")
        >>> table.places(np.array([0.5, 1.0])).tolist()
        [0, 1]
        """
        given = np.asarray(values, dtype=np.float64)
        if given.ndim == 0:
            return np.array(NOT_GIVEN if np.isnan(given) else self.place(float(given)), np.int8)
        above = np.greater if self.limit_goes == "down" else np.greater_equal
        places = np.where(np.isnan(given), np.int8(NOT_GIVEN), np.int8(0))
        for limit in self.limits:
            places += above(given, limit)
        return places

    def labels_of(self, values: Numeric) -> NDArray[np.str_]:
        """Return the label of each value's class, empty where none is given (NaN).

        Examples
        --------
        >>> table = ClassTable("size", "m", (1.0,), ("small", "large"), "down", "-")
        >>> table.labels_of(np.array([0.5, 2.0, np.nan])).tolist()
        ['small', 'large', '']
        """
        # The place of what is not given, -1, is the last of these.
        labels: NDArray[np.str_] = np.array([*self.labels, ""])[self.places(values)]
        return labels

    def place(self, value: float) -> int:
        """Return the place of one value's class in ``labels``; NaN raises ``OutOfRange``."""
        if not value == value:
            raise OutOfRange(f"{self.name.capitalize()} cannot be classed without a number.")
        return (bisect_left if self.limit_goes == "down" else bisect_right)(self.limits, value)

    def label(self, value: float) -> str:
        """Return the label of one value's class; ``OutOfRange`` if the value is not a number.

        Examples
        --------
        >>> table = ClassTable("size", "m", (1.0,), ("small", "large"), "up", "-")
        >>> table.label(1.0)
        'large'
        """
        return self.labels[self.place(value)]


@dataclass(frozen=True, slots=True)
class Classed:
    """What a table classes: a column of a report or an index, and for which forages.

    The value is multiplied by ``factor`` to come to the unit of the table. ``wet_only`` leaves
    dry hay unclassed.
    """

    what: str
    factor: float
    table: ClassTable
    forages: frozenset[Forage]
    wet_only: bool


def _limit(text: str) -> float:
    """Read a limit; ``>`` marks a class that begins above it only, ``<`` one that ends below."""
    if text.startswith("<"):
        return math.nextafter(float(text[1:]), -math.inf)
    return above(float(text[1:])) if text.startswith(">") else float(text)


def _table(row: Mapping[str, str]) -> ClassTable:
    return ClassTable(
        row["name"],
        row["unit"],
        tuple(_limit(limit) for limit in row["limits"].split("|")),
        tuple(row["labels"].split("|")),
        cast(Literal["up", "down"], row["limit_goes"]),
        row["source"],
    )


_ROWS: Final = {row["key"]: row for row in shipped_rows("class_tables.csv")}
#: Every table by its key.
CLASS_TABLES: Final[dict[str, ClassTable]] = {key: _table(row) for key, row in _ROWS.items()}
#: The tables that class a value of a report or what is computed from it.
CLASSED: Final[dict[str, Classed]] = {
    key: Classed(
        row["what"],
        float(row["factor"] or 1.0),
        CLASS_TABLES[key],
        frozenset(Forage(one) for one in (row["forages"].split("|") if row["forages"] else Forage)),
        bool(row["wet_only"]),
    )
    for key, row in _ROWS.items()
    if row["what"]
}
