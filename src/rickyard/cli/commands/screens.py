"""``rickyard screens``: a district's past lab results turned into its own screening limits."""

from __future__ import annotations

import csv
import io
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from rickyard.cli.shared import EXIT_FOLDER, EXIT_USAGE, answering, aside, fail, say

if TYPE_CHECKING:
    from rickyard.farm import Forage
    from rickyard.folder.tables import AnalyteHeader
    from rickyard.forage.values import Screens

_FORAGE: Final = "forage"
_PACKAGE: Final = "package"
_FORMULA_SIGNS: Final = ("=", "+", "-", "@")
_MOST_FAULTS_TOLD: Final = 20


@click.command()
@click.argument("results", metavar="RESULTS.csv", type=click.Path(path_type=Path))
@click.option("--out", metavar="TABLE.csv", required=True, type=click.Path(path_type=Path))
@click.option("--source", default="Results of this district", help="What to write as the source.")
@click.option(
    "--least",
    type=click.IntRange(min=5),
    default=None,
    help="Results of one forage below which it keeps the shipped limits (30).",
)
@answering
def screens(results: Path, out: Path, source: str, least: int | None) -> None:
    """Turn past results into a table of screening limits.

    RESULTS.csv has a column forage, one row for each report, and columns with the headers of
    reports.csv, such as cp_pct_dm. Reports with an error and rows that cannot be read are
    skipped and listed. Use the table with rickyard read FOLDER --screens TABLE.csv.
    """
    from rickyard.forage.plausibility import error_rows
    from rickyard.forage.values import (
        LEAST_REPORTS,
        ReportColumns,
        columns_of_rows,
        read_screen_rows,
        screens_from_results,
        write_screen_rows,
    )
    from rickyard.service import check_outputs, write_file

    check_outputs([out])
    if source.strip().startswith(_FORMULA_SIGNS):
        fail(
            f"--source begins with {source.strip()[0]}, which a spreadsheet that opens the table "
            "takes for a formula. Begin with a letter or a figure.",
            EXIT_USAGE,
        )
    held = _read_results(_text_of(results), results.name)
    columns = columns_of_rows(held.forages, held.wet, held.rows)
    sound = ~error_rows(columns)
    kept = ReportColumns(
        columns.forage[sound],
        columns.wet[sound],
        {name: values[sound] for name, values in columns.values.items()},
    )
    rows = screens_from_results(kept, source, LEAST_REPORTS if least is None else least)
    if not rows:
        fail(
            f"{results.name}: no forage has enough results for limits of its own. Lower --least, "
            "or keep the shipped limits.",
            EXIT_USAGE,
        )
    text = write_screen_rows(rows)
    read_screen_rows(text, out.name)
    write_file(out, text.encode("utf-8"))
    say(_told(held, int(sound.sum()), rows_by_forage=Counter(str(r.forage) for r in rows)))
    say(f"Written: {out}")


def load_screens(path: Path) -> Screens:
    """Read a district's table over the shipped one, or say what is wrong with it and leave."""
    from rickyard.forage.values import ScreenTableError, read_screen_rows, shipped_screens

    try:
        return shipped_screens().replaced_by(read_screen_rows(_text_of(path), path.name))
    except ScreenTableError as problem:
        fail(str(problem), EXIT_FOLDER)


@dataclass
class _Results:
    forages: list[Forage] = field(default_factory=list)
    wet: list[bool] = field(default_factory=list)
    rows: list[dict[str, float]] = field(default_factory=list)
    passed_over: list[str] = field(default_factory=list)


def _text_of(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except OSError as error:
        fail(f"{path}: cannot be read ({error.strerror}).", EXIT_USAGE)
    except UnicodeDecodeError:
        fail(f"{path}: is not text in UTF-8. Save the file as CSV in UTF-8.", EXIT_FOLDER)


def _read_results(text: str, name: str) -> _Results:
    from rickyard.folder.tables import HEADERS

    reader = csv.DictReader(io.StringIO(text, newline=""))
    headers = [header.strip() for header in reader.fieldnames or ()]
    reader.fieldnames = headers
    analytes = {header: HEADERS[header] for header in headers if header in HEADERS}
    if _FORAGE not in headers or not analytes:
        fail(
            f"{name}, row 1: needs a column {_FORAGE} and at least one with a header of "
            "reports.csv, such as cp_pct_dm.",
            EXIT_FOLDER,
        )
    results = _Results()
    results.passed_over = [
        header for header in headers if header not in analytes and header not in (_FORAGE, _PACKAGE)
    ]
    faults: list[str] = []
    for number, cells in enumerate(reader, start=2):
        _take_row(results, cells, analytes, f"{name}, row {number}", faults)
    if faults:
        more = len(faults) - _MOST_FAULTS_TOLD
        tail = [f"... and {more} more."] if more > 0 else []
        aside("\n".join(["Rows left out:", *faults[:_MOST_FAULTS_TOLD], *tail]))
    if not results.rows:
        fail(f"{name}: holds no row that can be read.", EXIT_FOLDER)
    return results


def _take_row(
    results: _Results,
    cells: dict[str, str],
    analytes: dict[str, AnalyteHeader],
    where: str,
    faults: list[str],
) -> None:
    from rickyard.farm import Forage, Package, Report
    from rickyard.folder.tables import CellError, parse_analyte
    from rickyard.forage.values import column_values

    try:
        forage = Forage((cells[_FORAGE] or "").strip())
    except ValueError:
        faults.append(f"{where}, column {_FORAGE}: write one of {', '.join(Forage)}.")
        return
    values = []
    for header, held in analytes.items():
        text = (cells.get(header) or "").strip()
        if not text or held.is_method:
            continue
        try:
            values.append(parse_analyte(held, text, ""))
        except CellError as error:
            faults.append(f"{where}, column {header}: {error.problem} {error.suggestion}")
            return
    wrapped = (cells.get(_PACKAGE) or "").strip() == Package.BALEAGE
    results.forages.append(forage)
    results.wet.append(wrapped or forage is Forage.CORN_SILAGE)
    results.rows.append(column_values(Report("", "", tuple(values))))


def _told(held: _Results, sound: int, rows_by_forage: Counter[str]) -> str:
    read = len(held.rows)
    lines = [f"{read} results read, {read - sound} with an error left out."]
    lines += [f"{forage}: limits of {count} values" for forage, count in rows_by_forage.items()]
    if held.passed_over:
        lines.append(f"Columns passed over: {', '.join(held.passed_over)}.")
    return "\n".join(lines)
