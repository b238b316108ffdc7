"""Results as columns, and what a terminal or a notebook shows of a large result."""

import sys
from dataclasses import fields, replace
from datetime import date
from types import ModuleType

import numpy as np
import pytest

import rickyard
from rickyard.farm import Analyte, Basis, Caution, Farm, Report, Season
from rickyard.program.result import SeasonProgram, Shortage
from rickyard.tables import ROWS_SHOWN, Table, Tabular, table_of
from support.season_farms import cows, farm_of, hay, report_on, steers

START, END = date(2026, 11, 2), date(2026, 12, 14)
NASTY = '<script>alert("hay")</script>'


@pytest.fixture(scope="module")
def farm() -> Farm:
    lots = [hay("A", 58.0, 11.0, 60.0, 90.0), hay("B", 50.0, 7.0, 60.0, 60.0)]
    both = [(lot, report_on(lot, 55.0, 9.0)) for lot in lots]
    return replace(farm_of(both, [cows(), steers()], []), season=Season(START, END))


@pytest.fixture(scope="module")
def program(farm: Farm) -> SeasonProgram:
    return rickyard.plan(farm, options=rickyard.PlanOptions(seconds=0.0, weekly=True))


def results(farm: Farm, program: SeasonProgram) -> list[Tabular]:
    days = [date(2026, 11, 2), date(2026, 11, 3)]
    return [
        farm,
        program,
        rickyard.needs(farm),
        rickyard.group_needs(farm.groups[0], days),
        rickyard.yard_page(farm, START),
        *rickyard.readings(farm),
        *rickyard.sampling_plan(farm, START),
        rickyard.compare({"now": program, "again": program}),
        rickyard.what_if(
            farm,
            rickyard.Intake(0.1),
            base=program,
            options=rickyard.PlanOptions(seconds=0.0, weekly=True),
        ),
        rickyard.week_list(program, farm, START),
    ]


def test_no_result_shows_itself_at_length(farm: Farm, program: SeasonProgram) -> None:
    for result in results(farm, program):
        assert repr(result).startswith(f"<{type(result).__name__}: ")
        assert len(repr(result)) < 600, type(result)
        assert "\n" not in repr(result)


def test_every_part_of_every_result_is_a_table(farm: Farm, program: SeasonProgram) -> None:
    for result in results(farm, program):
        for name in result.table_names:
            columns = result.table(name)
            assert columns, (type(result), name)
            assert {len(column) for column in columns.values()} == {columns.rows}
            assert {column.ndim for column in columns.values()} == {1}


def test_a_table_holds_what_the_rows_hold(program: SeasonProgram) -> None:
    feeding = rickyard.table(program, "feeding")
    assert feeding["offered_kg"].tolist() == [row.offered_kg for row in program.feeding]
    assert feeding["source_id"].tolist() == [row.source_id for row in program.feeding]
    assert feeding["start"].dtype == "datetime64[D]"
    assert feeding["start"].tolist() == [row.start for row in program.feeding]


def test_needs_come_one_row_a_group_and_period(farm: Farm) -> None:
    found = rickyard.needs(farm)
    rows = rickyard.table(found)
    assert rows.rows == len(found.groups) * len(found.periods)
    at = 1 * len(found.periods) + 2
    assert rows["group_id"][at] == found.groups[1].group_id
    assert rows["cp_kg"][at] == found.least["cp"][1, 2]


def test_what_is_unknown_is_neither_zero_nor_empty(farm: Farm) -> None:
    lots = rickyard.table(farm, "lots")
    assert np.isnan(lots["bale_length_m"]).all()
    assert np.isnat(lots["feed_by"]).all()
    assert lots["flooded"].tolist() == [None, None]


def test_a_table_without_rows_has_its_columns_all_the_same(program: SeasonProgram) -> None:
    none = replace(program, shortages=(), wishes=())
    assert list(none.table("shortages")) == [one.name for one in fields(Shortage)]
    assert none.table("shortages")["total"].dtype == np.float64
    assert none.table("shortages")["start"].dtype == "datetime64[D]"
    assert "wish_source_id" in none.table("wishes")
    assert none.table("shortages").rows == 0


def test_a_class_within_a_row_has_columns_of_its_own() -> None:
    report = Report("R1", "A", (Analyte("cp", 9.4, "pct", Basis.DRY_MATTER),))
    assert table_of([report])["analytes"][0] == report.analytes
    assert table_of(report.analytes)["basis"].tolist() == [Basis.DRY_MATTER.value]


def test_a_part_that_is_not_there_is_told_with_those_that_are(program: SeasonProgram) -> None:
    with pytest.raises(KeyError, match=r"haystack.*feeding"):
        rickyard.table(program, "haystack")


def test_what_a_notebook_shows_is_short_and_escaped(program: SeasonProgram, farm: Farm) -> None:
    caution = Caution("danger", "A", NASTY, NASTY)
    evil = replace(program, farm_name=NASTY, cautions=(caution,) * 50)
    shown = [
        evil._repr_html_(),
        evil.table("cautions")._repr_html_(),
        replace(farm, name=NASTY)._repr_html_(),
        Table({NASTY: np.array([NASTY])})._repr_html_(),
    ]
    for html in shown:
        assert "<script" not in html
        assert "&lt;script&gt;" in html
        assert len(html) < 20_000
    assert f"{50 - ROWS_SHOWN} more rows" in shown[1]


def test_pandas_makes_its_frame_of_the_columns(
    program: SeasonProgram, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake = ModuleType("pandas")
    fake.DataFrame = dict  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "pandas", fake)
    frame = rickyard.to_pandas(program, "lots")
    assert list(frame) == list(program.table("lots"))
    assert type(frame) is dict


def test_without_pandas_it_is_said_in_plain_words(
    program: SeasonProgram, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "pandas", None)
    with pytest.raises(ImportError, match="Install it with 'pip install pandas', or use the table"):
        rickyard.to_pandas(program, "lots")


def test_a_program_that_fails_its_recheck_is_not_given_out(
    farm: Farm, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rickyard.calls.recheck", lambda *_: ("the bales do not add up",))
    with pytest.raises(rickyard.NotSound, match="the bales do not add up"):
        rickyard.plan(farm, options=rickyard.PlanOptions(seconds=0.0, weekly=True))
