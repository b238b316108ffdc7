"""The other minerals of a diet: what it should hold, and what cattle tolerate, by edition.

Shares are of the dry matter of the whole diet; sulfur counts the sulfate of the water too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Final, Literal

from rickyard.quantities import OutOfRange
from rickyard.stock.common import find_rows, read_rows

Edition = Literal["NASEM 2016", "NRC 1996"]
Stage = Literal["growing", "gestating", "lactating"]

STAGES: Final[tuple[Stage, ...]] = ("growing", "gestating", "lactating")

#: What each edition is read from; both tables were seen there.
EDITIONS: Final[Mapping[str, str]] = MappingProxyType(
    {row["edition"]: row["source"] for row in read_rows("beef_minerals")}
)


@dataclass(frozen=True, slots=True)
class Mineral:
    """One mineral: its need when growing, gestating and lactating, and the most tolerated.

    In ``unit`` of the dry matter, ``pct`` or ``ppm``. ``None`` where none is printed.
    """

    unit: str
    need: tuple[float, ...] | None
    most: float | None


#: Sulfur where concentrate dominates; 0.50 % holds from 40 % forage on (NASEM 2016, from memory).
MOST_SULFUR_CONCENTRATE_PCT: Final = 0.30
FORAGE_FOR_MORE_SULFUR_PCT: Final = 40.0

SALT_PCT: Final = 0.25  # of the dry matter, or 1 to 2 oz a cow: common practice


@cache
def minerals(edition: Edition = "NASEM 2016") -> Mapping[str, Mineral]:
    """Return the minerals of an edition.

    ``edition``: which edition. They differ most in the maxima of copper, selenium, iron and
    potassium. Raises ``OutOfRange`` if the edition is unknown.

    Source: Merck Veterinary Manual (NASEM 2016); Univ. of Arkansas MP391 Table 1 (NRC 1996).

    >>> minerals()["cu"].most, minerals("NRC 1996")["cu"].most
    (40.0, 100.0)
    """
    if edition not in EDITIONS:
        raise OutOfRange(f'"{edition}" is no edition of the minerals; use {", ".join(EDITIONS)}.')
    found = {}
    for row in find_rows("beef_minerals", edition=edition):
        need = tuple(float(row[stage]) for stage in STAGES) if row["growing"] else None
        most = float(row["most"]) if row["most"] else None
        found[row["mineral"]] = Mineral(row["unit"], need, most)
    return MappingProxyType(found)


#: NASEM 2016 prints spans for Mg, K, Na and Mn; inside them the stages are those of NRC 1996, which
#: prints 0.06-0.08 % sodium for growing and gestating stock: the middle is used here.
MINERALS_2016: Final = minerals("NASEM 2016")


def most_sulfur_pct(forage_pct: float, edition: Edition = "NASEM 2016") -> float:
    """Return the most sulfur that cattle tolerate in diet and water together [% DM].

    Add the sulfate of the water before comparing. Too much sulfur kills by polio: ask a
    veterinarian.

    Source: NASEM (2016), 0.30 and 0.50 %, the share of forage from memory; NRC (1996), 0.40 %.

    >>> most_sulfur_pct(90.0), most_sulfur_pct(15.0), most_sulfur_pct(90.0, "NRC 1996")
    (0.5, 0.3, 0.4)
    """
    most = minerals(edition)["s"].most
    assert most is not None  # both editions print one
    if edition == "NASEM 2016" and forage_pct < FORAGE_FOR_MORE_SULFUR_PCT:
        return MOST_SULFUR_CONCENTRATE_PCT
    return most
