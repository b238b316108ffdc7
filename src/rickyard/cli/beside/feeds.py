"""``rickyard feeds``: the shipped feed table, searched by the names people use."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from rickyard.cli.shared import terminal, write_stdout

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rickyard.forage.values import FeedFound


@click.command()
@click.argument("words", nargs=-1)
@click.option("--json", "as_json", is_flag=True, help="Write what was found as JSON.")
def feeds(words: tuple[str, ...], as_json: bool) -> None:
    """Search the feed table by WORDS, or list all of it.

    WORDS are what people call a feed: hulls, cake, DDG, creep, wheat mids. The first column is
    what is written under table_id in feeds.csv. Exit code 1 says that nothing was found.
    """
    from rickyard.display import clean
    from rickyard.forage.values import find_feeds

    asked = clean(" ".join(words))
    found = find_feeds(asked)
    if as_json:
        write_stdout(_json(asked, found))
    elif found:
        _print(asked, found)
    if not found:
        if not as_json:
            click.echo(
                f'No feed of the table is called "{asked}". Say one word of it, list all with '
                "rickyard feeds, or leave table_id empty and write dry matter, TDN and protein "
                "from the tag.",
                err=True,
            )
        sys.exit(1)


def _json(asked: str, found: Sequence[FeedFound]) -> str:
    from rickyard.sheets.data_files import document

    rows = [
        {
            "table_id": one.row.table_id,
            "name": one.row.name,
            "called": list(one.called),
            "water": one.water,
            "dm_pct": one.row.dm_pct,
            "tdn_pct_dm": one.row.recommended_tdn_pct,
            "tdn_source": one.row.recommended_tdn_reason,
            "cp_pct_dm": one.row.cp_pct,
            "sold_by": one.sold_by,
            "source": one.row.source,
        }
        for one in found
    ]
    return document("feeds", asked=asked, feeds=rows)


def _print(asked: str, found: Sequence[FeedFound]) -> None:
    from rich.table import Table
    from rich.text import Text

    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
    for head in ("table_id", "name", "DM %", "TDN %", "CP %", "usually priced by the"):
        right = head.endswith("%")
        table.add_column(
            Text(head), justify="right" if right else "left", no_wrap=right or head == "table_id"
        )
    for one in found:
        row = one.row
        numbers = [_number(n) for n in (row.dm_pct, row.recommended_tdn_pct, row.cp_pct)]
        table.add_row(*(Text(t) for t in (row.table_id, row.name, *numbers, one.sold_by)))
    console = terminal()
    console.print(table)
    waters = {one.water for one in found if one.water}
    if asked and len(waters) > 1:
        console.print(
            "\nDry and wet ones are different feeds: a ton of the wet one is mostly water. "
            "Choose by what is delivered."
        )
    console.print(
        "\nTDN and protein are of dry matter, typical values with their sources (--json); the "
        "tag or a test of your own load is surer. A blank is not known. Urea and feeds with "
        "monensin or copper can kill: read their tags for the stock they are for."
    )


def _number(value: float | None) -> str:
    return "" if value is None else f"{value:.1f}"
