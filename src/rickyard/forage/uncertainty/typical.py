"""Typical composition by forage, species and maturity, each row with its source.

It places a result among its like, and stands in for a test that was not made, with an interval
wide enough to see. Rows remembered and not seen in a source say ``from memory``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Final

from rickyard.farm import Forage
from rickyard.forage import shipped_rows
from rickyard.forage.uncertainty.uncertainty import Measured
from rickyard.forage.values import (
    ENERGY_SPREAD_PCT,
    MINERAL_SPREAD_PCT,
    ORGANIC_SPREAD_PCT,
    SPREAD_SOURCE,
)

_MINERALS: Final = frozenset(
    {"ca", "p", "mg", "k", "s", "na", "cl", "fe", "mn", "zn", "cu", "mo", "co", "se"}
)
_ENERGY: Final = frozenset({"tdn", "nem", "neg", "nel", "de", "me"})

_MATURITY_WORDS: Final = {
    "": "",
    "vegetative": "still leafy, before heads or buds",
    "boot": "at boot or bud stage",
    "early_bloom": "in early bloom or just headed",
    "mid_bloom": "in mid-bloom",
    "full_bloom": "in full bloom",
    "late_bloom": "in late bloom",
    "mature": "gone to seed",
    "weeks_4": "cut at 4 weeks",
    "weeks_6": "cut at 6 weeks",
    "weeks_8": "cut at 8 weeks",
}


@dataclass(frozen=True, slots=True)
class TypicalValue:
    """One value of the table; ``None`` where the source prints none.

    ``low`` and ``high`` are the range that the source prints. ``n`` is what it says of the
    number of samples; ``compare`` says whether the row stands for its kind, so that a lot may be
    placed against it, and not for one trial. ``evidence`` is ``seen``, ``derived`` from printed
    figures, or ``from memory``.
    """

    row: str
    forage: str
    species: str
    maturity: str
    compare: bool
    quantity: str
    mean: float | None
    sd: float | None
    low: float | None
    high: float | None
    n: str
    evidence: str
    source: str


@cache
def typical_values(
    forage: Forage | None = None, species: str = "", quantity: str = ""
) -> tuple[TypicalValue, ...]:
    """Return values of the table that fit.

    Parameters
    ----------
    forage : Forage, optional
        Only those of this forage.
    species : str
        Only those whose species stands in these words.
    quantity : str
        Only those of this analyte, by its name on a report.

    Returns
    -------
    tuple of TypicalValue
        In the order of the table. [% DM]

    Examples
    --------
    >>> [one.mean for one in typical_values(Forage.COOL_GRASS, "Orchardgrass hay", "cp")]
    [None, None, 12.8, 8.4]
    """
    words = species.lower()
    return tuple(
        one
        for one in _table()
        if (forage is None or one.forage == forage.value)
        and (not species or (one.species and one.species in words))
        and (not quantity or one.quantity == quantity)
    )


def spread_pct(quantity: str) -> float:
    """Return how far one lot commonly lies from a table value, as one standard deviation.

    The sources say only "commonly differ by"; reading it as one standard deviation makes the 90 %
    interval two thirds wider than the printed figure, on the side of caution. [% of the value]

    >>> spread_pct("cp"), spread_pct("ca"), spread_pct("tdn")
    (15.0, 30.0, 10.0)
    """
    if quantity in _MINERALS:
        return MINERAL_SPREAD_PCT
    return ENERGY_SPREAD_PCT if quantity in _ENERGY else ORGANIC_SPREAD_PCT


def book_measured(value: float, quantity: str, unit: str = "% of dry matter") -> Measured:
    """Give a book value the wide interval of what one lot may be.

    >>> print(book_measured(9.2, "cp").words())
    90% range 6.9-11.5% of dry matter
    """
    spread = spread_pct(quantity)
    reason = f"book value: one lot is commonly {spread:.0f}% off ({SPREAD_SOURCE})"
    return Measured.normal(value, abs(value) * spread / 100.0, unit, reason)


@dataclass(frozen=True, slots=True)
class Stage:
    """What a species holds at one stage: the row a result is placed against."""

    row: str
    name: str
    maturity: str
    cp_pct: float
    ndf_pct: float
    evidence: str
    source: str

    @property
    def words(self) -> str:
        """Return the stage in field words, to stand in a sentence.

        >>> stages(Forage.COOL_GRASS, "orchardgrass")[0].words
        'orchardgrass in early bloom or just headed'
        """
        return f"{self.name} {_MATURITY_WORDS[self.maturity]}".rstrip()


def stages(forage: Forage, species: str = "") -> tuple[Stage, ...]:
    """Return the rows that hold protein and fiber for a species, else for its forage.

    A species that the table does not hold is never compared with another.

    >>> [stage.ndf_pct for stage in stages(Forage.COOL_GRASS, "orchardgrass")]
    [60.0, 65.0]
    >>> [stage.ndf_pct for stage in stages(Forage.COOL_GRASS)]
    [49.6, 57.7, 69.1]
    """
    found = _stages_of(typical_values(forage, species)) if species.strip() else ()
    if found:
        return found
    plain = _stages_of(one for one in typical_values(forage) if not one.species)
    return plain if plain or species.strip() else _stages_of(typical_values(forage))


def _stages_of(values: Iterable[TypicalValue]) -> tuple[Stage, ...]:
    rows: dict[str, dict[str, TypicalValue]] = {}
    for one in values:
        if one.compare:
            rows.setdefault(one.row, {})[one.quantity] = one
    made = []
    for row, known in rows.items():
        cp, ndf = known.get("cp"), known.get("ndf")
        if cp is None or ndf is None or cp.mean is None or ndf.mean is None:
            continue
        name = _plain_name(cp)
        made.append(Stage(row, name, cp.maturity, cp.mean, ndf.mean, cp.evidence, cp.source))
    return tuple(made)


_NAMES: Final = {
    "fescue": "tall fescue",
    "brome": "smooth brome",
    "bermuda": "bermudagrass",
    "bahia": "bahiagrass",
    "sudan": "sudangrass",
    "oat": "oats",
    "corn": "corn stover",
}
_FORAGE_NAMES: Final = {
    "cool_grass": "cool-season grass",
    "legume_grass": "legume-grass hay",
    "warm_grass": "warm-season grass",
    "summer_annual": "summer annual grass",
    "small_grain": "small-grain hay",
    "prairie": "prairie hay",
    "corn_silage": "corn silage",
    "annual_ryegrass": "annual ryegrass",
}


def _plain_name(one: TypicalValue) -> str:
    if one.forage == Forage.STRAW.value:
        return f"{one.species} straw" if one.species else "straw"
    if one.species:
        return _NAMES.get(one.species, one.species)
    return _FORAGE_NAMES.get(one.forage, one.forage)


@cache
def _table() -> tuple[TypicalValue, ...]:
    return tuple(
        TypicalValue(
            row["row"],
            row["forage"],
            row["species"],
            row["maturity"],
            row["compare"] == "yes",
            row["quantity"],
            _number(row["mean"]),
            _number(row["sd"]),
            _number(row["low"]),
            _number(row["high"]),
            row["n"],
            row["evidence"],
            row["source"],
        )
        for row in shipped_rows("typical_composition.csv")
    )


def _number(cell: str) -> float | None:
    return float(cell) if cell else None
