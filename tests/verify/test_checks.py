"""The published values: read with care, computed by public functions, and reported plainly."""

import ast
import csv
import dataclasses
import errno
import importlib
import io
import json
import math
import re
from collections import Counter
from pathlib import Path
from typing import Any

import click.testing
import pytest
from rich.console import Console

from rickyard.cli.commands.verify import plain_line, print_table, verify
from rickyard.verify import registry
from rickyard.verify.evaluate import (
    COLUMNS,
    SHIPPED,
    CheckFileError,
    CheckRow,
    evaluate,
    evaluate_all,
    parse_checks,
    read_checks,
    read_shipped,
    tally,
)
from support.rows import each_row
from tools import beef_tables

HERE = Path(__file__).resolve().parent
BY_TABLE = HERE.parent / "published" / "hay.csv"
CHECKS = Path(registry.__file__).parent

#: Rows that pass, by file. A number here only ever rises.
LEAST_PASSES = {
    "forage_analysis_checks.csv": 88,
    "beef_requirements_checks.csv": 79,
    "lots_sampling_storage_checks.csv": 80,
    "feeds_and_programs_checks.csv": 81,
    "small_stock_and_horse_requirements_checks.csv": 80,
    "intake_condition_and_change_checks.csv": 74,
    "safety_checks.csv": 12,
    "common_practice_checks.csv": 14,
}
GOOD = {
    "id": "A1",
    "quantity": "value_lost",
    "inputs_json": '{"loss": 0.2, "price_per_ton_usd": 80}',
    "expected": "16",
    "unit": "USD/ton",
    "tolerance": "0.01",
    "source": "Somebody 1999, table 1",
    "kind": "published",
}


def as_csv(*rows: dict[str, str], columns: tuple[str, ...] = COLUMNS) -> str:
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, extrasaction="ignore", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def one_row(**changes: str) -> CheckRow:
    return parse_checks(as_csv(GOOD | changes).encode(), "mine.csv")[0]


def run(*arguments: str) -> click.testing.Result:
    return click.testing.CliRunner().invoke(verify, list(arguments))


# The shipped values ----------------------------------------------------------------------------


@pytest.mark.parametrize("name", SHIPPED)
def test_no_shipped_value_fails(name: str) -> None:
    outcomes = evaluate_all(read_shipped(name))
    failed = [plain_line(outcome) for outcome in outcomes if outcome.status == "fail"]
    assert not failed
    assert tally(outcomes).passed >= LEAST_PASSES[name]


def test_every_shipped_file_is_listed() -> None:
    found = {path.name for path in (CHECKS / "data").glob("*_checks.csv")}
    assert found == set(SHIPPED) == set(LEAST_PASSES)


def test_a_source_is_a_publication_and_not_an_address() -> None:
    """Addresses move, and web logs and mirrors are not where a value was published."""
    address = re.compile(
        r"https?:|www\.|\b[a-z0-9-]+\.(com|org|net|edu|gov|us|io|ca|md)\b|\bsection \d"
    )
    rows = [row for name in SHIPPED for row in read_shipped(name)]
    rows += [row for path in (BY_TABLE, beef_tables.FILE) for row in read_checks(path)]
    assert not [row.id for row in rows if address.search(row.source)]


def test_what_is_remembered_is_of_the_kind_that_says_so() -> None:
    rows = [row for name in SHIPPED for row in read_shipped(name)]
    said = {row.id for row in rows if row.source.startswith("from memory")}
    assert said == {row.id for row in rows if row.kind == "memory"}


def test_shipped_ids_are_unique_across_files() -> None:
    ids = Counter(row.id for name in SHIPPED for row in read_shipped(name))
    assert max(ids.values()) == 1


def test_every_published_cell_about_hay_passes() -> None:
    outcomes = evaluate_all(read_checks(BY_TABLE))
    assert not [plain_line(outcome) for outcome in outcomes if outcome.status != "pass"]
    assert len(outcomes) >= 223


@pytest.mark.parametrize("path", [BY_TABLE, beef_tables.FILE], ids=lambda path: path.name)
def test_no_cell_is_kept_twice(path: Path) -> None:
    """What ships is held there; a finer figure of the same question may stand beside it."""
    shipped = {
        (row.quantity, json.dumps(row.inputs, sort_keys=True)): row
        for name in SHIPPED
        for row in read_shipped(name)
    }
    for row in read_checks(path):
        same = shipped.get((row.quantity, json.dumps(row.inputs, sort_keys=True)))
        finer = same is not None and (row.expected, row.tolerance) != (
            same.expected,
            same.tolerance,
        )
        assert same is None or finer, row.id


