"""Every hazard: its finding, table, source, stock, what to do and what to ask; and the indices."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from rickyard.farm import Analyte, Basis, Forage, Lot, Package, Report, Storage
from rickyard.forage import Risk, lot_risks
from rickyard.forage.energy.derived import DerivedValue, derived_values
from rickyard.forage.energy.tdn import TdnMethod
from rickyard.forage.energy.tdn_compare import rank_by_tdn, tdn_by_method
from rickyard.forage.hazards.hazard import Hazard
from rickyard.forage.plausibility.profile import lot_profile
from rickyard.forage.reading.lot_hazards import hazard_cautions, lot_hazards
from support.rows import each_row

DM, AR, NONE = Basis.DRY_MATTER, Basis.AS_RECEIVED, Basis.NONE


def a_lot(forage: Forage = Forage.COOL_GRASS, package: Package = Package.ROUND, **more: Any) -> Lot:
    dates = {"baled_on": date(2026, 6, 1), "counted_on": date(2026, 10, 1), **more}
    return Lot("L1", "Creek meadow", forage, package, Storage.ENCLOSED_BARN, 40, **dates)


def hazards(lot: Lot, *analytes: Analyte) -> tuple[Hazard, ...]:
    return lot_hazards(lot, lot_profile(lot, [Report("R1", "L1", analytes)]))


def a(name: str, value: float, unit: str = "ppm", basis: Basis = DM) -> Analyte:
    return Analyte(name, value, unit, basis)


BALEAGE = a_lot(Forage.LEGUME_GRASS, Package.BALEAGE)
SMALL_GRAIN = a_lot(Forage.SMALL_GRAIN, Package.BALEAGE)
CASES: list[tuple[str, str, Lot, tuple[Analyte, ...], str]] = [
    ("nitrate", "danger", a_lot(), (a("nitrate_no3n", 4500.0),), "Clemson"),
    ("nitrate", "danger", a_lot(), (a("nitrate_no3", 9300.0),), "pregnant"),
    ("nitrate", "warning", a_lot(), (a("nitrate_kno3", 0.85, "pct"),), "thin, sick"),
    ("nitrate", "warning", a_lot(drought=True), (), "gather nitrate"),
    ("prussic acid", "danger", a_lot(), (a("hcn", 1200.0),), "ppm in the dry matter"),
    ("prussic acid", "warning", a_lot(Forage.SUMMER_ANNUAL, frosted=True), (), "frozen"),
    ("ergovaline", "danger", a_lot(), (a("ergovaline", 450.0, "ppb"),), "brood mares"),
    ("ergovaline", "warning", a_lot(), (a("ergovaline", 0.25),), "cattle"),
    ("ergovaline", "note", a_lot(), (a("ergovaline", 60.0, "ppb"),), "mares in late gestation"),
    ("lolitrem B", "warning", a_lot(), (a("lolitrem_b", 1900.0, "ppb"),), "staggers"),
    ("sulfur", "warning", a_lot(), (a("s", 0.55, "pct"),), "sulfate"),
    ("sulfur", "note", a_lot(), (a("s", 0.45, "pct"),), "copper"),
    ("molybdenum", "warning", a_lot(), (a("mo", 5.5), a("cu", 15.0)), "copper"),
    ("molybdenum", "note", a_lot(), (a("mo", 2.0), a("cu", 6.0)), "2 to 1"),
    ("copper", "warning", a_lot(), (a("mo", 0.5), a("cu", 18.0)), "sheep"),
    ("copper", "note", a_lot(), (a("cu", 6.0), a("s", 0.3, "pct")), "sulfur or iron"),
    ("selenium", "danger", a_lot(), (a("se", 6.0),), "poison"),
    ("selenium", "note", a_lot(), (a("se", 0.15),), "marginal"),
    ("mold", "danger", a_lot(), (a("mold", 6e6, "cfu_per_g", AR),), "discontinue feeding"),
    ("mold", "warning", a_lot(), (a("mold", 1.5e6, "cfu_per_g", AR),), "feed with caution"),
    ("mold", "note", a_lot(), (a("mold", 7e5, "cfu_per_g", AR),), "horses"),
    ("aflatoxin", "danger", a_lot(), (a("aflatoxin", 30.0, "ppb"),), "88% dry matter"),
    ("fumonisin", "danger", a_lot(), (a("fumonisin", 2.0),), "horses"),
    ("don", "danger", a_lot(), (a("don", 4.0),), "vomitoxin"),
    ("zearalenone", "warning", a_lot(), (a("zearalenone", 0.3),), "no safe level"),
    ("grass tetany", "warning", a_lot(), (
        a("k", 3.4, "pct"), a("ca", 0.35, "pct"), a("mg", 0.15, "pct")), "magnesium"),
    ("soil", "note", a_lot(), (a("ash", 11.0, "pct"),), "TDN"),
    ("soil", "warning", a_lot(), (a("ash", 19.0, "pct"),), "mow and rake"),
    ("soil", "warning", BALEAGE, (a("ash", 13.0, "pct"),), "clostridia"),
    ("butyric acid", "warning", BALEAGE, (a("butyric", 1.1, "pct"),), "smell"),
    ("lactic acid", "warning", BALEAGE, (a("lactic", 1.5, "pct"),), "poor fermentation"),
    ("botulism", "danger", SMALL_GRAIN, (a("ph", 5.6, "", NONE), a("dm", 45.0, "pct", AR)), "5.5"),
    ("listeria and clostridia", "warning", BALEAGE, (a("ph", 5.2, "", NONE),), "pregnant ewes"),
    ("clostridia", "danger", BALEAGE, (a("dm", 28.0, "pct", AR), a("cp", 15.0, "pct")),
     "fermentation"),
    ("listeria and botulism", "warning", BALEAGE, (), "horse"),
    ("hot hay", "danger", a_lot(highest_temperature_c=80.0), (), "fire department"),
    ("sugar for horses", "note", a_lot(), (a("starch", 3.0, "pct"), a("wsc", 11.0, "pct")),
     "laminitis"),
    ("blister beetle", "note", a_lot(Forage.ALFALFA, baled_on=date(2026, 7, 20)), (), "horses"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "level", "lot", "analytes", "words"),
    CASES,
    ids=[f"{one[0]}-{one[1]}-{place}" for place, one in enumerate(CASES)],
)
def test_a_hazard_says_all_of_it(
    name: str, level: str, lot: Lot, analytes: tuple[Analyte, ...], words: str
) -> None:
    found = [one for one in hazards(lot, *analytes) if one.name == name]
    assert [one.level for one in found] == [level]
    (hazard,) = found
    for said in (hazard.finding, hazard.table, hazard.source, hazard.concerns, hazard.do):
        assert said
        assert "nan" not in said.split()
    assert words in " ".join((hazard.finding, hazard.table, hazard.concerns, hazard.do, hazard.ask,
                              hazard.source))  # fmt: skip
    caution = hazard.caution("L1")
    profile = lot_profile(lot, [Report("R1", "L1", analytes)])
    assert caution in hazard_cautions(lot, profile)
    if level == "danger":
        assert "veterinarian" in caution.sentence or "fire department" in caution.sentence


def test_every_danger_is_in_the_list() -> None:
    named = {one[0] for one in CASES}
    assert {"nitrate", "prussic acid", "ergovaline", "sulfur", "molybdenum", "selenium"} <= named
    assert {"mold", "aflatoxin", "soil", "hot hay", "sugar for horses"} <= named
    assert {"blister beetle", "botulism", "listeria and botulism"} <= named


def test_of_two_forms_that_differ_the_higher_counts_and_both_are_told() -> None:
    printed = (a("nitrate_no3n", 320.0), a("nitrate_no3", 8000.0))
    profile = lot_profile(a_lot(), [Report("R1", "L1", printed)])
    assert profile.nitrate_no3n_ppm == pytest.approx(1807.0, abs=1.0)
    told = [one.sentence for one in hazard_cautions(a_lot(), profile)]
    assert any("are not the same nitrate" in sentence for sentence in told)


def test_nitrate_above_every_table_asks_for_its_form() -> None:
    profile = lot_profile(a_lot(), [Report("R1", "L1", (a("nitrate_no3n", 7080.0),))])
    (finding,) = profile.findings
    assert "1,599 ppm NO3-N" in finding.cause
    assert hazard_cautions(a_lot(), profile)[0].level == "danger"


def test_what_was_looked_for_and_not_found_is_no_hazard() -> None:
    nothing = Analyte("ergovaline", None, "ppb", DM, text="ND")
    assert hazards(a_lot(), nothing) == ()


def test_too_many_molds_to_count_is_the_top_class() -> None:
    tntc = Analyte("mold", None, "cfu_per_g", AR, text="TNTC")
    (hazard,) = hazards(a_lot(), tntc)
    assert hazard.level == "danger"
    assert "too many molds to count" in hazard.finding


# Indices and energies, each under its label ------------------------------------------------------

WHOLE = {
    "cp": 20.0, "adf": 31.0, "ndf": 40.0, "lignin": 6.8, "ash": 10.0, "ee": 2.5, "ndicp": 3.0,
    "adicp": 1.3, "ndfd48": 45.0, "starch": 2.0, "wsc": 9.0, "ca": 1.4, "p": 0.27, "k": 2.3,
    "mg": 0.29, "s": 0.28, "na": 0.08, "cl": 0.5,
}  # fmt: skip


def named(found: tuple[DerivedValue, ...]) -> dict[str, DerivedValue]:
    return {one.name: one for one in found}


def test_every_index_is_labelled_with_its_method() -> None:
    found = derived_values(Forage.ALFALFA, WHOLE, 60.0)
    names = [one.name for one in found]
    assert len(names) == len(set(names))
    assert {"rfv", "rfq", "nfc", "nfc_older", "nsc", "adjusted_cp", "dcad", "tetany", "ca_p",
            "horse_de", "horse_de_nrc", "de_nrc2001", "me", "me_hales2022", "me_hales2019", "nem",
            "neg", "nel", "tdn_nrc_2001", "tdn_rfq_legume"} <= set(names)  # fmt: skip
    assert all(one.method and one.source and one.unit for one in found)
    assert not any(one.extrapolated for one in found)


def test_both_conventions_of_carbohydrate_stand_side_by_side() -> None:
    """They differ by the fiber-bound protein."""
    found = named(derived_values(Forage.ALFALFA, WHOLE))
    assert found["nfc"].value - found["nfc_older"].value == pytest.approx(3.0)
    assert found["nfc"].method != found["nfc_older"].method


@pytest.mark.parametrize("missing", ["ash", "ndfd48"])
def test_forage_quality_is_not_computed_by_a_default(missing: str) -> None:
    less = {name: value for name, value in WHOLE.items() if name != missing}
    assert "rfq" not in named(derived_values(Forage.ALFALFA, less))


def test_thirty_hours_do_not_stand_in_for_forty_eight() -> None:
    less = {name: value for name, value in WHOLE.items() if name != "ndfd48"} | {"ndfd30": 40.0}
    assert "rfq" not in named(derived_values(Forage.ALFALFA, less))


def test_feed_value_is_not_for_corn_silage_and_out_of_range_is_told() -> None:
    assert "rfv" not in named(derived_values(Forage.CORN_SILAGE, WHOLE))
    high = named(derived_values(Forage.COOL_GRASS, {"adf": 57.0, "ndf": 79.0}))
    assert high["rfv"].extrapolated


def test_no_net_energy_for_gain_in_the_poorest_straw_is_told() -> None:
    found = named(derived_values(Forage.STRAW, {}, 35.0))
    assert found["neg"].value == 0.0
    assert found["neg"].extrapolated


def test_methods_of_one_sample_disagree_as_is_known() -> None:
    """ADF 30: western 59.8, Oklahoma and Midwest 65.5, Penn State legume 66.6."""
    by = tdn_by_method(Forage.ALFALFA, {"adf": 30.0})
    assert by[TdnMethod.WESTERN_ALFALFA_100] == pytest.approx(59.8, abs=0.05)
    assert by[TdnMethod.OKLAHOMA] == pytest.approx(65.5, abs=0.05)
    assert by[TdnMethod.MIDWEST] == pytest.approx(65.5, abs=0.05)
    assert by[TdnMethod.PENN_STATE_LEGUME] == pytest.approx(66.6, abs=0.05)


def test_an_alfalfa_line_is_not_used_on_warm_season_grass() -> None:
    by = tdn_by_method(Forage.WARM_GRASS, {"adf": 36.0, "cp": 11.0, "ndf": 70.0})
    assert set(by) == {TdnMethod.SOUTHEAST_WARM_GRASS}


def test_a_ranking_never_sets_one_method_against_another() -> None:
    lots = [
        ("Barn", Forage.ALFALFA, {"adf": 30.0}),
        ("Creek", Forage.COOL_GRASS, {"adf": 38.0}),
        ("Flat", Forage.WARM_GRASS, {"adf": 36.0, "cp": 10.0, "ndf": 70.0}),
        ("Sand", Forage.PRAIRIE, {"adf": 43.0, "cp": 6.0, "ndf": 69.0}),
        ("Pit", Forage.CORN_SILAGE, {"adf": 25.0}),
    ]
    groups = rank_by_tdn(lots)
    assert [group.method for group in groups] == [
        TdnMethod.MIDWEST,
        TdnMethod.SOUTHEAST_WARM_GRASS,
    ]
    assert [name for group in groups for name, _ in group.ranked] == [
        "Barn", "Creek", "Flat", "Sand",
    ]  # fmt: skip
    assert "highest first: Barn 65.5; Creek 59.3" in groups[0].sentence


@each_row(
    ("species", "suspect"),
    [
        ("corn", False),
        ("Field-corn", False),
        ("maize stalks", False),
        ("broomcorn", True),
        ("guinea corn", True),
        ("corn and johnsongrass", True),
        ("corn, weedy", True),
        ("pearl millet", False),
        ("", True),
    ],
)
def test_only_what_is_surely_corn_is_no_sorghum(species: str, suspect: bool) -> None:
    found = lot_risks(a_lot(Forage.SUMMER_ANNUAL, species=species))
    assert (Risk.PRUSSIC_ACID in found) is suspect


def test_fermented_corn_silage_has_little_sugar_and_is_not_asked_about() -> None:
    report = Report("R1", "L1", (a("wsc", 1.5, "pct"),))
    silage = lot_profile(a_lot(Forage.CORN_SILAGE, Package.LOOSE), [report])
    hay = lot_profile(a_lot(), [report])
    assert not silage.findings
    assert [one.rule for one in hay.findings] == ["S01"]
