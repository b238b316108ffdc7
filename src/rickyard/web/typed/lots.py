"""The form by which a lot is put up: five questions, read as a row of the folder's lots."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Final

from rickyard.display import display_for
from rickyard.draft import USUAL_BALE_LB
from rickyard.farm import Farm, Lot
from rickyard.folder.tables import LOTS
from rickyard.quantities import KG_PER_LB
from rickyard.web.typed.cells import Typed, texts_of, typed

#: The fields of the form, by the field of a lot.
FIELDS: Final = (
    "name",
    "field_name",
    "cutting",
    "baled_on",
    "forage",
    "species",
    "bales",
    "package",
    "wrap",
    "bale_weight_kg",
    "storage",
    "highest_temperature_c",
    "baled_moisture_pct",
)
#: What may have happened to hay; not ticked is not known unless none of it did.
HAPPENED: Final = (
    "rained_on",
    "drought",
    "frosted",
    "heavy_nitrogen",
    "flooded",
    "weedy",
    "dusty",
    "blister_beetles",
    "stone_fruit_leaves",
)
NONE: Final = "none"

_LACKING: Final = {
    "forage": "Choose what it is.",
    "package": "Choose how it is put up.",
    "storage": "Choose where it stands.",
    "bales": "Write how many bales stand there.",
    "baled_on": "Write the day on which it was baled.",
}


@dataclass(frozen=True, slots=True)
class TypedLot:
    """What was typed of a lot, as typed, and the lot where nothing is at fault.

    ``assumed`` says what stands in for a weight that was not given.
    """

    texts: Mapping[str, str]
    ticked: frozenset[str]
    faults: Mapping[str, str]
    lot: Lot | None
    assumed: str


def typed_lot(said: Any, farm: Farm, day: date) -> TypedLot:
    """Return the lot that a form describes.

    Parameters
    ----------
    said : QueryDict
        What was sent.
    farm : Farm
        The farm that it is put up on.
    day : date
        The day on the farm, on which its bales are counted.

    Returns
    -------
    TypedLot
        The lot without a short name, or what is at fault.
    """
    texts = texts_of(said, FIELDS)
    found = typed(LOTS, texts, farm, _LACKING)
    ticked = frozenset(said.getlist("happened")) & {*HAPPENED, NONE}
    if NONE in ticked and len(ticked) > 1:
        found.faults["happened"] = "Tick what happened, or none of these; not both."
    baled = found.values.get("baled_on")
    if baled is not None and baled > day:
        found.faults["baled_on"] = f"{baled} is after today, {day}. Write the day it was baled."
    shown = {name: said.get(name, "").strip() for name in FIELDS}
    shown |= {f"{name}_unit": said.get(f"{name}_unit", "") for name in FIELDS}
    if found.faults:
        return TypedLot(shown, ticked, found.faults, None, "")
    lot = Lot(**_values(found, farm, day), **_what_happened(ticked))
    lot, assumed = _with_weight(lot, farm)
    return TypedLot(shown, ticked, {}, lot, assumed)


def _values(found: Typed, farm: Farm, day: date) -> dict[str, Any]:
    values = found.values
    kind = values.get("species") or values["forage"].value.replace("_", " ")
    name = " ".join(one for one in (values.get("field_name", ""), kind) if one)
    return {"lot_id": "new", "name": name[:1].upper() + name[1:], "counted_on": day, **values}


def _what_happened(ticked: frozenset[str]) -> dict[str, Any]:
    if NONE in ticked:
        return dict.fromkeys(HAPPENED, False)
    return dict.fromkeys(ticked, True)


def _with_weight(lot: Lot, farm: Farm) -> tuple[Lot, str]:
    """Give a lot whose bales were not weighed what such bales usually weigh, and say so in it."""
    if lot.bale_weight_kg is not None:
        return lot, ""
    usual = USUAL_BALE_LB[lot.package] * KG_PER_LB
    words = f"a bale weighs {display_for(farm.units).mass_text(usual)}"
    noted = f"assumed: {words}"
    return replace(lot, bale_weight_kg=usual, bales_weighed=0, note=noted), words
