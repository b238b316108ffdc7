"""``rickyard needs``: what each group needs through the season."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import click

from rickyard.cli.common import farm_folder_argument, load_farm, terminal


@click.command()
@farm_folder_argument
def needs(folder: Path) -> None:
    """Show what one head of each group needs, period by period, in the farm in FOLDER."""
    from rickyard.cli.show_needs import NeedsRow, print_needs
    from rickyard.program.needs import needs_of
    from rickyard.stock.intake import appetite_kg

    farm = load_farm(folder)
    table = needs_of(farm)
    rows = []
    for g, group in enumerate(table.groups):
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
                    nem_mcal=float(table.nem_mcal[g, t]),
                    gain_kg=float(table.gain_kg[g, t]),
                    cp_kg=float(table.cp_kg[g, t]),
                    ca_kg=float(table.ca_g[g, t]) / 1000.0,
                    p_kg=float(table.p_g[g, t]) / 1000.0,
                    appetite_kg=appetite_kg(
                        table.intake_rule[g][t],
                        float(table.shrunk_weight_kg[g, t]),
                        USUAL_DIET_NEM,
                        float(table.milk_kg[g, t]),
                        float(table.intake_factor[g, t]),
                    ),
                )
            )
    print_needs(rows, farm, terminal())


#: Appetite is shown for an ordinary hay of about 55 % TDN, Mcal NEm per kg DM.
USUAL_DIET_NEM = 1.14
