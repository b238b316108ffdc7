"""Cautions about lots, the reading of a lot, and the table of purchased feeds."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from rickyard.farm import Analyte, Basis, Caution, Forage, Lot, Package, Report, Storage
from rickyard.forage.hazards.heating import hay_temperature_action, hay_temperature_label
from rickyard.forage.hazards.poisons import is_nitrate_suspect
from rickyard.forage.plausibility.profile import lot_profile
from rickyard.forage.reading.lot_hazards import hazard_cautions, lot_hazards
from rickyard.forage.reading.reading import LotReading, read_lot
from rickyard.forage.uncertainty.suitability import DENSITY_NEEDS
from rickyard.forage.values.feed_table import FeedTableError, cell, feed_ids, feed_row
from rickyard.quantities import UNITS
from support.rows import each_row

DM, AR, NONE = Basis.DRY_MATTER, Basis.AS_RECEIVED, Basis.NONE
SOUND = (("dm", 88.0), ("cp", 11.0), ("adf", 38.0), ("ndf", 62.0), ("ca", 0.5), ("p", 0.25))


def a_lot(forage: Forage = Forage.COOL_GRASS, package: Package = Package.ROUND, **more: Any) -> Lot:
    return Lot(
        "L1",
        "Creek meadow",
        forage,
        package,
        Storage.ENCLOSED_BARN,
        40,
        date(2026, 6, 1),
        date(2026, 10, 1),
        **more,
    )


def a_report(*more: Analyte, **changed: float) -> Report:
    values = {**dict(SOUND), **changed}
    plain = (Analyte(name, amount, "pct", DM) for name, amount in values.items())
    return Report("R1", "L1", (*more, *plain))


def cautions(lot: Lot, *more: Analyte, **changed: float) -> tuple[Caution, ...]:
    return hazard_cautions(lot, lot_profile(lot, [a_report(*more, **changed)]))


def reading(lot: Lot, *more: Analyte, **changed: float) -> LotReading:
    return read_lot(lot, [a_report(*more, **changed)])


def ppm(name: str, amount: float) -> Analyte:
    return Analyte(name, amount, "ppm", DM)


def test_sound_tested_hay_has_no_caution() -> None:
    assert cautions(a_lot()) == ()


@each_row(
    ("no3n", "level", "words"),
    [
        (650.0, None, ""),
        (
            900.0,
            "note",
            "50% of the dry matter eaten for pregnant stock; other cattle, sheep and goats may eat",
        ),
        (1200.0, "warning", "keep it to 50% of the dry matter eaten for pregnant stock;"),
        (1700.0, "warning", "25% of the dry matter eaten for pregnant stock and 50% for other"),
        (2500.0, "danger", "no more than 35% of the dry matter eaten to others"),
        (3800.0, "danger", "no more than 25%"),
        (4500.0, "danger", "Do not feed it to any stock"),
    ],
)
def test_nitrate(no3n: float, level: str | None, words: str) -> None:
    found = cautions(a_lot(Forage.SUMMER_ANNUAL), ppm("nitrate_no3n", no3n))
    if level is None:
        assert found == ()
        return
    # Above every table the report is asked for the form besides.
    (caution,) = [one for one in found if "Clemson" in one.source]
    assert len(found) == (2 if no3n > 4000.0 else 1)
    assert caution.level == level
    assert words in caution.sentence
    assert f"{no3n:,.0f} ppm nitrate-nitrogen (NO3-N) in the dry matter" in caution.sentence
    assert "Clemson" in caution.source
    assert ("veterinarian" in caution.sentence) == (level == "danger")


@each_row(
    ("forage", "drought", "suspect"),
    [
        (Forage.SUMMER_ANNUAL, None, True),
        (Forage.SMALL_GRAIN, False, True),
        (Forage.CORN_SILAGE, None, True),
        (Forage.COOL_GRASS, True, True),
        (Forage.COOL_GRASS, None, False),
        (Forage.ALFALFA, False, False),
    ],
)
def test_untested_nitrate_at_risk(forage: Forage, drought: bool | None, suspect: bool) -> None:
    lot = a_lot(forage, drought=drought, species="teff")
    assert is_nitrate_suspect(lot) == suspect
    told = [one for one in cautions(lot, adf=30.0, ndf=55.0) if "nitrate" in one.sentence]
    assert len(told) == suspect
    deadly = bool(drought) and forage is not Forage.COOL_GRASS
    said = "Feed none until the result is back" if deadly else "test it before feeding it to preg"
    assert all(said in one.sentence for one in told)


def test_nitrate_without_form_holds_the_lot_back() -> None:
    read = reading(a_lot(), ppm("nitrate", 900.0))
    (caution,) = read.cautions
    assert "NO3-N, NO3 or KNO3" in caution.sentence
    assert "keep it from pregnant stock" in read.suits


@each_row(
    ("more", "told"),
    [
        ({"frosted": True}, True),
        ({"drought": True}, True),
        ({"package": Package.BALEAGE}, True),
        ({}, False),
        ({"frosted": True, "species": "pearl millet"}, False),
        ({"frosted": True, "species": "sorghum-sudan", "forage": Forage.CORN_SILAGE}, True),
        ({"frosted": True, "forage": Forage.COOL_GRASS}, False),
        ({"frosted": True, "species": "milo", "package": Package.BALEAGE}, True),
        ({"frosted": True, "species": "shattercane", "forage": Forage.WARM_GRASS}, True),
    ],
)
def test_prussic_acid_suspected(more: dict[str, Any], told: bool) -> None:
    lot = a_lot(**{"forage": Forage.SUMMER_ANNUAL, **more})
    assert any("prussic acid" in one.sentence for one in cautions(lot)) == told


@pytest.mark.parametrize(
    ("hcn", "level"), [(400.0, None), (500.0, "warning"), (1000.0, "warning"), (1100.0, "danger")]
)
def test_prussic_acid_measured(hcn: float, level: str | None) -> None:
    found = [one for one in cautions(a_lot(), ppm("hcn", hcn)) if "prussic" in one.sentence]
    assert [one.level for one in found] == ([] if level is None else [level])


def test_heat_damage_says_what_it_costs() -> None:
    (caution,) = cautions(a_lot(), cp=18.0, adicp=2.9)
    assert "Heat has bound 16%" in caution.sentence
    assert "16.4% protein in the dry matter is used instead of 18.0%" in caution.sentence
    (slight,) = cautions(a_lot(), cp=10.0, adicp=1.2)
    assert slight.level == "note"


def test_hot_hay_untested_for_bound_protein() -> None:
    found = cautions(a_lot(highest_temperature_c=56.0))
    assert any("ADICP" in one.sentence for one in found)
    assert not any(
        "ADICP" in one.sentence for one in cautions(a_lot(highest_temperature_c=56.0), adicp=0.8)
    )


@each_row(
    ("fahrenheit", "level", "words"),
    [
        (110.0, None, ""),
        (120.0, "note", "check twice daily"),
        (135.0, "warning", "check every few hours"),
        (150.0, "danger", "alert the fire department"),
        (160.0, "danger", "call the fire department now"),
        (175.0, "danger", "call the fire department before moving a bale"),
        (205.0, "danger", "stay off the stack"),
    ],
)
def test_hot_hay(fahrenheit: float, level: str | None, words: str) -> None:
    celsius = UNITS["degF"].to_canonical(fahrenheit)
    found = [
        one
        for one in cautions(a_lot(highest_temperature_c=celsius), adicp=0.8)
        if "heated to" in one.sentence
    ]
    assert [one.level for one in found] == ([] if level is None else [level])
    assert all(words in one.sentence for one in found)
    assert all(f"{fahrenheit:.0f} °F (" in one.sentence for one in found)


def test_dry_hay_heat_rules_do_not_hold_for_baleage() -> None:
    lot = a_lot(package=Package.BALEAGE, highest_temperature_c=70.0)
    assert not any("hottest" in one.sentence for one in cautions(lot, dm=50.0))


def test_temperature_labels_by_purdue() -> None:
    """Johnson & Burbrink 2022; a reading takes the highest listed temperature it has reached."""
    labels = {f: hay_temperature_label(UNITS["degF"].to_canonical(f)) for f in (125, 126, 175, 190)}
    assert labels[125] == "no action"
    assert labels[126] == "watch"
    assert labels[175].startswith("hot spots")
    assert labels[190] == "fire likely: remove with fire department"
    assert hay_temperature_action(20.0) == ""


@each_row("limit_f", [126, 150, 160, 175, 190, 200])
def test_a_listed_temperature_is_reached_however_it_was_converted(limit_f: int) -> None:
    exact = UNITS["degF"].to_canonical(limit_f)
    for celsius in (exact, (limit_f - 32) / 1.8, round(exact, 3)):
        assert hay_temperature_label(celsius) == hay_temperature_label(exact + 0.01)
    below = hay_temperature_label(UNITS["degF"].to_canonical(limit_f - 0.1))
    assert below != hay_temperature_label(exact)


def test_a_reading_of_150_degrees_is_a_danger_in_either_unit() -> None:
    levels = [
        max(one.level == "danger" for one in cautions(a_lot(highest_temperature_c=celsius)))
        for celsius in (UNITS["degF"].to_canonical(150.0), (150 - 32) / 1.8, 65.5)
    ]
    assert levels == [True, True, False]


def others(*more: Analyte, lot: Lot | None = None, **changed: float) -> str:
    return reading(lot or a_lot(), *more, **changed).other_stock


def test_no_stock_is_named_that_a_caution_keeps_the_hay_from() -> None:
    assert "mares in late gestation" in others()
    assert "idle adult horses" in others()
    ergovaline = others(ppm("ergovaline", 0.1))
    assert "idle adult horses" in ergovaline
    assert "mares in late gestation" not in ergovaline
    assert "horses" not in others(ppm("ergovaline", 0.35))
    assert "horses" not in others(Analyte("mold", 600_000.0, "cfu_per_g", AR))
    copper = (ppm("cu", 20.0), ppm("mo", 0.5))
    assert "ewes" in others(cp=12.0)
    assert "ewes" not in others(*copper, cp=12.0)
    wrapped = a_lot(package=Package.BALEAGE)
    assert "horses" in others(Analyte("ph", 4.4, "", NONE), lot=wrapped, dm=45.0)
    assert "horses" not in others(Analyte("ph", 4.8, "", NONE), lot=wrapped, dm=45.0)
    sour = others(Analyte("ph", 5.3, "", NONE), lot=wrapped, dm=45.0, cp=13.0)
    assert "horses" not in sour
    assert "in lamb" not in sour


def test_tables_of_limits_are_told_by_the_limits_themselves() -> None:
    lot = a_lot(package=Package.BALEAGE)
    values = (ppm("cu", 20.0), ppm("mo", 0.5), Analyte("ph", 5.3, "", NONE))
    report = a_report(*values, dm=33.0)
    tables = {one.name: one.table for one in lot_hazards(lot, lot_profile(lot, [report]))}
    assert "40-65% sound, above 70% dangerous" in tables["clostridia"]
    assert "4.5 safe, above 5.0 doubtful, 5.5 in small grain" in tables["listeria and clostridia"]
    assert "above 15 ppm with molybdenum below 1 ppm" in tables["copper"]


def test_hay_that_waits_for_a_test_suits_nobody_yet() -> None:
    for lot, more, words in (
        (a_lot(), ppm("zearalenone", 0.2), "Clear it first"),
        (a_lot(), ppm("hcn", 700.0), "Clear it first"),
        (a_lot(Forage.SMALL_GRAIN), ppm("cu", 9.0), "Test its nitrate first"),
    ):
        read = reading(lot, more)
        assert read.suits.startswith(words)
        assert "on energy and protein alone" in read.headline
        assert read.other_stock == ""


def baleage(forage: Forage = Forage.LEGUME_GRASS, ph: float | None = None, dm: float = 50.0) -> str:
    lot = a_lot(forage, Package.BALEAGE)
    acidity = () if ph is None else (Analyte("ph", ph, "", NONE),)
    found = cautions(lot, ppm("nitrate_no3n", 10.0), *acidity, dm=dm)
    (out,) = (one for one in found if "three days at most when it is warm" in one.sentence)
    assert out.level == "warning", "whoever feeds it is to read it on the list"
    return ", ".join(one.level for one in found if one != out)


@each_row(
    ("forage", "ph", "dm", "levels"),
    [
        (Forage.LEGUME_GRASS, 4.4, 45.0, ""),
        (Forage.LEGUME_GRASS, 4.8, 45.0, "warning"),
        (Forage.LEGUME_GRASS, 4.8, 55.0, ""),
        (Forage.LEGUME_GRASS, 5.2, 55.0, "warning"),
        (Forage.LEGUME_GRASS, 5.8, 65.0, "note"),  # dry baleage: judged by moisture
        (Forage.SMALL_GRAIN, 5.6, 45.0, "danger"),
        (Forage.LEGUME_GRASS, None, 34.0, "warning"),
        (Forage.LEGUME_GRASS, None, 29.0, "danger"),
    ],
)
def test_baleage(forage: Forage, ph: float | None, dm: float, levels: str) -> None:
    assert baleage(forage, ph, dm) == levels


def test_rain_low_protein_and_calcium() -> None:
    (rain,) = cautions(a_lot(rained_on=True))
    assert "sample it again" in rain.sentence
    (protein,) = cautions(a_lot(), cp=6.1)
    assert "6.1% of the dry matter, under the 7%" in protein.sentence
    (calcium,) = cautions(a_lot(), ca=0.25, p=0.3)
    assert "0.8 to 1" in calcium.sentence


def test_book_minerals_raise_no_caution_about_their_ratio() -> None:
    lot = a_lot(Forage.CORN_SILAGE)
    assert not any("calcium" in one.sentence for one in hazard_cautions(lot, lot_profile(lot, [])))


def test_cautions_come_gravest_first_with_a_source() -> None:
    lot = a_lot(Forage.SUMMER_ANNUAL, frosted=True, rained_on=True, highest_temperature_c=72.0)
    found = cautions(lot, ppm("nitrate_no3n", 2500.0), adicp=2.0)
    order = ["danger", "warning", "note"]
    places = [order.index(one.level) for one in found]
    assert places == sorted(places)
    assert {"danger", "warning", "note"} == {one.level for one in found}
    assert all(one.source and one.about == "L1" for one in found)
    for one in found:
        if one.level == "danger":
            assert "extension office" in one.sentence


def test_reading_of_good_hay() -> None:
    read = reading(a_lot(), cp=13.0, tdn=63.0)
    assert read.headline.endswith("enough for cows nursing calves.")
    assert "13.0% protein in the dry matter" in read.headline
    assert read.lacks == (
        "It has enough energy and protein for all classes of beef cattle compared here."
    )
    assert DENSITY_NEEDS[-1].name in read.suits
    numbers = {number.name: number for number in read.numbers}
    assert numbers["tdn_pct"].origin == "lab"
    assert numbers["tdn_pct"].unit == "% of dry matter"


def test_reading_of_plain_hay_says_what_is_short() -> None:
    read = reading(a_lot(), cp=8.0, tdn=54.5, p=0.15)
    assert "enough for dry cows, not for nursing ones" in read.headline
    assert read.suits.startswith("Fed alone, it fits mature bulls, dry cows in mid-gestation")
    assert "6.5 points of TDN and 2.7 points of protein for cows nursing young calves" in read.lacks
    assert "phosphorus (0.15% where they need about 0.20%)" in read.lacks


def test_reading_of_straw() -> None:
    read = read_lot(a_lot(Forage.STRAW), [])
    assert "not enough by itself for any class of beef cattle" in read.headline
    assert "no class of stock compared here" in read.suits
    assert "a protein supplement makes cattle eat more" in read.reasons[1]


def test_danger_is_said_before_what_it_suits() -> None:
    read = reading(a_lot(), ppm("nitrate_no3n", 2500.0), tdn=63.0)
    assert read.headline.startswith("Creek meadow: 2,500 ppm nitrate-nitrogen.")
    assert read.suits.startswith("Deal with the danger first.")


def test_nitrate_that_limits_the_share_is_no_whole_ration() -> None:
    read = reading(a_lot(), ppm("nitrate_no3n", 1200.0), tdn=63.0, cp=13.0)
    assert "its nitrate limits how it may be fed" in read.headline
    suits_now = read.suits.split(". On energy")[0]
    assert "mature bulls" in suits_now
    assert "dry cows" not in suits_now


def test_feed_table_holds_every_row_whole() -> None:
    rows = [feed_row(table_id) for table_id in feed_ids()]
    assert len(rows) == 70
    for row in rows:
        assert row.name
        assert row.recommended_tdn_reason
        for share in (row.dm_pct, row.tdn_pct, row.ndf_pct, row.ca_pct, row.p_pct):
            assert share is None or 0.0 <= share <= 100.0


def test_phosphorus_is_not_a_copy_of_magnesium() -> None:
    """The fault of the raw table: phosphorus overwritten by magnesium in every organic feed."""
    corn, meal = feed_row("corn_grain_dry_rolled"), feed_row("soybean_meal_48")
    assert (corn.p_pct, corn.mg_pct) == (0.29, 0.11)
    assert meal.p_pct == 0.79


# Common practice: what the energy of by-products counts as on forage-based diets.
RECOMMENDED = {
    "soybean_hulls": 77.0,
    "corn_gluten_feed_dry": 80.0,
    "ddgs_dry": 89.0,
    "whole_cottonseed": 90.0,
    "wheat_middlings": 75.0,
    "cottonseed_meal_41": 72.0,
    "citrus_pulp_dry": 78.0,
    "corn_grain_dry_rolled": 87.6,
    "peanut_hulls": 25.0,
}


@each_row(("table_id", "tdn"), RECOMMENDED.items())
def test_recommended_tdn(table_id: str, tdn: float) -> None:
    assert feed_row(table_id).recommended_tdn_pct == tdn


def test_blank_is_unknown_and_a_mineral_holds_no_energy() -> None:
    assert feed_row("corn_silage").p_pct is None
    assert feed_row("corn_silage").p_from_memory_pct == 0.22
    assert feed_row("liquid_feed_32").recommended_tdn_pct is None
    assert feed_row("limestone").recommended_tdn_pct == 0.0
    assert cell("limestone", "cp_pct_dm") is None
    assert cell("limestone", "feed_class") == "mineral"


def test_an_unknown_feed_or_column_names_the_nearest() -> None:
    with pytest.raises(FeedTableError, match="Did you mean ddgs_dry"):
        feed_row("ddgs dry")
    with pytest.raises(FeedTableError, match="Did you mean cp_pct_dm"):
        cell("urea", "cp_pct")
    with pytest.raises(FeedTableError, match=r"not in the feed table\.$"):
        feed_row("zzzz")


def test_energy_without_protein_suits_nobody_who_needs_protein() -> None:
    read = reading(a_lot(), ppm("nitrate_no3n", 10.0), tdn=63.0, cp=8.5)
    assert "dry cows in mid-gestation" in read.suits
    assert "cows nursing" not in read.suits
    assert "0.5 points of protein for cows nursing older calves" in read.lacks
