"""``rickyard needs``: what each group needs through the season."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli import shared

if TYPE_CHECKING:
    from rickyard.cli.show import NeedsRow
    from rickyard.farm import Farm, Group
    from rickyard.service import FarmPlace, OpenedFarm


@click.command()
@shared.farm_folders_argument
@click.option("--group", "group_id", metavar="GROUP", help="Only this group, by its short name.")
@click.option(
    "--chart",
    metavar="FILE.svg",
    type=click.Path(path_type=Path),
    help="Chart energy and protein of one group (--group) through the season against what each "
    "lot alone could supply.",
)
@click.option(
    "--winter",
    type=click.Choice(["as_given", "mild", "normal", "severe"]),
    help="Show a different winter from the one in farm.toml, built from weather.csv; it matters "
    "where the farm has chosen how cold is counted.",
)
@click.option(
    "--evidence",
    is_flag=True,
    help="Also list every need over the season, minerals, vitamins and water among them, and how "
    "each number is known.",
)
@shared.answering
def needs(
    folders: tuple[Path, ...],
    group_id: str | None,
    chart: Path | None,
    winter: str | None,
    evidence: bool,
) -> None:
    """Show what one head of each group needs, period by period, at the farm in FOLDER.

    FOLDER may be several farms, or a folder of farms.
    """
    from rickyard.service import groups_named, in_winter

    farms = shared.Farms(folders)
    farms.only_one(group=group_id, chart=chart)
    farms.check([chart])

    def show(_: FarmPlace, opened: OpenedFarm) -> None:
        farm = in_winter(opened.farm, winter)
        groups = groups_named(farm, group_id)
        if chart is not None:
            _draw(farm, groups, chart)
        _print(farm, groups, evidence=evidence)

    farms.each(show)
    farms.finish()


def _print(farm: Farm, groups: tuple[Group, ...], *, evidence: bool) -> None:
    from rickyard.cli.show import cautions, print_evidence, print_needs
    from rickyard.program.inputs import season_days, season_storms

    console = shared.terminal()
    print_needs(_rows(farm, groups), farm, console)
    cautions(console, season_storms(farm, groups), farm)
    if evidence:
        for group in groups:
            print_evidence(group, season_days(farm, group), console)


def _rows(farm: Farm, groups: tuple[Group, ...]) -> list[NeedsRow]:
    from rickyard.cli.show import NeedsRow
    from rickyard.program.inputs import needs_of
    from rickyard.service import appetite, worked_out

    with worked_out():
        table = needs_of(farm)
    rows = []
    for g, group in enumerate(table.groups):
        if group not in groups:
            continue
        for t, period in enumerate(table.periods):
            if table.head_days[g, t] == 0:
                continue
            end = period.start + timedelta(days=period.days)
            rows.append(
                NeedsRow(
                    group_name=group.name,
                    start=max(period.start, group.from_on or period.start),
                    end=min(end, group.to_on or end),
                    stage=table.stage[g][t],
                    head=group.head,
                    full_weight_kg=float(table.full_weight_kg[g, t]),
                    nem_mcal=float(table.least["nem"][g, t]),
                    gain_kg=float(table.gain_kg[g, t]),
                    cp_kg=float(table.least["cp"][g, t]),
                    ca_kg=float(table.least["ca"][g, t]) / 1000.0,
                    p_kg=float(table.least["p"][g, t]) / 1000.0,
                    appetite_kg=appetite(table, g, t),
                    tdn_kg=float(table.least["tdn"][g, t]),
                )
            )
    return rows


def _draw(farm: Farm, groups: tuple[Group, ...], chart: Path) -> None:
    from rickyard.display import display_for
    from rickyard.program.explain import need_picture
    from rickyard.service import worked_out
    from rickyard.sheets.charts import needs_chart_svg

    if len(groups) != 1:
        known = ", ".join(group.group_id for group in groups)
        shared.fail(
            f"A chart shows one group.\n  Add --group and one of {known}.", shared.EXIT_USAGE
        )
    if chart.suffix.lower() != ".svg":
        shared.fail(
            f"{chart}: the chart is an SVG.\n  Give it a name that ends in .svg.", shared.EXIT_USAGE
        )
    with worked_out():
        picture = need_picture(farm, groups[0])
    if not picture.days:
        shared.fail(
            f"{groups[0].name} is not here in this season, so there is nothing to draw.",
            shared.EXIT_USAGE,
        )
    shared.write_text("Chart", chart, needs_chart_svg(picture, display_for(farm.units)))
