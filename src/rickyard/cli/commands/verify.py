"""``verify``: hold the program against published check values and say row by row how it did."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli.shared import STDOUT, answering, file_option

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console

    from rickyard.verify import CheckRow, Outcome, Tally

HEADINGS = ("status", "id", "quantity", "expected", "computed", "tolerance", "unit", "source")


class UnreadableFile(click.ClickException):
    """A check file that cannot be read."""

    exit_code = 2


@click.command("verify")
@click.argument(
    "paths", metavar="[FILE]...", nargs=-1, type=click.Path(path_type=Path, dir_okay=True)
)
@click.option(
    "--only",
    type=click.Choice(["pass", "fail", "unknown"]),
    multiple=True,
    help="Show only rows that came out so; give it twice for two. The count stays whole.",
)
@file_option(
    "--json",
    "json_to",
    "Also write the rows shown as JSON to FILE, or with - to standard output instead.",
)
@click.pass_context
@answering
def verify(
    context: click.Context, paths: tuple[Path, ...], only: tuple[str, ...], json_to: Path | None
) -> None:
    """Compute published values and compare.

    Each FILE is a CSV of check values; without one, the files that ship with the program are
    taken. A row passes when the computed value is within its tolerance, fails when it is not,
    and is unknown when the program computes no such quantity. The last line counts them.

    The exit status is 0 when nothing failed, 1 when a row failed and 2 when a file cannot be
    read.
    """
    from rickyard.service import check_outputs
    from rickyard.verify import evaluate_all, tally

    if json_to is not None and str(json_to) != STDOUT:
        check_outputs([json_to])
    outcomes = evaluate_all(_read(paths))
    total = tally(outcomes)
    shown = [outcome for outcome in outcomes if not only or outcome.status in only]
    if json_to is not None:
        _write_json(json_to, shown, total)
    to_stdout = json_to is not None and str(json_to) == "-"
    if not to_stdout:
        _show(shown)
    click.echo(str(total), err=to_stdout)
    context.exit(1 if total.failed else 0)


def _read(paths: tuple[Path, ...]) -> list[CheckRow]:
    from rickyard.verify import SHIPPED, CheckFileError, read_checks, read_shipped

    if not paths:
        return [row for name in SHIPPED for row in read_shipped(name)]
    try:
        return [row for path in paths for row in read_checks(path)]
    except CheckFileError as problem:
        raise UnreadableFile(str(problem)) from None


def _show(outcomes: Sequence[Outcome]) -> None:
    if sys.stdout.isatty():
        from rich.console import Console

        print_table(Console(), outcomes)
        return
    for outcome in outcomes:
        click.echo(plain_line(outcome))


def print_table(console: Console, outcomes: Sequence[Outcome]) -> None:
    """Print one table for each file, nothing cut off."""
    from itertools import groupby

    from rich.table import Table
    from rich.text import Text

    styles = {"pass": "green", "fail": "bold red", "unknown": "yellow"}
    for file, rows in groupby(outcomes, key=lambda outcome: outcome.row.file):
        table = Table(title=Text(file), title_justify="left")
        for heading in HEADINGS:
            table.add_column(heading, overflow="fold")
        for outcome in rows:
            status, *cells = _cells(outcome)
            table.add_row(Text(status, style=styles[outcome.status]), *map(Text, cells))
        console.print(table)


def plain_line(outcome: Outcome) -> str:
    """Return one row as tab-separated text: status, id, quantity, values, unit and source."""
    return "\t".join(" ".join(cell.split()) for cell in _cells(outcome))


def _cells(outcome: Outcome) -> tuple[str, ...]:
    row = outcome.row
    computed = "" if outcome.computed is None else _written(outcome.computed)
    if outcome.status == "fail" and outcome.message:
        computed = f"{computed} ({outcome.message})" if computed else outcome.message
    return (
        outcome.status,
        row.id,
        row.quantity,
        _written(row.expected),
        computed,
        _written(row.tolerance),
        row.unit,
        row.source,
    )


def _written(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:.8g}"


def _write_json(target: Path, outcomes: Sequence[Outcome], total: Tally) -> None:
    from rickyard.service import write_file

    document = {
        "passed": total.passed,
        "failed": total.failed,
        "unknown": total.unknown,
        "rows": [
            {
                "file": outcome.row.file,
                "row": outcome.row.number,
                "status": outcome.status,
                "id": outcome.row.id,
                "quantity": outcome.row.quantity,
                "inputs": outcome.row.inputs,
                "expected": outcome.row.expected,
                "computed": outcome.computed,
                "tolerance": outcome.row.tolerance,
                "unit": outcome.row.unit,
                "source": outcome.row.source,
                "kind": outcome.row.kind,
                "message": outcome.message,
            }
            for outcome in outcomes
        ],
    }
    text = json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
    if str(target) == STDOUT:
        click.echo(text, nl=False)
        return
    write_file(target, text.encode("utf-8"))
