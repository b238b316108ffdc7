"""What to have tested, and why: by the hay, what befell it, and who will eat it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from rickyard.display import listed
from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Forage, Lot, Package
from rickyard.forage import Risk, risks_named
from rickyard.forage.hazards import HCN_RISK_SOURCE, is_nitrate_suspect, prussic_acid_reasons
from rickyard.hay.storage import HEATED_C


class Purpose(StrEnum):
    """What the hay is for."""

    BEEF = "beef"
    DAIRY = "dairy"
    SALE = "sale"
    HORSE = "horse"
    SHEEP = "sheep"


@dataclass(frozen=True, slots=True)
class Wanted:
    """A test that is wanted.

    ``wet`` means that only wet chemistry will do; ``before_fed`` that without it the hay may kill,
    so that it comes first.
    """

    test: str
    reason: str
    source: str
    wet: bool = False
    before_fed: bool = False


_BASIC: Final = ("dm", "cp", "adf", "ndf")
_FLOOD: Final = "Harvesting and managing flooded forage (farm press)"
_BOUND: Final = "Crop File 6.01.002, Sampling hay, forage and rations"
_BEEF_SOURCE: Final = "Kansas State, Forage analysis: don't guess, test (2023)"

_BY_PURPOSE: Final[Mapping[Purpose, tuple[tuple[str, ...], str, str]]] = MappingProxyType(
    {
        Purpose.BEEF: ((*_BASIC, "tdn", "ca", "p"), "beef cattle eat it", _BEEF_SOURCE),
        Purpose.DAIRY: (
            (*_BASIC, "ndfd48", "ash", "lignin", "ca", "p"),
            "dairy cattle eat it",
            COMMON_PRACTICE,
        ),
        Purpose.SALE: ((*_BASIC, "ndfd48", "ash", "lignin", "rfv"), "it is sold", COMMON_PRACTICE),
        Purpose.HORSE: (
            (*_BASIC, "wsc", "esc", "starch", "ca", "p", "mg", "k", "fe", "cu", "zn"),
            "horses eat it",
            COMMON_PRACTICE,
        ),
        Purpose.SHEEP: (
            (*_BASIC, "tdn", "ca", "p", "cu", "mo", "s"),
            "sheep, goats or llamas eat it, and copper can poison them",
            "Duncan 1997, In Practice 19:503 on copper",
        ),
    }
)

#: NIR does not measure these; it is weak in Ca, P, Mg and K (Cozzolino &
#: Moron 2004; Univ. Georgia C1372).
WET_ONLY: Final = frozenset(
    {"na", "s", "cu", "zn", "mn", "fe", "se", "mo", "nitrate", "adicp", "ergovaline", "hcn"}
)

_HORSES: Final = frozenset(
    ("horse", "mare", "foal", "pony", "stallion", "gelding", "yearling", "donkey", "mule")
)
#: Small stock and camelids, all of them hurt by copper (Berger, Univ. Illinois).
_SHEEP: Final = frozenset(
    ("ewe", "lamb", "ram", "sheep", "wether", "doe", "buck", "goat", "kid", "llama", "alpaca")
)


def purpose_of(animal_class: str) -> Purpose:
    """Return what hay for a class of animals is for; whatever is no other is beef.

    Parameters
    ----------
    animal_class : str
        A class of animals, as in groups.csv.

    Returns
    -------
    Purpose
        Which tests its hay asks for.

    Examples
    --------
    >>> purpose_of("first_calf_heifer"), purpose_of("dairy_heifer"), purpose_of("ewe")
    (<Purpose.BEEF: 'beef'>, <Purpose.DAIRY: 'dairy'>, <Purpose.SHEEP: 'sheep'>)
    """
    words = animal_class.casefold().split("_")
    if any(word in _HORSES for word in words):
        return Purpose.HORSE
    if any(word in _SHEEP for word in words):
        return Purpose.SHEEP
    return Purpose.DAIRY if "dairy" in words else Purpose.BEEF


def wanted_tests(
    lot: Lot, purposes: Collection[Purpose], *, wetted: bool = False, heated: bool = False
) -> tuple[Wanted, ...]:
    """Say what a lot is tested for, each test with its reason.

    What is not known of a lot asks for nothing: fill in what befell it.

    Source: Each test wanted carries its source.

    Parameters
    ----------
    lot : Lot
        The lot with what befell it.
    purposes : collection of Purpose
        Who eats it; beef when empty.
    wetted, heated : bool
        Whether it got wet or heated in storage, which its row does not say.

    Returns
    -------
    tuple of Wanted
        Each test once, with the first reason for it; those that are asked for before the hay is
        fed come first.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Storage
    >>> lot = Lot("S", "Sudan", Forage.SUMMER_ANNUAL, Package.ROUND, Storage.EXPOSED_GROUND, 40.0,
    ...           date(2026, 8, 1), date(2026, 8, 1), drought=True)
    >>> [one.test for one in wanted_tests(lot, [Purpose.BEEF])][:3]
    ['nitrate', 'hcn', 'dm']
    """
    found: dict[str, Wanted] = {}
    for purpose in sorted(set(purposes) or {Purpose.BEEF}, key=list(Purpose).index):
        names, reason, source = _BY_PURPOSE[purpose]
        for name in names:
            found.setdefault(name, _wanted(name, reason, source))
    for extra in (*_by_hay(lot, purposes), *_by_storage(wetted, heated)):
        held = found.get(extra.test)
        if held is None or (extra.wet and not held.wet):
            found[extra.test] = extra
    return tuple(sorted(found.values(), key=lambda one: not one.before_fed))


def _wanted(test: str, reason: str, source: str) -> Wanted:
    return Wanted(test, reason, source, wet=test in WET_ONLY)


def _first(test: str, reason: str, source: str) -> Wanted:
    """Return a test of what can kill, which is asked for before the hay is fed."""
    why = f"{reason}; have it tested before it is fed"
    return Wanted(test, why, source, wet=test in WET_ONLY, before_fed=True)


def _by_hay(lot: Lot, purposes: Collection[Purpose]) -> Iterable[Wanted]:
    yield from _nitrate(lot)
    if reasons := prussic_acid_reasons(lot):
        why = f"it belongs to the sorghum family and {listed(reasons)}: it may hold prussic acid"
        yield _first("hcn", why, HCN_RISK_SOURCE)
    if Risk.ENDOPHYTE in risks_named(f"{lot.species} {lot.name}") and Purpose.HORSE in purposes:
        why = "over 200 ppb of ergovaline in fescue is unsafe for mares in late gestation"
        yield _wanted("ergovaline", why, "Univ. Kentucky")
    if lot.highest_temperature_c is not None and lot.highest_temperature_c > HEATED_C:
        yield from _heat("it heated over 130 °F (54 °C)")
    if lot.rained_on:
        yield from _rain("it was rained on")
    if lot.flooded:
        yield Wanted("ash", "it was flooded: over 10 to 12% ash is soil", _FLOOD, wet=True)
        yield _wanted("mold", "it was flooded", COMMON_PRACTICE)
        yield _wanted("coliform", "flood water can carry sewage", COMMON_PRACTICE)
    if lot.package is Package.BALEAGE:
        why = "the pH of baleage shows whether it will keep"
        yield _wanted("ph", why, "Arnold, Smith & Lea, Univ. Kentucky (2017)")
    if lot.forage is Forage.STRAW:
        why = "soil and bound protein decide what straw or stalks are worth"
        yield Wanted("ash", why, "Banta, Testing hay and crop residues", wet=True)
        for name in ("adicp", "ndfd48", "ee"):
            yield _wanted(name, why, "Banta, Testing hay and crop residues")


def _nitrate(lot: Lot) -> Iterable[Wanted]:
    events = [
        word
        for happened, word in (
            (lot.drought, "after drought"),
            (lot.heavy_nitrogen, "after heavy nitrogen"),
            (lot.weedy, "with weeds that gather it"),
            (lot.frosted, "after a frost"),
        )
        if happened
    ]
    if events:
        yield _first("nitrate", f"nitrate may be high {' and '.join(events)}", COMMON_PRACTICE)
    elif is_nitrate_suspect(lot):
        yield _first("nitrate", "this forage often gathers nitrate", COMMON_PRACTICE)


def _by_storage(wetted: bool, heated: bool) -> Iterable[Wanted]:
    if heated:
        yield from _heat("it heated since it was tested")
    if wetted:
        yield from _rain("it got wet since it was tested")


def _heat(why: str) -> Iterable[Wanted]:
    yield _wanted("adicp", f"{why}: protein may be bound", _BOUND)
    yield _wanted("mold", why, COMMON_PRACTICE)


def _rain(why: str) -> Iterable[Wanted]:
    for name in ("adf", "ndf", "ndfd48", "ash"):
        yield _wanted(name, why, COMMON_PRACTICE)


def inspections(lot: Lot, purposes: Collection[Purpose] = ()) -> tuple[str, ...]:
    """Say what to look for by eye, because no ordinary test finds it.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Storage
    >>> lot = Lot("H", "Hill", Forage.ALFALFA, Package.ROUND, Storage.ENCLOSED_BARN, 40.0,
    ...           date(2026, 8, 1), date(2026, 8, 1))
    >>> inspections(lot, [Purpose.HORSE])
    ('Look for blister beetles: they kill horses, and no hay test finds them.',)
    """
    found = []
    if lot.weedy:
        found.append(
            "Have the weeds identified: lab tests miss most plant poisons. Ask the extension "
            "office."
        )
    if lot.forage in (Forage.ALFALFA, Forage.LEGUME_GRASS) and Purpose.HORSE in purposes:
        found.append("Look for blister beetles: they kill horses, and no hay test finds them.")
    if lot.package is Package.BALEAGE:
        found.append(
            "Throw out bales with torn film, soil, carrion or a bad smell: botulism and listeria. "
            "Feed no baleage to horses not vaccinated for botulism; ask the veterinarian."
        )
    if lot.flooded:
        found.append("Feed no silty hay to horses.")
    return tuple(found)
