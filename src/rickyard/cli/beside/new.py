"""``rickyard new``: a first farm folder by asking."""

from __future__ import annotations

import sys
import tempfile
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from rickyard.cli.shared import EXIT_FOLDER, EXIT_USAGE, DayOption, fail

if TYPE_CHECKING:
    from rickyard.draft import Answers


@click.command()
@click.argument("folder", metavar="FOLDER", type=click.Path(path_type=Path))
@click.option("--on", "day", type=DayOption(), help="The day that counts as today.")
def new(folder: Path, day: date | None) -> None:
    """Ask ten questions about a farm and write FOLDER, which can be planned at once.

    Answers may also come on standard input, a line for each question. Enter alone means I do not
    know: something usual is assumed, said, and marked in the folder. A folder that is there
    already is never touched, and a folder is written whole or not at all.
    """
    from rickyard.draft import Asking, interview, surer

    name = _checked_name(folder)
    asking = Asking(_ask, click.echo)
    try:
        answers = interview(asking, name, day or date.today())
    except (EOFError, click.Abort):
        _stopped()
    _write(answers, folder)
    click.echo(f"\n{folder} is written: {_counted(answers)}.")
    _say("What was assumed, and is marked in the folder:", asking.assumed)
    _say("What would make it surer:", surer(answers))
    click.echo(f"\nNext: rickyard plan {_quoted(folder)}")


def _checked_name(folder: Path) -> str:
    from rickyard.display import clean

    if folder.exists() or folder.is_symlink():
        fail(f"{folder} is there already and is left as it is. Name a new folder.", EXIT_USAGE)
    if not folder.absolute().parent.is_dir():
        fail(f"{folder}: the folder to put it in is not there. Make it first.", EXIT_USAGE)
    name = clean(folder.name)
    return name[:1].upper() + name[1:].replace("-", " ").replace("_", " ") or "Farm"


def _ask(question: str) -> str:
    """Ask on one line and read one line; the end of the input ends the asking."""
    click.echo(f"{question} ", nl=False)
    line = sys.stdin.readline()
    if not line:
        click.echo()
        raise EOFError
    if not sys.stdin.isatty():
        click.echo()
    # What is no letter in UTF-8 could not be written into the folder.
    return line.rstrip("\r\n").encode("utf-8", "replace").decode("utf-8")


def _stopped() -> NoReturn:
    fail("The answers ended before the last question; nothing is written.", EXIT_USAGE)


def _write(answers: Answers, folder: Path) -> None:
    """Write the folder through a reading of it, so that it is whole and without fault."""
    from rickyard.draft import texts_of
    from rickyard.folder import FolderFaults, FolderInUse, read_folder, write_folder
    from rickyard.forage.values import feed_ids

    try:
        with tempfile.TemporaryDirectory(prefix="rickyard-") as place:
            for file, text in texts_of(answers).items():
                (Path(place) / file).write_text(text, encoding="utf-8", newline="")
            read = read_folder(place, known_table_ids=feed_ids())
            if folder.exists():
                fail(f"{folder} was made meanwhile and is left as it is.", EXIT_USAGE)
            write_folder(read.farm, folder, read.layout)
    except FolderFaults as faults:
        fail(f"The answers do not fit together; nothing is written.\n{faults}", EXIT_FOLDER)
    except FolderInUse as problem:
        fail(f"{problem} Nothing is written.", EXIT_USAGE)
    except OSError as error:
        fail(f"{folder}: cannot be written ({error.strerror}). Nothing is written.", EXIT_USAGE)


def _counted(answers: Answers) -> str:
    from rickyard.display import count_text

    parts = [
        count_text(len(rows), noun)
        for rows, noun in (
            (answers.groups, "group"),
            (answers.lots, "lot"),
            (answers.reports, "report"),
            (answers.feeds, "feed"),
        )
    ]
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def _say(head: str, lines: tuple[str, ...] | list[str]) -> None:
    from rich.text import Text

    from rickyard.cli.shared import terminal

    if not lines:
        return
    console = terminal()
    click.echo(f"\n{head}")
    for line in dict.fromkeys(lines):
        console.print(Text(f"- {line[:1].upper()}{line[1:].rstrip('.')}."))


def _quoted(folder: Path) -> str:
    text = str(folder)
    return f'"{text}"' if " " in text else text
