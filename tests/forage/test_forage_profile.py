"""From lot and reports to the values that are counted."""

from __future__ import annotations

import math
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.farm import Analyte, Basis, Forage, Lot, Package, Report, Storage
from rickyard.forage.energy.energy import nem_from_tdn
from rickyard.forage.energy.lot_energy import lot_energy
from rickyard.forage.energy.tdn import tdn_penn_state_grass, tdn_western_alfalfa_100
from rickyard.forage.plausibility.plausibility import report_findings
from rickyard.forage.plausibility.profile import LotProfile, lot_profile
from rickyard.forage.reading.lot_hazards import hazard_cautions
from rickyard.forage.reading.reading import read_lot
from rickyard.forage.uncertainty.lot_error import lot_measured
from rickyard.forage.values.basis import as_received_to_dm
from rickyard.forage.values.book_values import book_dm, book_value
from rickyard.forage.values.samples import sample_values
from rickyard.quantities import OutOfRange
from support.rows import each_row

DM, AR, NONE = Basis.DRY_MATTER, Basis.AS_RECEIVED, Basis.NONE


def a_lot(forage: Forage = Forage.COOL_GRASS, package: Package = Package.ROUND, **more: Any) -> Lot:
    return Lot(
        lot_id="L1",
        name="Creek meadow",
        forage=forage,
        package=package,
        storage=Storage.ENCLOSED_BARN,
        bales=40,
        baled_on=date(2026, 6, 1),
        counted_on=date(2026, 10, 1),
        **more,
    )


def value(
    name: str, amount: float | None, unit: str = "pct", basis: Basis = DM, censored: str = ""
) -> Analyte:
    return Analyte(name, amount, unit, basis, censored=censored)


def a_report(*analytes: Analyte, report_id: str = "R1", **more: Any) -> Report:
    return Report(report_id, "L1", tuple(analytes), **more)


def said(profile: LotProfile) -> str:
    return " ".join(assumption.sentence for assumption in profile.assumptions)


def test_values_are_restated_from_unit_and_basis() -> None:
    sample = sample_values(
        a_report(
            value("dm", 88.0, basis=AR),
            value("cp", 8.8, basis=AR),
            value("ndf", 640.0, "g_per_kg"),
            value("ca", 4400.0, "ppm"),
            value("nem", 0.5, "mcal_per_lb"),
            value("nitrate_no3n", 0.1, "pct"),
            value("ndfd48", 55.0, basis=NONE),
            value("rfv", 92.0, "", NONE),
            value("adicp", 12.0, basis=NONE),
            value("lignin", 10.0, basis=NONE),
        )
    )
    assert sample.dm_pct == 88.0
    expected = {
        "cp": 10.0,
        "ndf": 64.0,
        "ca": 0.44,
        "nem": 1.10231,
        "nitrate_no3n": 1000.0,
        "ndfd48": 55.0,
        "rfv": 92.0,
        "adicp": 1.2,
        "lignin": 6.4,
    }
    assert sample.values == pytest.approx(expected, abs=1e-5)


def test_dry_matter_column_wins_over_as_received() -> None:
    printed = a_report(
        value("moisture", 12.0, basis=AR), value("cp", 8.9, basis=AR), value("cp", 10.0)
    )
    assert sample_values(printed).values["cp"] == 10.0


def test_a_limit_or_a_word_is_missing_but_a_nitrate_limit_counts() -> None:
    profile = lot_profile(
        a_lot(),
        [
            a_report(
                value("cp", 10.0),
                value("ca", 0.05, censored="<"),
                value("p", None),
                value("nitrate_no3n", 50.0, "ppm", censored="<"),
            )
        ],
    )
    assert profile.origins["ca_pct"] == profile.origins["p_pct"] == "book"
    assert profile.nitrate_no3n_ppm == 50.0
    assert "CA of Creek meadow, printed as <0.05, is not used" in said(profile)


def test_untested_lot_is_counted_with_book_values_that_are_named() -> None:
    profile = lot_profile(a_lot(Forage.WARM_GRASS), [])
    assert not profile.tested
    assert profile.report_id == ""
    assert (profile.cp_pct, profile.tdn_pct, profile.ndf_pct) == (10.0, 52.0, 73.0)
    assert profile.nem_mcal_per_kg == nem_from_tdn(52.0)
    assert profile.nitrate_no3n_ppm is None
    assert profile.rfv is None
    assert set(profile.origins.values()) == {"book"}
    for words in ("dry matter 88%", "TDN 52%", "protein 10%", "phosphorus 0.15%"):
        assert words in said(profile)


