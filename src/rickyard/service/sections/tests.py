"""The tests of a farm: which lots to core and when, what is under way, what has come."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rickyard.farm import Farm, Lot, MoveKind, Report
from rickyard.hay.sampling import Options, SamplePlan, Sent
from rickyard.service import NotUnderstood, held_by_object, sampling_plan

_NOW = ("due", "late", "unsettled")
_AHEAD = (*_NOW, "later")


@dataclass(frozen=True, slots=True)
class UnderWay:
    """A sample that was cored and has not come back.

    ``plan`` says when to ship it and where to; ``sent`` is ``None`` where nobody has written that
    it was. ``expected_on`` is counted from the day it was sent, or else from that of the plan.
    """

    lot: Lot
    sample_id: str
    cored_on: date
    plan: SamplePlan
    sent: Sent | None
    expected_on: date | None
    is_late: bool


@dataclass(frozen=True, slots=True)
class FarmTests:
    """What is to be cored by when, what is under way, and the reports in use, the last first."""

    now: tuple[SamplePlan, ...]
    later: tuple[SamplePlan, ...]
    good: tuple[SamplePlan, ...]
    under_way: tuple[UnderWay, ...]
    reports: tuple[Report, ...]


@held_by_object(64)
def farm_tests(farm: Farm, day: date, sent: tuple[Sent, ...] = ()) -> FarmTests:
    """Return how the tests of a farm stand on a day.

    ``day``: the day on the farm. ``sent``: the samples that were sent. Raises ``NotUnderstood`` if
    the farm cannot be sampled.
    """
    away = {one.lot.lot_id: one for one in _under_way(farm, day, sent)}
    plans = [one for one in sampling_plan(farm, day, Options()) if one.lot_id not in away]
    now = [one for one in plans if one.dates.status in _NOW and one.due_on <= day]
    good = [one for one in plans if one.dates.status == "tested"]
    came = sorted(
        farm.reports, key=lambda one: one.reported_on or one.sampled_on or date.min, reverse=True
    )
    return FarmTests(
        tuple(now),
        tuple(one for one in plans if one.dates.status in _AHEAD and one not in now),
        tuple(good),
        tuple(away.values()),
        tuple(came),
    )


def coring_sheet(farm: Farm, lot_id: str, day: date) -> SamplePlan:
    """Return how to core one lot.

    ``lot_id``: the lot. ``day``: the day on the farm. Raises ``NotUnderstood`` if the farm has no
    such lot, or none of it stands.
    """
    plans = sampling_plan(farm, day, Options(), (lot_id,))
    if not plans:
        raise NotUnderstood(f"{lot_id}: none of it stands, so there is nothing to core.")
    return plans[0]


def drawn_for(plan: SamplePlan) -> tuple[tuple[int, ...], tuple[int, ...], int]:
    """Return which bales a sample takes, which step in, and how many cores each gives.

    ``plan``: how to core the lot. Where no bale is drawn, as from a pile of silage, each core has
    a number of its own, and none steps in.
    """
    way = plan.protocols[0]
    if plan.choice is None:
        return tuple(range(1, way.cores + 1)), (), 1
    return plan.choice.bales, plan.choice.spares, way.cores_a_bale


def expected_after(plan: SamplePlan, sent_on: date) -> date | None:
    """Return when the result of a sample is expected that was sent on a day.

    ``plan``: what was planned for it. It takes as long as was planned; ``None`` where that is not
    known.
    """
    ship, result = plan.dates.ship_on, plan.dates.result_on
    return None if ship is None or result is None else sent_on + (result - ship)


def _under_way(farm: Farm, day: date, sent: tuple[Sent, ...]) -> list[UnderWay]:
    gone = {one.code: one for one in sent}
    found = []
    for lot in farm.lots:
        cored = _last_cored(farm, lot, day)
        if cored is None:
            continue
        plan = next(iter(sampling_plan(farm, cored, Options(), (lot.lot_id,))), None)
        if plan is not None:
            away = gone.get(plan.sample_id)
            expected = plan.dates.result_on if away is None else away.expected_on
            late = expected is not None and expected < day
            found.append(UnderWay(lot, plan.sample_id, cored, plan, away, expected, late))
    return found


def _last_cored(farm: Farm, lot: Lot, day: date) -> date | None:
    """Return when a lot was cored last, unless a report has come of that."""
    days = [
        one.day
        for one in farm.moves
        if one.lot_id == lot.lot_id and one.kind is MoveKind.CORED and one.day <= day
    ]
    if not days:
        return None
    tested = [one.sampled_on or one.reported_on for one in farm.reports_of(lot.lot_id)]
    return None if any(one is not None and one >= max(days) for one in tested) else max(days)
