"""Each class of a hazard has its own word, up to the limit that its table prints."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from rickyard.evidence import COMMON_PRACTICE, JUDGEMENT
from rickyard.farm import Analyte, Basis, Feed, FeedKind, Forage, Lot, Package, Report, Storage
from rickyard.forage.energy.lot_energy import lot_energy
from rickyard.forage.energy.tdn import TdnMethod
from rickyard.forage.hazards.baleage import fermentation_hazards
from rickyard.forage.hazards.every_hazard import horse_hazards
from rickyard.forage.hazards.hazard import Hazard
from rickyard.forage.hazards.minerals import (
    sulfur_hazards,
    total_sulfur_pct,
    trace_mineral_hazards,
    water_sulfur_pct,
)
from rickyard.forage.hazards.molds import endophyte_hazards, mold_hazards
from rickyard.forage.hazards.poisons import diet_no3n_ppm
from rickyard.forage.plausibility import rule_tests
from rickyard.forage.plausibility.profile import lot_profile
from rickyard.forage.reading.lot_hazards import lot_hazards
from rickyard.forage.uncertainty.lot_error import lot_measured
from rickyard.forage.uncertainty.repeat_tests import Repeated, repeat_sentence
from rickyard.forage.uncertainty.suitability import DENSITY_NEEDS, gap_words
from rickyard.forage.uncertainty.typical import TypicalValue, _stages_of
from rickyard.forage.uncertainty.uncertainty import Measured, sampling_sd
from rickyard.forage.values.classes import CLASS_TABLES
from rickyard.forage.values.columns import plain_columns
from rickyard.forage.values.feed_names import _rank, _single, find_feeds
from rickyard.forage.values.nitrate import nitrate_share_limit
from rickyard.forage.values.samples import column_values, sample_values
from rickyard.forage.values.screens import Limits, screens_from_results
from rickyard.match.nutrient_value import _as_fed, prices_of_feeds
from rickyard.quantities import OutOfRange
from rickyard.safety.rule import rules
from support.rows import each_row

LOT = Lot(
    *("L", "Hill", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0),
    *(date(2026, 6, 1), date(2026, 10, 1)),
)
BALEAGE = replace(LOT, package=Package.BALEAGE, storage=Storage.WRAPPED)


def a(
    name: str, value: float | None, unit: str = "pct", basis: Basis = Basis.DRY_MATTER
) -> Analyte:
    return Analyte(name, value, unit, basis)


def keys(found: Iterator[Hazard] | tuple[Hazard, ...], *among: str) -> list[str]:
    return [one.key for one in found if not among or one.key in among]


def of_lot(lot: Lot, *printed: Analyte) -> tuple[Hazard, ...]:
    return lot_hazards(lot, lot_profile(lot, [Report("R", "L", printed)]))


#: The table of classes, what is told of a value, and the word for each class from the lowest.
TOLD: dict[str, tuple[Callable[[float], list[str]], tuple[str, ...]]] = {
    "sulfur": (lambda x: keys(sulfur_hazards("", x)), ("", "", "sulfur_high", "sulfur_too_much")),
    "selenium": (
        lambda x: keys(trace_mineral_hazards("", {"se": x})),
        ("selenium_short", "selenium_short", "", "selenium_toxic"),
    ),
    "butyric_acid": (
        lambda x: keys(fermentation_hazards("", {"butyric": x})),
        ("", "butyric_acid"),
    ),
    "lactic_acid": (lambda x: keys(fermentation_hazards("", {"lactic": x})), ("lactic_acid", "")),
    "nsc_horse": (
        lambda x: keys(horse_hazards(LOT, {"starch": 5.0, "wsc": x - 5.0, "nsc": 0.0})),
        ("", "", "sugar", "sugar"),
    ),
    "hcn": (
        lambda x: keys(of_lot(LOT, a("hcn", x, "ppm"))),
        ("", "prussic_acid_toxic", "prussic_acid_deadly"),
    ),
    "copper": (
        lambda x: keys(trace_mineral_hazards("", {"cu": x, "s": 0.3})),
        ("copper_short", ""),
    ),
    "copper_for_sheep": (
        lambda x: keys(trace_mineral_hazards("", {"cu": x, "mo": 0.9}), "copper_for_sheep"),
        ("", "copper_for_sheep"),
    ),
    "ash_from_soil": (lambda x: keys(of_lot(LOT, a("ash", 6.0 + x))), ("", "soil")),
}


@each_row("name", TOLD)
def test_a_hazard_is_told_by_the_class_of_its_value(name: str) -> None:
    told, words = TOLD[name]
    table = CLASS_TABLES[name]
    for place, limit in enumerate(table.limits):
        # A limit marked with > in the table stands a hair above what is printed.
        for value in (0.999 * limit, limit, 1.001 * limit):
            key = words[table.place(value)]
            assert [one for one in told(value) if one in words] == ([key] if key else []), place


@pytest.mark.parametrize(
    ("sulfur", "iron", "short"), [(0.25, 250.0, 0), (0.26, 0.0, 1), (0.0, 251.0, 1)]
)
def test_sulfur_or_iron_locks_little_copper(sulfur: float, iron: float, short: int) -> None:
    """From memory: above 0.25 % of sulfur or 250 ppm of iron."""
    found = keys(trace_mineral_hazards("", {"cu": 6.0, "s": sulfur, "fe": iron}))
    assert found.count("copper_short") == short
    assert keys(trace_mineral_hazards("", {"cu": 6.0})) == []


@pytest.mark.parametrize(("mo", "told"), [(0.99, ["copper_for_sheep"]), (1.0, [])])
def test_copper_poisons_sheep_where_molybdenum_is_below_one(mo: float, told: list[str]) -> None:
    assert keys(trace_mineral_hazards("", {"cu": 20.0, "mo": mo})) == told


def test_a_little_molybdenum_counts_beside_less_copper() -> None:
    assert keys(trace_mineral_hazards("", {"cu": 0.1, "mo": 0.05, "s": 0.0})) == ["molybdenum"]
    assert keys(trace_mineral_hazards("", {"cu": 0.1, "mo": 0.0})) == []


def test_what_is_not_printed_is_no_poison_and_what_is_counts_from_nothing() -> None:
    assert keys(mold_hazards("", {})) == keys(endophyte_hazards("", {})) == []
    assert keys(mold_hazards("", {"zearalenone": 0.05})) == ["mold_poison_without_level"]
    assert keys(mold_hazards("", {"zearalenone": 0.0})) == []
    assert keys(endophyte_hazards("", {"ergovaline": 0.05 / 1000.0})) == ["ergovaline"]
    assert keys(horse_hazards(LOT, {"starch": 15.0})) == []
    assert keys(horse_hazards(LOT, {"starch": 15.0, "nsc": 9.0})) == []


@each_row(
    ("ph", "dm", "forage", "key"),
    [
        (4.5, 45.0, Forage.COOL_GRASS, ""),
        (4.51, 45.0, Forage.COOL_GRASS, "ph_watch"),
        (5.0, 45.0, Forage.COOL_GRASS, "ph_watch"),
        (5.01, 45.0, Forage.COOL_GRASS, "ph_doubtful"),
        (5.49, 45.0, Forage.SMALL_GRAIN, "ph_doubtful"),
        (5.51, 45.0, Forage.SMALL_GRAIN, "ph_small_grain"),
        (5.51, 45.0, Forage.COOL_GRASS, "ph_doubtful"),
    ],
)
def test_the_acidity_of_wrapped_bales(ph: float, dm: float, forage: Forage, key: str) -> None:
    """University of Kentucky baleage advice."""
    lot = replace(BALEAGE, forage=forage)
    printed = (a("ph", ph, "", Basis.NONE), a("dm", dm, "pct", Basis.AS_RECEIVED))
    found = [one for one in keys(of_lot(lot, *printed)) if one.startswith("ph_")]
    assert found == ([key] if key else [])


@each_row(
    ("ppm", "level"),
    [
        (699.9, None),
        (700.0, "note"),
        (999.0, "note"),
        (1000.0, "note"),
        (1000.1, "warning"),
        (2000.0, "danger"),
    ],
)
def test_nitrate_is_a_warning_above_what_a_whole_diet_may_hold(
    ppm: float, level: str | None
) -> None:
    found = [one.level for one in of_lot(LOT, a("nitrate_no3n", ppm, "ppm"))]
    assert found == ([] if level is None else [level])


def test_the_shares_of_nitrate_are_those_printed() -> None:
    """Clemson and, for pregnant stock, the stricter of it and ServiTech."""
    middle = np.array([500.0, 1200.0, 1700.0, 2500.0, 3700.0, 4500.0, np.nan])
    others = np.asarray(nitrate_share_limit(middle, pregnant=False))
    assert others.tolist()[:-1] == [1.0, 1.0, 0.5, 0.35, 0.25, 0.0]
    pregnant = np.asarray(nitrate_share_limit(np.append(middle, [650.0, 750.0]), pregnant=True))
    assert pregnant.tolist()[:6] == [1.0, 0.5, 0.25, 0.0, 0.0, 0.0]
    assert pregnant.tolist()[7:] == [1.0, 0.5]
    assert np.isnan(others[-1])


def test_water_and_feed_come_together_in_the_diet() -> None:
    """A third of sulfate is sulfur; what is not drunk adds nothing."""
    assert total_sulfur_pct(0.2, 500.0, 2.0, 0.0, 1500.0) == pytest.approx(0.2)
    assert water_sulfur_pct(0.05, 3000.0, 0.05) == pytest.approx(0.1, rel=0.01)
    assert diet_no3n_ppm([1.0], [900.0], intake_kg_per_day=0.05) == pytest.approx(900.0)
    for intake in (0.0, -1.0):
        with pytest.raises(OutOfRange):
            water_sulfur_pct(40.0, 500.0, intake)
        with pytest.raises(OutOfRange):
            diet_no3n_ppm([1.0], [900.0], intake_kg_per_day=intake)


# Values and energy -----------------------------------------------------------------------------


def test_energy_that_fiber_makes_less_than_nothing_is_not_counted() -> None:
    found = lot_energy("Hill", Forage.COOL_GRASS, {"adf": 130.0, "ndf": 95.0, "cp": 5.0})
    assert found.method is TdnMethod.BOOK
    small = lot_energy("Hill", Forage.COOL_GRASS, {"adf": 40.0, "ndf": 60.0, "cp": 9.0})
    assert small.method is not TdnMethod.BOOK


@pytest.mark.parametrize(("dm", "counts"), [(1.0, False), (1.05, True), (100.0, True)])
def test_a_dry_matter_up_to_one_is_a_fraction_and_none_to_restate_by(
    dm: float, counts: bool
) -> None:
    printed = (a("dm", dm, "pct", Basis.AS_RECEIVED), a("cp", 0.5, "pct", Basis.AS_RECEIVED))
    assert ("cp" in sample_values(Report("R", "L", printed)).values) is counts


def test_a_share_of_what_is_not_printed_cannot_be_turned() -> None:
    share = a("adicp", 8.0, "pct", Basis.NONE)
    for protein, used in ((None, False), (0.0, False), (0.05, True)):
        printed = (share,) if protein is None else (share, a("cp", protein))
        found = sample_values(Report("R", "L", printed))
        assert ("adicp" in found.values) is used
    lacking = Report("R", "L", (a("cp", 9.0, "pct", Basis.AS_RECEIVED),))
    assert column_values(lacking)["dm_missing"] == 1.0
    empty = Report("R", "L", (a("cp", None, "pct", Basis.AS_RECEIVED),))
    assert "dm_missing" not in column_values(empty)


def test_too_many_to_count_is_no_number_but_of_what_is_counted() -> None:
    many = Analyte("mold", None, "cfu_per_g", Basis.AS_RECEIVED, text="TNTC")
    assert sample_values(Report("R", "L", (many,))).values["mold"] == float("inf")
    for one in (replace(many, text="x"), replace(many, name="cp", unit="pct")):
        assert sample_values(Report("R", "L", (one,))).values == {}


# Feeds by name ---------------------------------------------------------------------------------


def test_a_feed_is_found_by_its_name_then_without_its_water_then_among_others() -> None:
    silage = find_feeds("corn silage")[0].row.table_id
    asked = ("corn silage", "wet corn silage", "silage corn", "oat")
    assert [_rank(silage, tuple(one.split())) for one in asked] == [0, 1, 2, None]
    assert [one.exact for one in find_feeds("corn silage")] == [True]
    assert not any(one.exact for one in find_feeds("silage corn"))
    assert not any(one.exact for one in find_feeds("cron silaj"))


def test_plurals_of_more_than_three_letters_are_one_with_their_singular() -> None:
    assert [_single(one) for one in ("oats", "gas", "hays", "grass", "as")] == [
        *("oat", "gas", "hay", "grass", "as")
    ]


# Repeats and rows of the book ------------------------------------------------------------------


def test_two_tests_that_differ_just_by_what_error_explains_agree() -> None:
    test = Measured.normal(12.0, 0.5, "%", "")
    assert [Repeated(test, one, 1.4).agree for one in (1.4, -1.4, 1.41)] == [True, True, False]


def test_a_value_that_one_of_two_tests_lacks_is_not_compared() -> None:
    def tested(name: str, on: date, **values: float) -> Report:
        return Report(
            name, "L", tuple(a(one, value) for one, value in values.items()), on, cores=20
        )

    old = tested("R1", date(2026, 8, 1), cp=10.0, adf=0.05, ndf=60.0)
    new = tested("R2", date(2026, 9, 1), cp=10.2, adf=0.06)
    profile = lot_profile(LOT, (old, new))
    assert profile.report_id == "R2"
    for lot in (LOT, replace(LOT, bales=1.0)):
        said = repeat_sentence(lot, (old, new))
        assert "protein" in said
        assert "NDF" not in said
        assert "ADF" in said
    assert repeat_sentence(LOT, (old,)) == ""


def test_a_stage_of_the_book_has_both_protein_and_fiber() -> None:
    def value(quantity: str, mean: float | None) -> TypicalValue:
        return TypicalValue(
            *("row", "cool_grass", "brome", "bloom", True, quantity, mean, None, None, None),
            *("", "seen", "a book"),
        )

    assert len(_stages_of([value("cp", 10.0), value("ndf", 60.0)])) == 1
    assert _stages_of([value("cp", None), value("ndf", 60.0)]) == ()
    assert _stages_of([value("cp", 10.0), value("ndf", None)]) == ()
    assert _stages_of([value("cp", 10.0)]) == _stages_of([value("ndf", 60.0)]) == ()


def test_a_sample_holds_one_core_at_least() -> None:
    assert sampling_sd("cp", 12.0, 1.0) > sampling_sd("cp", 12.0, 2.0)
    assert sampling_sd("cp", 12.0, 20.0, 20.0) == 0.0
    with pytest.raises(OutOfRange):
        sampling_sd("cp", 12.0, 0.9)


def test_water_without_nitrate_and_nitrate_without_water_add_nothing() -> None:
    assert diet_no3n_ppm([1.0], [900.0], water_no3n_mg_per_l=20.0) == 900.0
    assert diet_no3n_ppm([1.0], [900.0], water_l_per_day=50.0) == 900.0


def test_limits_are_made_of_as_many_results_as_are_asked_and_of_two_at_least() -> None:
    def made(count: int, least: int) -> int:
        results = plain_columns(Forage.ALFALFA, {"cp": np.linspace(0.0, 4.0, count)})
        return len(screens_from_results(results, "here", least))

    assert [made(count, 5) for count in (4, 5)] == [0, 1]
    assert [made(count, 1) for count in (1, 2)] == [0, 1]
    results = plain_columns(Forage.ALFALFA, {"cp": np.linspace(0.0, 4.0, 9)})
    assert screens_from_results(results, "here", 9)[0].low == 0.0


def test_what_lies_on_a_limit_of_the_usual_or_the_possible_is_within() -> None:
    limits = Limits(*(np.array([one]) for one in (2.0, 5.0, 1.0, 9.0)))
    for inside, low, high in ((rule_tests._usual, 2.0, 5.0), (rule_tests._possible, 1.0, 9.0)):
        found = [inside(np.array([x]), limits)[0] for x in (low - 0.1, low, high, high + 0.1)]
        assert found == [False, True, True, False]


def test_a_feed_without_dry_matter_energy_protein_or_price_is_no_measure_of_worth() -> None:
    feed = Feed(
        *("F", "Meal", FeedKind.SUPPLEMENT), price_usd_per_kg=0.05, dm_pct=90.0, tdn_pct=80.0,
        cp_pct=40.0,
    )  # fmt: skip
    assert _as_fed(feed) is not None
    for lack in ("dm_pct", "tdn_pct", "cp_pct", "price_usd_per_kg"):
        assert _as_fed(replace(feed, **{lack: 0.0})) is None


def test_a_rule_rests_on_judgement_by_its_evidence_or_by_its_source() -> None:
    rule = next(one for one in rules() if not one.rests_on_judgement)
    assert replace(rule, evidence="judgement").rests_on_judgement
    for source in (JUDGEMENT, COMMON_PRACTICE):
        assert replace(rule, source=source).rests_on_judgement


@pytest.mark.parametrize(("tdn", "cp", "said"), [(0.06, 9.0, "0.1 points of TDN"), (0.04, 9.0, "")])
def test_a_gap_is_said_from_what_a_tenth_shows(tdn: float, cp: float, said: str) -> None:
    need = replace(DENSITY_NEEDS[-1], tdn_pct=60.0, cp_pct=9.0)
    assert gap_words(need, 60.0 - tdn, cp) == said


def test_less_than_a_bale_is_no_lot_to_draw_from() -> None:
    """A lot of less than a bale is taken as endless; of one bale it is wholly drawn."""
    report = Report("R", "L", (a("cp", 12.0), a("ndf", 60.0)), date(2026, 9, 1), cores=1)

    def sd(bales: float) -> float:
        lot = replace(LOT, bales=bales)
        return lot_measured(lot, (report,), lot_profile(lot, (report,)))["cp_pct"].sd

    assert sd(1.0) < sd(0.9) == pytest.approx(sd(1e9))


def test_energy_and_protein_are_priced_by_the_feeds_that_sell_them_cheapest() -> None:
    """Dollars for a kilogram of TDN and of protein, not for one of feed."""
    feeds = [
        Feed(name, name, FeedKind.GRAIN, price, "", 90.0, tdn, cp)
        for name, price, tdn, cp in (
            ("Bran", 0.20, 68.0, 16.0),
            ("Corn", 0.18, 88.0, 9.0),
            ("Straw", 0.10, 40.0, 4.0),
            ("Meal", 0.44, 84.0, 54.0),
        )
    ]
    for some in (feeds, feeds[::-1]):
        prices = prices_of_feeds(some)
        assert prices is not None
        assert prices.origin == "from the prices of Corn and Meal"
    assert prices_of_feeds(feeds[:1]) is None


def test_water_alone_brings_its_nitrate_into_a_kilogram_of_diet() -> None:
    assert diet_no3n_ppm([1.0], [0.0], water_l_per_day=10.0, water_no3n_mg_per_l=20.0) == 200.0