def test_an_input_that_is_built_in_may_not_be_stated_otherwise() -> None:
    row = next(
        row
        for row in read_shipped("beef_requirements_checks.csv")
        if row.quantity == "nem_lactation_cow_month"
    )
    assert evaluate(row).status == "pass"
    richer = dataclasses.replace(row, inputs={**row.inputs, "milk_fat_pct": 5.0})
    assert evaluate(richer).status == "fail"
    assert "milk_fat_pct 5.0 is not computed" in evaluate(richer).message


def test_no_row_passes_because_of_a_tolerance_wider_than_its_value() -> None:
    for name in SHIPPED:
        for row in read_shipped(name):
            if row.tolerance != "exact" and row.expected not in (0.0, 1.0):
                assert float(row.tolerance) < abs(float(row.expected)), row.id


# Comparing -------------------------------------------------------------------------------------


@each_row(
    ("computed", "expected", "tolerance", "status"),
    [
        (0.30, "0.25", "0.05", "pass"),  # the difference is 0.05 up to binary rounding
        (0.3001, "0.25", "0.05", "fail"),
        (16.0, "16", "0", "pass"),
        (16.0000001, "16", "0", "fail"),
        (16.0, "16", "exact", "pass"),
        (16.0000001, "16", "exact", "fail"),
        (16, "16.0", "exact", "pass"),
        ("Premium", "Premium", "exact", "pass"),
        ("premium", "Premium", "exact", "fail"),
        ("400-750", "400-750", "exact", "pass"),
        ("16", "16", "exact", "fail"),  # words where a number is published
        (16.0, "Premium", "exact", "fail"),
        (math.nan, "16", "1000", "fail"),
        (math.inf, "16", "1000", "fail"),
        (None, "16", "1", "fail"),
    ],
)
def test_a_value_is_compared_as_its_row_says(
    computed: Any, expected: str, tolerance: str, status: str
) -> None:
    row = one_row(expected=expected, tolerance=tolerance, inputs_json="{}")
    outcome = evaluate(row, {row.quantity: lambda q: computed})
    assert outcome.status == status


def test_a_quantity_nobody_computes_is_unknown_not_failed() -> None:
    outcome = evaluate(one_row(quantity="moonshine"))
    assert (outcome.status, outcome.computed) == ("unknown", None)


def test_a_refused_input_fails_and_says_why() -> None:
    outcome = evaluate(one_row(inputs_json='{"loss": 1.2, "price_per_ton_usd": 80}'))
    assert outcome.status == "fail"
    assert "loss 120% must be at least 0 and under 100%" in outcome.message
    assert outcome.message in plain_line(outcome)


@each_row(
    "row",
    [row for name in SHIPPED for row in read_shipped(name)],
    ids=lambda row: row.id,
)
def test_every_quantity_refuses_an_input_that_it_does_not_know(row: CheckRow) -> None:
    outcome = evaluate(dataclasses.replace(row, inputs={**row.inputs, "phase_of_moon": 3}))
    assert (outcome.status, outcome.computed) == ("fail", None)
    assert outcome.message.startswith("phase_of_moon: no such input here. This row's quantity ")


def test_an_unknown_input_is_answered_with_the_known_ones() -> None:
    stated = '{"loss": 0.2, "price_per_ton_usd": 80, "rain_in": 30, "Note": "x", "note": "y"}'
    assert evaluate(one_row(inputs_json=stated)).message == (
        "rain_in, Note: no such input here. This row's quantity takes loss, price_per_ton_usd."
    )


def test_an_unknown_input_within_an_input_is_refused() -> None:
    row = next(row for row in read_shipped(SHIPPED[3]) if "unit_size" in row.inputs)
    sizes = {**row.inputs["unit_size"], "Moonshine": 1.0}
    outcome = evaluate(dataclasses.replace(row, inputs={**row.inputs, "unit_size": sizes}))
    assert outcome.status == "fail"
    assert "unit_size.Moonshine: no such input here" in outcome.message


@pytest.mark.parametrize(
    ("bounds", "computed"),
    [
        # Without its bounds the published problem costs 9.503: another question.
        ([[0, None]] * 6, 9.503),
        ([[0, None], [0, 1], [0, None], [0, None], [0.5, None], [0, None]], 12.0813),
    ],
)
def test_a_linear_program_keeps_within_its_bounds(bounds: list[Any], computed: float) -> None:
    row = next(row for row in read_shipped(SHIPPED[3]) if "bounds" in row.inputs)
    found = evaluate(dataclasses.replace(row, inputs={**row.inputs, "bounds": bounds}))
    assert found.computed == pytest.approx(computed, abs=5e-4)
    short = evaluate(dataclasses.replace(row, inputs={**row.inputs, "bounds": bounds[1:]}))
    assert "bounds must hold 6 pairs" in short.message


