"""The price of assurance from the command line: lines in the terminal, a picture, or JSON."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click
from rich.text import Text

from rickyard.cli.shared.common import (
    EXIT_RECHECK,
    EXIT_USAGE,
    fail,
    terminal,
    within_range,
    write_whole,
)

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.program.result import PlanOptions

TITLE: Final = "What a surer supply of protein and energy costs"
SVG: Final = ".svg"
JSON: Final = ".json"
BELOW: Final = (
    "With hays mixed at will, so that nothing but the assurance differs. --assure plans with one."
)


def draw_assurance(farm: Farm, chart: Path | None, *, quiet: bool, options: PlanOptions) -> None:
    """Write what a surer supply costs, and print it unless quiet; do nothing without a file.

    Leaves with code 2 where the file is named neither as an SVG nor as JSON.
    """
    if chart is None:
        return
    kind = chart.suffix.lower()
    if kind not in (SVG, JSON):
        fail(
            f"{chart}: the chart is an SVG, or JSON.\n"
            f"  Give it a name that ends in {SVG} or {JSON}.",
            EXIT_USAGE,
        )
    from rickyard.program.ask import assurance_answer, assurance_lines, price_of_assurance
    from rickyard.program.solver import SolveError
    from rickyard.sheets.charts import assurance_chart_svg
    from rickyard.sheets.data_files import document

    try:
        with within_range():
            curve = price_of_assurance(farm, options=options)
    except SolveError as error:
        fail(str(error), EXIT_RECHECK)
    text = assurance_chart_svg(curve) if kind == SVG else document("assurance", curve=curve)
    write_whole(chart, text.encode("utf-8"))
    click.echo(f"Chart: {chart}", err=True)
    if quiet:
        return
    console = terminal()
    console.print(Text(TITLE, style="bold"))
    for line in (*assurance_lines(curve), "", assurance_answer(curve), BELOW, ""):
        console.print(Text(line))
