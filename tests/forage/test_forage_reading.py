"""What a lot's reading tells of error, grade, worth and other stock."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

import rickyard
from rickyard.cli.main import main
from rickyard.farm import (
    Analyte,
    Basis,
    Feed,
    FeedKind,
    Forage,
    Lot,
    Maturity,
    Package,
    Report,
    Storage,
)
from rickyard.forage.energy.grades import USDA_ALFALFA_RFV
from rickyard.forage.plausibility.profile import lot_profile
from rickyard.forage.reading.reading import LotReading, read_lot
from rickyard.forage.reading.reading_all import every_number
from rickyard.forage.uncertainty.lot_error import lot_measured
from rickyard.forage.uncertainty.odds import grade_interval
from rickyard.forage.uncertainty.repeat_tests import combine_tests
from rickyard.forage.uncertainty.suitability import (
    DENSITY_NEEDS,
    OTHER_NEEDS,
    chance_suited,
    suited,
    sure_words,
)
from rickyard.forage.uncertainty.uncertainty import Labs, Measured
from rickyard.match.nutrient_value import NutrientPrices, lot_worth, prices_of_feeds
from rickyard.quantities import KG_PER_LB, KG_PER_SHORT_TON
from support.rows import each_row


def a_lot(forage: Forage = Forage.COOL_GRASS, **changed: object) -> Lot:
    known: dict[str, object] = {
        "lot_id": "L1",
        "name": "Creek meadow",
        "forage": forage,
        "package": Package.ROUND,
        "storage": Storage.ENCLOSED_BARN,
        "bales": 400.0,
        "baled_on": date(2026, 6, 1),
        "counted_on": date(2026, 10, 1),
        "cutting": 2,
    }
    return Lot(**{**known, **changed})  # type: ignore[arg-type]


def a_report(cores: int | None = 20, report_id: str = "R1", **values: float) -> Report:
    analytes = tuple(
        Analyte(name, value, "pct", Basis.DRY_MATTER) for name, value in values.items()
    )
    return Report(report_id, "L1", analytes, cores=cores)


WHOLE = {
    "cp": 13.0,
    "adf": 36.0,
    "ndf": 58.0,
    "lignin": 5.5,
    "ash": 8.0,
    "ee": 2.4,
    "ndicp": 3.0,
    "adicp": 1.0,
    "ca": 0.5,
    "p": 0.25,
}


def read(lot: Lot | None = None, report: Report | None = None, labs: Labs = Labs.ANY) -> LotReading:
    return read_lot(lot or a_lot(), [report or a_report(**WHOLE)], labs=labs)


def test_every_number_carries_its_interval_and_the_reason() -> None:
    numbers = {one.name: one for one in read().numbers}
    assert set(numbers) >= {"tdn_pct", "cp_pct", "ndf_pct", "nem_mcal_per_kg", "rfv", "dm_pct"}
    for one in numbers.values():
        assert one.low is not None
        assert one.high is not None
        assert one.low < one.value < one.high
        assert one.reason
        assert one.unit
    assert "20 cores" in numbers["cp_pct"].reason
    assert "draws" in numbers["tdn_pct"].reason
    assert "slopes" in numbers["rfv"].reason


def test_there_are_three_reasons_each_with_its_range() -> None:
    reasons = read().reasons
    assert len(reasons) == 3
    assert [one.split(":")[0] for one in reasons] == ["Energy", "Protein", "Fiber"]
    for one in reasons:
        assert "90% range" in one
        assert "in the dry matter" in one


def test_a_stated_stage_places_the_lot_among_its_like() -> None:
    lot = a_lot(species="orchardgrass", maturity=Maturity.EARLY_BLOOM)
    fiber = read(lot, a_report(cp=16.5, ndf=52.0, adf=31.0)).reasons[2]
    assert "leafier than usual for orchardgrass in early bloom" in fiber
    plain = read(a_lot(species="orchardgrass"), a_report(cp=12.9, ndf=60.0, adf=34.0)).reasons[2]
    assert "By its fiber it is nearest to orchardgrass in early bloom" in plain
    untested = read_lot(lot, []).reasons[2]
    assert "orchardgrass" not in untested


def test_one_laboratory_errs_less_than_the_truth_is_missed_by() -> None:
    truth, lab = (read(labs=labs).measured for labs in (Labs.ANY, Labs.ONE))
    assert all(lab[name].sd <= truth[name].sd for name in lab)
    assert lab["ndf_pct"].sd < 0.6 * truth["ndf_pct"].sd


@pytest.mark.parametrize(
    "changed", [{"cutting": 1}, {"rained_on": True}], ids=["first cutting", "rained on"]
)
def test_uneven_lots_are_known_less_well(changed: dict[str, object]) -> None:
    report = a_report(cores=5, **WHOLE)
    assert (
        read(a_lot(**changed), report).measured["cp_pct"].sd
        > read(report=report).measured["cp_pct"].sd
    )


def test_hay_outside_has_a_less_certain_dry_matter() -> None:
    inside = read(report=a_report(dm=86.0, **WHOLE)).measured["dm_pct"]
    outside = read(a_lot(storage=Storage.EXPOSED_GROUND), a_report(dm=86.0, **WHOLE)).measured[
        "dm_pct"
    ]
    assert outside.sd > inside.sd


def test_cores_that_are_not_told_are_few() -> None:
    unknown = read(report=a_report(cores=None, **WHOLE)).measured["ndf_pct"]
    assert unknown.sd == read(report=a_report(cores=5, **WHOLE)).measured["ndf_pct"].sd
    assert "5 assumed" in unknown.reason


def test_book_values_are_visibly_wider_than_a_test() -> None:
    book, test = read_lot(a_lot(), []).measured, read(report=a_report(dm=88.0, **WHOLE)).measured
    for name in ("tdn_pct", "ndf_pct", "ca_pct", "p_pct", "dm_pct"):
        assert book[name].sd > 1.9 * test[name].sd, name
        assert "book value" in book[name].reason or name == "dm_pct"


def test_energy_by_regression_carries_the_error_of_its_fiber() -> None:
    """Penn State grass: 89.796 * 0.0127 = 1.14 points of TDN for one of ADF."""
    lot, report = a_lot(), a_report(adf=36.0)
    measured = lot_measured(lot, [report], lot_profile(lot, [report]))
    assert measured["tdn_pct"].sd == pytest.approx(1.1404 * measured["adf_pct"].sd, rel=1e-3)


def test_corn_silage_keeps_its_processing_factor() -> None:
    lot = a_lot(Forage.CORN_SILAGE)
    parts = {"cp": 8.0, "ndf": 42.0, "lignin": 3.0, "ash": 4.0}
    profile = lot_profile(lot, [a_report(**parts)])
    found = lot_measured(lot, [a_report(**parts)], profile)["tdn_pct"]
    assert found.value == profile.tdn_pct
    assert found.low < profile.tdn_pct < found.high


def test_what_the_error_leaves_open_is_told_in_tenths() -> None:
    said = read(report=a_report(tdn=54.2, cp=12.0)).certainty
    assert "almost certainly enough for dry cows in mid-gestation" in said
    assert "times in 10 for cows two months before calving" in said


def test_a_lot_without_a_test_is_as_open_as_its_book_value() -> None:
    said = read_lot(a_lot(), []).certainty
    assert said.startswith("Counting how far a lot can be from book values: it is enough")


def test_hay_far_above_every_need_leaves_nothing_open() -> None:
    said = read(report=a_report(tdn=72.0, cp=22.0)).certainty
    assert said == "Sampling and lab error does not change this."


def test_a_fit_that_the_error_can_undo_is_most_likely() -> None:
    assert (
        "most likely enough for cows nursing calves"
        in read(report=a_report(tdn=61.2, cp=13.0)).headline
    )
    assert "most likely" not in read(report=a_report(tdn=66.0, cp=16.0)).headline


def test_chances_fall_with_the_demand_of_the_class() -> None:
    tdn, cp = Measured.normal(57.0, 2.0, "", ""), Measured.normal(9.5, 1.0, "", "")
    easier, harder = DENSITY_NEEDS[1], DENSITY_NEEDS[-1]
    assert chance_suited(easier, tdn, cp) > chance_suited(harder, tdn, cp)
    assert [sure_words(one) for one in (0.999, 0.9, 0.5, 0.06, 0.0)] == [
        "almost certainly",
        "about 9 times in 10",
        "about 5 times in 10",
        "about 1 time in 10",
        "rarely",
    ]


def test_other_stock_is_told_unless_something_is_to_be_settled_first() -> None:
    assert "idle adult horses" in read().other_stock
    nitrate = Analyte("nitrate_no3n", 5000.0, "ppm", Basis.DRY_MATTER)
    report = a_report(**WHOLE)
    bad = Report("R1", "L1", (*report.analytes, nitrate), cores=20)
    assert read(report=bad).other_stock == ""


@each_row("need", OTHER_NEEDS, ids=lambda one: one.name)
def test_every_other_class_says_its_stock_and_source(need: object) -> None:
    assert need.stock in {"sheep", "goats", "dairy cattle", "horses"}  # type: ignore[attr-defined]
    assert need.source  # type: ignore[attr-defined]


def test_ewes_of_the_sheep_table() -> None:
    """NRC 1985, 70 kg: 0.66 kg TDN and 113 g protein in 1.2 kg; 1.63 and 334 in 2.5 kg."""
    by_name = {one.name: one for one in OTHER_NEEDS}
    dry, nursing = by_name["ewes dry or in early gestation"], by_name["ewes nursing one lamb"]
    assert (dry.tdn_pct, dry.cp_pct) == pytest.approx((66 / 1.2, 11.3 / 1.2), abs=0.05)
    assert (nursing.tdn_pct, nursing.cp_pct) == pytest.approx((163 / 2.5, 33.4 / 2.5), abs=0.05)
    assert suited(60.0, 9.0, None, OTHER_NEEDS) == tuple(
        one for one in OTHER_NEEDS if one.tdn_pct <= 60.0 and one.cp_pct <= 9.0
    )


def test_the_grade_comes_with_edition_and_what_the_error_allows() -> None:
    grass = read(report=a_report(cp=9.2, ndf=60.0, adf=36.0)).grade
    assert grass.startswith("Good (grass grade by protein, % of dry matter)")
    assert "(90% range Fair to Good)" in grass
    assert "2003" in grass
    alfalfa = read(a_lot(Forage.ALFALFA), a_report(cp=21.0, adf=30.0, ndf=40.0)).grade
    assert alfalfa.startswith("Good (alfalfa grade by relative feed value, index)")  # RFV 152
    assert "90% range Fair to Good" in alfalfa
    mixed = read(a_lot(Forage.ALFALFA), a_report(cp=23.0, adf=26.0, ndf=46.0)).grade
    assert "Its columns disagree" in mixed
    mixture = read(a_lot(Forage.LEGUME_GRASS), a_report(cp=15.0, adf=34.0, ndf=50.0)).grade
    assert "Task Force" in mixture


def test_there_is_no_grade_without_a_test_or_for_baleage() -> None:
    assert read_lot(a_lot(), []).grade == ""
    assert read(a_lot(package=Package.BALEAGE)).grade == ""
    assert read(a_lot(Forage.STRAW)).grade == ""


def test_a_grade_is_sure_when_its_class_holds_the_whole_interval() -> None:
    sure = grade_interval(USDA_ALFALFA_RFV, Measured.normal(160.0, 5.0, "", ""))
    assert (sure.label, sure.sure) == ("Good", True)
    unsure = grade_interval(USDA_ALFALFA_RFV, Measured.normal(152.4, 5.6, "", ""))
    assert (unsure.lowest, unsure.label, unsure.highest, unsure.sure) == (
        "Fair",
        "Good",
        "Good",
        False,
    )


def test_two_tests_are_put_together_by_precision() -> None:
    """Derived: CP 12.0 (SD 0.5) and 13.0 (SD 1.0) make 12.2, SD 0.45."""
    both = combine_tests(Measured.normal(12.0, 0.5, "", ""), Measured.normal(13.0, 1.0, "", ""))
    assert both.together.value == pytest.approx(12.2)
    assert both.together.sd == pytest.approx(0.447, abs=5e-4)
    assert both.agree


def test_the_critical_difference_of_two_composites() -> None:
    """Derived: variance 0.0914 each makes 0.84; 10.2 and 10.8 make 10.5, SE 0.21."""
    first, second = (Measured.normal(cp, 0.0914**0.5, "", "") for cp in (10.2, 10.8))
    both = combine_tests(first, second)
    assert both.critical == pytest.approx(0.84, abs=0.005)
    assert both.together.value == pytest.approx(10.5)
    assert both.together.sd == pytest.approx(0.21, abs=0.005)
    assert both.agree
    apart = combine_tests(first, Measured.normal(11.1, 0.0914**0.5, "", ""))
    assert not apart.agree


def test_tests_that_disagree_are_not_averaged() -> None:
    old = replace(a_report(report_id="R1", cp=13.0, ndf=58.0), reported_on=date(2026, 9, 1))
    new = replace(a_report(report_id="R2", cp=8.0, ndf=58.5), reported_on=date(2026, 10, 1))
    told = read_lot(a_lot(), [old, new]).repeat
    assert told.startswith("Tests R1 and R2 disagree")
    assert "protein 13.0 and 8.0%" in told
    assert "NDF" not in told
    near = replace(new, analytes=a_report(cp=12.5, ndf=58.5).analytes)
    assert (
        "agree within test error; combined they give protein 12.8"
        in read_lot(a_lot(), [near, old]).repeat
    )
    assert read_lot(a_lot(), [old]).repeat == ""


def test_one_laboratory_has_to_agree_with_itself_more_closely() -> None:
    old = replace(a_report(report_id="R1", cp=13.0), reported_on=date(2026, 9, 1), lab="Ash")
    new = replace(a_report(report_id="R2", cp=11.0), reported_on=date(2026, 10, 1), lab="Ash")
    assert "disagree" in read_lot(a_lot(), [old, new]).repeat
    assert "disagree" not in read_lot(a_lot(), [old, replace(new, lab="Elm")]).repeat


@pytest.mark.parametrize(
    ("ppm", "said"),
    [
        (300.0, ""),
        (700.0, 'Clemson classes "safe all classes". A composite hides hot bales'),
        (950.0, 'to "safe nonpregnant; pregnant max 50% of ration DM": go by the higher'),
        (3900.0, 'to "do not feed": go by the higher'),
    ],
)
def test_nitrate_goes_by_its_upper_end_and_by_single_bales(ppm: float, said: str) -> None:
    nitrate = Analyte("nitrate_no3n", ppm, "ppm", Basis.DRY_MATTER)
    report = a_report(**WHOLE)
    told = read(report=replace(report, analytes=(*report.analytes, nitrate))).certainty
    assert said in told
    assert ("Nitrate" in told) == bool(said)
    if said:
        assert f"{2 * ppm:,.0f} ppm" in told


EVERY = {**WHOLE, "ndfd48": 52.0, "starch": 1.8, "wsc": 9.9, "mg": 0.2, "k": 2.0, "na": 0.04}
EVERY |= {"cl": 0.5, "s": 0.2, "rfv": 100.0, "ph": 5.1}


@pytest.mark.parametrize("forage", [Forage.COOL_GRASS, Forage.ALFALFA, Forage.WARM_GRASS])
def test_everything_computed_carries_unit_method_and_range(forage: Forage) -> None:
    numbers = every_number(a_lot(forage), [a_report(**EVERY)])
    computed = [one for one in numbers if one.origin == "computed"]
    assert {one.name for one in computed} >= {
        *("rfq", "nfc", "nfc_older", "nsc", "available_cp", "dcad", "tetany", "ca_p"),
        *("horse_de", "horse_de_nrc", "de", "me", "nel", "de_nrc2001", "tdn_nrc_2001"),
    }
    for one in computed:
        assert one.low is not None, one.name
        assert one.high is not None
        assert one.low < one.value < one.high, one.name
        assert one.unit
        assert one.source
        assert "," in one.words or "method" in one.words, one.words


def test_other_printed_values_are_shown_with_their_range_but_indices_without() -> None:
    numbers = {one.name: one for one in every_number(a_lot(), [a_report(**EVERY)])}
    potassium = numbers["k"]
    assert (potassium.origin, potassium.unit) == ("lab", "% of dry matter")
    assert potassium.low is not None
    assert potassium.low < 2.0
    assert numbers["ph"].low is None
    assert "cp" not in numbers


def test_without_a_report_only_energies_of_the_book_are_computed() -> None:
    numbers = every_number(a_lot(), [])
    assert {one.origin for one in numbers} == {"computed"}
    assert {one.name for one in numbers} == {
        *("de", "me", "me_hales2022", "me_hales2019", "nel", "horse_de_tdn")
    }


def test_a_value_outside_its_equation_says_so() -> None:
    numbers = every_number(a_lot(), [a_report(**{**EVERY, "adf": 57.0, "ndf": 75.0})])
    assert any("outside what the equation was made for" in one.source for one in numbers)


CORN = Feed("corn", "Corn", FeedKind.GRAIN, 160.71 / KG_PER_SHORT_TON, "", 88.0, 88.0, 9.0)
MEAL = Feed("meal", "Meal", FeedKind.SUPPLEMENT, 400 / KG_PER_SHORT_TON, "", 89.0, 84.0, 54.0)


def test_two_feeds_price_energy_and_protein() -> None:
    """Petersen method, derived: $0.0728 and $0.3029 a pound, hay at $125.05 a ton."""
    prices = prices_of_feeds([MEAL, CORN])
    assert prices is not None
    assert prices.tdn_usd_per_kg * KG_PER_LB == pytest.approx(0.0728, abs=5e-5)
    assert prices.cp_usd_per_kg * KG_PER_LB == pytest.approx(0.3029, abs=5e-5)
    hay = {
        "tdn_pct": Measured.normal(56.0, 1.2, "", ""),
        "cp_pct": Measured.normal(10.0, 1.0, "", ""),
        "dm_pct": Measured.normal(88.0, 1.0, "", ""),
    }
    worth = lot_worth(hay, prices)
    assert worth.value * KG_PER_SHORT_TON == pytest.approx(125.05, abs=0.05)
    one_point = (2000 * 0.88 * 0.01 * 0.0728, 2000 * 0.88 * 0.01 * 0.3029, 125.05 / 88.0)
    by_hand = sum((slope * sd) ** 2 for slope, sd in zip(one_point, (1.2, 1.0, 1.0), strict=True))
    assert worth.sd * KG_PER_SHORT_TON == pytest.approx(by_hand**0.5, rel=1e-3)


def test_a_mineral_and_a_feed_without_protein_price_nothing() -> None:
    mineral = Feed("m", "Mineral", FeedKind.MINERAL, 1.2)
    assert prices_of_feeds([CORN, mineral]) is None
    assert prices_of_feeds([]) is None
    assert prices_of_feeds([CORN, CORN]) is None


def test_prices_are_never_less_than_nothing() -> None:
    dear_corn = Feed("c", "Dear corn", FeedKind.GRAIN, 1.0, "", 88.0, 88.0, 9.0)
    hulls = Feed("h", "Hulls", FeedKind.SUPPLEMENT, 0.236, "", 91.0, 77.0, 12.0)
    prices = prices_of_feeds([dear_corn, hulls, MEAL])
    assert prices is not None
    assert prices.tdn_usd_per_kg >= 0.0
    assert prices.cp_usd_per_kg >= 0.0


def test_stated_prices_are_used_and_told() -> None:
    farm = str(Path(rickyard.__file__).with_name("demo_farm"))
    asked = ["read", farm, "--tdn-price", "0.0728 $/lb", "--cp-price", "0.3029"]
    said = CliRunner().invoke(main, asked)
    assert said.exit_code == 0, said.output
    text = " ".join(said.output.split())
    assert "TDN at $0.073 and protein at $0.303 a pound" in text
    assert "a ton as fed (90% range" in text
    assert "Only once the danger is dealt with: by its energy" in text
    alone = CliRunner().invoke(main, ["read", farm, "--tdn-price", "0.07 $/lb"])
    assert (alone.exit_code, "Give both" in alone.output) == (2, True)
    odd = CliRunner().invoke(main, ["read", farm, "--tdn-price", "7 kg", "--cp-price", "1"])
    assert (odd.exit_code, "0.07 $/lb" in odd.output) == (2, True)
    one_lab = CliRunner().invoke(main, ["read", farm, "--one-lab"])
    assert one_lab.exit_code == 0
    assert one_lab.output != said.output


def test_nutrient_prices_say_their_units() -> None:
    assert "a kilogram" in NutrientPrices(0.16, 0.67, "as stated").sentence()


@each_row(
    ("stock", "headline", "lacks"),
    [
        ({"horses"}, "enough for mares in late gestation.", "for nursing mares."),
        ({"goats"}, "enough for does in late gestation.", "all classes of goats"),
        ({"sheep", "goats"}, "gestation and does in late gestation.", "one lamb."),
        ({"beef", "horses"}, "enough for dry cows, not for nursing ones.", "for cows nursing"),
        ({"camelids"}, "in the dry matter.", ""),
    ],
)
def test_a_lot_is_read_for_the_stock_that_is_here(
    stock: set[str], headline: str, lacks: str
) -> None:
    report = replace(a_report(cp=10.5, ndf=60.0), report_id="R2")
    report = replace(report, analytes=(*report.analytes, a_report(tdn=57.0).analytes[0]))
    found = read_lot(a_lot(), (report,), stock=stock)
    assert found.headline.endswith(headline), found.headline
    assert lacks in found.lacks, found.lacks
    words = f"{found.headline} {found.suits} {found.lacks} {found.certainty} {found.other_stock}"
    assert ("cows" in words) is ("beef" in stock)
