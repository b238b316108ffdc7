"""The page of all hay: which lots stand, what each is worth, and who may not have it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import Final
from urllib.parse import quote

from rickyard.display import Display, clean, count_text, display_for, listed, money_text
from rickyard.farm import Farm, Lot
from rickyard.forage.reading import LotReading
from rickyard.quantities import KG_PER_TONNE
from rickyard.service.sections import HayLine, PutUp, by_worth
from rickyard.web.drawn import flag, flags_of, mark
from rickyard.web.shown import (
    STANDS,
    Care,
    bales_drawn,
    bales_text,
    care_of,
    cutting_text,
    marks_of_bales,
    put_up_text,
)
from rickyard.web.typed import TypedLot

#: Ways to sort, and what is said of each.
SORTS: Final[Mapping[str, str]] = MappingProxyType(
    {"worth": "worth", "bales": "bales", "name": "name", "danger": "danger first"}
)


@dataclass(frozen=True, slots=True)
class HayRow:
    """A lot in the list. ``who`` says whom it is kept from; ``book`` marks values of a book."""

    address: str
    name: str
    flag: str
    stands: str
    mark: str
    who: str
    drawing: str
    bales: str
    tons: str
    tdn: str
    protein: str
    worth: str
    book: bool


@dataclass(frozen=True, slots=True)
class HayShown:
    """All that stands on the page of hay."""

    answer: str
    lede: str
    care: Care
    rows: tuple[HayRow, ...]
    gone: tuple[HayRow, ...]
    bales_scale: str
    sort: str
    sorts: tuple[tuple[str, str], ...]
    day: str
    ton: str
    note: str


def hay_shown(farm: Farm, lines: Sequence[HayLine], day: date, sort: str) -> HayShown:
    """Return what stands on the page of hay.

    Parameters
    ----------
    farm : Farm
        The farm.
    lines : sequence of HayLine
        Its lots.
    day : date
        The day on the farm.
    sort : str
        By what they are sorted; by worth where that is none of ``SORTS``.

    Returns
    -------
    HayShown
        Words and drawings.
    """
    display = display_for(farm.units)
    sort = sort if sort in SORTS else "worth"
    per = marks_of_bales([(one.yard, one.lot) for one in lines])
    flags = flags_of(farm.lots)
    rows = [
        (one, _row(flag(flags[one.lot.lot_id]), one, per.marks, number, display))
        for number, one in enumerate(_sorted(lines, sort))
    ]
    standing = [one for one in lines if one.stands]
    return HayShown(
        _answer(standing),
        _lede(standing),
        care_of([one for line in lines for one in line.reading.cautions], farm),
        tuple(row for one, row in rows if one.stands),
        tuple(row for one, row in rows if not one.stands),
        per.words,
        sort,
        tuple(SORTS.items()),
        f"{display.weekday_text(day)}, {day.year}",
        display.ton_word,
        f"Percent of dry matter. TDN: total digestible nutrients. Worth: what a {display.ton_word} "
        "as fed would bring by its energy and protein, at the prices of your feeds.",
    )


def _sorted(lines: Sequence[HayLine], sort: str) -> list[HayLine]:
    best = list(by_worth(lines))
    if sort == "bales":
        best.sort(key=lambda one: -one.yard.standing.bales)
    elif sort == "name":
        best.sort(key=lambda one: one.lot.name.casefold())
    elif sort == "danger":
        best.sort(key=lambda one: not one.is_dangerous)
    return best


def _answer(standing: Sequence[HayLine]) -> str:
    if not standing:
        return "No hay stands here."
    bales = sum(one.yard.standing.bales for one in standing)
    first = f"{count_text(len(standing), 'lot')}, {count_text(bales, 'bale')}."
    untested = sum(not one.is_tested for one in standing)
    risky = sum(one.is_dangerous for one in standing)
    told = [
        f"{count} {'is' if count == 1 else 'are'} {word}"
        for count, word in ((untested, "untested"), (risky, "dangerous"))
        if count
    ]
    return f"{first} {', '.join(told)}." if told else f"{first} All are tested."


def _lede(standing: Sequence[HayLine]) -> str:
    """Return which hay is best in energy: that is the one to keep for late need."""
    known = [(energy, one) for one in standing for energy in (value_of(one.reading, "tdn_pct"),)]
    safe = [(energy, one) for energy, one in known if energy and not one.is_dangerous]
    if not safe:
        return ""
    best = max(safe, key=lambda pair: pair[0])[1]
    return f"The best in energy that no danger bars is {clean(best.lot.name)}."


def value_of(reading: LotReading, name: str) -> float | None:
    """Return a value of a reading by its name, ``None`` where it is not known."""
    return next((one.value for one in reading.numbers if one.name == name), None)


def _row(its_flag: str, one: HayLine, per: int, number: int, display: Display) -> HayRow:
    sign = "danger" if one.is_dangerous else "" if one.is_tested else "untested"
    tdn, protein = (value_of(one.reading, name) for name in ("tdn_pct", "crude_cp_pct"))
    standing = one.yard.standing
    worth = one.worth_usd_per_kg
    return HayRow(
        quote(one.lot.lot_id, safe=""),
        clean(one.lot.name),
        its_flag,
        STANDS[one.lot.storage],
        mark(sign) if sign else "",
        _who(one),
        bales_drawn(one.yard, one.lot, per, number, barred=one.is_dangerous),
        bales_text(standing.bales, one.lot),
        display.tons_text(standing.as_fed_kg / KG_PER_TONNE),
        "" if tdn is None else display.percent_text(tdn),
        "" if protein is None else display.percent_text(protein),
        "" if worth is None else money_text(worth * display.kg_per_ton),
        not one.is_tested,
    )


def _who(one: HayLine) -> str:
    if one.kept_from:
        return one.kept_from[:1].upper() + one.kept_from[1:]
    if one.is_dangerous:
        return "None until the danger above is settled"
    return (
        "No group is barred" if one.is_tested else "Not tested: no group is barred by what is known"
    )


#: The words for each choice of the form; every value of the folder's lists stands in one of them.
FORAGES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "alfalfa": "Alfalfa",
        "clover": "Clover",
        "legume_grass": "Legume and grass together",
        "cool_grass": "Cool-season grass: fescue, orchardgrass, timothy, brome",
        "annual_ryegrass": "Annual ryegrass",
        "warm_grass": "Warm-season grass: bermudagrass, bahiagrass",
        "summer_annual": "Summer annual: sudan, sorghum-sudan, millet, teff",
        "small_grain": "Small grain: oats, wheat, rye, barley",
        "prairie": "Prairie or native hay",
        "straw": "Straw, stalks or stover",
        "corn_silage": "Corn silage",
    }
)
PACKAGES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "round": "Round bales",
        "large_square": "Large squares",
        "small_square": "Small squares",
        "baleage": "Baleage, wrapped",
        "loose": "Loose, by the load",
    }
)
WRAPS: Final[Mapping[str, str]] = MappingProxyType(
    {"net": "net wrap", "plastic_twine": "plastic twine", "sisal": "sisal twine", "film": "film"}
)
_HAPPENED: Final = (
    ("rained_on", "Rained on", "after it was cut"),
    ("drought", "Grew in drought", "nitrate"),
    ("frosted", "Frosted", "nitrate, and prussic acid in sorghums"),
    ("heavy_nitrogen", "Heavily fertilized with nitrogen or manure", "nitrate"),
    ("flooded", "Flooded", "soil, molds, botulism"),
    ("weedy", "Weedy", "poisonous weeds: walk it before it is fed"),
    ("dusty", "Dusty", "horses that cough"),
    ("blister_beetles", "Blister beetles", "found in it: their poison lasts"),
    ("stone_fruit_leaves", "Cherry or plum leaves", "wilted they hold prussic acid"),
    ("none", "None of these", "as far as you know"),
)


@dataclass(frozen=True, slots=True)
class Choice:
    """One of several answers; ``more`` is what it would mean."""

    value: str
    words: str
    more: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class PutUpShown:
    """All that stands on the form for a new lot.

    ``texts`` is what was typed, ``faults`` the sentence at each field; flag and facts are those of
    the lot once it can be read.
    """

    texts: Mapping[str, str]
    faults: Mapping[str, str]
    others: tuple[str, ...]
    fields: tuple[str, ...]
    cuttings: tuple[Choice, ...]
    forages: tuple[Choice, ...]
    packages: tuple[Choice, ...]
    wraps: tuple[Choice, ...]
    storages: tuple[Choice, ...]
    happened: tuple[Choice, ...]
    weight_units: tuple[Choice, ...]
    heat_units: tuple[Choice, ...]
    flag: str
    facts: tuple[tuple[str, str], ...]
    assumed: str
    core_when: str
    core_words: str
    care: Care


def put_up_shown(
    farm: Farm,
    said: TypedLot,
    put_up: PutUp | None,
    faults: Mapping[str, str],
    others: tuple[str, ...],
) -> PutUpShown:
    """Return what stands on the form for a new lot.

    Parameters
    ----------
    farm : Farm
        The farm it is put up on.
    said : TypedLot
        What was typed; its lot has its short name.
    put_up : PutUp, optional
        What is to be known of the lot, once it can be read.
    faults : mapping of str to str
        Faults by field.
    others : tuple of str
        Faults of no field.

    Returns
    -------
    PutUpShown
        Words and drawings.
    """
    display = display_for(farm.units)
    texts, lot = said.texts, said.lot
    us = farm.units == "us"
    seen = None if lot is None else flags_of((*farm.lots, lot))[lot.lot_id]
    return PutUpShown(
        texts,
        faults,
        others,
        tuple(dict.fromkeys(clean(one.field_name) for one in farm.lots if one.field_name)),
        _choices({"1": "First", "2": "Second", "3": "Third", "4": "Fourth"}, texts, "cutting"),
        _choices(FORAGES, texts, "forage"),
        _choices(PACKAGES, texts, "package"),
        _choices(WRAPS, texts, "wrap"),
        _storages(texts, put_up, display),
        tuple(Choice(key, words, more, key in said.ticked) for key, words, more in _HAPPENED),
        _units("lb", "kg", us=us, chosen=texts.get("bale_weight_kg_unit", "")),
        _units("degF", "degC", us=us, chosen=texts.get("highest_temperature_c_unit", "")),
        "" if seen is None else flag(seen, big=True),
        () if lot is None or seen is None else _facts(lot, seen.words, display),
        said.assumed,
        *_core_words(put_up, display),
        care_of(() if put_up is None else put_up.cautions, farm, of_lot=True),
    )


def _choices(words: Mapping[str, str], texts: Mapping[str, str], name: str) -> tuple[Choice, ...]:
    chosen = texts.get(name, "")
    return tuple(Choice(key, told, "", key == chosen) for key, told in words.items())


def _units(american: str, metric: str, *, us: bool, chosen: str) -> tuple[Choice, ...]:
    chosen = chosen or (american if us else metric)
    words = {"degF": "°F", "degC": "°C"}
    return tuple(Choice(one, words.get(one, one), "", one == chosen) for one in (american, metric))


def _storages(
    texts: Mapping[str, str], put_up: PutUp | None, display: Display
) -> tuple[Choice, ...]:
    chosen = texts.get("storage", "")
    losses = {} if put_up is None else put_up.losses
    return tuple(
        Choice(
            key.value,
            f"{words[:1].upper()}{words[1:]}",
            f"loses about {display.percent_text(losses[key], 0)} by the end"
            if key in losses
            else "",
            key.value == chosen,
        )
        for key, words in STANDS.items()
    )


def _facts(lot: Lot, flag_words: str, display: Display) -> tuple[tuple[str, str], ...]:
    rows = (
        ("Flag", flag_words),
        ("Lot", lot.lot_id),
        ("Is", clean(lot.name)),
        ("Cutting", cutting_text(lot, display)),
        ("Put up", put_up_text(lot, display)),
        ("Bales", bales_text(lot.bales, lot)),
        ("Stands", STANDS[lot.storage]),
    )
    return tuple(row for row in rows if row[1])


def _core_words(put_up: PutUp | None, display: Display) -> tuple[str, str]:
    """Return when to core a new lot, and how."""
    if put_up is None or put_up.cores is None or put_up.cores.dates.sample_on is None:
        return "", ""
    cores = put_up.cores
    many = f"{cores.protocols[0].cores} cores" if cores.protocols else "a sample"
    tests = listed([one.test for one in cores.wanted])
    reason = cores.dates.reasons[0] if cores.dates.reasons else ""
    words = f"Take {many}, and ask for {tests}." if tests else f"Take {many}."
    return display.day_text(put_up.cores.due_on), display.local(f"{words} {reason}".strip())