def test_only_what_is_missing_comes_from_the_book() -> None:
    profile = lot_profile(
        a_lot(), [a_report(value("dm", 89.0, basis=AR), value("cp", 10.0), value("tdn", 58.0))]
    )
    assert profile.tested
    assert profile.origins["cp_pct"] == profile.origins["dm_pct"] == "lab"
    assert profile.origins["ndf_pct"] == "book"
    assert "fiber (NDF) 64%" in said(profile)
    assert "protein 9.2%" not in said(profile)


def test_tdn_as_printed_goes_first_and_keeps_the_labs_method() -> None:
    profile = lot_profile(
        a_lot(), [a_report(value("tdn", 57.0), value("adf", 40.0), tdn_method="summative")]
    )
    assert profile.tdn_pct == 57.0
    assert profile.tdn_method == "as printed by the lab (summative)"
    assert profile.origins["tdn_pct"] == "lab"
    assert profile.origins["nem_mcal_per_kg"] == "computed"


def test_tdn_is_summed_where_its_parts_exist_else_by_the_forage() -> None:
    parts = {"cp": 6.4, "adicp": 0.8, "ndf": 71.9, "ndicp": 2.1, "lignin": 8.5, "ee": 1.9}
    summed = lot_energy("A", Forage.COOL_GRASS, {**parts, "ash": 3.43, "adf": 45.3})
    assert summed.tdn_pct == pytest.approx(53.3, abs=0.05)
    assert "NRC 2001" in summed.label
    grass = lot_energy("A", Forage.COOL_GRASS, {**parts, "adf": 45.3})
    assert grass.tdn_pct == tdn_penn_state_grass(45.3)
    mixed = lot_energy("A", Forage.LEGUME_GRASS, {"adf": 36.0})
    assert mixed.tdn_pct == tdn_western_alfalfa_100(36.0)
    warm = lot_energy("A", Forage.WARM_GRASS, {"adf": 38.0})
    assert warm.origin == "book"  # the southeastern equation needs protein and NDF too
    assert lot_energy("A", Forage.WARM_GRASS, {"cp": 10.0, "adf": 38.0, "ndf": 70.0}).tdn_pct == (
        pytest.approx(58.6, abs=0.05)
    )


def test_parts_that_cannot_belong_together_are_not_summed() -> None:
    values = {"cp": 10.0, "ndf": 40.0, "lignin": 39.0, "ash": 8.0, "adf": 36.0}
    assert lot_energy("A", Forage.COOL_GRASS, values).tdn_pct == tdn_penn_state_grass(36.0)


@each_row("forage", list(Forage))
def test_fiber_that_no_forage_holds_gives_no_energy_below_nothing(forage: Forage) -> None:
    values = {"adf": 99.0, "ndf": 99.9, "cp": 0.1, "lignin": 90.0, "ash": 99.0}
    for printed in (values, {"adf": 99.0, "ndf": 99.9, "cp": 0.1}, {"adf": 99.0}):
        assert lot_energy("A", forage, printed).tdn_pct > 0.0


def test_extrapolation_is_said() -> None:
    words = " ".join(a.sentence for a in lot_energy("A", Forage.ALFALFA, {"adf": 60.0}).assumptions)
    assert "extrapolated" in words


def test_printed_net_energy_is_kept_out_and_told_beyond_15_percent() -> None:
    near = lot_energy("A", Forage.COOL_GRASS, {"tdn": 53.0, "nem": 0.486 * 2.2046})
    assert near.assumptions == ()
    # The printed report with TDN 53 and NEm 0.44, NEg 0.19 Mcal/lb: NEg is 19 % under the cubic.
    far = lot_energy(
        "A", Forage.COOL_GRASS, {"tdn": 53.0, "nem": 0.44 * 2.2046, "neg": 0.19 * 2.2046}
    )
    assert far.nem_mcal_per_kg == nem_from_tdn(53.0)
    assert len(far.assumptions) == 1
    assert "net energy for gain" in far.assumptions[0].sentence


def test_protein_is_adjusted_for_heat_and_both_are_kept() -> None:
    profile = lot_profile(a_lot(), [a_report(value("cp", 18.0), value("adicp", 2.9))])
    assert profile.crude_cp_pct == 18.0
    assert profile.cp_pct == pytest.approx(16.36, abs=0.01)
    assert profile.origins["cp_pct"] == "computed"


def test_adjusted_protein_of_the_lab_goes_before_the_rule() -> None:
    printed = (value("cp", 18.0), value("adicp", 2.9), value("adjusted_cp", 16.9))
    profile = lot_profile(a_lot(), [a_report(*printed)])
    assert (profile.crude_cp_pct, profile.cp_pct) == (18.0, 16.9)
    assert profile.origins["cp_pct"] == "lab"
    assert profile.sources["cp_pct"].startswith("Adjusted protein of laboratory report")
    protein = lot_measured(a_lot(), [a_report(*printed)], profile)["cp_pct"]
    assert protein.low < 16.9 < protein.high
    more_than_all = lot_profile(a_lot(), [a_report(value("cp", 9.0), value("adjusted_cp", 12.0))])
    assert more_than_all.cp_pct == 9.0


