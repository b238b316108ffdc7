"""A value on the edge of a band belongs to the side that its source, or the rule, says.

Edges are those printed by the sources named in the functions; where the file of a function says
"common practice" or "from memory", so is the edge here.
"""

from __future__ import annotations

import csv
from importlib.resources import files

import numpy as np
import pytest

from rickyard.farm import Storage, WindChill, Wrap
from rickyard.forage.hazards.heating import (
    has_reached,
    hay_temperature_action,
    hay_temperature_label,
    heating_degree_days_f,
)
from rickyard.forage.values.classes import CLASS_TABLES
from rickyard.forage.values.nitrate import nitrate_mix_share_pct, nitrate_share_limit
from rickyard.forage.values.protein import adjusted_cp_pct
from rickyard.hay.storage.storage import bunker_loss_pct, storage_loss_pct
from rickyard.quantities import KM_PER_MILE, UNITS, OutOfRange
from rickyard.stock.cold.cold import tissue_insulation
from rickyard.stock.cold.wind_chill import effective_temperature_c
from rickyard.stock.equations.appetite_factors import mud_factor, temperature_factor
from rickyard.stock.equations.intake import appetite_kg, appetite_slope
from rickyard.stock.herd.additives import monensin_gain_kg
from rickyard.stock.herd.diet_change import days_to_amount, new_share_pct
from rickyard.stock.horses.horse import mare_in_milk, mare_pregnant
from rickyard.stock.horses.horse_diet import judge_nsc
from rickyard.stock.minerals import water
from rickyard.stock.minerals.diet_minerals import FORAGE_FOR_MORE_SULFUR_PCT, most_sulfur_pct
from rickyard.stock.minerals.water import dissolved_solids_class
from rickyard.stock.sheep.copper import judge_copper, safe_copper_ppm
from rickyard.stock.sheep.hay_rates import hay_per_head_kg
from rickyard.stock.sheep.sheep import late_pregnancy_class, ram_1985
from support.rows import each_row

F = UNITS["degF"]


@each_row("name", CLASS_TABLES)
def test_a_value_on_a_limit_of_a_class_goes_where_the_table_says(name: str) -> None:
    table = CLASS_TABLES[name]
    for place, limit in enumerate(table.limits):
        below, above = table.labels[place], table.labels[place + 1]
        assert table.label(np.nextafter(limit, -np.inf)) == below
        assert table.label(np.nextafter(limit, np.inf)) == above
        assert table.label(limit) == (below if table.limit_goes == "down" else above)
        assert table.places(np.array([limit])).tolist() == [table.place(limit)]


def test_hay_has_the_label_of_the_highest_listed_temperature_that_it_reached() -> None:
    """Every line of the list of temperatures, at its temperature and a tenth of a degree below."""
    path = files("rickyard.forage") / "data" / "hay_temperatures.csv"
    rows = list(csv.DictReader(path.read_text("utf-8").splitlines()))
    calls = {"purdue": hay_temperature_label, "strictest": hay_temperature_action}
    names = list(rows[0])
    lists = {one: [row for row in rows if row[names[0]] == one] for one in calls}
    for one, call in calls.items():
        steps = sorted((float(row[names[1]]), row[names[2]]) for row in lists[one])
        before = "no action" if one == "purdue" else ""
        for at_f, label in steps:
            assert call(F.to_canonical(at_f)) == label
            assert call(F.to_canonical(at_f - 0.1)) == before
            before = label


def test_heat_counts_above_86_degrees_and_a_hundredth_is_rounding() -> None:
    assert heating_degree_days_f([F.to_canonical(one) for one in (86.0, 87.0, 85.0)]) == (
        pytest.approx(1.0)
    )
    assert has_reached(F.to_canonical(149.9905), 150.0)
    assert not has_reached(F.to_canonical(149.9895), 150.0)


def test_bound_protein_is_lost_in_part_from_the_threshold_and_wholly_above_20_percent() -> None:
    cp = 20.0
    assert adjusted_cp_pct(cp, 4.0) == pytest.approx(cp * (100.0 - (20.0 - 7.0)) / 100.0)
    assert adjusted_cp_pct(cp, 4.02) == pytest.approx(cp - 4.02)
    assert adjusted_cp_pct(cp, 2.0, 10.0) == pytest.approx(cp * (100.0 - 3.0) / 100.0)
    assert adjusted_cp_pct(cp, 1.99, 10.0) == cp