def test_a_missing_input_is_named() -> None:
    outcome = evaluate(one_row(inputs_json='{"loss": 0.2}'))
    assert outcome.status == "fail"
    assert "'price_per_ton_usd'" in outcome.message


def test_an_error_of_the_program_itself_is_not_swallowed() -> None:
    def broken(inputs: object) -> float:
        raise AttributeError("a fault in the code")

    with pytest.raises(AttributeError, match="a fault in the code"):
        evaluate(one_row(), {"value_lost": broken})


# Reading ---------------------------------------------------------------------------------------


@each_row(
    ("changes", "message"),
    [
        ({"expected": "many"}, 'row 2, column expected: "many" is not a number'),
        ({"expected": ""}, "row 2, column expected: is empty"),
        ({"expected": "nan"}, 'row 2, column expected: "nan" is not a number'),
        ({"tolerance": "-1"}, 'row 2, column tolerance: "-1" is not a tolerance'),
        ({"tolerance": ""}, 'row 2, column tolerance: "" is not a tolerance'),
        ({"tolerance": "inf"}, 'row 2, column tolerance: "inf" is not a tolerance'),
        ({"kind": "guess"}, 'row 2, column kind: "guess" is not a kind. Write published'),
        ({"source": " "}, "row 2, column source: is empty"),
        ({"id": ""}, "row 2, column id: is empty"),
        ({"quantity": ""}, "row 2, column quantity: is empty"),
        ({"inputs_json": "{loss: 1}"}, "row 2, column inputs_json: is not JSON at character 2"),
        ({"inputs_json": "[1]"}, "row 2, column inputs_json: is not a set of named inputs"),
        ({"inputs_json": '{"loss": NaN}'}, "row 2, column inputs_json: NaN is not a number"),
        ({"inputs_json": '{"loss": 1e999}'}, "row 2, column inputs_json: 1e999 is not a number"),
        ({"inputs_json": "[" * 100_000}, "row 2, column inputs_json: is nested too deeply"),
    ],
)
def test_a_bad_cell_is_named_with_its_place_and_remedy(
    changes: dict[str, str], message: str
) -> None:
    with pytest.raises(CheckFileError) as error:
        one_row(**changes)
    assert str(error.value).startswith(f"mine.csv, {message}")
    assert str(error.value).endswith(".")


@each_row(
    ("text", "message"),
    [
        ("", "mine.csv, row 1: lacks id, quantity"),
        (as_csv(), "mine.csv: has no rows"),
        (as_csv(GOOD, columns=COLUMNS[:-1]), "mine.csv, row 1: lacks kind"),
        (as_csv(GOOD, columns=COLUMNS[::-1]), "mine.csv, row 1: the first row must be id,"),
        (as_csv(GOOD, GOOD), 'mine.csv, row 3, column id: "A1" is row 2 already'),
        (as_csv(GOOD) + "A2,rfv,{}\n", "mine.csv, row 3: has 3 cells, and 8 are expected"),
        (as_csv(GOOD) + '"A2,rfv\n', "mine.csv, after row 2: is not CSV"),
        (as_csv(GOOD) + "\n" + as_csv(GOOD).splitlines()[1], "mine.csv, row 4, column id"),
    ],
)
def test_a_malformed_file_says_where_and_what(text: str, message: str) -> None:
    with pytest.raises(CheckFileError) as error:
        parse_checks(text.encode(), "mine.csv")
    assert str(error.value).startswith(message)


def test_text_in_another_encoding_is_named_by_row() -> None:
    raw = as_csv(GOOD, GOOD | {"id": "A2", "source": "Müller"}).encode("latin-1")
    with pytest.raises(CheckFileError, match=r"mine\.csv, row 3: is not UTF-8 text"):
        parse_checks(raw, "mine.csv")


def test_a_spreadsheet_save_with_a_mark_and_crlf_reads_the_same() -> None:
    text = as_csv(GOOD)
    saved = ("\ufeff" + text.replace("\n", "\r\n")).encode()
    assert parse_checks(saved, "mine.csv") == parse_checks(text.encode(), "mine.csv")


# The registry ----------------------------------------------------------------------------------


def registry_modules() -> list[Path]:
    return [CHECKS / "registry.py", *sorted(CHECKS.glob("names_*.py"))]


