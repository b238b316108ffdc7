"""The price of assurance from the command line: lines in the terminal and a picture."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click
from rich.text import Text

from rickyard.cli.common import EXIT_RECHECK, EXIT_USAGE, fail, terminal, within_range, write_whole

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.program.options import PlanOptions

TITLE: Final = "What a surer supply of protein and energy costs"
BELOW: Final = (
    "With hays mixed at will, so that nothing but the assurance differs. --assure plans with one."
)


def draw_assurance(farm: Farm, chart: Path | None, *, quiet: bool, options: PlanOptions) -> None:
    """Write what a surer supply costs as SVG, and print it unless quiet; do nothing without a file.

    Leaves with code 2 where the file is not named as an SVG.
    """
    if chart is None:
        return
    if chart.suffix.lower() != ".svg":
        fail(f"{chart}: the chart is an SVG.\n  Give it a name that ends in .svg.", EXIT_USAGE)
    from rickyard.program.assurance_curve import (
        assurance_answer,
        assurance_lines,
        price_of_assurance,
    )
    from rickyard.program.solve import SolveError
    from rickyard.sheets.assurance_chart import assurance_chart_svg

    try:
        with within_range():
            curve = price_of_assurance(farm, options=options)
    except SolveError as error:
        fail(str(error), EXIT_RECHECK)
    write_whole(chart, assurance_chart_svg(curve).encode("utf-8"))
    click.echo(f"Chart: {chart}", err=True)
    if quiet:
        return
    console = terminal()
    console.print(Text(TITLE, style="bold"))
    for line in (*assurance_lines(curve), "", assurance_answer(curve), BELOW, ""):
        console.print(Text(line))
