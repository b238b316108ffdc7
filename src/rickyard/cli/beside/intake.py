"""``rickyard intake``: reports of laboratories in, with every guess to be seen."""

from __future__ import annotations

import sys
from collections.abc import Callable
from contextlib import nullcontext, redirect_stdout
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from rickyard.cli.shared import (
    EXIT_FOLDER,
    EXIT_USAGE,
    STDOUT,
    answering,
    fail,
    json_option,
    to_file,
    write_stdout,
    write_text,
)

if TYPE_CHECKING:
    from rickyard.labs.intake import Intake
    from rickyard.labs.layouts import Answer, LayoutFile

EXIT_OPEN: Final = 1
#: Of a file larger than this the command says what it does.
_LARGE_BYTES: Final = 300_000
_FILE = click.Path(exists=True, dir_okay=False, path_type=Path)


@click.command()
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=_FILE)
@click.option(
    "--folder",
    metavar="FARM",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="Match the samples to the lots of this farm folder.",
)
@click.option(
    "--layout",
    "layout_file",
    metavar="FILE",
    type=click.Path(dir_okay=False, path_type=Path),
    help="A layout file with answers for reports of the same headings. If it does not exist, it "
    "is made of the answers given with --answers.",
)
@click.option(
    "--answers",
    "answers_file",
    metavar="FILE",
    type=_FILE,
    help="Answers to the questions, as a TOML file with a table [answers].",
)
@click.option(
    "--accept",
    is_flag=True,
    help="Write the samples about which nothing is open into reports.csv of the farm folder, and "
    "keep the file in sources. A price list goes into labs.csv.",
)
@json_option(
    "Write what was read, with the place and the printed text of each value, as JSON; - writes it "
    "to standard output, and what is told of the files to standard error."
)
@answering
def intake(
    files: tuple[Path, ...],
    folder: Path | None,
    layout_file: Path | None,
    answers_file: Path | None,
    accept: bool,
    json_file: str | None,
) -> None:
    """Read reports or price lists of laboratories in FILE..., and ask about what is not certain.

    Ends with exit code 1 where a file is refused or a question is open.
    """
    from rickyard.cli.beside.show_intake import print_intake
    from rickyard.folder import FolderFaults
    from rickyard.labs.intake import readings_text, take_in, take_to_farm
    from rickyard.service import check_outputs

    if accept and folder is None:
        fail("--accept writes into a farm folder: name it with --folder.", EXIT_USAGE)
    json_path, on_stdout = to_file(json_file), json_file == STDOUT
    check_outputs(
        [json_path, None if layout_file and layout_file.exists() else layout_file], folder
    )
    answers, layouts = _told(answers_file, layout_file)
    taken = []
    for path in files:
        one = take_in(path.name, _bytes(path), answers, layouts, _progress(path))
        if folder is not None:
            try:
                take_to_farm(one, folder, answers, write=accept)
            except FolderFaults as faults:
                fail(str(faults), EXIT_FOLDER)
        with redirect_stdout(sys.stderr) if on_stdout else nullcontext():
            print_intake(one, accept)
        taken.append(one)
    if layout_file is not None and not layout_file.exists():
        _write_layout(layout_file, taken, answers)
    if json_file is not None:
        text = readings_text([one.reading for one in taken])
        if on_stdout:
            write_stdout(text)
        write_text("JSON", json_path, text)
    if any(one.reading.refused or one.open_questions() for one in taken):
        raise SystemExit(EXIT_OPEN)


def _progress(path: Path) -> Callable[[str], None] | None:
    """Return where progress is told: at a terminal, for a file that takes a while."""
    if not sys.stderr.isatty() or path.stat().st_size < _LARGE_BYTES:
        return None
    return lambda what: click.echo(f"{path.name}: {what} ...", err=True)


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        fail(f"{path}: cannot be read ({error.strerror}).", EXIT_USAGE)


def _told(
    answers_file: Path | None, layout_file: Path | None
) -> tuple[dict[str, Answer], list[LayoutFile]]:
    from rickyard.labs.layouts import LayoutFileError, read_answers, read_layout

    try:
        answers = (
            {}
            if answers_file is None
            else read_answers(answers_file.read_text(encoding="utf-8"), answers_file.name)
        )
        layouts = []
        if layout_file is not None and layout_file.exists():
            layouts.append(read_layout(layout_file.read_text(encoding="utf-8"), layout_file.name))
    except (LayoutFileError, UnicodeDecodeError, OSError) as error:
        fail(str(error), EXIT_USAGE)
    return answers, layouts


def _write_layout(path: Path, taken: list[Intake], answers: dict[str, Answer]) -> None:
    from rickyard.labs.intake import layout_of
    from rickyard.labs.layouts import layout_text

    read = next((one for one in taken if one.reading.samples), None)
    if read is None:
        fail("No file was read, so there is no layout to keep.", EXIT_USAGE)
    layout = layout_of(read, path.stem, answers)
    write_text("Layout", path, layout_text(layout))
