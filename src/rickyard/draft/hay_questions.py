"""Questions eight and nine: the hay, lot by lot, and what a laboratory said of it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Final

from rickyard.draft.asking import UNKNOWN, Asking
from rickyard.draft.assumptions import CUTTINGS, HAY_USD_PER_TON, USUAL_BALE_LB, pounds_or_kilograms
from rickyard.draft.told import Told, is_unknown
from rickyard.farm import Forage, Package, Storage
from rickyard.folder.rules import WEIGHT_OF_PACKAGE
from rickyard.folder.tables import LOTS, Column, limits

_SIZE: Final = re.compile(r"\s*[x×*]\s*|\s+by\s+")
_BALES: Final = "50"
#: What the sides of a bale are called where one says 4x5 or 3x4x8, in that order.
_SIDES: Final = {
    2: ("bale_width", "bale_diameter"),
    3: ("bale_height", "bale_width", "bale_length"),
}
#: What a laboratory is asked for at least; the header of each, and its name in a question.
_TESTED: Final = (
    ("dm_pct_ar", "dry matter as received"),
    ("cp_pct_dm", "crude protein of dry matter"),
    ("adf_pct_dm", "ADF of dry matter"),
    ("ndf_pct_dm", "NDF of dry matter"),
    ("tdn_pct_dm", "TDN of dry matter, as printed"),
)
_PERCENT: Final = Column("share", "share", "number", "a percentage", limit=limits.PERCENT)

Row = Mapping[str, Told]


def ask_lot(
    asking: Asking, line: str, before: Sequence[Row], today: date
) -> tuple[Row, Row | None] | None:
    """Ask for one lot and its test; ``None`` if the forage was not understood."""
    forage = asking.meant(line, Forage)
    if forage is None:
        return None
    number = len(before) + 1
    lot_id = f"hay-{number}"
    plants = line.strip()
    package, told = asking.word(
        "   How is it put up: round, large square, small square, baleage?",
        Package,
        Package.ROUND,
        f"{plants} is in round bales",
    )
    row = {
        "lot": Told(lot_id),
        "name": Told(f"{plants[0].upper()}{plants[1:60]} {number}"),
        "forage": Told(forage.value),
        "species": Told(plants),
        "package": Told(package.value, "" if told else "put up in round bales"),
        "bales": asking.cell(
            "   How many bales?", LOTS.column_of("bales"), "", _BALES, f"{_BALES} bales of {plants}"
        ),
    }
    row |= _size(asking, plants, package) | _storage(asking, plants, package)
    row |= _cutting(asking, plants, today) | _value(asking, plants)
    row["counted_on"] = Told(today.isoformat())
    return row, _test(asking, lot_id, plants, number)


def _size(asking: Asking, plants: str, package: Package) -> dict[str, Told]:
    """Ask for the weight of a bale, or its size in place of that."""
    unit = "lb" if asking.units == "us" else "kg"
    usual = pounds_or_kilograms(USUAL_BALE_LB[package], asking.units)
    question = f"   What does a bale weigh, in {unit}, or what size is it, as 4x5 or 3x3x8?"
    column, words = LOTS.column_of("bale_weight_kg"), f"a bale of {plants} weighs {usual} {unit}"
    while True:
        line = asking.ask(f"{question} {UNKNOWN}").strip()
        parts = [part for part in _SIZE.split(line) if part]
        if len(parts) in _SIDES and package is not Package.LOOSE:
            sides = _sides(asking, parts, package)
            if sides is not None:
                return sides
        elif is_unknown(line):
            asking.assume(words)
            # A guess is no scale's word: what hay there is stays as doubtful as it is.
            return {f"bale_weight_{unit}": Told(usual, words), "bales_weighed": Told("0")}
        elif asking.fits(column, unit, line, WEIGHT_OF_PACKAGE[package]):
            return {f"bale_weight_{unit}": Told(line)}


def _sides(asking: Asking, parts: list[str], package: Package) -> dict[str, Told] | None:
    wanted = 3 if package in (Package.LARGE_SQUARE, Package.SMALL_SQUARE) else 2
    if package is not Package.BALEAGE and len(parts) != wanted:
        sides = "height, width and length" if wanted == 3 else "width and diameter"
        asking.say(f"  Of such bales write {sides}, as {'3x3x8' if wanted == 3 else '4x5'}.")
        return None
    row = {}
    for name, part in zip(_SIDES[len(parts)], parts, strict=True):
        column = next(one for one in LOTS.columns if one.name == name)
        unit = _unit_of_side(part, asking.units)
        if not asking.fits(column, unit, part):
            return None
        row[f"{name}_{unit}"] = Told(part)
    return row


def _unit_of_side(part: str, units: str) -> str:
    """Take small figures for feet or metres, large ones for inches or centimetres."""
    try:
        large = float(part) > (12.0 if units == "us" else 5.0)
    except ValueError:
        large = False
    if units == "us":
        return "in" if large else "ft"
    return "cm" if large else "m"


def _storage(asking: Asking, plants: str, package: Package) -> dict[str, Told]:
    if package is Package.BALEAGE:
        return {"storage": Told(Storage.WRAPPED.value)}
    storage, told = asking.word(
        "   Where is it stored: barn, shed, tarp, outside on the ground, on pallets?",
        Storage,
        Storage.EXPOSED_GROUND,
        f"{plants} is outside on the ground",
    )
    return {"storage": Told(storage.value, "" if told else "stands outside on the ground")}


def _cutting(asking: Asking, plants: str, today: date) -> dict[str, Told]:
    column = LOTS.column_of("cutting")
    told = asking.cell(
        "   Which cutting is it, 1 for the first?", column, "", "1", f"{plants} is a first cutting"
    )
    number = int(float(told.text))
    month, day = CUTTINGS.get(number, CUTTINGS[max(CUTTINGS)])
    baled = date(today.year, month, day)
    baled = baled if baled <= today else date(today.year - 1, month, day)
    year_ago = date(today.year - 1, today.month, min(today.day, 28))
    while True:
        when, found = asking.day(
            "   On which day was it baled?", year_ago, baled, f"{plants} was baled on {baled}"
        )
        if found is not None and found <= today:
            return {"cutting": told, "baled_on": when}
        asking.say(f"  {found} is after today, {today}; write the year too.")


def _value(asking: Asking, plants: str) -> dict[str, Told]:
    unit = "usd_per_ton" if asking.units == "us" else "usd_per_t"
    ton = "ton" if asking.units == "us" else "tonne"
    return {
        f"value_{unit}": asking.cell(
            f"   What would it bring, in dollars a {ton}?",
            LOTS.column_of("value_usd_per_kg"),
            unit,
            f"{HAY_USD_PER_TON}",
            f"{plants} is worth ${HAY_USD_PER_TON} a {ton}",
        )
    }


def _test(asking: Asking, lot_id: str, plants: str, number: int) -> Row | None:
    line = asking.ask("9. Was this lot tested by a laboratory: yes or no? [Enter: no]")
    if line.strip().casefold() not in ("yes", "y"):
        asking.assume(f"{plants} is untested, so values of its kind are used")
        return None
    row = {"report": Told(f"R-{number}"), "lot": Told(lot_id)}
    for header, name in _TESTED:
        told = asking.cell(
            f"   {name[0].upper()}{name[1:]}, %?", _PERCENT, "", "", f"the report has no {name}"
        )
        if told.text:
            row[header] = told
    return row if len(row) > 2 else None
