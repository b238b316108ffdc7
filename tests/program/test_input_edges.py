"""What the program is fed with, at its edges: fill, the yard, limits of classes and of feeds."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.farm import AnimalClass, ColdRule, FedRow, Feed, FeedKind, Group, MoveKind, Winter
from rickyard.program.days.step_up import Pace, held_back, raised_slowly
from rickyard.program.inputs import (
    class_limits,
    fill,
    needs,
    needs_by_period,
    opening_stock,
    source_limits,
)
from rickyard.program.inputs.class_limits import (
    bound_in,
    class_notes,
    floors_g_per_kg,
    least_ca_to_p,
    least_cp_frac,
    least_forage_kg,
    mineral_kg,
    most_ndf_kg,
)
from rickyard.program.inputs.fed_before import daily_before_kg, open_before
from rickyard.program.inputs.fill import FillTable, fill_of, held_steady
from rickyard.program.inputs.grain_effects import room_pct
from rickyard.program.inputs.opening_stock import (
    _log_cautions,
    _log_notes,
    _months_since,
    _rainfall,
)
from rickyard.program.inputs.source_limits import _loss_notes, least_on_offer, most_a_head
from rickyard.program.inputs.source_values import _degradable, feed_values, lot_prices
from rickyard.program.problem import diet_ceilings
from rickyard.quantities import OutOfRange
from support.farms import START
from support.rows import each_row
from support.season_farms import hay

DAY = timedelta(days=1)
NAN = np.nan


def one(**what: Any) -> Any:
    return SimpleNamespace(**what)


# --- what fills ---------------------------------------------------------------------------


def herd(**what: Any) -> Any:
    """Return a group of two weeks of which 6 kg of fiber fill a head of 500 kg."""
    week = np.ones((1, 2))
    usual = {
        "head_days": 70.0 * week,
        "here": week > 0,
        "stated": week < 0,
        "own": week < 0,
        "intake_rule": (("rule", "rule"),),
        "shrunk_weight_kg": 480.0 * week,
        "full_weight_kg": 500.0 * week,
        "milk_kg": 0.0 * week,
        "intake_factor": week,
        "most_ndf_kg": 6.0 * week,
        "periods": (one(start=START, days=7), one(start=START + 7 * DAY, days=7)),
    }
    return one(**{**usual, **what})


def thing(tdn: float, cp: float, nem: float = 1.0, ndf: float = 0.0, **what: Any) -> Any:
    usual = {"is_forage": bool(ndf), "dm_pct": 90.0}
    return one(tdn_pct=tdn, cp_pct=cp, nem_mcal_per_kg=nem, ndf_pct=ndf, **{**usual, **what})


#: Ten kilograms are eaten of the first hay alone, and of the second what its fiber leaves of 20.
THINGS = [thing(50.0, 9.0, 1.0, 50.0), thing(60.0, 9.0, 2.0, 40.0)]
THINGS += [thing(90.0, 9.0), thing(90.0, 34.0), thing(90.0, 33.9), thing(0.0, 0.0)]
FEEDS = [
    Feed(name, name, kind, 0.2)
    for name, kind in (
        ("corn", FeedKind.GRAIN),
        ("cake", FeedKind.SUPPLEMENT),
        ("hulls", FeedKind.SUPPLEMENT),
        ("salt", FeedKind.MINERAL),
    )
]


@pytest.fixture(autouse=True)
def _plain_appetite(monkeypatch: pytest.MonkeyPatch) -> None:
    def appetite(rule: str, weight: Any, nem: float, milk: Any, factor: Any) -> Any:
        return 10.0 * nem * factor

    def rate(kind: str, pct: Any, quality: Any) -> Any:
        return {"starch": 1.0, "protein": 0.0, "fibre": 0.5}[kind] * pct + quality / 1000.0

    monkeypatch.setattr(fill, "appetite_kg", appetite)
    monkeypatch.setattr(fill, "put_aside_rate", rate)


def filled(eaten: list[float] | None = None, hays: int = 2, **what: Any) -> FillTable:
    values = [*THINGS[:hays], *THINGS[2:]]
    sources: Any = one(
        values=values, lot_count=hays, allowed=np.ones((1, len(values), 2), dtype=bool)
    )
    amounts = None if eaten is None else np.array([[[kg, kg] for kg in eaten]])
    farm: Any = one(feeds=FEEDS)
    return fill_of(farm, herd(**what), sources, np.array([True]), amounts)


def week(found: FillTable, at: int = 0) -> Any:
    return pytest.approx(found.per_kg[0, :, at].tolist())


def test_forage_fills_by_what_is_eaten_of_it_alone_and_concentrate_by_what_it_puts_aside() -> None:
    found = filled()
    assert found.alone_kg[0, :2, 0].tolist() == [10.0, 15.0]
    assert np.isnan(found.alone_kg[0, 2:]).all()
    # Beside hay of which 12.5 kg are eaten, of 55 % TDN, at 0.3 % of weight.
    beside = [0.355 / 12.5, 0.055 / 12.5, 0.205 / 12.5, 0.0]
    assert week(found) == [0.1, 1.0 / 15.0, *beside]
    assert found.appetite_kg.tolist() == [12.5]
    assert found.shares(np.full((1, 6, 2), 2.0))[0, 0] == pytest.approx(
        2.0 * found.per_kg.sum() / 2
    )


@each_row(
    ("eaten", "corn"),
    [
        # Two kilograms are 0.4 % of weight, beside the first hay, both, or none.
        ([4.0, 0.0, 2.0], (0.4 + 0.05) / 10.0),
        ([2.0, 2.0, 2.0], (0.4 + 0.055) / 12.5),
        ([1.0, 3.0, 2.0], (0.4 + 0.0575) / 13.75),
        ([0.0, 0.0, 2.0], (0.4 + 0.055) / 12.5),
        ([4.0, 0.0, 0.0], (0.3 + 0.05) / 10.0),
        # A milligram is none.
        ([1e-6, 0.0, 2.0], (0.4 + 0.055) / 12.5),
        ([4.0, 0.0, 1e-6], (0.3 + 0.05) / 10.0),
    ],
)
def test_concentrate_puts_aside_what_is_eaten_beside_it(eaten: list[float], corn: float) -> None:
    assert filled([*eaten, 0.0, 0.0, 0.0]).per_kg[0, 2, 0] == pytest.approx(corn)


def test_concentrate_that_puts_nothing_aside_still_has_a_place(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(fill, "put_aside_rate", lambda kind, pct, quality: 0.0 * pct)
    assert filled().per_kg[0, 2:5, 0].tolist() == pytest.approx([1e-4 / 12.5] * 3)


def test_appetite_is_the_mean_of_the_weeks_with_free_access() -> None:
    away = np.array([[True, False]])
    for changed in ({"here": away}, {"stated": ~away}):
        found = filled(hays=1, **changed)
        assert found.free.tolist() == [[True, False]]
        assert found.appetite_kg.tolist() == [10.0]
        assert found.per_kg[0, :, 1].tolist() == [0.0] * 5
    assert filled(hays=1).appetite_kg.tolist() == [10.0]
    none = filled(hays=0)
    assert not none.free.any()
    assert none.appetite_kg.tolist() == [1.0]


def test_what_fills_is_the_mean_of_a_ration_by_head_days() -> None:
    per_kg = np.array([[[0.1, 0.2, 0.3, 0.4, 0.5]]])
    free = np.array([[True, True, False, True, True]])
    table = FillTable(free, per_kg, per_kg, np.ones(1))
    number = np.array([[0, 0, 0, 1, 2]])
    steady = held_steady(table, number, np.array([[1.0, 3.0, 9.0, 1.0, 1.0]]))
    assert steady.per_kg[0, 0].tolist() == pytest.approx([0.175, 0.175, 0.3, 0.4, 0.5])
    none = held_steady(table, np.array([[-1] * 5]), np.ones((1, 5)))
    assert none.per_kg.tolist() == per_kg.tolist()


# --- the yard -----------------------------------------------------------------------------


def test_months_are_counted_from_baling_and_never_backwards() -> None:
    found = _months_since(START, [START - DAY, START, START + 30 * DAY, START + 61 * DAY])
    assert found.tolist() == pytest.approx([0.0, 0.0, 30 / 30.4375, 61 / 30.4375])


@pytest.mark.parametrize(
    ("counted", "gone", "kg", "months"),
    [
        # Ten bales of 500 kg at 80 %, counted ten days before the season or five days into it.
        (-10, -2.0, 4000.0, 10.0),
        (5, -2.0, 4000.0, 0.0),
        (-10, -13.0, 0.0, 10.0),
    ],
)
def test_a_lot_is_brought_to_the_season_and_through_it(
    counted: int, gone: float, kg: float, months: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[float] = []

    def kept(storage: Any, first: Any, last: Any, rain: float, wrap: Any) -> Any:
        return 1.0 - 0.1 * (np.asarray(last) - np.asarray(first))

    monkeypatch.setattr(opening_stock, "remaining_fraction", kept)
    book = one(since_count=lambda day: gone if day == START else 99.0, lines=[])
    monkeypatch.setattr(opening_stock, "book_of", lambda *what: book)
    monkeypatch.setattr(
        opening_stock, "storage_loss_remark", lambda storage, at, *what: asked.append(at)
    )
    lot = replace(
        hay("l", 55.0, 9.0, 6.0, 60.0),
        baled_on=START - 30 * DAY,
        counted_on=START + counted * DAY,
    )
    season = one(start=START, end=START + 14 * DAY, rainfall_mm_per_year=500.0)
    farm: Any = one(season=season, moves=(), fed=())
    found = opening_stock.yard_lot(farm, lot, 80.0, herd().periods)
    assert found.start_kg_dm == pytest.approx(kg * (1.0 - 0.1 * months / 30.4375))
    assert found.kept.tolist() == pytest.approx([1.0 - 0.7 / 30.4375] * 2)
    assert (found.bale_weight_kg, found.cautions) == (500.0, ())
    opening_stock.yard_lot(farm, lot, 80.0, ())
    assert asked == pytest.approx([44 / 30.4375] * 2)


def test_no_rain_told_is_the_humid_end() -> None:
    assert _rainfall(one(rainfall_mm_per_year=0.0)) == (0.0, ())
    rain, (note,) = _rainfall(one(rainfall_mm_per_year=None))
    assert rain == 1016.0
    assert note.sentence


LOT: Any = one(lot_id="l", name="Lot", counted_on=START - 10 * DAY)


def logged(fed: list[tuple[int, str]], moves: list[tuple[int, str, str, MoveKind]]) -> Any:
    return one(
        season=one(start=START),
        fed=[FedRow(START + day * DAY, source, "g", mass_kg=1.0) for day, source in fed],
        moves=[
            one(day=START + day * DAY, lot_id=lot, to_lot_id=to, kind=kind)
            for day, lot, to, kind in moves
        ],
    )


@each_row(
    ("fed", "moves", "notes"),
    [
        ([(-11, "l"), (0, "l"), (-5, "x")], [], 0),
        ([(-10, "l")], [], 1),
        ([(-1, "l")], [], 1),
        ([], [(-5, "l", "", MoveKind.SOLD), (-1, "x", "l", MoveKind.SOLD)], 1),
        ([], [(-5, "l", "", MoveKind.CORED), (0, "l", "", MoveKind.SOLD)], 0),
        ([], [(-11, "x", "l", MoveKind.SOLD), (-5, "x", "y", MoveKind.SOLD)], 0),
        ([(-10, "l")], [(-10, "l", "", MoveKind.SOLD)], 2),
    ],
)
def test_what_was_fed_or_moved_since_the_count_is_told(fed: Any, moves: Any, notes: int) -> None:
    assert len(_log_notes(logged(fed, moves), LOT)) == notes


@pytest.mark.parametrize(
    ("fed", "missing", "said"),
    [
        ([(-1, "l"), (0, "x")], [(-11, "missing"), (0, "missing"), (-1, "fed")], 0),
        ([(0, "l"), (3, "l")], [], 1),
        ([], [(-10, "missing")], 1),
        ([], [(-1, "missing")], 1),
    ],
)
def test_late_entries_and_bales_that_were_not_there_are_told(
    fed: Any, missing: Any, said: int
) -> None:
    book: Any = one(lines=[one(kind=kind, day=START + day * DAY) for day, kind in missing])
    found = _log_cautions(logged(fed, []), LOT, book)
    assert len(found) == said
    assert not fed or not said or "2" in found[0].sentence


# --- what a class asks --------------------------------------------------------------------

EWES, COWS, RAMS = (
    Group(name, name, kind, 10, kg)
    for name, kind, kg in (
        ("Ewes", AnimalClass.EWE, 70.0),
        ("Cows", AnimalClass.COW, 500.0),
        ("Rams", AnimalClass.RAM, 90.0),
    )
)


def test_a_class_asks_calcium_and_forage_beside_what_is_stated() -> None:
    assert [least_ca_to_p(RAMS, of_farm) for of_farm in (1.0, 3.0)] == [2.0, 3.0]
    assert [least_ca_to_p(COWS, of_farm) for of_farm in (1.0, 3.0)] == [1.0, 3.0]
    weight = np.array([500.0])
    assert least_forage_kg(COWS, weight, 1.5).tolist() == [7.5]
    horse = Group("h", "Horse", AnimalClass.HORSE, 1, 500.0)
    assert least_forage_kg(horse, weight, None).tolist() == [
        class_limits.floors_of(horse).forage_pct_bw * 5.0
    ]
    assert [mineral_kg(EWES, kg) for kg in (0.1, 0.02)] == [0.02835, 0.02]
    assert mineral_kg(COWS, 0.1) == 0.1
    assert least_cp_frac(EWES) == pytest.approx(0.07)


def test_fiber_fills_cattle_by_weight_and_others_where_their_rule_has_a_cap(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    series: Any = one(full_weight_kg=np.array([500.0, 500.0]), intake_rule=("some", "none"))
    caps = {"some": 1.5, "none": np.inf}
    monkeypatch.setattr(class_limits, "ndf_cap_pct_bw", caps.get)
    assert most_ndf_kg(COWS, series).tolist() == pytest.approx([6.0, 6.0])
    found = most_ndf_kg(EWES, series)
    assert found[0] == pytest.approx(7.5)
    assert np.isnan(found[1])


@pytest.mark.parametrize(
    ("spans", "binds"),
    [
        (None, [False, False]),
        ((), [True, True]),
        (((0, 1),), [True, False]),
        (((6, 7),), [True, False]),
        (((7, 8),), [False, True]),
        (((6, 8),), [True, True]),
        (((14, 20), (-3, 0)), [False, False]),
    ],
)
def test_a_rule_of_the_diet_binds_in_the_weeks_it_has_a_day_of(
    spans: Any, binds: list[bool], monkeypatch: pytest.MonkeyPatch
) -> None:
    days = spans and tuple((START + a * DAY, START + b * DAY) for a, b in spans)
    monkeypatch.setattr(class_limits, "diet_spans", lambda *what: days)
    farm: Any = one(groups=[EWES])
    assert bound_in("rule", farm, herd().periods).tolist() == [binds]


def test_shares_of_the_diet_are_asked_by_rules_and_by_needs(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    binds = {"milk-fever-calcium": [True, True], "magnesium-sheep": [True, True]}
    none = np.array([[False, False]])
    monkeypatch.setattr(
        class_limits, "bound_in", lambda rule, *what: np.array([binds.get(rule, none[0])])
    )
    amounts = {"milk-fever-calcium": 0.4, "magnesium-sheep": 0.12, "tetany-magnesium-ewes": 0.18}
    amounts["forage-half"] = 50.0
    monkeypatch.setattr(class_limits, "amount_of", amounts.get)
    series: Any = one(stage=("a", "b"), dry_matter_kg=np.array([10.0, 10.0]), more={})
    series.constituent = lambda name: None
    farm: Any = one(groups=[EWES])

    def floors(*own: bool) -> dict[str, list[float]]:
        found = floors_g_per_kg(farm, herd().periods, [series], np.array([own]))
        return {name: np.round(value[0], 9).tolist() for name, value in found.items()}

    minerals = {"ca_floor": [4.0, 4.0], "mg": [1.2, 1.2]}
    assert {name: floors(False, False)[name] for name in minerals} == minerals
    assert np.isnan(floors(False, False)["forage_share"]).all()
    binds["forage-half"] = [False, True]
    assert floors(False, False)["forage_share"][1] == 0.5
    ours = floors(False, True)
    assert (ours["ca_floor"], ours["mg"][0]) == ([4.0, 4.0], 1.2)
    assert np.isnan(ours["mg"][1]), "the folder states what they need itself"
    binds["tetany-magnesium-ewes"] = [False, True]
    assert floors(False, False)["mg"] == [1.2, 1.8]
    # A class that is told grams a head asks them of its dry matter.
    series.constituent = lambda name: np.array([15.0, 20.0])
    assert floors(False, False)["mg"] == [1.5, 2.0]
    series.more = {"usual_hay_dm_kg": np.array([5.0, 20.0])}
    assert floors(False, False)["mg"] == [3.0, 1.8]


@pytest.mark.parametrize(
    ("caps", "ratio", "said"),
    [
        ([1.5], 2.0, ["1.5", "2"]),
        ([1.5, 1.8, 1.2], 1.0, ["1.2 to 1.8"]),
        ([np.inf], 1.1, ["1.1"]),
        ([np.inf], 1.0, []),
    ],
)
def test_what_is_taken_for_granted_of_a_class_is_told(
    caps: list[float], ratio: float, said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(class_limits, "ndf_cap_pct_bw", lambda rule: caps[int(rule)])
    monkeypatch.setattr(class_limits, "floors_of", lambda group: one(ca_to_p=ratio))
    farm: Any = one(groups=[COWS, EWES])
    series: Any = one(intake_rule=[str(at) for at in range(len(caps))])
    computed = np.array([[True], [True]])
    notes = [each.sentence for each in class_notes(farm, computed, [series, series])]
    assert len(notes) == len(said)
    assert all(word in note for word, note in zip(said, notes, strict=True))
    assert class_notes(farm, ~computed, [series, series]) == []


# --- limits of lots and feeds -------------------------------------------------------------


def test_a_mineral_rich_in_copper_is_never_forced_on_goats() -> None:
    does = Group("d", "Does", AnimalClass.DOE, 10, 60.0)
    for ppm, forced in ((40.0, True), (40.1, False), (None, True)):
        feed = Feed("m", "M", FeedKind.MINERAL, 0.9, least_kg_per_head_day=0.02, copper_ppm=ppm)
        farm: Any = one(groups=[does, COWS], lots=[], feeds=[feed])
        value: Any = one(
            dm_pct=90.0, fat_pct=None, starch_pct=None, npn_cp_pct=None, copper_ppm=ppm
        )
        season, due = herd(own=np.array([[False]] * 2), periods=(one(),)), np.ones((2, 1, 1))
        found, said = least_on_offer(farm, [value], season, due, np.array([9.0]))
        assert (found[:, 0, 0] > 0.0).tolist() == [forced, True], ppm
        assert ["Do not leave M out for Does" in each.sentence for each in said] == [True] * (
            not forced
        )


def mineral(most_buy: float, least: float | None = 0.1, own: bool = False) -> Any:
    """Offer a mineral to ten cows and ten ewes for a week."""
    feeds = [Feed("m", "Mineral", FeedKind.MINERAL, 0.9, least_kg_per_head_day=least)]
    farm: Any = one(groups=[COWS, EWES], lots=[one()], feeds=feeds)
    value = one(dm_pct=90.0, fat_pct=None, starch_pct=None, npn_cp_pct=None, copper_ppm=None)
    due = np.full((2, 2, 1), 70.0)
    season = herd(own=np.array([[own], [False]]), periods=(one(),))
    found, said = least_on_offer(farm, [value, value], season, due, np.array([most_buy]))
    return found[:, :, 0].tolist(), said


def test_a_mineral_on_offer_is_shared_evenly_where_it_is_scarce() -> None:
    cow, ewe = 0.1 * 0.9, 0.02835 * 0.9
    all_of_it = 70.0 * (cow + ewe)
    found, said = mineral(all_of_it)
    assert (found, said) == ([[0.0, pytest.approx(cow)], [0.0, pytest.approx(ewe)]], [])
    found, said = mineral(0.5 * all_of_it)
    assert found == [[0.0, pytest.approx(0.5 * cow)], [0.0, pytest.approx(0.5 * ewe)]]
    assert "50" in said[0].sentence
    assert mineral(0.0011 * all_of_it)[0][0][1] == pytest.approx(0.0011 * cow)
    for share in (0.001, 0.00099):
        assert mineral(share * (70.0 * cow + 70.0 * ewe))[0][0][1] == 0.0
    assert mineral(9.0, None) == ([[0.0, 0.0], [0.0, 0.0]], [])
    assert mineral(9.0, own=True)[0][0][1] == 0.0


@each_row(
    ("feed", "cow", "ewe"),
    [
        (Feed("f", "F", FeedKind.MINERAL, 0.9), 0.113398 * 0.9, 0.113398 * 0.9),
        (Feed("f", "F", FeedKind.MINERAL, 0.9, least_kg_per_head_day=0.2), 0.18, 0.18),
        (Feed("f", "F", FeedKind.GRAIN, 0.2), 2.5, 0.35),
        (Feed("f", "F", FeedKind.GRAIN, 0.2, most_kg_per_head_day=4.0), 3.6, 0.35),
        (Feed("f", "F", FeedKind.GRAIN, 0.2, most_kg_per_head_day=0.1), 0.09, 0.09),
        (Feed("f", "F", FeedKind.SUPPLEMENT, 0.2, most_kg_per_head_day=4.0), 3.6, 3.6),
        (Feed("f", "F", FeedKind.SUPPLEMENT, 0.2), np.inf, np.inf),
    ],
)
def test_the_most_of_a_feed_a_head(feed: Feed, cow: float, ewe: float) -> None:
    farm: Any = one(groups=[COWS, EWES], lots=[one()], feeds=[feed])
    season = herd(full_weight_kg=np.array([[500.0], [70.0]]), periods=(one(),))
    values: Any = [one(dm_pct=90.0)] * 2

    def most(*bound: Any) -> Any:
        return most_a_head(farm, values, season, bound)[:, :, 0].tolist()

    assert most() == [[np.inf, pytest.approx(cow)], [np.inf, pytest.approx(ewe)]]
    rule = {"group_id": "Cows", "source_id": "f", "rule": one(demand="pct_bw", amount=0.01)}
    assert most(one(**rule))[0] == [np.inf, pytest.approx(min(cow, 0.05))]
    assert most(one(**rule))[1][1] == pytest.approx(ewe)
    assert most(one(**{**rule, "source_id": "lot"}))[0][1] == pytest.approx(cow)
    assert most(one(**{**rule, "rule": one(demand="share")}))[0][1] == pytest.approx(cow)


def test_a_share_holds_where_its_rule_holds() -> None:
    lot = one(lot_id="l", feed_from=START + 7 * DAY, feed_by=None)
    feed = Feed("f", "F", FeedKind.SUPPLEMENT, 0.2, to_on=START + 13 * DAY)
    farm: Any = one(groups=[COWS, EWES], lots=[lot], feeds=[feed])
    season = herd(full_weight_kg=np.array([[99.0, 100.0], [50.0, 50.0]]))

    def shares(most: float, demand: str = "share", first: int = 0) -> Any:
        rule = one(demand=demand, most_share=most)
        held = {"holds": lambda start, days: start >= START + first * DAY}
        bound = [one(group_id="Cows", source_id="f", rule=rule, **held)]
        share, allowed = source_limits.shares_and_allowed(farm, season, bound)
        assert share[1].tolist() == [[1.0, 1.0]] * 2
        assert allowed[1].tolist() == [[False, True], [True, False]]
        return share[0, 1].tolist(), allowed[0, 1].tolist()

    assert shares(0.25) == ([0.25, 0.25], [True, False])
    assert shares(0.25, first=7) == ([1.0, 0.25], [True, False])
    assert shares(0.0, "none") == ([0.0, 0.0], [False, False])
    assert shares(0.25, "keep") == ([1.0, 1.0], [True, False])


@pytest.mark.parametrize(("starch", "refused"), [(None, False), (10.0, False), (10.1, True)])
def test_a_mineral_on_offer_holds_little_starch(starch: float | None, refused: bool) -> None:
    value: Any = one(fat_pct=None, starch_pct=starch, npn_cp_pct=0.0)
    block = Feed("m", "Block", FeedKind.MINERAL, 0.9)
    if not refused:
        source_limits._refuse_meal(block, value)
        return
    with pytest.raises(OutOfRange, match=r"10\.1% starch, more than the 10%"):
        source_limits._refuse_meal(block, value)


def test_who_wastes_alike_is_named_up_to_three(monkeypatch: pytest.MonkeyPatch) -> None:
    def said(count: int, **what: Any) -> list[str]:
        groups = [
            Group(str(g), f"Herd{g}", AnimalClass.COW, 10, 500.0, **what) for g in range(count)
        ]
        packages = [source_limits.Package.ROUND]
        farm: Any = one(groups=groups)
        return [each.sentence for each in _loss_notes(farm, packages)]

    (three,) = said(3)
    assert "Herd0, Herd1, Herd2" in three
    (four,) = said(4)
    assert "4 groups" in four
    assert said(3, feeding_loss_pct=5.0) == []
    assert said(1, feeder=source_limits.Feeder.OPEN_RING) != said(1)


def test_hay_without_a_value_is_worth_the_mean_of_the_others() -> None:
    lots: Any = [one(name=name, value_usd_per_kg=usd) for name, usd in (("a", 0.08), ("b", None))]
    profiles: Any = [one(dm_pct=80.0), one(dm_pct=90.0)]
    prices, notes = lot_prices(lots, profiles)
    assert (prices, len(notes)) == ([pytest.approx(0.1)] * 2, 1)
    assert "mean value of the other lots" in notes[0].sentence
    prices, notes = lot_prices(lots[1:], profiles[1:])
    assert prices == [pytest.approx(120.0 / 907.18474)]
    assert "$120 a short ton" in notes[0].sentence


@pytest.mark.parametrize(
    ("rdp", "rup", "found"), [(60.0, 30.0, 60.0), (None, 30.0, 70.0), (None, None, None)]
)
def test_degradable_protein_is_what_is_left(
    rdp: float | None, rup: float | None, found: float | None
) -> None:
    assert _degradable(rdp, rup) == found


@each_row(
    ("starch", "cp", "ndf", "room"),
    [
        (None, 29.9, 20.0, 60.0 * 0.3),
        (None, 30.0, 20.0, 0.0),
        (None, 29.9, 19.9, 0.0),
        (72.1, 9.0, 10.0, 60.0 * 0.7),
        (36.05, 9.0, 20.0, 60.0 * (0.35 + 0.15)),
        (99.0, 9.0, 10.0, 60.0 * 0.7),
    ],
)
def test_concentrate_takes_the_room_of_hay(
    starch: float | None, cp: float, ndf: float, room: float
) -> None:
    value: Any = one(is_forage=False, starch_pct=starch, cp_pct=cp, ndf_pct=ndf)
    assert room_pct(value) == pytest.approx(room, rel=0.02)
    assert room_pct(one(is_forage=True, ndf_pct=55.0)) == 55.0  # type: ignore[arg-type]


# --- what was fed before ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rows", "kg"),
    [
        ([(-7, 70.0), (-1, 70.0)], 2.0),
        ([(-8, 70.0), (0, 70.0)], 0.0),
        ([(-1, None)], 0.0),
    ],
)
def test_a_head_knows_the_mean_of_the_week_before(rows: Any, kg: float) -> None:
    fed = [FedRow(START + day * DAY, "s", "Cows", mass_kg=mass) for day, mass in rows]
    fed += [FedRow(START - DAY, "s", "Ewes", mass_kg=9.0), FedRow(START - DAY, "t", "Cows", 9.0)]
    farm: Any = one(season=one(start=START), fed=fed)
    assert daily_before_kg(farm, COWS, "s") == pytest.approx(kg)


@each_row(
    ("back", "period_days", "begun"),
    [(7, 7, True), (8, 7, False), (7, 1, True), (10, 10, True), (11, 10, False), (0, 7, False)],
)
def test_a_hay_is_open_that_was_fed_in_the_last_week_or_period(
    back: int, period_days: int, begun: bool
) -> None:
    fed = [FedRow(START - back * DAY, "s", "Cows", mass_kg=1.0)]
    fed += [FedRow(START - DAY, "s", "gone", 1.0), FedRow(START - DAY, "gone", "Cows", 1.0)]
    season = one(start=START, period_days=period_days)
    farm: Any = one(groups=[EWES, COWS], season=season, fed=fed)
    sources: Any = one(values=[one(source_id="r"), one(source_id="s")])
    assert open_before(farm, sources).tolist() == [[False, False], [False, begun]]


@pytest.mark.parametrize(
    ("first", "last", "days"),
    [
        (None, None, [7, 7]),
        (3, None, [4, 7]),
        (None, 10, [7, 3]),
        (9, 11, [0, 2]),
        (20, 30, [0, 0]),
    ],
)
def test_days_of_a_group_are_those_on_which_it_is_here(
    first: int | None, last: int | None, days: list[int]
) -> None:
    group: Any = one(
        from_on=None if first is None else START + first * DAY,
        to_on=None if last is None else START + last * DAY,
    )
    periods: Any = [one(index=t, start=START + 7 * t * DAY, days=7) for t in range(2)]
    assert needs._days_present([group], periods).tolist() == [days]


def test_what_is_not_known_of_a_feed_counts_for_nothing_and_is_told() -> None:
    value, notes = feed_values(
        Feed("f", "F", FeedKind.GRAIN, 0.3, tdn_pct=80.0), one(grain_on_hay=True)
    )
    assert (value.cp_pct, value.ca_pct, value.p_pct) == (0.0, 0.0, 0.0)
    assert (value.dm_pct, value.tdn_pct, value.usd_per_kg_dm) == (100.0, 80.0, 0.3)
    assert any("protein" in note.sentence and "TDN" not in note.sentence for note in notes)


@pytest.mark.parametrize(("times", "at_once"), [(1.0, True), (1.0000005, True), (1.00001, False)])
def test_a_rise_of_what_is_free_comes_at_once(times: float, at_once: bool) -> None:
    pace, weight = Pace(14, 9.0), np.full(7, 500.0)
    wanted = np.full(7, times * float(pace.free_kg(weight)[0]))
    for found in (
        held_back(wanted, weight, pace),
        raised_slowly(wanted, weight, np.zeros(7, dtype=int), pace),
    ):
        assert (found[0] == wanted[0]) == at_once


@pytest.mark.parametrize(
    ("name", "seed"),
    [("Whole soybeans", True), ("Whole oats", False), ("Soybean meal", False), ("Corn", False)],
)
def test_an_oilseed_is_whole_and_a_seed_of_oil(name: str, seed: bool) -> None:
    assert diet_ceilings.is_oilseed(Feed("f", name, FeedKind.SUPPLEMENT, 0.2)) is seed


def test_potassium_that_is_known_counts_by_the_gram_before_calving() -> None:
    work: Any = object.__new__(diet_ceilings._Work)
    work.sources = one(values=[one(potassium_pct=2.0), one(potassium_pct=None)])
    work.shape = (1, 2)
    work._binds = lambda rule_id: np.array([[True, False]])
    work._ceiling = lambda *parts: parts
    name, amount, known, share, *_ = work.milk_fever()
    assert (name, amount.tolist(), known.tolist()) == ("milk_fever", [20.0, 0.0], [1.0, 0.0])
    assert np.isfinite(share).tolist() == [[True, False]]


def test_urea_counts_as_that_of_nearly_three_times_its_protein() -> None:
    """A fifth of the crude protein as that of urea of 281 % protein; horses have their own rule."""
    work: Any = object.__new__(diet_ceilings._Work)
    work.sources = one(values=[one(cp_pct=50.0)])
    work.shape, work.horses = (2, 1), np.array([[False], [True]])
    work._counted = lambda name: (np.array([20.0]), np.array([1.0]))
    work._ceiling = lambda *parts: parts
    (_, amount, against, third, _), (_, urea, whole, share, _) = work.urea()
    assert (amount.tolist(), against.tolist(), whole.tolist()) == ([0.2], [0.5], [1.0])
    assert urea.tolist() == pytest.approx([0.2 / 2.81])
    assert third[0, 0] == pytest.approx(1.0 / 3.0)
    assert share[0, 0] == pytest.approx(0.01)
    assert np.isnan([third[1, 0], share[1, 0]]).all()


@pytest.mark.parametrize(
    ("cold", "used_to", "eats", "said"),
    [
        (ColdRule.NONE, False, False, "no way to count the cold"),
        (ColdRule.NONE, True, False, "no weather"),
        (ColdRule.NONE, False, True, "no weather"),
        (next(rule for rule in ColdRule if rule is not ColdRule.NONE), False, False, "no weather"),
    ],
)
def test_a_winter_that_changes_nothing_is_told_with_what_is_missing(
    cold: ColdRule, used_to: bool, eats: bool, said: str
) -> None:
    season = one(winter=Winter.SEVERE, cold_rule=cold, acclimatise=used_to, intake_by_weather=eats)
    (note,) = needs_by_period._idle_winter(one(season=season, weather=()))
    assert said in note.sentence
    known = needs_by_period._idle_winter(one(season=season, weather=(one(),)))
    assert bool(known) is (said != "no weather")


@pytest.mark.parametrize(("last", "fed"), [(12, [True, False]), (13, [True, True])])
def test_a_hay_may_be_fed_on_its_last_day(last: int, fed: list[bool]) -> None:
    lot = one(lot_id="l", feed_from=None, feed_by=START + last * DAY)
    farm: Any = one(groups=[COWS], lots=[lot], feeds=[])
    assert source_limits.shares_and_allowed(farm, herd(), [])[1].tolist() == [[fed]]
