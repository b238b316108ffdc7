"""The price of assurance from the command line: lines in the terminal, a picture, or JSON."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from rickyard.cli.shared.common import EXIT_USAGE, fail, terminal, write_text

if TYPE_CHECKING:
    from rickyard.service import OpenedFarm, PlanRequest

TITLE: Final = "What a surer supply of protein and energy costs"
SVG: Final = ".svg"
JSON: Final = ".json"
BELOW: Final = (
    "With hays mixed at will, so that nothing but the assurance differs. --assure plans with one."
)


def check_chart(chart: Path | None) -> None:
    """Leave with code 2 where the file is named neither as an SVG nor as JSON."""
    if chart is not None and chart.suffix.lower() not in (SVG, JSON):
        fail(
            f"{chart}: the chart is an SVG, or JSON.\n"
            f"  Give it a name that ends in {SVG} or {JSON}.",
            EXIT_USAGE,
        )


def draw_assurance(
    opened: OpenedFarm, request: PlanRequest, chart: Path | None, *, quiet: bool
) -> None:
    """Write what a surer supply costs, and print it unless quiet; do nothing without a file."""
    if chart is None:
        return
    from rich.text import Text

    from rickyard.cli.shared.planning import line_of_work
    from rickyard.program.ask import assurance_answer, assurance_lines
    from rickyard.service import assurance
    from rickyard.sheets.charts import assurance_chart_svg
    from rickyard.sheets.data_files import document

    with line_of_work(quiet, "What a surer supply costs") as told:
        curve = assurance(opened, request, told)
    is_svg = chart.suffix.lower() == SVG
    write_text(
        "Chart", chart, assurance_chart_svg(curve) if is_svg else document("assurance", curve=curve)
    )
    if quiet:
        return
    console = terminal()
    console.print(Text(TITLE, style="bold"))
    for line in (*assurance_lines(curve), "", assurance_answer(curve), BELOW, ""):
        console.print(Text(line))
