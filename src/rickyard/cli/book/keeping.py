"""``rickyard backup``, ``restore`` and ``doctor``: the record book looked after."""

from __future__ import annotations

from pathlib import Path

import click

from rickyard.cli import shared
from rickyard.cli.book.place import data_option, open_at


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@data_option
@shared.answering
def backup(file: Path, data: Path | None) -> None:
    """Write the whole record book, with every file that came in, into FILE.

    It may be in use meanwhile. FILE is read again before it gets its name, and a database of either
    kind takes it back.
    """
    from rickyard.book.keeping import make_backup

    with open_at(data):
        made = make_backup(file)
    shared.say(f"{file}: {made.total:,} rows, read again and whole.")


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@data_option
@shared.answering
def restore(file: Path, data: Path | None) -> None:
    """Put the backup in FILE into a record book in which nothing stands yet.

    The backup is looked through first. It goes in whole or not at all.
    """
    from rickyard.book.keeping import check_backup, restore_backup

    check_backup(file)
    with open_at(data, create=True) as place:
        held = restore_backup(file)
    shared.say(f"{place}: {held.total:,} rows of {held.made_at[:10]} are back.")


@click.command()
@data_option
@click.pass_context
@shared.answering
def doctor(context: click.Context, data: Path | None) -> None:
    """Look at everything in the record book, and say what is not as it should be.

    Exit code 1 says that something is not.
    """
    from rickyard.book.keeping import examine

    bad = 0
    with open_at(data) as place:
        shared.say(f"Record book: {place}")
        for finding in examine():
            bad += not finding.is_good
            shared.say(f"{'good' if finding.is_good else 'BAD '}  {finding.sentence}")
    shared.say("All is well." if not bad else f"{bad} not as it should be.")
    context.exit(1 if bad else 0)
