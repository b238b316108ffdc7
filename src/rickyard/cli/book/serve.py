"""``rickyard serve``: the pages of the record book in a browser of this computer."""

from __future__ import annotations

import webbrowser
from pathlib import Path

import click

from rickyard.cli.book.place import data_option
from rickyard.cli.shared import EXIT_USAGE, answering, aside, fail, say

_FILE = click.Path(path_type=Path, dir_okay=False)


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
@click.option("--shared", is_flag=True, help="For an office: people sign in, over HTTPS alone.")
@click.option("--host", metavar="NAME", default="", help="The name by which browsers reach it.")
@click.option("--certificate", type=_FILE, metavar="FILE", help="The certificate of that name.")
@click.option("--key", type=_FILE, metavar="FILE", help="The key of the certificate.")
@click.option(
    "--behind-proxy", is_flag=True, help="Another server on this computer ends HTTPS for it."
)
@click.option(
    "--processes",
    type=click.IntRange(1, 64),
    metavar="N",
    help="How many processes answer for pages; by the processors of this computer if left out.",
)
@answering
def serve(
    data: Path | None,
    port: int,
    no_browser: bool,
    shared: bool,
    host: str,
    certificate: Path | None,
    key: Path | None,
    behind_proxy: bool,
    processes: int | None,
) -> None:
    """Show the record book as pages in a browser, for one person on this computer.

    Prints its address on one line when it is ready. Nobody on another computer can reach it, and
    it asks for no password. Ctrl-C stops it.

    With --shared it is for an office: it answers to --host NAME over HTTPS, and people sign in with
    the accounts that rickyard people makes.
    """
    from rickyard.book.base import opened_book, place_of
    from rickyard.book.keeping import left_open, told_at_start
    from rickyard.web.serving import Access
    from rickyard.web.serving import serve as run

    if shared != bool(host) or (not shared and (certificate or key or behind_proxy)):
        fail("--shared needs --host NAME, and both go together.", EXIT_USAGE)

    def ready(address: str) -> None:
        say(address)
        if not no_browser and not shared:
            webbrowser.open(address)

    place = place_of(data)
    was_left = left_open(place)
    with opened_book(place):
        for told in told_at_start(was_left=was_left):
            aside(told)
    run(place, port, ready, Access(host, certificate, key, behind_proxy), processes)