@each_row("path", registry_modules(), ids=lambda path: path.name)
def test_the_registry_reaches_for_public_names_only(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("rickyard"):
            module = importlib.import_module(node.module or "")
            for name in (alias.name for alias in node.names):
                assert not name.startswith("_"), name
                assert hasattr(module, name) or importlib.import_module(f"{node.module}.{name}")
        if isinstance(node, ast.Attribute):
            assert not node.attr.startswith("_"), node.attr


def test_every_quantity_of_the_registry_is_checked_by_some_row() -> None:
    rows = [row for name in SHIPPED for row in read_shipped(name)]
    assert set(registry.REGISTRY) <= {row.quantity for row in rows}


# The command -----------------------------------------------------------------------------------


def test_the_shipped_files_verify_and_the_last_line_counts_them() -> None:
    result = run()
    assert result.exit_code == 0
    lines = result.output.splitlines()
    total = tally([outcome for name in SHIPPED for outcome in evaluate_all(read_shipped(name))])
    assert lines[-1] == f"{total.passed} passed, 0 failed, {total.unknown} unknown"
    assert len(lines) == total.passed + total.unknown + 1
    page = HERE.parents[1] / "docs" / "check-values.md"
    assert f"`{lines[-1]}`" in page.read_text(encoding="utf-8")
    assert all(line.split("\t")[0] in ("pass", "unknown") for line in lines[:-1])


def test_a_wrong_value_fails_with_status_one(tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_text(
        as_csv(GOOD, GOOD | {"id": "A2", "expected": "17"}, GOOD | {"id": "A3", "quantity": "x"}),
        encoding="utf-8",
    )
    result = run(str(path))
    assert result.exit_code == 1
    assert result.output.splitlines()[-1] == "1 passed, 1 failed, 1 unknown"
    failed = result.output.splitlines()[1].split("\t")
    assert failed == [
        "fail", "A2", "value_lost", "17", "16 (off by -1)", "0.01", "USD/ton", GOOD["source"],
    ]  # fmt: skip


def test_only_narrows_the_rows_and_not_the_count(tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_text(as_csv(GOOD, GOOD | {"id": "A2", "expected": "17"}), encoding="utf-8")
    result = run("--only", "fail", str(path))
    assert [line.split("\t")[0] for line in result.output.splitlines()] == [
        "fail",
        "1 passed, 1 failed, 0 unknown",
    ]
    assert len(run("--only", "fail", "--only", "pass", str(path)).output.splitlines()) == 3


def test_an_unreadable_file_has_status_two(tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_text(as_csv(GOOD | {"expected": "many"}), encoding="utf-8")
    for name, message in ((path, "column expected"), (tmp_path / "none.csv", "cannot be read")):
        result = run(str(name))
        assert result.exit_code == 2
        assert result.stdout == ""
        assert message in result.stderr
    assert run(str(tmp_path)).exit_code == 2


def test_json_holds_every_row_and_stands_alone_on_standard_output(tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_text(
        as_csv(GOOD, GOOD | {"id": "A2", "inputs_json": '{"loss": 0.2}'}), encoding="utf-8"
    )
    result = run("--json", "-", str(path))
    assert result.exit_code == 1
    document = json.loads(result.stdout)
    assert result.stderr == "1 passed, 1 failed, 0 unknown\n"
    assert [row["status"] for row in document["rows"]] == ["pass", "fail"]
    assert document["rows"][1]["computed"] is None
    assert "price_per_ton_usd" in document["rows"][1]["message"]
    target = tmp_path / "out.json"
    beside = run("--json", str(target), str(path))
    assert json.loads(target.read_text(encoding="utf-8")) == document
    assert beside.output.splitlines()[-1] == "1 passed, 1 failed, 0 unknown"
    assert run("--json", str(tmp_path / "no" / "out.json"), str(path)).exit_code == 2


def test_json_is_written_whole_or_not_at_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "out.json"
    target.write_text("what stood here before", encoding="utf-8")

    def full_disk(path: Path, mode: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    # What is written beside the file is there; moving on fails.
    monkeypatch.setattr(Path, "chmod", full_disk)
    result = run("--json", str(target))
    assert result.exit_code == 2
    assert "No space left on device" in result.stderr
    assert result.stdout == ""
    assert target.read_text(encoding="utf-8") == "what stood here before"
    assert list(tmp_path.iterdir()) == [target]


def test_a_row_is_one_line_whatever_is_in_its_cells() -> None:
    outcome = evaluate(one_row(source="Two\nlines\tand a tab"))
    assert plain_line(outcome).endswith("\tTwo lines and a tab")
    assert "\n" not in plain_line(outcome)


def test_the_table_names_the_status_and_cuts_nothing_off() -> None:
    source = "[bold]Somebody[/bold] 1999, a source with a name much longer than any column"
    rows = [one_row(source=source), one_row(source=source, expected="17")]
    out = io.StringIO()
    print_table(Console(file=out, width=100, force_terminal=True), evaluate_all(rows))
    shown = out.getvalue()
    for word in ("mine.csv", "pass", "fail", "value_lost", "16", "17", "off by -1"):
        assert word in shown
    assert "…" not in shown
    assert "[bold]" in shown.replace("\n", "")