def test_protein_is_told_as_adjusted_only_where_something_tells_of_heat() -> None:
    def rows(*values: Analyte) -> dict[str, str]:
        numbers = read_lot(a_lot(), [a_report(*values)]).numbers
        return {one.name: one.origin for one in numbers if one.name.endswith("cp_pct")}

    plain = value("cp", 18.0)
    assert rows(plain) == {"crude_cp_pct": "lab"}
    assert rows(plain, value("adicp", 1.0)) == {"crude_cp_pct": "lab", "cp_pct": "computed"}
    assert rows(plain, value("adjusted_cp", 17.0)) == {"crude_cp_pct": "lab", "cp_pct": "lab"}


def test_newest_composition_and_newest_nitrate_are_each_taken() -> None:
    old = a_report(value("cp", 8.0), report_id="OLD", reported_on=date(2026, 6, 20))
    full = a_report(value("cp", 11.0), report_id="FULL", reported_on=date(2026, 8, 20))
    only_nitrate = a_report(
        value("nitrate_no3", 4427.0, "ppm"), report_id="NO3", reported_on=date(2026, 9, 20)
    )
    other = Report("X", "L2", (value("cp", 25.0),), reported_on=date(2026, 10, 1))
    profile = lot_profile(a_lot(), [old, other, only_nitrate, full])
    assert profile.report_id == "FULL"
    assert profile.cp_pct == 11.0
    assert profile.nitrate_no3n_ppm == pytest.approx(1000.0, abs=0.5)


def test_nitrate_without_its_form_is_not_classified() -> None:
    profile = lot_profile(a_lot(), [a_report(value("cp", 10.0), value("nitrate", 900.0, "ppm"))])
    assert profile.nitrate_no3n_ppm is None
    assert profile.nitrate_unstated_ppm == 900.0
    assert [finding.rule for finding in profile.findings] == ["U10"]


def test_stated_dry_matter_goes_before_the_bag_and_a_difference_is_told() -> None:
    printed = a_report(value("dm", 82.0, basis=AR), value("cp", 10.0))
    profile = lot_profile(a_lot(dm_pct=88.0), [printed])
    assert profile.dm_pct == 88.0
    assert profile.origins["dm_pct"] == "stated"
    assert "the bag at the lab had 82.0%" in said(profile)
    assert lot_profile(a_lot(), [printed]).dm_pct == 82.0


def test_as_received_values_without_dry_matter_are_restated_and_told() -> None:
    profile = lot_profile(a_lot(), [a_report(value("cp", 8.8, basis=AR))])
    assert profile.cp_pct == pytest.approx(10.0)
    assert "88% was taken" in said(profile)


def test_dry_matter_of_a_dried_sample_is_not_that_of_the_stack() -> None:
    profile = lot_profile(a_lot(), [a_report(value("dm", 100.0, basis=AR), value("cp", 10.0))])
    assert profile.dm_pct == 88.0
    assert profile.origins["dm_pct"] == "book"


FAULTS = [
    ("P01", [value("cp", 104.0)]),
    ("P02", [value("dm", 88.0, basis=AR), value("moisture", 21.0, basis=AR)]),
    ("P03", [value("dm", 88.0, basis=AR), value("cp", 10.0, basis=AR), value("cp", 8.8)]),
    ("P04", [value("adf", 61.0), value("ndf", 38.0)]),
    ("P05", [value("adf", 38.0), value("lignin", 44.0)]),
    ("P06", [value("cp", 10.0), value("adicp", 12.0)]),
    ("U04", [value("cp", 10.0), value("adicp", 9.0)]),
    ("P12", [value("cp", 20.0), value("ndf", 75.0), value("ee", 3.0), value("ash", 20.0)]),
    ("P16", [value("adf", 35.7), value("ndf", 58.8), value("rfv", 85.7, "", NONE)]),
    ("U08", [value("dm", 12.0, basis=AR)]),
    ("U09", [value("dm", 99.0, basis=AR)]),
    ("U10", [value("nitrate", 2000.0, "ppm")]),
]


@pytest.mark.parametrize(("rule", "analytes"), FAULTS, ids=[rule for rule, _ in FAULTS])
def test_a_report_that_cannot_be_true_is_questioned(rule: str, analytes: list[Analyte]) -> None:
    findings = report_findings(a_lot(), a_report(*analytes))
    # A value beyond the screens of its forage may be told besides the rule it breaks.
    assert [finding.rule for finding in findings if finding.rule[0] != "S"] == [rule]
    assert findings[0].sentence.startswith(("Report R1", "Protein, fiber"))
    assert findings[0].cause
    assert findings[0].remedy
    assert findings[0].caution().about == "L1"


