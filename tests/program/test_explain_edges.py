"""Reasons, limits and shortages at their edges: what counts as just so, and what is told of it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.farm import AnimalClass
from rickyard.program.explain import (
    costly_needs,
    coverage,
    marginal_values,
    shortages,
    why_this_lot,
)
from rickyard.program.explain.binding_limits import (
    _Answer,
    _answer,
    _cash,
    _price,
    _reserve,
    _sentence,
    farm_limits,
    held_by,
)
from rickyard.program.explain.marginal_values import _lot_worth_sentence, _unit_worth
from rickyard.program.explain.shortages import _neighbours, chance_pct
from rickyard.program.explain.solution_tables import _gain, _need_row
from rickyard.program.explain.supply_alone import need_picture
from rickyard.program.explain.why_this_lot import _Run, _runs
from support.by_hand import one
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on

US = display_for("us")
METRIC = display_for("metric")
START = date(2027, 1, 4)


def row(nutrient: str, need: float, supplied: float, **other: Any) -> Any:
    given = {
        "bound": "at_least",
        "shortage": 0.0,
        "assured": None,
        "group_id": "cows",
        "period": 0,
        "start": START,
        "days": 7,
    }
    return one(nutrient=nutrient, need=need, supplied=supplied, **{**given, **other})


# --- what holds a ration -----------------------------------------------------------------------


def test_what_is_just_met_is_tight_and_else_the_nearest_is_named() -> None:
    roomy, met = row("cp", 1.0, 1.5), row("nem", 10.0, 10.0 + 0.9e-4)
    assert _answer([roomy, met], {}) == _Answer((), (), ("nem",), "", 0.0)
    apart = row("nem", 10.0, 10.0 + 1.2e-4)
    found = _answer([roomy, apart], {})
    assert (found.tight, found.nearest) == ((), "nem")
    assert found.spare_pct == pytest.approx(1.2e-3)
    ceiling = row("ndf", 5.0, 4.0, bound="at_most")
    assert _answer([roomy, ceiling], {}).nearest == "ndf"
    assert _answer([roomy, ceiling], {}).spare_pct == pytest.approx(20.0)
    assert _answer([], {}) == _Answer((), (), (), "", 0.0)
    # A need of nothing is met by nothing, and by anything else with room to spare.
    assert _answer([row("cp", 0.0, 0.0)], {}).tight == ("cp",)
    assert _answer([row("cp", 0.0, 0.1)], {}).nearest == "cp"


def test_what_has_a_price_is_told_first_the_dearest_of_it_first() -> None:
    rows = [row("cp", 2.0, 3.0), row("nem", 10.0, 12.0), row("ca", 5.0, 5.0)]
    assert _answer(rows, {"cp": 2e-6, "nem": 3e-7}).tight == ("cp",)
    assert _answer(rows, {"cp": 0.02, "nem": 0.01}).tight == ("nem", "cp"), "ten units and two"
    assert _answer(rows, {"cp": 1e-6, "nem": 1e-6}).tight == ("ca",), "a trifle is no price"
    negative = [row("a", -5.0, -4.0), row("b", 4.0, 5.0)]
    assert _answer(negative, {"a": 0.01, "b": 0.01}).tight == ("a", "b")


def test_what_is_missed_is_told_with_what_is_full() -> None:
    rows = [
        row("nem", 10.0, 9.0, shortage=1.0),
        row("sulfur", 1.0, 2.0, shortage=1.0, bound="at_most"),
        row("appetite", 12.0, 12.0, bound="at_most"),
        row("cp", 1.0, 1.0),
    ]
    assert _answer(rows, {}) == _Answer(("nem",), ("sulfur",), ("appetite",), "", 0.0)
    tiny = row("nem", 10.0, 9.95, shortage=0.05)
    assert _answer([tiny], {}).short == ("nem",)


@pytest.mark.parametrize(
    ("spare", "said"), [(1.99, "with 2.0% to spare"), (2.0, "with 2% to spare"), (7.6, "with 8%")]
)
def test_room_is_told_in_whole_percent_from_two(spare: float, said: str) -> None:
    assert said in _sentence("Cows", "then", _Answer((), (), (), "cp", spare))


def test_limits_are_told_by_what_they_are() -> None:
    def said(short: Any = (), much: Any = (), tight: Any = ()) -> str:
        return _sentence("Cows", "then", _Answer(short, much, tight, "", 0.0))

    assert said() == "No limit applies to Cows then."
    assert "too much sulfur then" in said(much=("sulfur",))
    assert said(("nem",)).endswith("every feed they may have is used up.")
    assert said(("nem",), ("sulfur",), ("ndf",)).endswith("they are full: no room for more fiber.")
    assert said(tight=("appetite", "ndf")) == "Cows, then: they are at full appetite."
    assert "are the limits on" in said(tight=("cp", "ndf"))
    assert "is the limit on" in said(tight=("cp",))


def cell(period: int, group_id: str = "cows") -> Any:
    return one(
        group_id=group_id, period=period, head=2, days=7, start=START + timedelta(days=7 * period)
    )


def test_neighbouring_weeks_of_a_group_with_the_same_answer_are_told_together() -> None:
    cells = [cell(0), cell(1), cell(3), cell(3, "ewes")]
    rows = [
        row("cp", 1.0, 1.2, period=0),
        row("cp", 1.0, 1.1, period=1),
        row("cp", 1.0, 1.3, period=3),
        row("cp", 1.0, 1.4, period=3, group_id="ewes"),
    ]
    groups = [one(group_id=name, name=name.title()) for name in ("cows", "ewes")]
    problem = one(needs=one(groups=groups))
    found = held_by(problem, rows, cells, {}, METRIC)
    assert [(each.group_id, each.start, (each.end - each.start).days) for each in found] == [
        ("cows", START, 14),
        ("cows", START + timedelta(days=21), 7),
        ("ewes", START + timedelta(days=21), 7),
    ]
    assert "10% to spare" in found[0].sentence, "the nearest of both weeks"
    # A price for the whole week counts by head and day: 14 of them.
    prices = {"cp": np.array([[1.5e-5, 1.3e-5, 0.0, np.nan], [0.0] * 4])}
    found = held_by(problem, rows[:2], cells[:2], prices, METRIC)
    assert [each.nutrients for each in found] == [("cp",), ()]


# --- limits of the whole farm ------------------------------------------------------------------


def of_farm(
    cash: float | None = None, spent: float = 0.0, reserve_t: float = 0.0, left_t: float = 0.0
) -> tuple[Any, ...]:
    model = one(farm_row={"cash": 0, "reserve": 1})
    prices = one(row=np.array([-500.0, -20.0]))
    problem = one(cash_limit_usd=cash, reserve_kg_dm=1000.0 * reserve_t)
    return farm_limits(
        problem,
        model,
        prices,
        (one(left_t=left_t / 4.0), one(left_t=0.75 * left_t)),
        (one(cost_usd=spent + 30.0),),
        (one(revenue_usd=30.0),),
        METRIC,
    )


def test_a_limit_of_the_farm_is_missed_by_more_than_rounding() -> None:
    assert of_farm() == ()
    (kept,) = of_farm(cash=1000.0, spent=1000.0009)
    assert (kept.shortage, kept.supplied) == (0.0, pytest.approx(1000.0009))
    (missed,) = of_farm(cash=1000.0, spent=1000.0011)
    assert missed.shortage == pytest.approx(0.0011)
    (small,) = of_farm(cash=0.0, spent=0.9e-6)
    assert small.shortage == 0.0
    assert of_farm(cash=0.0, spent=1.05e-6)[0].shortage > 0.0
    (lacks,) = of_farm(reserve_t=10.0, left_t=8.0)
    assert (lacks.need, lacks.supplied, lacks.shortage) == (10.0, 8.0, 2.0)
    assert of_farm(reserve_t=10.0, left_t=10.0 - 0.9e-5)[0].shortage == 0.0
    assert of_farm(reserve_t=0.05, left_t=0.0)[0].shortage == 0.05


def test_more_room_in_a_limit_saves_what_its_row_says() -> None:
    model = one(farm_row={"cash": 0})

    def price(row_usd: float) -> float | None:
        return _price(model, one(row=np.array([row_usd])), "cash", 1000.0)

    assert price(-500.0) == 0.5
    assert price(-0.09) == 0.0
    assert price(-0.101) == pytest.approx(1.01e-4)
    assert price(np.nan) is None


def test_money_and_reserve_are_told_with_what_more_of_it_would_save() -> None:
    assert _cash(1000.0, 900.0, 0.0, 0.0) == "Feed costs $900 of the $1,000 available."
    assert _cash(1000.0, 1000.0, 0.05, 0.0).endswith(": over the limit.")
    assert "make up part of what is short" in _cash(1000.0, 1000.0, 0.0, None)
    assert _cash(1000.0, 1000.0, 0.0, 0.5).endswith("; $100 more to spend would save $50.")
    assert _reserve(10.0, 10.0, 0.0, 0.0, METRIC).endswith("needed in reserve.")
    assert _reserve(10.0, 9.0, 0.05, 0.0, METRIC).endswith("the reserve falls short.")
    assert "make up part of what is short" in _reserve(10.0, 10.0, 0.0, None, METRIC)
    said = _reserve(10.0, 10.0, 0.0, 40.0, METRIC)
    assert said.startswith("10 t of hay left on the last day, 10 t needed")
    assert said.endswith("smaller would save $40.")
    # A short ton is 0.907 of a tonne.
    assert _reserve(10.0, 10.0, 0.0, 40.0, US).endswith("smaller would save $36.")


# --- worth -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("saved", "extra", "said"),
    [
        (0.01, 5.0, "would only be left over"),
        (0.011, 0.011, "would save"),
        (5.0, 0.01, "would not pay for itself"),
        (5.0, -3.0, "would not pay for itself"),
        (np.nan, np.nan, "would cover part of what is short"),
    ],
)
def test_a_cent_a_tonne_is_worth_nothing(saved: float, extra: float, said: str) -> None:
    assert said in _lot_worth_sentence("Hill", saved, extra, 85.0, METRIC)


def test_a_lot_is_worth_more_as_fed_by_its_dry_matter() -> None:
    assert "would save $34 above" in _lot_worth_sentence("Hill", 90.0, 40.0, 85.0, METRIC)
    assert "would save $31 above" in _lot_worth_sentence("Hill", 90.0, 40.0, 85.0, US)


def unit_worth(price: list[float], days: list[float]) -> Any:
    periods = [one(start=START + timedelta(days=7 * t)) for t in range(len(price))]
    needs = one(
        groups=[one(group_id="cows", name="Cows")], periods=periods, head_days=np.array([days])
    )
    return _unit_worth(one(needs=needs), 0, "energy", "Mcal NEm", np.array([price]), METRIC, None)


def test_a_unit_is_worth_its_mean_and_most_where_stock_are_here() -> None:
    found = unit_worth([7.0, 28.0, 0.0], [70.0, 140.0, 0.0])
    assert found.usd_per_unit == pytest.approx(35.0 / 210.0)
    assert found.most_usd_per_unit == pytest.approx(0.2)
    assert found.most_start == START + timedelta(days=7)
    assert "in the tightest week" in found.sentence
    half = unit_worth([0.1], [0.5])
    assert half.usd_per_unit == pytest.approx(0.2), "half a head for a day is someone"
    assert "throughout" in half.sentence
    assert unit_worth([1.0], [0.0]).usd_per_unit is None
    assert "cannot be said" in unit_worth([np.nan], [70.0]).sentence


@pytest.mark.parametrize(("usd", "nothing"), [(0.001, True), (0.00105, False)])
def test_a_tenth_of_a_cent_is_next_to_nothing(usd: float, nothing: bool) -> None:
    found = unit_worth([usd * 64.0], [64.0])
    assert ("next to nothing" in found.sentence) == nothing


def limit_farm(tenths: list[float]) -> Any:
    periods = [one(start=START + timedelta(days=7 * t), days=7) for t in range(len(tenths))]
    head_days = np.full((1, len(tenths)), 70.0)
    needs = one(
        groups=[one(group_id="cows", name="Cows")],
        periods=periods,
        head_days=head_days,
        here=head_days > 0.0,
    )
    rows = [row("cp", 2.0, 2.0, period=t) for t in range(len(tenths))]
    prices = {"cp": np.array([[10.0 * usd / 2.0 for usd in tenths]])}
    return costly_needs.limits_of(one(needs=needs), rows, prices, 5.0, METRIC)


def test_a_need_holds_the_cost_up_when_a_tenth_of_it_costs_enough() -> None:
    (found,) = limit_farm([2.0, 3.0])
    assert found.usd_per_tenth == pytest.approx(5.0)
    assert found.usd_per_unit == pytest.approx(10.0 * 5.0 / 2.0 / 140.0)
    assert (found.start, found.end) == (START, START + timedelta(days=14))
    assert limit_farm([2.0, 2.99]) == ()
    first, second = limit_farm([6.0, 0.0, 7.0])
    assert [first.start, second.start] == [START + timedelta(days=14), START]


# --- shortages ---------------------------------------------------------------------------------


def test_the_chance_that_a_need_is_met_follows_from_what_is_assured() -> None:
    # 80 % lies 0.8416 standard deviations under the mean.
    assert chance_pct(row("cp", 9.0, 10.0, assured=9.0), 80.0) == pytest.approx(80.0)
    assert chance_pct(row("cp", 10.0, 10.0, assured=9.0), 80.0) == pytest.approx(50.0)
    assert chance_pct(row("cp", 11.0, 10.0, assured=9.0), 80.0) == pytest.approx(20.0)
    assert chance_pct(row("cp", 10.0, 10.0, assured=None), 80.0) == 100.0
    assert chance_pct(row("cp", 10.0, 9.99, assured=None), 80.0) == 0.0
    assert chance_pct(row("cp", 10.0, 10.0, assured=10.0), 80.0) == 100.0
    assert chance_pct(row("cp", 10.1, 10.0, assured=10.0), 80.0) == 0.0


def test_short_weeks_are_neighbours_without_a_gap() -> None:
    rows = [row("cp", 1.0, 0.5, period=t) for t in (4, 1, 2, 6)]
    assert [[one.period for one in run] for run in _neighbours(rows)] == [[1, 2], [4], [6]]
    assert list(_neighbours([])) == []


@pytest.mark.parametrize(
    ("need", "supplied", "assured", "said"),
    [
        (10.0, 10.0 - 9e-6, 9.0, "On average values there is enough"),
        (10.0, 10.0 - 11e-6, 9.0, "on average values it is"),
        (10.0, 11.0, 9.0, "On average values there is enough"),
    ],
)
def test_a_promise_that_is_short_says_what_the_means_say(
    need: float, supplied: float, assured: float, said: str
) -> None:
    lot = hay("lot", 55.0, 9.0, 50.0, 60.0)
    farm = farm_of([(lot, report_on(lot, 55.0, 9.0))], [replace(cows(), assurance_pct=80.0)], [])
    run = [row("cp", need, supplied, assured=assured, shortage=need - assured)]
    sentence = shortages.assured_shortage(farm, "cows", "cp", run, METRIC)
    assert sentence.startswith("At 80% assurance ")
    assert said in sentence


def need_row(
    need: float, supplied: float, *, assured: float = np.nan, leeway: float = 0.0, **other: Any
) -> Any:
    given = {"asked": need, "bound": "at_least", "name": "cp", "met_within": 1e-3, **other}
    needs = one(groups=[one(group_id="cows")], periods=[one(index=0, start=START, days=7)])
    return _need_row(
        one(needs=needs, met_within=given["met_within"]),
        (0, 0),
        given["name"],
        given["bound"],
        (need, given["asked"]),
        (supplied, assured),
        leeway,
    )


def test_a_need_is_short_by_more_than_what_is_met_within() -> None:
    assert need_row(10.0, 9.991).shortage == 0.0
    assert need_row(10.0, 9.989).shortage == pytest.approx(0.011)
    # Needs near nothing are met within a thousandth of a unit, and negative ones as positive.
    assert need_row(0.0, -0.9e-6).shortage == 0.0
    assert need_row(0.0, -1.05e-6).shortage == pytest.approx(1.05e-6)
    assert need_row(-10.0, -10.009).shortage == 0.0
    assert need_row(-10.0, -10.011).shortage == pytest.approx(0.011)
    assert need_row(10.0, 9.7, asked=9.7).shortage == 0.0
    promised = need_row(10.0, 11.0, assured=9.9, leeway=0.1)
    assert (promised.shortage, promised.assured) == (0.0, 9.9)
    assert need_row(10.0, 11.0, assured=9.87, leeway=0.1).shortage == pytest.approx(0.13)
    assert need_row(10.0, 12.0, bound="at_most", name="ndf").shortage == 0.0
    assert need_row(1.0, 1.5, bound="at_most", name="sulfur").shortage == pytest.approx(0.5)


def test_a_diet_below_maintenance_allows_no_gain() -> None:
    def gain(dm: float, nem: float, neg: float) -> float:
        supply = {
            name: np.array([[value]]) for name, value in (("dm", dm), ("nem", nem), ("neg", neg))
        }
        needs = one(least={"nem": np.array([[6.0]])}, scaled_weight_kg=np.array([[300.0]]))
        return _gain(one(needs=needs), supply, 0, 0)

    assert gain(0.0, 0.0, 0.0) == 0.0
    assert gain(8.0, 6.0, 3.0) == 0.0
    assert gain(8.0, 5.0, 3.0) == 0.0
    # What is left of eight kilograms when six megacalories are taken of ten at 1.25 a kilogram.
    retained = (8.0 - 6.0 * 8.0 / 10.0) * 5.0 / 8.0
    # Of empty weight, 0.891 of shrunk weight, 0.956 of its gain.
    empty = (retained / (0.0635 * (0.891 * 300.0) ** 0.75)) ** (1.0 / 1.097)
    assert gain(8.0, 10.0, 5.0) == pytest.approx(empty / 0.956)
    assert gain(0.05, 0.06, 0.03) == 0.0, "a mouthful is less than they need"


# --- why a hay is fed --------------------------------------------------------------------------


def test_runs_of_a_hay_are_weeks_in_which_any_of_it_is_fed() -> None:
    eaten = np.zeros((2, 3, 4))
    eaten[0, 0] = [1.0, 1e-9, 0.0, 2.0]
    eaten[1, 1] = [0.0, 3.0, 3.0, 3.0]
    eaten[1, 2] = 1.0
    found = list(_runs(eaten, np.array([True, True, False])))
    assert found == [_Run(0, 0, 0, 1), _Run(0, 0, 3, 3), _Run(1, 1, 1, 3)]


def compared(dearer: float) -> Any:
    """Compare a hay with another that would cost so much more a tonne."""
    periods = [one(start=START + timedelta(days=7 * t), days=7) for t in range(2)]
    values = [
        one(source_id="a", name="Hill"),
        one(source_id="b", name="Flat"),
        one(source_id="c", name="C"),
    ]
    look: Any = object.__new__(why_this_lot._Look)
    look.display, look.is_hay = METRIC, np.array([True, True, False])
    look.eaten = np.zeros((1, 3, 2))
    look.eaten[0, 0] = [6.0, 2.0]
    look.problem = one(
        shape=(1, 3, 2),
        sources=one(values=values, allowed=np.ones((1, 3, 2), dtype=bool)),
        needs=one(
            groups=[one(group_id="cows", name="Cows")],
            periods=periods,
            head_days=np.array([[70.0, 70.0]]),
            here=np.ones((1, 2), dtype=bool),
        ),
    )
    usd = np.zeros((1, 3, 2))
    # Three quarters of the hay is eaten in the first week.
    usd[0, 1] = np.array([dearer, dearer]) / 1000.0
    look.usd = usd
    look.by_kind = {"price": -usd, "protein": 2.0 * usd}
    return look.reason(_Run(0, 0, 0, 1))


@pytest.mark.parametrize(
    ("dearer", "decides"),
    [(-0.051, "steady"), (-0.049, "same"), (0.0, "same"), (0.049, "same"), (0.051, "protein")],
)
def test_two_hays_within_five_cents_a_tonne_are_as_good(dearer: float, decides: str) -> None:
    found = compared(dearer)
    assert found.decides == decides
    assert found.usd_per_t_dm == pytest.approx(dearer)
    assert found.next_best_id == "b"


# --- coverage ----------------------------------------------------------------------------------


def covered(total: float, need: float = 10.0, **limits: Any) -> Any:
    """Judge a need of copper met by hay and a feed in equal parts."""
    given = {"most": None, "most_added": None, **limits}
    trace = one(name="cu", unit="mg", need=need, source="a table", **given)
    feed = one(feed_id="f", name="Salt", kind=one(value="mineral"))
    farm = one(feeds=[feed])
    half = total / 2.0
    held = {"hay": {"cu": half}, "f": {"cu": limits.get("tag", half)}}
    trace.__dict__.pop("tag", None)
    return coverage._judged(
        one(group_id="cows", name="Cows"), farm, trace, {"hay": 1.0, "f": 1.0}, held
    )


def test_a_trace_need_is_covered_when_it_is_just_met() -> None:
    assert covered(10.0).verdict == "covered"
    assert covered(9.99).verdict == "short"
    assert "brings 50% of the need" in covered(5.0).sentence
    assert covered(0.0, need=0.0).verdict == "covered"
    assert covered(5.0, tag=None).verdict == "unknown"
    assert covered(20.0, tag=None).verdict == "covered"
    assert covered(20.0, most=20.0).verdict == "covered"
    assert covered(20.01, most=20.0).verdict == "too_much"
    assert covered(20.0, most_added=10.0).verdict == "covered"
    assert covered(20.01, most_added=10.0).verdict == "too_much"


def test_content_of_magnesium_is_told_in_grams_a_kilogram() -> None:
    tag = one(
        copper_ppm=12.0,
        selenium_ppm=None,
        magnesium_pct=0.3,
        vitamin_a_iu_per_kg=500.0,
        vitamin_e_iu_per_kg=20.0,
    )
    assert coverage._of_feed(tag) == {
        "cu": 12.0,
        "se": None,
        "mg": pytest.approx(3.0),
        "vitamin_a": 500.0,
        "vitamin_e": 20.0,
    }


# --- what a lot alone gives --------------------------------------------------------------------


@pytest.mark.parametrize("kind", [AnimalClass.COW, AnimalClass.EWE])
def test_a_lot_alone_gives_its_protein_and_energy_by_what_is_eaten(kind: AnimalClass) -> None:
    lot = hay("lot", 55.0, 9.0, 50.0, 60.0)
    weight = 550.0 if kind is AnimalClass.COW else 70.0
    farm = farm_of(
        [(lot, report_on(lot, 55.0, 9.0))],
        [replace(cows(), animal_class=kind, weight_kg=weight)],
        [],
        weeks=3,
    )
    picture = need_picture(farm, farm.groups[0])
    (alone,) = picture.lots
    assert len(picture.days) == 3
    ratio = alone.energy / alone.protein_kg
    if picture.energy_word == "TDN":
        assert ratio == pytest.approx(np.full(3, 55.0 / 9.0), rel=1e-6)
    else:
        assert np.allclose(ratio, ratio[0])
    assert np.array_equal(alone.energy_short, alone.energy < 0.995 * picture.energy)


def test_feeds_are_named_in_the_currency_of_each_price() -> None:
    said = marginal_values._feed_sentence
    assert "worth buying at" in said("Corn", 0.3, None, bought=True, barred=False, display=US)
    assert "not allowed" in said("Corn", 0.3, None, bought=False, barred=True, display=US)
    assert "at any price" in said("Corn", 0.3, None, bought=False, barred=False, display=US)
    assert "under" in said("Corn", 0.3, 0.2, bought=False, barred=False, display=US)


@each_row(
    ("usd", "told"),
    [
        (1e-6, ("ca",)),
        (1.3e-4, ("ca",)),
        (1.5e-4, ("cp",)),
        (-1.0, ("cp",)),
        (1.0, ("cp",)),
        (np.nan, ("ca",)),
    ],
)
def test_a_price_counts_by_the_head_and_day(usd: float, told: tuple[str, ...]) -> None:
    needs = [row("cp", 2.0, 3.0), row("ca", 5.0, 5.0), row("cp", 2.0, 2.0, period=1)]
    cells = [
        one(group_id="cows", period=t, start=START + timedelta(days=7 * t), days=7, head=20)
        for t in (0, 1)
    ]
    problem: Any = one(
        needs=one(groups=[one(group_id="h", name="H"), one(group_id="cows", name="C")])
    )
    prices = {"cp": np.array([[9.0, 9.0], [usd, 0.0]])}
    first, *_ = held_by(problem, needs, cells, prices, METRIC)
    assert first.nutrients == told
