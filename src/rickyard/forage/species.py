"""What a species can carry: one vocabulary of species and their hazards for lots and pastures."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, lru_cache
from typing import Final

from rickyard.farm import Forage, Lot
from rickyard.forage.shipped import shipped_rows


class Risk(StrEnum):
    """What a forage can do to stock by its kind, whatever its test says of feed value."""

    PRUSSIC_ACID = "prussic acid"
    NITRATE = "nitrate"
    BLOAT = "bloat"
    ENDOPHYTE = "endophyte"


@dataclass(frozen=True, slots=True)
class Species:
    """A kind of plant: the words it is written with, and what it can carry."""

    name: str
    words: tuple[str, ...]
    risks: frozenset[Risk] = frozenset()


#: So many names are remembered with the species they speak of; any number would do.
REMEMBERED: Final = 1024

#: Extension advice on nitrate (sorghum family, millets, small grains, corn), on prussic acid
#: (sorghum family; not millets, teff or crabgrass), on bloat (alfalfa, clovers, medics, wheat
#: pasture) and on the endophyte of tall fescue. Words are regular expressions of whole words.
SPECIES: Final = tuple(
    Species(
        row["name"],
        tuple(row["words"].split("; ")),
        frozenset(Risk(one) for one in row["risks"].split("; ") if one),
    )
    for row in shipped_rows("species.csv")
)

#: A species name of these words alone is corn; what is written beside it may be a sorghum.
_CORN_WORDS: Final = frozenset(
    {"corn", "cornstalk", "cornstalks", "cornstover", "maize", "field", "silage", "sweet"}
    | {"drought", "grazing", "forage", "stalks", "stover", "hay"}
)

#: Forages that gather nitrate, whatever species is named: summer annuals, small grains, corn.
NITRATE_FORAGES: Final = frozenset({Forage.SUMMER_ANNUAL, Forage.SMALL_GRAIN, Forage.CORN_SILAGE})


@lru_cache(maxsize=REMEMBERED)
def species_named(text: str) -> tuple[Species, ...]:
    """Return the species that a name speaks of.

    Parameters
    ----------
    text : str
        A name or a species as a person wrote it.

    Returns
    -------
    tuple of Species
        In the order of the vocabulary; empty where the name speaks of none.

    Examples
    --------
    >>> [one.name for one in species_named("Frosted milo baleage")]
    ['sorghum family']
    >>> [one.name for one in species_named("oats and annual ryegrass")], species_named("Goat lot")
    (['small grain'], ())
    """
    return tuple(one for one in SPECIES if _pattern(one).search(text.lower()))


def risks_named(text: str) -> frozenset[Risk]:
    """Return what the species that a name speaks of can carry.

    Parameters
    ----------
    text : str
        A name or a species as a person wrote it.

    Returns
    -------
    frozenset of Risk
        Of all species together.

    Examples
    --------
    >>> sorted(risks_named("standing corn")), risks_named("Stockpiled fescue") == {Risk.ENDOPHYTE}
    ([<Risk.NITRATE: 'nitrate'>], True)
    """
    return frozenset().union(*(one.risks for one in species_named(text)))


def lot_risks(lot: Lot) -> frozenset[Risk]:
    """Return what a lot can carry by its species, else by its name and forage.

    Parameters
    ----------
    lot : Lot
        Species, name and forage are read. A species that is written is believed; a name is read
        for the sorghum family alone, because fields are called after other crops. A summer
        annual of which neither says anything counts as of the sorghum family, and so does one
        that is written as corn and something else.

    Returns
    -------
    frozenset of Risk
        Without regard to weather: drought and frost are for the caller to count.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Package, Storage
    >>> def lot(forage, species):
    ...     return Lot("L", "Far", forage, Package.ROUND, Storage.ENCLOSED_BARN, 40,
    ...                date(2026, 8, 1), date(2026, 8, 1), species=species)
    >>> Risk.PRUSSIC_ACID in lot_risks(lot(Forage.WARM_GRASS, "shattercane"))
    True
    >>> [Risk.PRUSSIC_ACID in lot_risks(lot(Forage.SUMMER_ANNUAL, species))
    ...  for species in ("corn", "guinea corn", "corn, weedy")]
    [False, True, True]
    """
    written = species_named(lot.species)
    found = risks_named(lot.species)
    if not written:
        by_name = species_named(lot.name)
        sorghum = any(Risk.PRUSSIC_ACID in one.risks for one in by_name)
        if sorghum or (lot.forage is Forage.SUMMER_ANNUAL and not by_name):
            found |= SPECIES[0].risks
    if lot.forage is Forage.SUMMER_ANNUAL and [one.name for one in written] == ["corn"]:
        words = set(re.findall(r"[a-z]+", lot.species.lower()))
        if not words <= _CORN_WORDS:
            found |= SPECIES[0].risks
    return found | {Risk.NITRATE} if lot.forage in NITRATE_FORAGES else found


@cache
def _pattern(species: Species) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(species.words)})\b")
