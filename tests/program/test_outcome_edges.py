"""What becomes of the stock, step by step: days, points, events and what is doubted."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.display import Display
from rickyard.farm import AnimalClass
from rickyard.program.explain import outcomes
from rickyard.program.explain.outcomes import DailyPath
from rickyard.program.result import OutcomeAt, Shortage
from support.by_hand import one
from support.rows import each_row

START = date(2027, 1, 4)
DAYS = [START + timedelta(days=number) for number in range(60)]
SI = Display("metric")


def path(count: int = 3, score: bool = True) -> DailyPath:
    """Return a path whose figures tell their day and whether little or much was eaten."""
    at = np.arange(count) + np.array([[-0.5], [0.0], [0.5]])
    scores = 5.0 + at / 10.0 if score else None
    return DailyPath(tuple(DAYS[:count]), (500.0, 5.0), 501.0 + at, scores, (), 0)


def test_a_point_is_the_end_of_the_day_before() -> None:
    first = outcomes._point(path(), DAYS[0])
    assert (first.weight_low_kg, first.weight_kg, first.weight_high_kg) == (500.0,) * 3
    assert (first.low_score, first.score, first.high_score) == (5.0,) * 3
    second = outcomes._point(path(), DAYS[1])
    assert (second.weight_low_kg, second.weight_kg, second.weight_high_kg) == (500.5, 501.0, 501.5)
    assert (second.low_score, second.score, second.high_score) == pytest.approx((4.95, 5.0, 5.05))
    last = outcomes._point(path(), DAYS[3])
    assert (last.weight_kg, last.high_score) == (503.0, pytest.approx(5.25))
    unscored = outcomes._point(replace(path(score=False), first=(500.0, None)), DAYS[2])
    assert (unscored.weight_kg, unscored.score) == (502.0, None)


def group(**more: Any) -> Any:
    given: dict[str, Any] = {
        "group_id": "g", "name": "Cows", "calving_on": None, "breeding_on": None,
        "weaning_on": None, "from_on": None, "to_on": None, "condition_score": 5.0,
        "target_condition_score": None, "target_weight_kg": None, "target_on": None,
        "animal_class": AnimalClass.COW,
    }  # fmt: skip
    return one(**{**given, **more})


def test_events_are_told_within_the_time_that_a_group_is_here() -> None:
    first, last = DAYS[0], DAYS[10]
    ends: Any = group(calving_on=first, breeding_on=last, weaning_on=None)
    assert outcomes._dated(ends, first, last) == [("start", first), ("end", last)]
    within: Any = group(calving_on=DAYS[9], breeding_on=DAYS[1], weaning_on=DAYS[5])
    assert [on for _, on in outcomes._dated(within, first, last)] == [
        DAYS[n] for n in (0, 1, 5, 9, 10)
    ]
    periods: Any = [one(start=DAYS[n]) for n in (0, 1, 2, 3)]
    told = outcomes.told(group(), path(), periods, SI)
    assert [point.on for point in told.path] == DAYS[:4]
    assert [event.event for event in told.events] == ["start", "end"]


@each_row(
    ("count", "change", "doubted"),
    [
        (10, 0.45, False), (10, 0.47, True), (14, 0.45, False), (15, 0.48, False),
        (15, 0.50, True), (30, 0.95, False), (30, 1.0, True), (30, -0.95, False), (30, -1.0, True),
        (60, 1.5, False), (60, 2.0, True),
    ],
)  # fmt: skip
def test_a_score_a_month_is_as_fast_as_cows_change(
    count: int, change: float, doubted: bool
) -> None:
    told = path(count)
    assert told.score is not None
    told.score[1, -1] = 5.0 + change
    said = outcomes._doubts(told)
    assert bool(said) is doubted
    months = max(count, 14) / 30.4
    assert not said or f" {abs(change) / months:.1f} scores a month" in said
    assert outcomes._doubts(replace(told, score=None)) == ""
    assert outcomes._doubts(replace(told, first=(500.0, None))) == ""


@pytest.mark.parametrize(
    ("score", "held", "expected"),
    [
        (4.0, "", (24.0, 24.0, 51.0)),
        (3.9, " (4 or under)", (24.0, 24.0, 48.3)),
        (6.0, "", (69.0, 51.0, 87.0)),
        (7.0, "", (87.0, 69.0, 87.0)),
        (7.1, " (7 or over)", (87.0, 70.8, 87.0)),
    ],
)
def test_odds_of_breeding_are_told_with_their_spread_and_held_at_the_ends_of_the_table(
    score: float, held: str, expected: tuple[float, float, float]
) -> None:
    """Michigan State in Texas A&M AgriLife Vernon: 24, 51, 69 and 87 % at scores 4 to 7."""
    scores = np.array([[score - 1.0], [score], [score + 1.0]])
    on = outcomes.event_at(
        DailyPath((DAYS[0],), (500.0, 5.0), scores * 0.0 + 500.0, scores, (), 0), "calving", DAYS[1]
    )
    assert (on.expected_pct, on.expected_low_pct, on.expected_high_pct) == pytest.approx(expected)
    assert f"Of cows at {score:.1f}{held} a published table" in on.expected
    assert f"({expected[1]:.0f} to {expected[2]:.0f}%)" in on.expected
    weaned = outcomes.event_at(path(), "weaning", DAYS[1])
    assert (weaned.expected_pct, weaned.expected) == (None, "")


def test_what_is_said_at_an_event() -> None:
    at = OutcomeAt("end", DAYS[3], 503.0, 490.0, 520.0, 5.2, 5.0, 5.4, None, None, None, "", "")
    end, start = SI.day_text(DAYS[3]), SI.day_text(DAYS[0])
    assert outcomes._event_words(at, "condition", SI) == f"5.2 (5.0 to 5.4), 503 kg, on {end}"
    assert outcomes._event_words(at, "weight", SI) == f"503 kg (490 to 520 kg) on {end}"
    unscored = replace(at, score=None)
    assert outcomes._event_words(unscored, "condition", SI) == f"503 kg (490 to 520 kg) on {end}"
    first = replace(at, event="start", on=DAYS[0])
    assert outcomes._event_words(first, "weight", SI) == f"503 kg on {start}"
    said = f"condition 5.2 and 503 kg on {start}"
    assert outcomes._event_words(first, "condition", SI) == said


def season(**more: Any) -> Any:
    """Return two weeks of hay, in the first with grain, of which the second group has none."""
    sources = [
        one(source_id="hay", nem_mcal_per_kg=1.2, neg_mcal_per_kg=0.6),
        one(source_id="corn", nem_mcal_per_kg=2.0, neg_mcal_per_kg=1.4),
    ]
    fed = [("g", "hay", 0, 8.0), ("g", "corn", 0, 2.0), ("g", "hay", 1, 10.0), ("h", "hay", 0, 5.0)]
    feeding = [
        one(group_id=g, source_id=s, period=t, eaten_kg_dm_per_head_day=kg) for g, s, t, kg in fed
    ]
    groups = [one(group_id="g", period=t, wanted_gain_kg_per_day=None) for t in (0, 1)]
    periods = [one(index=t, start=DAYS[7 * t], days=7) for t in range(3)]
    given = {"sources": sources, "feeding": feeding, "groups": groups, "periods": periods}
    return one(**{**given, **more})


def test_each_day_has_what_its_period_feeds_while_the_group_is_here() -> None:
    days, diet = outcomes.daily_diet(season(), group())
    assert list(days) == DAYS[:14]
    assert diet[:, 6] == pytest.approx([10.0, 13.6, 7.6])
    assert diet[:, 7] == pytest.approx([10.0, 12.0, 6.0])
    short, diet = outcomes.daily_diet(season(), group(from_on=DAYS[2], to_on=DAYS[9]))
    assert list(short) == DAYS[2:9]
    assert diet.shape == (3, 7)
    nobody, diet = outcomes.daily_diet(season(), group(group_id="x"))
    assert (nobody, diet.shape) == ((), (3, 0))


@pytest.mark.parametrize(
    ("kind", "score", "gain", "follows"),
    [
        (AnimalClass.COW, 5.0, None, "cow"),
        (AnimalClass.COW, None, None, None),
        (AnimalClass.BULL, 5.0, None, None),
        (AnimalClass.STOCKER, None, 0.8, "grown"),
        (AnimalClass.STOCKER, None, None, None),
        (AnimalClass.EWE, 3.0, 0.1, None),
    ],
)
def test_cows_with_a_score_and_cattle_that_are_to_gain_are_followed(
    kind: AnimalClass, score: Any, gain: Any, follows: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(outcomes, "_cow_path", lambda *_: "cow")
    monkeypatch.setattr(outcomes, "_grown_path", lambda *_: "grown")
    rows = [one(group_id="g", period=t, wanted_gain_kg_per_day=gain) for t in (0, 1)]
    rows += [one(group_id="h", period=0, wanted_gain_kg_per_day=1.0)]
    asked = group(animal_class=kind, condition_score=score)
    farm: Any = None
    assert outcomes.daily_path(farm, season(groups=rows), asked) == follows


@each_row(
    ("needs", "score", "said"),
    [
        ([], 5.0, ""),
        ([("g", None, None)], 5.0, ""),
        ([("h", 10.0, 5.0)], 5.0, ""),
        ([("g", 10.0, None)], 5.0, "stated in needs.csv"),
        ([("g", None, 5.0)], None, "stated in needs.csv"),
        ([], None, "condition is not known"),
    ],
)
def test_why_cows_are_not_followed(needs: Any, score: Any, said: str) -> None:
    stated = [one(group_id=g, nem_mcal=nem, tdn_kg=tdn) for g, nem, tdn in needs]
    found = outcomes._unknown(one(needs=stated), group(condition_score=score))
    assert said in found
    assert bool(found) is bool(said)
    bull = group(animal_class=AnimalClass.BULL, condition_score=None)
    assert outcomes._unknown(one(needs=stated), bull) == ""


def test_a_shortage_is_told_with_the_condition_on_its_last_day_and_none_after() -> None:
    points = tuple(outcomes._point(path(), day) for day in DAYS[:4])
    told: Any = [one(group_id="g", kind="condition", path=points)]
    short = Shortage("g", DAYS[0], DAYS[2], "tdn", "kg TDN", 1.0, 1.0, "Short.")
    (found,) = outcomes.with_effects([short], told, SI)
    assert found.sentence.startswith("Short. They are then at condition 5.1 (5.0")
    assert found.sentence.endswith(f" on {SI.day_text(DAYS[2])}.")
    early = replace(short, end=DAYS[0] - timedelta(days=1))
    assert outcomes.with_effects([early], told, SI) == (early,)
    grown: Any = [one(group_id="g", kind="weight", path=points)]
    assert outcomes.with_effects([short], grown, SI) == (short,)
    bare: Any = [one(group_id="g", kind="condition", path=(replace(points[0], score=None),))]
    assert outcomes.with_effects([short], bare, SI) == (short,)


DIET = np.array([[8.0, 10.0, 0.0], [12.0, 16.0, 0.0], [6.0, 4.0, 0.0]])


@pytest.mark.parametrize(("shrunk", "first"), [(False, 480.0), (True, 480.0 * 1.04)])
@pytest.mark.parametrize("score", [5.0, 4.0, None])
def test_the_path_of_cows_is_followed_from_little_to_much(
    shrunk: bool, first: float, score: float | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    fed: list[Any] = []

    def followed(who: Any, days: Any, mcal: Any, *, growth_nem_mcal: Any, **how: Any) -> Any:
        fed.append((mcal.tolist(), growth_nem_mcal.tolist()))
        return one(score=np.full(3, 4.0 + len(fed)), cautions=(f"of run {len(fed)}",))

    series = one(retained_energy_mcal=1.0 + np.arange(10.0), full_weight_kg=500.0 + np.arange(10.0))
    patch = monkeypatch.setattr
    patch(outcomes, "season_conditions", lambda *what: None)
    patch(outcomes, "needs_held", lambda *what: None)
    patch(outcomes, "season_days", lambda *what: series)
    patch(outcomes, "condition_on_supply", followed)
    patch(outcomes, "relative_weight_frac", lambda score: np.asarray(score) / 10.0)
    patch(outcomes, "full_from_shrunk_kg", lambda kg: kg * 1.04)
    who = group(condition_score=score, weight_kg=480.0, weight_is_shrunk=shrunk)
    farm: Any = one(season=one(start=DAYS[0]))
    found = outcomes._cow_path(farm, who, DAYS[2:5], DIET)
    assert found is not None
    # What grows keeps its share of the energy; the third day has no feed at all.
    grown = [3.0 * 2.0, 4.0 * 4.0, 5.0]
    assert fed == [([12.0 * part, 16.0 * part, 0.0], grown) for part in (0.92, 1.0, 1.08)]
    assert found.first == (first, score)
    assert (found.cautions, found.losing) == (("of run 2",), 0)
    shares = np.array([[5.0], [6.0], [7.0]]) / (score or 5.0)
    assert found.weight_kg == pytest.approx(np.array([502.0, 503.0, 504.0]) * shares)


def test_the_path_of_what_grows_is_followed_from_little_to_much(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    fed: list[Any] = []

    def grown(who: Any, days: Any, *density: Any, intake_kg: Any, **how: Any) -> Any:
        fed.append(([one.tolist() for one in density], intake_kg.tolist()))
        return one(
            shrunk_weight_kg=np.array([300.0, 301.0, 302.0]) + len(fed),
            gain_kg=np.full(3, 0.5 * len(fed)),
            nem_deficit_mcal=np.array([0.0, 1.0, 2.0] if len(fed) == 2 else [9.0] * 3),
        )

    patch = monkeypatch.setattr
    patch(outcomes, "season_conditions", lambda *what: None)
    patch(outcomes, "needs_held", lambda *what: None)
    patch(outcomes, "gain_on_diet", grown)
    patch(outcomes, "full_from_shrunk_kg", lambda kg: kg * 2.0)
    found = outcomes._grown_path(None, group(), DAYS[:3], DIET)  # type: ignore[arg-type]
    assert found is not None
    density = [[1.5, 1.6, 1.0], [0.75, 0.4, 1.0]]
    assert fed == [(density, [8.0 * part, 10.0 * part, 0.0]) for part in (0.92, 1.0, 1.08)]
    assert (found.first, found.losing, found.score) == ((604.0, None), 2, None)
    starts = np.array([300.0, 301.0, 302.0])
    assert found.weight_kg == pytest.approx(
        np.array([2.0 * (starts + run + 0.5 * run) for run in (1, 2, 3)])
    )
