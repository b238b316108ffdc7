"""``rickyard needs``: what each group needs through the season."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli.shared import (
    EXIT_USAGE,
    fail,
    farm_folder_argument,
    load_farm,
    terminal,
    within_range,
    write_whole,
)

if TYPE_CHECKING:
    from rickyard.farm import Farm, Group
    from rickyard.program.inputs import NeedTable


@click.command()
@farm_folder_argument
@click.option("--group", "group_id", metavar="GROUP", help="Only this group, by its short name.")
@click.option(
    "--chart",
    metavar="FILE.svg",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Draw the energy and protein of one group (--group) through the season beside what each "
    "lot alone could supply.",
)
@click.option(
    "--winter",
    type=click.Choice(["as_given", "mild", "normal", "severe"]),
    help="Show another winter than farm.toml plans for, built from weather.csv; it counts where "
    "the farm has chosen how cold is counted.",
)
@click.option(
    "--evidence",
    is_flag=True,
    help="Also list every need over the season, minerals, vitamins and water among them, and how "
    "each number is known.",
)
def needs(
    folder: Path, group_id: str | None, chart: Path | None, winter: str | None, evidence: bool
) -> None:
    """Show what one head of each group needs, period by period, in the farm in FOLDER."""
    from rickyard.cli.show import NeedsRow, cautions, print_needs
    from rickyard.farm import Winter
    from rickyard.program.inputs import needs_of, season_days, season_storms

    farm = load_farm(folder)
    if winter is not None:
        farm = replace(farm, season=replace(farm.season, winter=Winter(winter)))
    groups = _chosen(farm, group_id)
    if chart is not None:
        with within_range():
            _draw(farm, groups, chart)
    with within_range():
        table = needs_of(farm)
    rows = []
    for g, group in enumerate(table.groups):
        if group not in groups:
            continue
        for t, period in enumerate(table.periods):
            if table.head_days[g, t] == 0:
                continue
            rows.append(
                NeedsRow(
                    group_name=group.name,
                    start=period.start,
                    end=period.start + timedelta(days=period.days),
                    stage=table.stage[g][t],
                    head=group.head,
                    full_weight_kg=float(table.full_weight_kg[g, t]),
                    nem_mcal=float(table.least["nem"][g, t]),
                    gain_kg=float(table.gain_kg[g, t]),
                    cp_kg=float(table.least["cp"][g, t]),
                    ca_kg=float(table.least["ca"][g, t]) / 1000.0,
                    p_kg=float(table.least["p"][g, t]) / 1000.0,
                    appetite_kg=_appetite_kg(table, g, t),
                    tdn_kg=float(table.least["tdn"][g, t]),
                )
            )
    console = terminal()
    print_needs(rows, farm, console)
    cautions(console, season_storms(farm, groups), farm)
    if evidence:
        from rickyard.cli.show import print_evidence

        for group in groups:
            print_evidence(group, season_days(farm, group), console)


def _appetite_kg(table: NeedTable, g: int, t: int) -> float:
    """Return what a group wants of an ordinary hay, or the most it can eat where that is told."""
    from rickyard.stock.beef import USUAL_HAY_NEM
    from rickyard.stock.equations import RULES, appetite_kg

    if table.intake_rule[g][t] not in RULES:
        return float(table.most_dm_kg[g, t])
    return float(
        appetite_kg(
            table.intake_rule[g][t],
            float(table.shrunk_weight_kg[g, t]),
            USUAL_HAY_NEM,
            float(table.milk_kg[g, t]),
            float(table.intake_factor[g, t]),
        )
    )


def _chosen(farm: Farm, group_id: str | None) -> tuple[Group, ...]:
    if group_id is None:
        return farm.groups
    found = tuple(group for group in farm.groups if group.group_id == group_id)
    if not found:
        known = ", ".join(group.group_id for group in farm.groups) or "none"
        fail(
            f'No group of this farm is called "{group_id}".\n  Its groups are {known}.', EXIT_USAGE
        )
    return found


def _draw(farm: Farm, groups: tuple[Group, ...], chart: Path) -> None:
    from rickyard.display import display_for
    from rickyard.program.explain import need_picture
    from rickyard.sheets.charts import needs_chart_svg

    if len(groups) != 1:
        known = ", ".join(group.group_id for group in groups)
        fail(f"A chart is of one group.\n  Add --group and one of {known}.", EXIT_USAGE)
    if chart.suffix.lower() != ".svg":
        fail(f"{chart}: the chart is an SVG.\n  Give it a name that ends in .svg.", EXIT_USAGE)
    picture = need_picture(farm, groups[0])
    if not picture.days:
        fail(
            f"{groups[0].name} is not here in this season, so there is nothing to draw.", EXIT_USAGE
        )
    write_whole(chart, needs_chart_svg(picture, display_for(farm.units)).encode("utf-8"))
    click.echo(f"Chart: {chart}", err=True)
