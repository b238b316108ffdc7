"""What is not known yet, on a page: lots nobody weighed, groups of which something lacks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final
from urllib.parse import quote

from rickyard.display import clean, count_text, display_for
from rickyard.farm import Farm, Group, Lot
from rickyard.folder.tables import GROUPS
from rickyard.hay.sampling import too_hot_to_touch
from rickyard.quantities import convert
from rickyard.service.sections import ShownFarm, lacking_of


@dataclass(frozen=True, slots=True)
class UnweighedRow:
    """A lot of which nobody knows what a bale weighs, and what is assumed."""

    address: str
    name: str
    words: str


@dataclass(frozen=True, slots=True)
class Unweighed:
    """What stands over a list of hay where some lots were not weighed."""

    answer: str
    lots: tuple[UnweighedRow, ...]


def unweighed_shown(known: ShownFarm) -> Unweighed | None:
    """Return what is said of lots that nobody weighed; ``None`` where there are none.

    Parameters
    ----------
    known : ShownFarm
        The farm with usual weights in the place of those that are not known.

    Returns
    -------
    Unweighed or None
        Words.
    """
    if not known.unweighed:
        return None
    return Unweighed(
        f"{count_text(len(known.unweighed), 'lot')} not weighed yet: weigh three bales.",
        tuple(
            UnweighedRow(quote(one, safe=""), clean(known.farm.lot(one).name), _usual(known, one))
            for one in known.unweighed
        ),
    )


@dataclass(frozen=True, slots=True)
class Probe:
    """What stands beside the form for a temperature: what was read, and whether it is awaited."""

    last: str
    hot: bool
    units: tuple[tuple[str, str, bool], ...]


@dataclass(frozen=True, slots=True)
class Weigh:
    """The forms for weights and readings; ``assumed`` is empty where a bale was weighed."""

    assumed: str
    last: str
    units: tuple[tuple[str, bool], ...]
    probe: Probe


def weigh_shown(known: ShownFarm, lot: Lot) -> Weigh:
    """Return what stands beside the form by which bales of a lot are weighed.

    Parameters
    ----------
    known : ShownFarm
        The farm with usual weights in the place of those that are not known.
    lot : Lot
        The lot.

    Returns
    -------
    Weigh
        Words.
    """
    display = display_for(known.farm.units)
    assumed, last = "", ""
    if lot.lot_id in known.unweighed:
        assumed = _usual(known, lot.lot_id)
    elif lot.bale_weight_kg is not None:
        by = f", by {count_text(lot.bales_weighed, 'bale')} weighed" if lot.bales_weighed else ""
        last = f"A bale counts for {display.mass_text(lot.bale_weight_kg)}{by}."
    units = tuple((one, one == display.mass_unit) for one in ("lb", "kg"))
    return Weigh(assumed, last, units, _probe(known.farm, lot))


def _probe(farm: Farm, lot: Lot) -> Probe:
    """Return what is told of the readings inside a lot; a hot one waits for one that is cool."""
    display = display_for(farm.units)
    hottest, latest = (
        ""
        if one is None
        else display.local(f"{convert(one, 'degC', 'degF'):.0f} °F ({one:.0f} °C)")
        for one in (lot.highest_temperature_c, lot.latest_temperature_c)
    )
    last = f"Hottest so far: {hottest}." if hottest else ""
    last += f" Latest: {latest}." if latest else ""
    us = display.system == "us"
    units = (("degF", "°F", us), ("degC", "°C", not us))
    return Probe(last, too_hot_to_touch(lot), units)


def _usual(known: ShownFarm, lot_id: str) -> str:
    weight = known.farm.lot(lot_id).bale_weight_kg or 0.0
    return f"a bale weighs {display_for(known.farm.units).mass_text(weight)}"


@dataclass(frozen=True, slots=True)
class Lacking:
    """A fact of a group that is not known, and the field in which it is written."""

    field: str
    words: str
    unit: str
    is_day: bool = False
    said: str = ""
    fault: str = ""


_ASKED: Final[Mapping[str, str]] = {
    "age_months": "How old are they?",
    "mature_weight_kg": "What does one weigh full grown?",
    "finish_weight_kg": "At what weight are they sold?",
    "calving_on": "When do they calve, the middle?",
    "breeding_on": "When are they bred?",
    "gain_kg_per_day": "How much is one to gain a day?",
}


def lacking_shown(
    farm: Farm,
    group: Group,
    said: Mapping[str, str] | None = None,
    faults: Mapping[str, str] | None = None,
) -> tuple[Lacking, ...]:
    """Return what must be known of a group before its needs are, each with its field.

    Parameters
    ----------
    farm : Farm
        The farm, for its units.
    group : Group
        The group.
    said, faults : mapping of str to str, optional
        What was typed, and what is at fault, by field.

    Returns
    -------
    tuple of Lacking
        Empty where all is known.

    Examples
    --------
    >>> from dataclasses import replace
    >>> from rickyard.calls import demo_farm
    >>> farm = demo_farm()
    >>> heifers = replace(farm.group("heifers"), age_months=None)
    >>> lacking_shown(farm, heifers)  # doctest: +ELLIPSIS
    (Lacking(field='age_months', words='How old are they?', unit='months', ...),)
    """
    metric = farm.units != "us"
    found = []
    for name in lacking_of(group):
        column = GROUPS.column_of(name)
        means = column.means[:1].upper() + column.means[1:]
        unit = "months" if name == "age_months" else ""
        if column.dimension == "mass":
            unit = "kg" if metric else "lb"
        elif column.dimension:
            unit = "kg a day" if metric else "lb a day"
        told = (said or {}).get(name, ""), (faults or {}).get(name, "")
        found.append(Lacking(name, _ASKED.get(name, means), unit, column.kind == "date", *told))
    return tuple(found)
