"""Horses that founder: sugar and starch limited, unknown counts as high."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from rickyard.cli.main import main
from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    Care,
    Farm,
    Feed,
    FeedKind,
    Group,
    Report,
)
from rickyard.folder import read_folder, write_folder
from rickyard.program.audit import recheck
from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions
from rickyard.safety.binding import bindings
from rickyard.safety.told import rule_cautions
from rickyard.stock.herd import care_cautions
from support.farm_folders import GOOD, write_texts
from support.rules_bound import all_cautions, bars


def sugars(lot_id: str, starch: float, wsc: float) -> Report:
    values = [("cp", 10.0), ("starch", starch), ("wsc", wsc)]
    told = tuple(Analyte(n, v, "pct", Basis.DRY_MATTER, text=f"{v:g}") for n, v in values)
    return Report(f"S{lot_id}", lot_id, told, reported_on=date(2025, 11, 10))


PONIES = Group("P", "Ponies", AnimalClass.HORSE, 3, 300.0, care=Care.FOUNDER_PRONE)
OATS = Feed("oats", "Oats", FeedKind.GRAIN, 0.3, table_id="oats_grain")
SWEET = Feed("sweet", "Molasses mix", FeedKind.SUPPLEMENT, 0.4, table_id="molasses_cane")


@pytest.fixture
def farm(tmp_path: Path) -> Farm:
    read = read_folder(write_texts(tmp_path / "farm", GOOD)).farm
    reports = (*read.reports, sugars("A1", 1.0, 6.0), sugars("B2", 3.0, 15.0))
    return replace(
        read, groups=(PONIES,), feeds=(OATS, SWEET), reports=reports, needs=(), wishes=(), fed=()
    )


def test_grain_molasses_and_sugary_hay_are_kept_from_them(farm: Farm) -> None:
    # Fit hay is there, so that nobody needs hay of which the sugar is not known.
    assert {one.source_id for one in bars(farm)} == {"oats", "sweet", "B2", "C3"}
    plain = replace(farm, groups=(replace(PONIES, care=None),))
    assert bars(plain) == ()
    senior = replace(farm, groups=(replace(PONIES, care=Care.SENIOR),))
    assert bars(senior) == ()


def test_unknown_sugar_counts_as_high(farm: Farm) -> None:
    unknown = [one for one in bindings(farm) if one.rule.known == "unknown"]
    found = {one.about: one for one in rule_cautions(farm, unknown)}
    assert found["C3"].level == "danger"
    assert "Nobody measured the sugar and starch of Hill alfalfa" in found["C3"].sentence
    assert "A1" not in found
    amber = replace(farm, reports=(*farm.reports[:-2], sugars("A1", 2.0, 9.0)))
    assert {one.about: one.level for one in care_cautions(PONIES, amber)}["A1"] == "warning"


def test_the_program_holds_the_bar_and_passes_its_second_look(farm: Farm) -> None:
    program = plan_season(farm, options=PlanOptions(seconds=0.0, weekly=True))
    assert recheck(program, farm) == ()
    fed = {one.source_id for one in program.feeding if one.eaten_kg_dm_per_head_day > 0.0}
    assert not fed & {"oats", "sweet", "B2"}
    assert any("is kept from Ponies" in one.sentence for one in program.cautions)


def test_care_is_read_written_and_shown_by_read(farm: Farm, tmp_path: Path) -> None:
    folder = tmp_path / "again"
    write_folder(farm, folder)
    assert read_folder(folder).farm.groups[0].care is Care.FOUNDER_PRONE
    shown = CliRunner().invoke(main, ["read", str(folder)], catch_exceptions=False).stdout
    text = " ".join(shown.split())
    assert "Nobody measured the sugar and starch of Hill alfalfa" in text
    assert "Tarp fescue is kept from Ponies" in text


def test_care_of_stock_that_founders_otherwise_is_asked_about(tmp_path: Path) -> None:
    header, first, *rest = GOOD["groups.csv"].splitlines()
    rows = [f"{header},care", f"{first},founder_prone", *(f"{one}," for one in rest)]
    texts: dict[str, str | bytes] = {**GOOD, "groups.csv": "\n".join(rows) + "\n"}
    (question,) = read_folder(write_texts(tmp_path / "f", texts)).questions
    assert "is a care of horses" in question.message


def test_pellets_written_as_grain_are_asked_for_an_ionophore(farm: Farm) -> None:
    pellets = Feed("pel", "Pellets", FeedKind.GRAIN, 0.3, dm_pct=90, tdn_pct=75, cp_pct=14)
    asked = all_cautions(replace(farm, feeds=(pellets, OATS)))
    (one,) = [one for one in asked if "no ionophore" in one.sentence]
    assert "monensin in Pellets" in one.sentence