def test_a_sound_report_raises_nothing() -> None:
    sound = a_report(
        value("dm", 91.0, basis=AR),
        value("moisture", 9.0, basis=AR),
        value("cp", 9.5, basis=AR),
        value("cp", 10.44),
        value("adf", 45.3),
        value("ndf", 71.9),
        value("rfv", 69.0, "", NONE),
        value("ash", 6.0),
        value("ee", 2.0),
        value("adicp", 0.8),
        value("nitrate_no3n", 300.0, "ppm"),
    )
    assert report_findings(a_lot(), sound) == ()


def test_swapped_fiber_is_not_counted_with() -> None:
    profile = lot_profile(
        a_lot(), [a_report(value("cp", 10.0), value("adf", 62.0), value("ndf", 38.0))]
    )
    assert profile.adf_pct is None
    assert profile.origins["ndf_pct"] == profile.origins["tdn_pct"] == "book"


def test_legume_fiber_may_close_the_gap() -> None:
    near = a_report(value("adf", 40.2), value("ndf", 40.0))
    assert [one.rule for one in report_findings(a_lot(Forage.ALFALFA), near)] == ["S02"]
    assert [finding.level for finding in report_findings(a_lot(), near)] == ["error"]


@each_row("forage", list(Forage))
def test_every_forage_has_book_values_with_a_source(forage: Forage) -> None:
    for quantity in ("cp_pct", "adf_pct", "ndf_pct", "tdn_pct", "ca_pct", "p_pct"):
        book = book_value(forage, quantity)
        assert 0.0 < book.value < 100.0
        assert book.source
        assert book.evidence in ("seen", "from memory")
    assert book_value(forage, "adf_pct").value < book_value(forage, "ndf_pct").value
    assert book_dm(forage, Package.ROUND).evidence == "common practice"


@pytest.mark.parametrize("dm", [0.884, 2.2e-311])
def test_a_dry_matter_that_is_no_percentage_restates_nothing(dm: float) -> None:
    report = a_report(value("dm", dm, basis=AR), value("cp", 17.77, basis=AR))
    profile = lot_profile(a_lot(), [report])
    assert (profile.origins["dm_pct"], profile.origins["cp_pct"]) == ("book", "book")
    assert [one.rule for one in profile.findings if one.level == "error"] == ["U08"]


def test_restating_never_gives_a_number_without_end() -> None:
    with pytest.raises(OutOfRange, match="too small"):
        as_received_to_dm(1.0, 2.2e-311)


def test_an_impossible_ph_is_told_and_not_judged() -> None:
    profile = lot_profile(a_lot(), [a_report(value("cp", 12.0), Analyte("ph", 46.0, "", NONE))])
    assert profile.ph is None
    assert [one.rule for one in profile.findings] == ["P01"]


NAMES = ["dm", "moisture", "cp", "adicp", "ndicp", "adf", "ndf", "lignin", "ee", "ash", "tdn"]
NAMES += ["nem", "neg", "rfv", "ca", "p", "nitrate", "nitrate_no3", "nitrate_kno3", "hcn", "ph"]


@st.composite
def analytes(draw: st.DrawFn) -> Analyte:
    return Analyte(
        draw(st.sampled_from(NAMES)),
        draw(st.none() | st.floats(0.0, 150.0)),
        draw(st.sampled_from(["pct", "g_per_kg", "ppm", "mcal_per_lb", "mcal_per_kg", ""])),
        draw(st.sampled_from(list(Basis))),
        censored=draw(st.sampled_from(["", "<", ">"])),
    )


@given(
    st.sampled_from(list(Forage)),
    st.sampled_from(list(Package)),
    st.lists(st.lists(analytes(), max_size=14), max_size=3),
    st.booleans(),
)
def test_any_report_gives_a_whole_profile_and_a_reading(
    forage: Forage, package: Package, printed: list[list[Analyte]], drought: bool
) -> None:
    lot = a_lot(forage, package, drought=drought, highest_temperature_c=60.0)
    reports = [a_report(*one, report_id=f"R{i}") for i, one in enumerate(printed)]
    profile = lot_profile(lot, reports)
    for name in ("dm_pct", "tdn_pct", "nem_mcal_per_kg", "neg_mcal_per_kg", "cp_pct", "ndf_pct"):
        assert math.isfinite(getattr(profile, name))
        assert getattr(profile, name) >= 0.0
        assert profile.sources[name]
    assert 0.0 < profile.dm_pct <= 100.0
    assert profile.cp_pct <= profile.crude_cp_pct
    reading = read_lot(lot, reports)
    assert reading.cautions == hazard_cautions(lot, profile)
    assert len(reading.reasons) == 3