def test_pregnant_stock_get_none_of_a_hay_from_2000_ppm_on() -> None:
    """Clemson: above 2,000; ServiTech: the strictest of what the two allow."""
    assert nitrate_share_limit(2000.0, pregnant=True) == 0.0
    assert nitrate_share_limit(1999.0, pregnant=True) > 0.0
    with pytest.raises(OutOfRange):
        nitrate_share_limit(-0.05, pregnant=True)
    assert nitrate_share_limit(0.0, pregnant=True) == 1.0


def test_hay_at_the_limit_of_nitrate_need_not_be_mixed() -> None:
    assert nitrate_mix_share_pct(1000.0, 200.0, 1000.0) == 100.0
    assert nitrate_mix_share_pct(1800.0, 200.0, 1000.0) == pytest.approx(50.0)
    with pytest.raises(OutOfRange):
        nitrate_mix_share_pct(1800.0, 1000.0, 1000.0)


def test_the_tissue_of_calves_and_yearlings_by_age() -> None:
    """NRC 2000: 2.5 under a month, 6.5 to six, 5.1875 + 0.3125 x score to twelve, then 5.25 +."""
    found = tissue_insulation(5.0, np.array([0.9, 1.0, 5.9, 6.0, 11.9, 12.0]))
    assert found == pytest.approx([2.5, 6.5, 6.5, 6.75, 6.75, 9.0])


@each_row(
    ("air_f", "mph", "chart", "felt_f"),
    [
        (50.0, 20.0, WindChill.WEATHER_SERVICE, 43.6),
        (50.5, 20.0, WindChill.WEATHER_SERVICE, 50.5),
        (0.0, 2.9, WindChill.WEATHER_SERVICE, 0.0),
        (0.0, 3.0, WindChill.WEATHER_SERVICE, -6.9),
        (0.0, 3.01, WindChill.WEATHER_SERVICE, -6.9),
        (0.0, 3.9, WindChill.OLD_HUMAN, 0.0),
        (0.0, 10.0, WindChill.OLD_HUMAN, -20.9),
        (0.0, 40.0, WindChill.CATTLE, -68.0),
        (0.0, 60.0, WindChill.CATTLE, -68.0),
    ],
)
def test_wind_counts_within_the_range_of_its_chart(
    air_f: float, mph: float, chart: WindChill, felt_f: float
) -> None:
    """Worked out by hand from the printed equations, and from the printed cells of cattle."""
    felt = effective_temperature_c(F.to_canonical(air_f), mph * KM_PER_MILE, chart)
    assert F.from_canonical(float(felt)) == pytest.approx(felt_f, abs=0.15)


def test_still_air_is_no_wind_below_zero() -> None:
    assert effective_temperature_c(-5.0, 0.0, WindChill.CATTLE) == pytest.approx(-5.0)
    with pytest.raises(OutOfRange):
        effective_temperature_c(-5.0, -0.1, WindChill.CATTLE)


def test_appetite_by_the_classes_of_temperature() -> None:
    """NRC 2000, Table 10-4: a temperature on an edge belongs to the colder class."""
    edges = np.array([-15.0, -5.0, 5.0, 15.0, 25.0, 35.0])
    assert temperature_factor(edges).tolist() == [1.16, 1.07, 1.05, 1.03, 1.00, 0.90]
    above = temperature_factor(edges + 0.1, cool_nights=False)
    assert above.tolist() == [1.07, 1.05, 1.03, 1.00, 0.90, 0.65]
    assert temperature_factor(35.1) == 0.90


def test_appetite_falls_along_straight_lines_between_the_classes_of_mud() -> None:
    depths = np.array([0.0, 5.0, 10.0, 20.0, 25.0, 30.0, 60.0])
    assert mud_factor(depths) == pytest.approx([1.0, 0.925, 0.85, 0.85, 0.775, 0.70, 0.70])


def test_monensin_is_told_from_30_days_on() -> None:
    """Gadberry et al. 2022."""
    assert monensin_gain_kg(30.0) == pytest.approx(0.0784 + 0.0007 * 82.0)
    assert monensin_gain_kg(112.0) == pytest.approx(0.0784)
    with pytest.raises(OutOfRange):
        monensin_gain_kg(29.9)


