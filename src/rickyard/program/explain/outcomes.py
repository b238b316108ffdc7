"""What becomes of the stock on what a program feeds: condition of cows, weight of what grows.

The energy of what is eaten is set against the need of every day, by the published equations of
``stock.herd``, and added up. How far off it may be is told by eating a little less and more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.animals import CLASSES, Stock
from rickyard.display import Display
from rickyard.farm import Caution, Farm, Group
from rickyard.program.explain.goals import goal_days, goal_met
from rickyard.program.inputs import season_conditions, season_days
from rickyard.program.result import (
    Outcome,
    OutcomeAt,
    OutcomeEvent,
    OutcomeKind,
    OutcomePoint,
    Period,
    SeasonProgram,
    Shortage,
)
from rickyard.quantities import is_some
from rickyard.stock.beef import COWS
from rickyard.stock.common import full_from_shrunk_kg
from rickyard.stock.equations import relative_weight_frac
from rickyard.stock.herd import (
    condition_on_supply,
    expected_outcome,
    gain_on_diet,
    needs_held,
    outcome_table,
)
from rickyard.types import FloatArray

#: How much less or more stock may eat than planned: the usual error of an equation of intake.
#: Common practice, no published source.
INTAKE_SPREAD_FRAC: Final = 0.08

#: A change of condition that is faster than cows do it, a score a month: common practice.
FASTEST_PER_MONTH: Final = 1.0
_DAYS_PER_MONTH: Final = 30.4
#: Over fewer days a change is not called fast.
_LEAST_FAST_DAYS: Final = 14

NRC: Final = "NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update"

#: A table of rebreeding for each event, and how it is spoken of. Which score the first was read
#: at its print does not say.
_TABLES: Final[dict[str, tuple[str, str]]] = {
    "calving": ("michigan_pregnant_60d", "in calf within 60 days of breeding"),
    "breeding": ("sprott_pregnant_150d", "in calf after 150 days with the bull"),
}
_WORDS: Final[dict[str, str]] = {
    "start": "on",
    "calving": "at calving on",
    "breeding": "at breeding on",
    "weaning": "at weaning on",
    "end": "on",
}


@dataclass(frozen=True, slots=True)
class DailyPath:
    """A group day by day while it is here: arrays of shape (3, days) for little, planned and much.

    ``score`` is ``None`` for stock that is followed by its weight. Values are those at the end of
    each day; ``first`` are weight and score on the first morning.
    """

    days: tuple[date, ...]
    first: tuple[float, float | None]
    weight_kg: FloatArray
    score: FloatArray | None
    cautions: tuple[Caution, ...]
    losing: int


def outcomes_of(
    farm: Farm, program: SeasonProgram, display: Display
) -> tuple[tuple[Outcome, ...], tuple[Caution, ...]]:
    """Return what becomes of each group of cattle that is followed, and what to be careful of.

    ``farm``: its groups and weather are read. ``display``: the units of the sentences. Cows
    without a condition score and groups whose energy is stated are told to be unknown; other stock
    is left out.
    """
    found: list[Outcome] = []
    cautions: list[Caution] = []
    for group in farm.groups:
        if not any(one.group_id == group.group_id for one in program.groups):
            continue
        why = _unknown(farm, group)
        if why:
            found.append(Outcome(group.group_id, "unknown", (), (), why, NRC))
            continue
        path = daily_path(farm, program, group)
        if path is not None:
            cautions += path.cautions
            found.append(told(group, path, program.periods, display))
    return tuple(found), tuple(cautions)


def daily_path(farm: Farm, program: SeasonProgram, group: Group) -> DailyPath | None:
    """Return a group day by day on what a program feeds it, ``None`` where it is not followed."""
    grows = any(
        one.group_id == group.group_id and one.wanted_gain_kg_per_day is not None
        for one in program.groups
    )
    cows = group.animal_class in COWS
    beef = CLASSES[group.animal_class].stock is Stock.BEEF
    if not beef or not (grows or (cows and group.condition_score is not None)):
        return None
    days, diet = daily_diet(program, group)
    if not days:
        return None
    return _cow_path(farm, group, days, diet) if cows else _grown_path(farm, group, days, diet)


def daily_diet(program: SeasonProgram, group: Group) -> tuple[tuple[date, ...], FloatArray]:
    """Return the days on which a group is here, and what one head eats on each, shape (3, days).

    Dry matter [kg], net energy for maintenance and for gain [Mcal].
    """
    sources = {one.source_id: one for one in program.sources}
    first = {one.period: one for one in program.groups if one.group_id == group.group_id}
    eaten = dict.fromkeys(first, np.zeros(3))
    for row in program.feeding:
        if row.group_id == group.group_id:
            one = sources[row.source_id]
            values = np.array([1.0, one.nem_mcal_per_kg, one.neg_mcal_per_kg])
            eaten[row.period] = eaten[row.period] + row.eaten_kg_dm_per_head_day * values
    days, diet = [], []
    for period in program.periods:
        for at in range(period.days if period.index in first else 0):
            day = period.start + timedelta(days=at)
            if (group.from_on or day) <= day and (group.to_on is None or day < group.to_on):
                days.append(day)
                diet.append(eaten[period.index])
    return tuple(days), np.array(diet).T if diet else np.zeros((3, 0))


def _unknown(farm: Farm, group: Group) -> str:
    """Say why the condition of cows is not followed; empty where it can be, or is not at all."""
    if group.animal_class not in COWS:
        return ""
    stated = any(
        one.group_id == group.group_id and (one.nem_mcal is not None or one.tdn_kg is not None)
        for one in farm.needs
    )
    if stated:
        return (
            f"{group.name}: their energy is stated in needs.csv, so condition is not followed. "
            "Score them by hand at weaning, 90 days before calving and at calving."
        )
    if group.condition_score is None:
        return (
            f"{group.name}: condition is not known. Write condition_score in groups.csv to see "
            "where this program takes it."
        )
    return ""


def _spread(amounts: FloatArray) -> tuple[FloatArray, ...]:
    return tuple(amounts * (1.0 + one * INTAKE_SPREAD_FRAC) for one in (-1.0, 0.0, 1.0))


def _ratio(amounts: FloatArray, of: FloatArray) -> FloatArray:
    """Return amounts as a share; 1 where there is nothing, which then counts for nothing."""
    return np.divide(amounts, of, out=np.ones(of.shape), where=is_some(of) & is_some(amounts))


def _cow_path(farm: Farm, group: Group, days: Sequence[date], diet: FloatArray) -> DailyPath | None:
    conditions = season_conditions(farm, days)
    since = (days[0] - farm.season.start).days
    here = slice(since, since + len(days))
    series = season_days(farm, group)
    growth = series.retained_energy_mcal[here] * _ratio(diet[1], diet[2])
    needs = needs_held(group, days, conditions)
    runs = [
        condition_on_supply(
            group, days, fed, growth_nem_mcal=growth, conditions=conditions, needs=needs
        )
        for fed in _spread(diet[1])
    ]
    weight, score = group.weight_kg, np.array([one.score for one in runs])
    share = relative_weight_frac(score) / relative_weight_frac(group.condition_score or 5.0)
    return DailyPath(
        tuple(days),
        (full_from_shrunk_kg(weight) if group.weight_is_shrunk else weight, group.condition_score),
        np.asarray(series.full_weight_kg[here] * share),
        score,
        runs[1].cautions,
        0,
    )


def _grown_path(
    farm: Farm, group: Group, days: Sequence[date], diet: FloatArray
) -> DailyPath | None:
    conditions = season_conditions(farm, days)
    density = [_ratio(one, diet[0]) for one in diet[1:]]
    needs = needs_held(group, days, conditions)
    runs = [
        gain_on_diet(group, days, *density, intake_kg=eaten, conditions=conditions, needs=needs)
        for eaten in _spread(diet[0])
    ]
    ends = [full_from_shrunk_kg(one.shrunk_weight_kg + one.gain_kg) for one in runs]
    first = float(full_from_shrunk_kg(float(runs[1].shrunk_weight_kg[0])))
    losing = int(np.count_nonzero(is_some(runs[1].nem_deficit_mcal)))
    return DailyPath(tuple(days), (first, None), np.array(ends), None, (), losing)


def told(group: Group, path: DailyPath, periods: Sequence[Period], display: Display) -> Outcome:
    """Return what is told of a group that is followed; ``periods`` say when the path has points."""
    first, last = path.days[0], path.days[-1] + timedelta(days=1)
    starts = [one.start for one in periods if first < one.start < last]
    points = tuple(_point(path, on) for on in (first, *starts, last))
    events = tuple(event_at(path, name, on) for name, on in _dated(group, first, last))
    kind: OutcomeKind = "weight" if path.score is None else "condition"
    words = [_event_words(one, kind, display) for one in events]
    sentence = f"{group.name}: {'; '.join(words)}."
    sentence += "".join(f" {one.expected}" for one in events if one.expected)
    goals = tuple(
        goal_met(on, (score, weight_kg), _point(path, on), source, display)
        for on, score, weight_kg, source in goal_days(group)
        if first < on <= last and (score is None or path.score is not None)
    )
    return Outcome(group.group_id, kind, points, events, sentence + _doubts(path), NRC, goals)


def _dated(group: Group, first: date, last: date) -> list[tuple[OutcomeEvent, date]]:
    """Return the events of a group while it is here, in the order of their days."""
    given: list[tuple[OutcomeEvent, date | None]] = [
        ("calving", group.calving_on),
        ("breeding", group.breeding_on),
        ("weaning", group.weaning_on),
    ]
    between = [(name, on) for name, on in given if on is not None and first < on < last]
    between.sort(key=lambda one: one[1])
    return [("start", first), *between, ("end", last)]


def _point(path: DailyPath, on: date) -> OutcomePoint:
    """Return where a group stands on the morning of a day: the end of the day before."""
    at = (on - path.days[0]).days - 1
    weight, score = path.first
    if at < 0:
        return OutcomePoint(on, weight, weight, weight, score, score, score)
    light, weight, heavy = path.weight_kg[:, at].tolist()
    if path.score is None:
        return OutcomePoint(on, weight, light, heavy, score, score, score)
    low, score, high = path.score[:, at].tolist()
    return OutcomePoint(on, weight, light, heavy, score, low, high)


#: Below this score cows die before they breed: odds of breeding are not told. Judgement.
LEAST_TOLD_SCORE: Final = 2.5


def event_at(path: DailyPath, name: OutcomeEvent, on: date) -> OutcomeAt:
    """Return where a group stands at an event, and what its table expects of breeding."""
    point = _point(path, on)
    score, low, high = point.score, point.low_score, point.high_score
    likely = under = over = None
    said = source = ""
    told = score is not None and score >= LEAST_TOLD_SCORE
    if told and name in _TABLES and score is not None and low is not None and high is not None:
        table, words = _TABLES[name]
        least, most, source = outcome_table(table)
        likely, under, over = (expected_outcome(table, one) for one in (score, low, high))
        held = ""
        if score < least:
            held = f" ({least:.0f} or under)"
        elif score > most:
            held = f" ({most:.0f} or over)"
        said = (
            f"Of cows at {score:.1f}{held} a published table expects {likely:.0f}% {words} "
            f"({under:.0f} to {over:.0f}%): odds, no promise."
        )
    return OutcomeAt(
        event=name,
        on=on,
        weight_kg=point.weight_kg,
        weight_low_kg=point.weight_low_kg,
        weight_high_kg=point.weight_high_kg,
        score=score,
        low_score=low,
        high_score=high,
        expected_pct=likely,
        expected_low_pct=under,
        expected_high_pct=over,
        expected=said,
        source=source,
    )


def _event_words(one: OutcomeAt, kind: OutcomeKind, display: Display) -> str:
    when = f"{_WORDS[one.event]} {display.day_text(one.on)}"
    weight = display.mass_text(one.weight_kg)
    if kind == "weight" or one.score is None:
        if one.event == "start":
            return f"{weight} {when}"
        low, high = display.mass(one.weight_low_kg), display.mass_text(one.weight_high_kg)
        return f"{weight} ({low:,.0f} to {high}) {when}"
    if one.event == "start":
        return f"condition {one.score:.1f} and {weight} {when}"
    return f"{one.score:.1f} ({one.low_score:.1f} to {one.high_score:.1f}), {weight}, {when}"


def _doubts(path: DailyPath) -> str:
    """Say where the path is not to be believed as it stands."""
    if path.losing:
        return (
            f" On {path.losing} days they eat less than holds their weight; how much they lose no "
            "equation tells, and none is counted."
        )
    months = max(len(path.days), _LEAST_FAST_DAYS) / _DAYS_PER_MONTH
    if path.score is None or path.first[1] is None:
        return ""
    change = (float(path.score[1, -1]) - path.first[1]) / months
    if abs(change) <= FASTEST_PER_MONTH:
        return ""
    return (
        f" That is {abs(change):.1f} scores a month, faster than cows do it: check what they "
        "really eat."
    )


def with_effects(
    shortages: Sequence[Shortage], outcomes: Sequence[Outcome], display: Display
) -> tuple[Shortage, ...]:
    """Return shortages of energy with what they do to the condition of who is short."""
    path = {one.group_id: one.path for one in outcomes if one.kind == "condition"}
    found = []
    for one in shortages:
        after = [point for point in path.get(one.group_id, ()) if point.on <= one.end]
        if one.nutrient in ("nem", "tdn", "gain_energy") and after and after[-1].score is not None:
            last = after[-1]
            said = (
                f" They are then at condition {last.score:.1f} ({last.low_score:.1f} to "
                f"{last.high_score:.1f}) on {display.day_text(last.on)}."
            )
            found.append(replace(one, sentence=one.sentence + said))
        else:
            found.append(one)
    return tuple(found)
