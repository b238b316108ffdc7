"""One laboratory error, hay left fit and unfit, means in the books, screens, inputs of checks."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from rickyard.analysis_error import ERROR_SIZES
from rickyard.display import display_for
from rickyard.farm import Coat, Forage, Lot, Package, Storage
from rickyard.forage.hazards.poisons import prussic_acid_reasons
from rickyard.forage.shipped import shipped_rows
from rickyard.forage.uncertainty.uncertainty import Z_90, Labs, lab_sd
from rickyard.forage.values.book_values import book_value
from rickyard.hay.precision.farm_variance import spread_of
from rickyard.hay.sampling.protocols import protocol
from rickyard.program.result.judgement import judge
from rickyard.sheets.wording.yard import answer_of
from rickyard.stock.cold.cold import (
    HAIR_CM,
    WET_FACTOR,
    coat_insulation,
    lower_critical_temperature_c,
    tissue_insulation,
)
from rickyard.verify.evaluate import COLUMNS, evaluate, parse_checks
from support.season_example import example


@pytest.mark.parametrize("name", ["cp", "ndf", "adf", "tdn"])
def test_advice_09_reading_and_sampling_go_by_one_laboratory_error(name: str) -> None:
    size, spread = ERROR_SIZES[name], spread_of(name)
    assert lab_sd(name, 12.0, Labs.ONE) == spread.one_lab == size.one_lab
    assert lab_sd(name, 12.0, Labs.ANY) == pytest.approx(
        (spread.one_lab**2 + spread.bias**2) ** 0.5
    )
    assert size.source == spread.source


def test_advice_09_the_sampling_page_shows_the_error_that_a_report_is_read_with() -> None:
    way = protocol("protocol", "", 20, 200, spread_of("cp"), 16.0)
    laboratory = Z_90 * float(lab_sd("cp", 12.0, Labs.ANY))
    assert laboratory < way.any_lab < 1.1 * laboratory  # what 20 cores add is small
    assert way.same_lab < way.any_lab


def test_advice_10_hay_that_no_animal_here_may_have_is_counted_apart() -> None:
    program, farm = example("enough")
    first, *others = program.lots
    here = tuple({one.group_id for one in program.groups})
    barred = replace(first, left_t=29.0 / 1.10231, kept_from=here)
    kept = [replace(one, left_t=24.0 / 1.10231 / len(others)) for one in others]
    program = replace(program, lots=(barred, *kept))
    found = judge(program)
    assert found.barred_t == pytest.approx(barred.left_t)
    assert found.left_t == pytest.approx(24.0 / 1.10231)
    said = answer_of(program, farm, display_for(farm.units)).sentence
    assert "24 tons left" in said
    assert said.endswith("29 tons more may be fed to no animal here.")
    # Hay that one group may have is not barred.
    some = replace(barred, kept_from=here[:-1])
    assert judge(replace(program, lots=(some, *kept))).barred_t == 0.0


def test_advice_11_book_values_are_means_and_not_ends_of_a_range() -> None:
    rows = shipped_rows("book_values.csv")
    assert {row["evidence"] for row in rows} <= {"seen", "from memory", "common practice"}
    assert book_value(Forage.PRAIRIE, "p_pct").value == 0.14
    assert book_value(Forage.SUMMER_ANNUAL, "ca_pct").value == 0.5
    screens = {(row["forage"], row["quantity"]): row for row in shipped_rows("screens.csv")}
    for forage in Forage:
        for quantity in ("ca", "p"):
            screen = screens[forage.value, quantity]
            book = book_value(forage, f"{quantity}_pct").value
            low, high = float(screen["low"]), float(screen["high"])
            assert low + 0.02 * (high - low) < book < high, (forage, quantity)


def a_lot(**more: object) -> Lot:
    plain = {
        "lot_id": "L", "name": "Field 3", "forage": Forage.SUMMER_ANNUAL,
        "package": Package.BALEAGE, "storage": Storage.WRAPPED, "bales": 40.0,
        "baled_on": date(2026, 8, 1), "counted_on": date(2026, 10, 1), "frosted": True,
    }  # fmt: skip
    return Lot(**(plain | more))  # type: ignore[arg-type]


def test_advice_12_corn_is_no_sorghum_and_fermented_silage_may_lack_sugar() -> None:
    assert prussic_acid_reasons(a_lot(species="corn")) == ()
    assert prussic_acid_reasons(a_lot(species="sudan")) != ()
    assert prussic_acid_reasons(a_lot(forage=Forage.CORN_SILAGE)) == ()
    screens = {(row["forage"], row["quantity"]): row for row in shipped_rows("screens.csv")}
    assert float(screens["corn_silage", "wsc"]["low"]) < 1.5


def test_advice_13_an_input_that_a_check_does_not_know_is_an_error() -> None:
    head = ",".join(COLUMNS)
    inputs = '"{""loss"": 0.2, ""price_per_ton_usd"": 80, ""limits"": [[0, 5]]}"'
    text = f"{head}\nX1,value_lost,{inputs},16,USD/ton,0.01,Somebody 1999,published\n"
    outcome = evaluate(parse_checks(text.encode(), "mine.csv")[0])
    assert outcome.status == "fail"
    assert "limits" in outcome.message


def test_the_factor_of_a_wet_coat_gives_the_printed_critical_temperature() -> None:
    area_heat = 14.83 / (0.09 * 533.0**0.67)
    insulation = float(tissue_insulation(5.0)) + float(
        coat_insulation(HAIR_CM[Coat.WINTER], 0.0, WET_FACTOR)
    )
    fahrenheit = 1.8 * (39.0 - 0.85 * insulation * area_heat) + 32.0
    assert fahrenheit == pytest.approx(59.0, abs=1.5)
    assert float(lower_critical_temperature_c(14.83, 533.0, insulation)) == pytest.approx(
        (fahrenheit - 32.0) / 1.8, abs=0.1
    )
