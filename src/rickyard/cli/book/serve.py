"""``rickyard serve``: the pages of the record book in a browser of this computer."""

from __future__ import annotations

import webbrowser
from pathlib import Path

import click

from rickyard.cli import shared
from rickyard.cli.book.place import data_option


@click.command()
@data_option
@click.option(
    "--port",
    type=click.IntRange(0, 65_535),
    default=8747,
    show_default=True,
    help="The port on this computer; 0 takes any that is free.",
)
@click.option("--no-browser", is_flag=True, help="Do not open a browser.")
@shared.answering
def serve(data: Path | None, port: int, no_browser: bool) -> None:
    """Show the record book as pages in a browser, for one person on this computer.

    Prints its address on one line when it is ready. Nobody on another computer can reach it, and
    it asks for no password. Ctrl-C stops it.
    """
    from rickyard.book.base import opened_book, place_of
    from rickyard.web.serving import serve as run

    def ready(address: str) -> None:
        shared.say(address)
        if not no_browser:
            webbrowser.open(address)

    place = place_of(data)
    with opened_book(place):
        pass
    run(place, port, ready)