def test_grain_is_raised_by_whole_steps() -> None:
    assert days_to_amount(2.0, 3.0, 0.5) == 2
    assert days_to_amount(2.0, 3.0, 0.5, 3) == 6
    assert days_to_amount(2.0, 2.0, 0.5) == 0
    assert days_to_amount(3.0, 2.0, 0.5) == 0
    assert days_to_amount(0.0, 0.3, 0.1) == 3
    for step, days in ((0.0, 1), (0.5, 0)):
        with pytest.raises(OutOfRange):
            days_to_amount(2.0, 3.0, step, days)
    assert [new_share_pct(day, 25.0, 2) for day in (0, 1, 2, 5, 6, 9)] == [
        *(25.0, 25.0, 50.0, 75.0, 100.0, 100.0)
    ]
    assert new_share_pct(0, 25.0, 1) == 25.0


def test_the_months_of_a_mare() -> None:
    """NRC 2007: minerals by thirds from the 7th and 9th month, milk to the third month."""
    carried = [mare_pregnant(500.0, month).ca_g for month in (6.0, 7.0, 8.0, 9.0)]
    assert carried == pytest.approx([20.0, 28.0, 28.0, 36.0])
    third, fourth = (mare_in_milk(500.0, month) for month in (3.0, 4.0))
    assert third.ca_g > fourth.ca_g
    weights = mare_in_milk(500.0, np.array([3.0, 4.0]))
    assert weights.ca_g == pytest.approx([third.ca_g, fourth.ca_g])


def test_sugar_and_starch_of_horses() -> None:
    """Ten is green, twelve amber, more is red."""
    lights = [judge_nsc(one, "starch + WSC").light for one in (10.0, 10.1, 12.0, 12.1)]
    assert lights == ["green", "amber", "amber", "red"]
    assert [judge_nsc(one, "starch + ESC").light for one in (3.0, 12.0, 12.1)] == [
        *("amber", "amber", "red")
    ]


def test_most_sulfur_by_the_share_of_forage() -> None:
    limit = FORAGE_FOR_MORE_SULFUR_PCT
    assert most_sulfur_pct(limit) == 0.50
    assert most_sulfur_pct(limit - 0.1) == 0.30
    assert most_sulfur_pct(limit - 0.1, "NRC 1996") == 0.40


def test_dissolved_solids_by_class() -> None:
    """Endecott, Montana State: an edge belongs to the worse class, 10,000 to the last but one."""
    kinds = [dissolved_solids_class(one) for one in (0.0, 999.0, 1000.0, 3000.0, 5000.0, 7000.0)]
    assert [one.split(",")[0].split(";")[0] for one in kinds] == [
        *("excellent", "excellent", "very satisfactory", "satisfactory"),
        *("reasonable safety", "considerable risk"),
    ]
    assert dissolved_solids_class(10_000.0) == dissolved_solids_class(7000.0)
    assert dissolved_solids_class(10_001.0).startswith("extremely high risk")


def test_copper_of_sheep_is_red_above_what_is_safe() -> None:
    limit = safe_copper_ppm(("sheep",))
    assert judge_copper(limit).light == "amber"
    assert judge_copper(limit + 0.1).light == "red"


def test_the_litter_decides_the_row_of_late_pregnancy() -> None:
    """Split at 165 % for ewes and 125 % for ewe lambs; common practice."""
    assert late_pregnancy_class(1.65) == "ewe_late_gest_180_225"
    assert late_pregnancy_class(1.64) == "ewe_late_gest_130_150"
    assert late_pregnancy_class(1.25, ewe_lambs=True) == "ewelamb_late_gest_130_175"
    assert late_pregnancy_class(1.24, ewe_lambs=True) == "ewelamb_late_gest_100_120"


def test_rams_begin_at_40_kg() -> None:
    assert float(ram_1985(40.0).tdn_kg) > 0.0
    with pytest.raises(OutOfRange):
        ram_1985(39.0)


def test_hay_by_the_rates_needs_a_possible_dry_matter_and_waste() -> None:
    whole = float(hay_per_head_kg(500.0, "horse", 100.0))
    assert float(hay_per_head_kg(500.0, "horse", 50.0)) == pytest.approx(2.0 * whole)
    assert float(hay_per_head_kg(500.0, "horse", 100.0, 50.0)) == pytest.approx(2.0 * whole)
    for dm, waste in ((0.0, 0.0), (100.1, 0.0), (88.0, -0.1), (88.0, 100.0)):
        with pytest.raises(OutOfRange):
            hay_per_head_kg(500.0, "horse", dm, waste)


