"""What the commands share: reading a farm folder, writing a file, the terminal."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NoReturn, ParamSpec, TypeVar

import click

from rickyard.cli.shared.plain import plain

if TYPE_CHECKING:
    from rich.console import Console

    from rickyard.service import OpenedFarm

_P = ParamSpec("_P")

EXIT_USAGE: Final = 2
EXIT_FOLDER: Final = 3
EXIT_RECHECK: Final = 4

#: What a shell expects of a command that Ctrl-C ended.
EXIT_INTERRUPTED: Final = 130

#: What goes to standard output.
STDOUT: Final = "-"

_Command = TypeVar("_Command", bound=Callable[..., Any] | click.Command)


def file_option(flag: str, name: str, says: str) -> Callable[[_Command], _Command]:
    """Return the option of a file to write."""
    return click.option(flag, name, metavar="FILE", type=click.Path(path_type=Path), help=says)


def json_option(says: str) -> Callable[[_Command], _Command]:
    """Return the option to write the answer as JSON, to a file or to standard output."""
    return click.option("--json", "json_file", metavar="FILE", help=says)


def open_folder(folder: Path) -> OpenedFarm:
    """Read a farm folder and show what in it is worth a second look."""
    from rickyard.service import open_farm

    opened = open_farm(folder)
    for question in opened.questions:
        aside(question)
    return opened


def answering(function: Callable[_P, None]) -> Callable[_P, None]:
    """Let a command leave with a sentence where a service could not do what was asked."""

    @wraps(function)
    def command(*args: _P.args, **kwargs: _P.kwargs) -> None:
        from rickyard.service import ServiceError

        try:
            function(*args, **kwargs)
        except ServiceError as problem:
            fail(str(problem), exit_code(problem))

    return command


def exit_code(problem: Exception) -> int:
    """Return the exit code of a command that a service could not answer."""
    from rickyard.service import CannotWorkOut, FolderFaulty, NoProgram

    if isinstance(problem, FolderFaulty | CannotWorkOut):
        return EXIT_FOLDER
    return EXIT_RECHECK if isinstance(problem, NoProgram) else EXIT_USAGE


def fail(message: str, code: int) -> NoReturn:
    """Say what went wrong on standard error and leave."""
    aside(message)
    sys.exit(code)


def say(message: str = "") -> None:
    """Print a line on standard output, with nothing in it that moves a terminal."""
    click.echo(plain(message))


def aside(message: str) -> None:
    """Print a line on standard error, with nothing in it that moves a terminal."""
    click.echo(plain(message), err=True)


def write_text(label: str, path: Path | None, text: str | bytes) -> None:
    """Write a file and say where it is; do nothing where none was asked for."""
    from rickyard.service import write_file

    if path is None:
        return
    write_file(path, text if isinstance(text, bytes) else text.encode("utf-8"))
    aside(f"{label}: {path}")


def write_stdout(text: str) -> None:
    """Write a document to standard output as UTF-8, whatever the terminal speaks."""
    click.echo(text.encode("utf-8"), nl=False)


def to_file(name: str | None) -> Path | None:
    """Return the file that an option names; none where it names standard output or nothing."""
    return None if name is None or name == STDOUT else Path(name) if name else _no_name()


def _no_name() -> NoReturn:
    fail("A file to write has no name. Give it one.", EXIT_USAGE)


def terminal(*, err: bool = False) -> Console:
    """Return the console to print on; plain and never folded when it is not a terminal."""
    from rickyard.cli.shared.console import PlainConsole

    console = PlainConsole(stderr=err, highlight=False)
    if not console.is_terminal:
        return PlainConsole(stderr=err, highlight=False, width=100, no_color=True)
    return console
