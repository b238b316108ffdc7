"""The nitrate of the whole diet is held on every day, not on the mean of a week."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.program.audit.nitrate_days import (
    Amounts,
    NitrateOfDays,
    held_to_limit,
    held_to_parts,
    lowered,
    most_parts,
)
from rickyard.program.audit.swaps import OtherHay
from rickyard.program.days.making_up import shares_of_day
from rickyard.program.days.safe_days import SafeDays
from rickyard.program.model import build_model
from rickyard.program.problem import NitrateByDay, held_to_shares, problem_of
from rickyard.safety import rule_of
from support.by_hand import one
from support.daily_audit import DailyAudit
from support.hazard_farms import hazard_farm
from support.season_farms import cows, farm_of, hay, report_on

DAY = date(2026, 11, 2)
MOST = np.full(3, 1500.0)


def herd(drunk_mg: float = 0.0) -> NitrateByDay:
    return NitrateByDay({"strong": 2600.0, "mild": 1100.0}, {}, np.full(3, drunk_mg), MOST)


def days(*kilograms: float) -> dict[date, float]:
    return {DAY + timedelta(days=at): kg for at, kg in enumerate(kilograms)}


@pytest.mark.parametrize(
    ("drunk_mg", "part"), [(0.0, 1.0), (1200.0, 0.2), (1500.0, 0.0), (2000.0, 0.0)]
)
def test_hay_rises_above_its_mean_as_far_as_the_limit(drunk_mg: float, part: float) -> None:
    """Four parts of 2,600 and six of 1,100 ppm leave 2,000 of 15,000 mg; two more take 3,000."""
    mean = {"strong": np.full(3, 3.0), "mild": np.full(3, 12.0)}
    now = mean | {"strong": np.array([2.0, 3.0, 4.0])}
    found = herd(drunk_mg).part_of_rise(mean, now, ["strong"], ["mild"], 0.7)
    assert found.tolist() == [1.0, 1.0, pytest.approx(part)]


def test_hay_is_cut_where_nothing_makes_up_for_held_feed() -> None:
    mean = {"strong": np.full(3, 4.0), "mild": np.full(3, 6.0), "corn": np.full(3, 2.0)}
    now = mean | {"corn": np.array([0.0, 1.0, 2.0])}
    kept = herd().part_kept(now, mean)
    assert kept.tolist() == [pytest.approx(2400.0 / 4400.0), pytest.approx(3900.0 / 4400.0), 1.0]
    cut = {one: kg * (kept if one == "strong" else 1.0) for one, kg in now.items()}
    assert herd().above_mg(cut, cut)[:2].tolist() == [pytest.approx(0.0), pytest.approx(0.0)]
    # What a whole week is above is told as a shortage, and not cut day by day.
    assert herd(9000.0).part_kept(now, mean).tolist() == [1.0, 1.0, 1.0]


def test_the_second_look_finds_the_same() -> None:
    ppm = {"strong": 2600.0, "mild": 1100.0, "corn": 0.0}
    dry = dict.fromkeys(ppm, 1.0)
    every = days(0.0, 0.0, 0.0)
    drunk = dict.fromkeys(every, 1200.0)
    nitrate = NitrateOfDays(ppm, {}, dict.fromkeys(every, 1500.0), drunk)
    asked = {"strong": days(3.0, 3.0, 3.0), "mild": days(12.0, 12.0, 12.0)}
    safe = asked | {"strong": days(2.0, 3.0, 4.0)}
    out = lowered(nitrate, safe, asked, ["mild"], ["strong"], (dry, 0.7))
    assert safe["strong"] == pytest.approx(days(2.0, 3.0, 3.2))
    assert out == {DAY + timedelta(days=2): pytest.approx(0.8)}
    calm = replace(nitrate, drunk=dict.fromkeys(every, 0.0))
    asked = {
        "strong": days(4.0, 4.0, 4.0),
        "mild": days(6.0, 6.0, 6.0),
        "corn": days(2.0, 2.0, 2.0),
    }
    # Of 6 kg, each of hay that stands in for it frees 400 mg more; without any it takes more.
    for over, strong, mild in (
        (9.0, (8.0 / 3.0, 11.0 / 3.0, 4.0), (22.0 / 3.0, 19.0 / 3.0, 6.0)),
        (0.0, (24.0 / 11.0, 39.0 / 11.0, 4.0), (6.0, 6.0, 6.0)),
    ):
        safe = {one: dict(kg) for one, kg in asked.items()} | {"corn": days(0.0, 1.0, 2.0)}
        held_to_limit(calm, safe, asked, ["mild"], (dry, {"mild": over}), made_up, NOTHING_ELSE)
        assert safe["strong"] == pytest.approx(days(*strong))
        assert safe["mild"] == pytest.approx(days(*mild))


@pytest.mark.parametrize(
    ("strong", "mild", "corn", "kept"),
    [
        ((3.0, 0.5), (0.0, 1.0), 3.0, (3.0, 0.0)),
        ((3.0, 0.5), (0.0, 1.0), 1.0, (1.0, 0.0)),
        ((4.0, 0.5), (1.0, 0.25), 2.0, (3.0, 1.0)),
        ((4.0, 0.5), (2.0, 0.25), 1.0, (2.0, 1.0)),
        ((4.0, 1.0 / 6.0), (2.0, 1.0 / 3.0), 9.0, (2.2, 2.0)),
    ],
)
def test_a_day_that_is_short_holds_no_more_than_a_share_of_itself(
    strong: tuple[float, float], mild: tuple[float, float], corn: float, kept: tuple[float, float]
) -> None:
    """Corn that still climbed left hay on day 5 of its six at over two thirds of its share."""
    kg, most = ({"strong": strong[at], "mild": mild[at]} for at in (0, 1))
    assert list(held_to_shares(kg, most, corn).values()) == pytest.approx(kept)
    safe = {one: days(each) for one, each in {**kg, "corn": corn}.items()}
    dry = dict.fromkeys(safe, 1.0)
    limits = {one: days(part) for one, part in most.items()}
    held_to_parts(limits, safe, [], dry, (dry, {}), made_up_of_none)
    assert [safe[one][DAY] for one in most] == pytest.approx(kept)


#: No other hay stands in.
NOTHING_ELSE: Any = one(first=lambda day: None, fill=lambda safe, lacks: None)


def test_other_hay_stands_in_where_water_takes_a_short_day_above_the_limit() -> None:
    """Alpacas lost all hay of 1,700 ppm for a week and began on it anew beside grain, at 1,531."""
    farm = farm_of([(hay("other", 55.0, 9.0, 50.0, 9.0), None)], [cows()], [])
    ppm, dry = {"strong": 1700.0, "mild": 1200.0, "other": 0.0, "oats": 0.0}, 1.0
    day, every = np.zeros(1), {"strong": 7.0, "mild": 11.0, "oats": 2.0}
    asked = {name: day + kg for name, kg in every.items()}
    given: dict[str, Any] = asked | {"oats": day.copy(), "mild": day + 13.0}
    herd = NitrateByDay(ppm, {}, day + 4200.0, day + 1500.0)
    room = {"mild": 0.0, "other": 9.0}
    safe = SafeDays(farm, farm.groups[0], DAY, np.zeros(1, dtype=int), day + 1.0, [], room, True,
                    herd, {"other": np.array([True])})  # fmt: skip
    most, dries = day + 5.0, dict.fromkeys(ppm, dry)
    cut = safe._kept_within(asked, given, {"mild"}, most, dries)
    # 1,400 mg of the strong and 4,200 of water are 1,700 above what 13 kg of the mild leave room
    # for; each kilogram of hay without any in its place takes 1,700 off.
    assert cut.tolist() == [True]
    assert (given["strong"][0], given["other"][0]) == pytest.approx((6.0, 1.0))
    assert (room["other"], most[0]) == pytest.approx((8.0, 4.0))

    audit = NitrateOfDays(ppm, {}, {DAY: 1500.0}, {DAY: 4200.0})
    again: Any = {"strong": days(7.0), "mild": days(13.0), "oats": days(0.0)}
    by_day = {name: days(kg) for name, kg in every.items()}
    over = {"mild": 0.0, "other": 9.0}
    others = OtherHay.of(["other"], farm, by_day, (dries, over))
    held_to_limit(audit, again, by_day, ["mild"], (dries, over), made_up_of_none, others)
    assert (again["strong"][DAY], again["other"][DAY]) == pytest.approx((6.0, 1.0))
    assert over["other"] == pytest.approx(8.0)


def made_up_of_none(*_: object) -> None:
    """No hay is over."""


def made_up(
    safe: Amounts,
    hays: list[str],
    lacks: dict[date, float],
    dry_and_over: tuple[dict[str, float], dict[str, float]],
) -> None:
    """Let the only hay make up for what days lack, as far as it is over."""
    (hay,), (_, over) = hays, dry_and_over
    for day, lack in lacks.items():
        safe[hay][day] += min(lack, over[hay])


def test_the_audit_refuses_a_day_that_only_its_week_makes_good() -> None:
    farm = hazard_farm(0, weeks=1)
    group = replace(farm.groups[0], head=1)
    audit = object.__new__(DailyAudit)
    audit._nitrate_by_day = lambda *_: iter([(DAY, 1500.0, 1500.0), (DAY, 1700.0, 1500.0)])  # type: ignore[method-assign]
    assert list(audit._sum_of_nitrate(group, {})) == [
        "2026-11-02 1700 ppm nitrate-nitrogen in what is eaten, most 1500"
    ]


def test_a_share_holds_on_every_day_and_of_all_that_one_limit_holds() -> None:
    """Hay of a quarter was 36 % of a day after its sixth, as other hay ran out and corn climbed."""
    rule = rule_of("nitrate-unknown-quarter")
    rules: Any = [one(source_id=name, rule=rule) for name in ("strong", "also")]
    dry = dict.fromkeys(("strong", "also", "mild"), 1.0)
    kg = {"strong": np.array([3.0, 3.0]), "also": np.array([0.0, 1.0]), "mild": np.full(2, 4.0)}
    found = shares_of_day(kg, rules, dry)
    assert found["strong"].tolist() == pytest.approx([0.25, 0.75 * 0.25])
    assert found["also"].tolist() == pytest.approx([0.0, 0.25 * 0.25])
    two = list(days(0.0, 0.0))
    safe = {name: dict(zip(two, each.tolist(), strict=True)) for name, each in kg.items()}
    asked = safe | {"strong": days(2.0, 2.0), "mild": days(6.0, 6.0)}
    again = most_parts(asked, safe, rules, dry, ())
    assert list(again["strong"].values()) == pytest.approx([0.25, 2.0 / 9.0])
    assert again["also"][two[1]] == pytest.approx(1.0 / 9.0)


def test_a_share_holds_on_what_is_put_out_as_stock_may_clean_it_up() -> None:
    """Ewes were put out 29 % and does 35 % of hay of which a quarter may be fed."""
    strong = hay("strong", 55.0, 9.0, 50.0, 9.0)
    mild = hay("mild", 55.0, 9.0, 50.0, 9.0)
    reports = [report_on(strong, 55.0, 9.0, 1700.0), report_on(mild, 55.0, 9.0)]
    problem = problem_of(farm_of(list(zip((strong, mild), reports, strict=True)), [cows()], []))
    wasted = np.array([0.35, 0.05])
    sources = replace(problem.sources, feeding_loss_frac=wasted[None, :])
    problem = replace(problem, sources=sources)
    assert problem.sources.share_limit[0, 0, 0] == 0.5
    model = build_model(problem)
    both = model.columns.place(problem.shape)[0, :2, 0]
    eaten, put_out = np.zeros(model.columns.count), np.zeros(model.columns.count)
    eaten[both] = 2.0, 2.0
    put_out[both] = 2.0 * (1.0 - wasted)
    rows = model.rows
    for x, too_much in ((eaten, True), (put_out, False)):
        own = np.isin(rows.column, both)
        sums = np.bincount(rows.row, rows.value * x[rows.column], len(rows.lower))
        alone = np.bincount(rows.row, ~own, len(rows.lower)) == 0
        held = alone & (rows.upper == 0.0) & (np.bincount(rows.row, own, len(rows.lower)) == 2)
        assert bool(sums[held].max() > 1e-9) is too_much