@each_row("animal", water.GALLONS)
def test_the_printed_cells_of_water_are_read_and_cool_days_ask_for_less(animal: str) -> None:
    """Beef Magazine, from NRC 1996: US gallons at 70, 80 and 90 °F; below, common practice."""
    printed = {
        "calf_500lb": (6.5, 7.4, 10.6),
        "growing_800lb": (9.3, 10.6, 14.0),
        "finishing_800lb": (10.8, 12.3, 16.5),
        "pregnant_heifer_750lb": (9.0, 10.3, 14.6),
        "dry_pregnant_cow": (10.8, 12.4, 17.6),
        "lactating_cow": (16.3, 17.9, 21.6),
        "mature_bull": (12.7, 14.6, 19.5),
    }[animal]

    def gallons(fahrenheit: float) -> float:
        litres = water.drinking_water_litres(animal, F.to_canonical(fahrenheit))
        return float(litres) / 3.785411784

    assert [gallons(one) for one in (70.0, 80.0, 90.0)] == pytest.approx(list(printed))
    assert gallons(60.0) == pytest.approx(0.9 * printed[0])
    assert gallons(40.0) == gallons(20.0) == pytest.approx(0.7 * printed[0])


def test_hay_on_the_ground_loses_by_its_wrap_as_measured() -> None:
    """Shinners: net 7.3, sisal 19.5, plastic twine 11.3 %; Collins 1995: film 3.6, sisal 18.2 %."""

    def loss(wrap: Wrap | None) -> float:
        return float(storage_loss_pct(Storage.EXPOSED_GROUND, 6.0, 500.0, wrap))

    twine = loss(None)
    assert loss(Wrap.PLASTIC_TWINE) == twine
    assert loss(Wrap.NET) / twine == pytest.approx(7.3 / 11.3, abs=0.01)
    assert loss(Wrap.SISAL) / twine == pytest.approx(19.5 / 11.3, abs=0.03)
    assert loss(Wrap.FILM) / loss(Wrap.SISAL) == pytest.approx(3.6 / 18.2)
    assert float(storage_loss_pct(Storage.ENCLOSED_BARN, 6.0, 500.0, Wrap.SISAL)) == float(
        storage_loss_pct(Storage.ENCLOSED_BARN, 6.0, 500.0)
    )


def test_baleage_loses_five_percent_in_the_nine_months_it_keeps() -> None:
    """Common practice; nine months: University of Georgia."""
    lost = storage_loss_pct(Storage.WRAPPED, np.array([0.0, 4.5, 9.0, 12.0]))
    assert lost == pytest.approx([0.0, 2.5, 5.0, 5.0])


def test_a_bunker_loses_by_its_density_as_in_ruppel_1992() -> None:
    """20.2 % at 10 lb/ft3 and 10 % at 22, by the straight line; half of it in half the time."""
    dense = np.array([10.0, 22.0]) * 16.01846337
    assert bunker_loss_pct(dense) == pytest.approx([20.2, 10.0])
    assert bunker_loss_pct(dense, 90.0) == pytest.approx([10.1, 5.0])
    for density, days in ((9.9, 180.0), (22.1, 180.0), (15.0, 361.0), (15.0, -1.0)):
        with pytest.raises(OutOfRange):
            bunker_loss_pct(density * 16.01846337, days)


@pytest.mark.parametrize("rule", ["cow_early", "cow_late", "calf", "yearling"])
def test_appetite_stays_where_it_is_outside_the_range_of_diets(rule: str) -> None:
    """From 0.8 to 2.2 Mcal of net energy a kilogram."""
    ends = appetite_kg(rule, 500.0, np.array([0.8, 0.79, 0.81, 2.2, 2.21, 2.19]))
    assert ends[0] == ends[1]
    assert ends[0] != ends[2]
    assert ends[3] == ends[4]
    assert ends[3] != ends[5]
    slopes = appetite_slope(rule, 500.0, np.array([0.8, 0.79, 2.2, 2.21]))
    assert slopes[1] == slopes[3] == 0.0
    assert slopes[0] != 0.0
    assert slopes[2] != 0.0
    rise = appetite_kg(rule, 500.0, np.array([0.8501, 0.8499, 1.5001, 1.4999]))
    wanted = [(rise[0] - rise[1]) / 0.0002, (rise[2] - rise[3]) / 0.0002]
    assert appetite_slope(rule, 500.0, np.array([0.85, 1.5])) == pytest.approx(wanted, rel=1e-5)
