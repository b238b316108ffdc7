"""The stock on a page: what each group needs, what each hay alone gives it, what becomes of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import Final
from urllib.parse import quote
from uuid import UUID

from rickyard.book.services import GroupFact
from rickyard.display import Display, clean, display_for, listed
from rickyard.farm import Farm, Group
from rickyard.service import Planned
from rickyard.service.sections import GroupNeeds, HayAlone
from rickyard.web.drawn import (
    alone_panel,
    ear_tag,
    flag,
    flags_of,
    mark,
    month_names,
    need_columns,
)
from rickyard.web.sections.gaps import Lacking, lacking_shown
from rickyard.web.shown import course_drawn

_UNITS: Final[Mapping[str, str]] = MappingProxyType({"net energy": "Mcal of net energy a day"})
_DATES: Final = (
    ("calving_on", "Calving, the middle"),
    ("breeding_on", "Breeding"),
    ("weaning_on", "Weaning"),
    ("target_on", "Target weight"),
    ("from_on", "Here from"),
    ("to_on", "Here until"),
)


@dataclass(frozen=True, slots=True)
class GroupRow:
    """A group in the list."""

    address: str
    name: str
    tag: str
    dates: str
    weight: str
    score: str
    drawing: str
    words: str


@dataclass(frozen=True, slots=True)
class StockShown:
    """All that stands on the page of the stock."""

    answer: str
    lede: str
    groups: tuple[GroupRow, ...]
    day: str


def stock_shown(farm: Farm, needs: Sequence[GroupNeeds], day: date) -> StockShown:
    """Return what stands on the page of the stock.

    Parameters
    ----------
    farm : Farm
        The farm.
    needs : sequence of GroupNeeds
        What its groups need.
    day : date
        The day on the farm.

    Returns
    -------
    StockShown
        Words and drawings.
    """
    display = display_for(farm.units)
    head = sum(one.head for one in farm.groups)
    rise = max(needs, key=_rise, default=None)
    more = ""
    if rise is not None and _rise(rise) >= 0.05:
        share, on = _rise(rise), rise.days[int(rise.needs.argmax())]
        more = (
            f" {clean(rise.group.name)} need {display.percent_text(100 * share, 0)} more energy "
            f"by {display.day_text(on)}."
        )
    untold = [clean(one.group.name) for one in needs if lacking_shown(farm, one.group)]
    unscored = [clean(one.name) for one in farm.groups if _lacks_score(one)]
    lede = f"No score is written of {listed(unscored)}: score ten of them." if unscored else ""
    if untold:
        lede = f"What {listed(untold)} need is not known yet. {lede}".strip()
    weeks = max((len(one.days) for one in needs), default=0)
    return StockShown(
        f"{head:,} head.{more}" if farm.groups else "No group stands in the book.",
        lede,
        tuple(_row(one, farm, display, weeks) for one in needs),
        f"{display.weekday_text(day)}, {day.year}",
    )


def _rise(one: GroupNeeds) -> float:
    """Return by which share the need of the worst week is over that of the first."""
    if one.word == "gain" or not len(one.needs) or not one.needs[0] > 0.0:
        return 0.0
    return float(one.needs.max() / one.needs[0] - 1.0)


def _lacks_score(group: Group) -> bool:
    return group.condition_score is None and group.calving_on is not None


def _row(one: GroupNeeds, farm: Farm, display: Display, weeks: int) -> GroupRow:
    group = one.group
    rise = _rise(one)
    if lacks := lacking_shown(farm, group):
        words = f"not known yet: {' '.join(lack.words for lack in lacks)}"
    elif not one.days:
        words = "not here this season"
    elif one.word == "gain":
        words = f"to grow {display.mass(float(one.needs.max())):.1f} {display.mass_unit} a day"
    elif rise < 0.02:
        words = "the same all season"
    else:
        on = one.days[int(one.needs.argmax())]
        words = f"{display.percent_text(100 * rise, 0)} more energy by {display.day_text(on)}"
    values = [float(value) for value in one.needs]
    label = f"{_unit(one, display)} by week: {words}"
    return GroupRow(
        quote(group.group_id, safe=""),
        clean(group.name),
        ear_tag(group.head, clean(group.name)),
        "; ".join(f"{word.lower()} {told}" for word, told in _dates(group, display)[:1]),
        display.mass_text(group.weight_kg),
        "" if group.condition_score is None else f"{group.condition_score:g}",
        need_columns(values, max(values), label, month_names(one.days), weeks) if values else "",
        words,
    )


def _dates(group: Group, display: Display) -> tuple[tuple[str, str], ...]:
    days = ((words, getattr(group, name)) for name, words in _DATES)
    return tuple((words, display.day_year_text(day)) for words, day in days if day is not None)


def _unit(one: GroupNeeds, display: Display) -> str:
    return _UNITS.get(one.word, f"{display.mass_unit} of {one.word} a day")


def _amount(one: GroupNeeds, value: float, display: Display) -> str:
    """Return an amount of what is needed, with its unit."""
    if one.word in _UNITS:
        return f"{value:.1f} Mcal"
    return f"{display.mass(value):.1f} {display.mass_unit} of {one.word}"


@dataclass(frozen=True, slots=True)
class AloneShown:
    """A hay alone against what a head needs."""

    address: str
    name: str
    flag: str
    mark: str
    drawing: str
    words: str


@dataclass(frozen=True, slots=True)
class GroupPage:
    """All that stands on the page of a group. ``texts`` and ``faults`` are of its form."""

    answer: str
    lede: str
    tag: str
    unit: str
    alone: tuple[AloneShown, ...]
    becomes: str
    becomes_words: str
    facts: tuple[tuple[str, str, str, str], ...]
    dates: tuple[tuple[str, str], ...]
    counts_from: str
    weight_units: tuple[tuple[str, bool], ...]
    lacking: tuple[Lacking, ...]
    thing: UUID
    seen: int


def group_page(
    farm: Farm,
    needs: GroupNeeds,
    planned: Planned | None,
    facts: Sequence[GroupFact],
    which: tuple[UUID, int],
    said: Mapping[str, str] | None = None,
    faults: Mapping[str, str] | None = None,
) -> GroupPage:
    """Return what stands on the page of a group.

    Parameters
    ----------
    farm : Farm
        The farm.
    needs : GroupNeeds
        What the group needs, and each hay alone.
    planned : Planned, optional
        The newest program.
    facts : sequence of GroupFact
        What was written of the group, the newest last.
    which : tuple of (UUID, int)
        The group in the book and its revision, for the form.
    said, faults : mapping of str to str, optional
        What was typed into the form, and what is at fault, by field.

    Returns
    -------
    GroupPage
        Words and drawings.
    """
    display, group = display_for(farm.units), needs.group
    flags = {key: flag(one) for key, one in flags_of(farm.lots).items()}
    found = () if planned is None else planned.program.outcomes
    outcome = next((one for one in found if one.group_id == group.group_id), None)
    weighed = farm.season.weighed_on or farm.season.start
    return GroupPage(
        _group_answer(farm, needs),
        _group_lede(needs, display),
        ear_tag(group.head, clean(group.name)),
        _unit(needs, display),
        tuple(_alone(farm, needs, one, flags, display) for one in needs.hays),
        "" if outcome is None or len(outcome.path) < 2 else course_drawn(outcome, display),
        "" if outcome is None else display.local(outcome.sentence),
        tuple(_fact(one, display) for one in facts[::-1]),
        _dates(group, display),
        display.day_year_text(weighed),
        tuple((one, one == display.mass_unit) for one in ("lb", "kg")),
        lacking_shown(farm, group, said, faults),
        *which,
    )


def _group_answer(farm: Farm, needs: GroupNeeds) -> str:
    name = clean(needs.group.name)
    if lacking_shown(farm, needs.group):
        return f"What {name} need is not known yet."
    if not needs.days:
        return f"{name} are not here this season."
    good = [one for one in needs.hays if not one.short.any() and not one.is_dangerous]
    if not good:
        return f"No hay alone carries {name} all season."
    names = [clean(farm.lot(one.lot_id).name) for one in good]
    if len(names) > 2:
        return f"{len(names)} hays alone would carry {name}."
    return f"{listed(names)} alone would carry {name}."


def _group_lede(needs: GroupNeeds, display: Display) -> str:
    if not needs.days or needs.needs[0] != needs.needs[0]:
        return ""
    first, worst = float(needs.needs[0]), int(needs.needs.argmax())
    return (
        f"A head needs {_amount(needs, first, display)} a day on {display.day_text(needs.days[0])} "
        f"and {_amount(needs, float(needs.needs[worst]), display)} on "
        f"{display.day_text(needs.days[worst])}."
    )


def _alone(
    farm: Farm, needs: GroupNeeds, one: HayAlone, flags: Mapping[str, str], display: Display
) -> AloneShown:
    words = _alone_words(needs, one, display)
    name = clean(farm.lot(one.lot_id).name)
    tested = bool(farm.reports_of(one.lot_id))
    sign = "danger" if one.is_dangerous else "" if tested else "untested"
    values = [float(value) for value in needs.needs], [float(value) for value in one.gives]
    known = all(value == value for both in values for value in both)
    danger = "Danger: read the page of this lot before any is fed. " if one.is_dangerous else ""
    return AloneShown(
        quote(one.lot_id, safe=""),
        name,
        flags[one.lot_id],
        mark(sign) if sign else "",
        alone_panel(*values, f"{name} alone: {words}", month_names(needs.days)) if known else "",
        f"{danger}{words[:1].upper()}{words[1:]}.",
    )


def _alone_words(needs: GroupNeeds, one: HayAlone, display: Display) -> str:
    if one.enough_until is None:
        return "enough all season"
    protein = "; protein is short too" if one.lacks_protein else ""
    most = ""
    if one.worst > 0.0:
        lack = _amount(needs, one.worst, display)
        most = f", by {lack} on {display.day_text(one.worst_on)}"
    if one.enough_until == needs.days[0]:
        return f"short from the first day{most}{protein}"
    return f"enough to {display.day_text(one.enough_until)}, then short{most}{protein}"


def _fact(one: GroupFact, display: Display) -> tuple[str, str, str, str]:
    day = "at the start" if one.day is None else display.day_year_text(one.day)
    score = "" if one.condition_score is None else f"{one.condition_score:g}"
    return day, f"{one.head:,} head", display.mass_text(one.weight_kg), score
