"""The files of a farm folder as text: found, of a sane size, and saved as UTF-8."""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from rickyard.folder.tables.faults import Fault, fault_at

LARGEST_FILE_BYTES: Final = 5_000_000
LARGEST_SETTINGS_BYTES: Final = 200_000  # a hundred times a full one
LONGEST_HEADER: Final = 100_000  # characters in which the sign between cells is looked for
MOST_CELLS: Final = 300_000  # filled cells of a whole folder: seconds, and some 200 MB
SAVE_AS_UTF8: Final = 'Save it again from the spreadsheet as "CSV UTF-8 (comma delimited)".'
SAVE_SETTINGS: Final = "Save it again from the text editor with the encoding UTF-8."

_NUL: Final = "\0"
_FALLBACK: Final = "cp1252"  # what spreadsheets on Windows write when not asked for UTF-8


@dataclass(slots=True)
class Reading:
    """How much of a folder has been read, which is what bounds the time and memory it takes."""

    rows: int = 0
    cells: int = 0


@dataclass(frozen=True, slots=True)
class FileText:
    """The text of one file, and whether it began with a byte-order mark."""

    file: str
    text: str
    marked: bool


def load_text(folder: Path, file: str, required: bool, faults: list[Fault]) -> FileText | None:
    """Read one file of the folder as text.

    Parameters
    ----------
    folder : Path
        The farm folder.
    file : str
        Name of the file.
    required : bool
        Whether its absence is a fault.
    faults : list of Fault
        Faults are added here.

    Returns
    -------
    FileText or None
        The text; ``None`` if it is absent or cannot be read.
    """
    data = _load_bytes(folder, file, required, faults)
    if data is None:
        return None
    marked = data.startswith(codecs.BOM_UTF8)
    data = data.removeprefix(codecs.BOM_UTF8)
    if not data.strip():
        faults.append(
            fault_at(file, "the file is empty.", f"Write {_what_is_first(file)}, or restore it.")
        )
        return None
    text = _decoded(file, data, faults)
    if text is None:
        return None
    if _NUL in text:
        row = text[: text.index(_NUL)].count("\n") + 1
        faults.append(
            fault_at(
                file,
                "the file holds zero bytes, so it is damaged or no text.",
                "Restore it from a copy, or save it again from the spreadsheet.",
                row=row,
                row_word=_row_word(file),
            )
        )
        return None
    return FileText(file, text, marked)


def _load_bytes(folder: Path, file: str, required: bool, faults: list[Fault]) -> bytes | None:
    path = folder / file
    try:
        if not path.exists():
            if required or path.is_symlink():
                faults.append(_missing(folder, file))
            return None
        if not path.is_file():
            faults.append(
                fault_at(
                    file,
                    "this is a folder, and a file is expected."
                    if path.is_dir()
                    else "this is not a plain file.",
                    "Move it away and put the file in its place.",
                )
            )
            return None
        size = path.stat().st_size
        most = LARGEST_SETTINGS_BYTES if file.endswith(".toml") else LARGEST_FILE_BYTES
        if size > most:
            faults.append(
                fault_at(
                    file,
                    f"the file has {size / 1e6:,.1f} MB, and {most / 1e6:g} MB is the most.",
                    "Check that it is the right file; split the farm if it really is so large.",
                )
            )
            return None
        return path.read_bytes()
    except OSError as error:
        reason = error.strerror or type(error).__name__
        faults.append(
            fault_at(
                file,
                f"the file cannot be opened: {reason}.",
                "Close it in other programs and check who may read it.",
            )
        )
        return None


def _missing(folder: Path, file: str) -> Fault:
    stem = file.split(".")[0]
    near = sorted(
        entry.name
        for entry in folder.iterdir()
        if entry.name != file and entry.name.casefold().startswith(f"{stem}.")
    )
    found = near[0] if near else ""
    if not near:
        suggestion = f"Write it with {_what_is_first(file)} at least."
    elif Path(found).suffix.casefold() in (".xlsx", ".xls", ".ods", ".numbers"):
        suggestion = f"The folder has {found}: save that sheet as {file}, CSV UTF-8."
    else:
        suggestion = f"Did you mean {found}? Rename it to {file}."
    return fault_at(file, "the file is missing.", suggestion, found=found, expected=file)


def _what_is_first(file: str) -> str:
    return "name and [season]" if file.endswith(".toml") else "the header row"


def _row_word(file: str) -> str:
    return "line" if file.endswith(".toml") else "row"


def _decoded(file: str, data: bytes, faults: list[Fault]) -> str | None:
    again = SAVE_SETTINGS if file.endswith(".toml") else SAVE_AS_UTF8
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) or data.count(0) * 4 > len(data):
        faults.append(
            fault_at(
                file,
                'the file is saved as UTF-16 ("Unicode text"), not as UTF-8.',
                again,
                expected="UTF-8",
            )
        )
        return None
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        text = data.decode(_FALLBACK, errors="replace")
        place = len(data[: error.start].decode(_FALLBACK, errors="replace"))
        word = _word_at(text, place)
        faults.append(
            fault_at(
                file,
                f'the file is not saved as UTF-8; "{word}" stands here in another encoding.',
                again,
                row=data[: error.start].count(b"\n") + 1,
                row_word=_row_word(file),
                found=word,
                expected="UTF-8",
            )
        )
        return text


def _word_at(text: str, place: int) -> str:
    start = end = place
    while start > 0 and text[start - 1].isalnum():
        start -= 1
    while end < len(text) and text[end].isalnum():
        end += 1
    return text[start : max(end, place + 1)]


def split_rows(
    source: FileText, most_rows: int, faults: list[Fault]
) -> tuple[list[tuple[int, list[str]]], bool]:
    """Split the text of a CSV file into rows of cells.

    ``most_rows``: filled rows, the header among them, that are kept at the most. ``faults``: faults
    are added here. ``rows``: the header, then the filled rows, each with its number. ``complete``:
    whether these are all: a quotation mark that does not close hides what follows.
    """
    delimiter = _delimiter(source, faults)
    rows: list[tuple[int, list[str]]] = []
    reader = csv.reader(io.StringIO(source.text, newline=""), delimiter=delimiter, strict=True)
    number = 0
    try:
        for number, row in enumerate(reader, start=1):
            # Spreadsheets save a million empty rows: none of them is held.
            if number > 1 and not any(cell.strip() for cell in row):
                continue
            if len(rows) >= most_rows:
                faults.append(_too_many_rows(source.file, most_rows - 1, number))
                return rows, False
            rows.append((number, row))
    except csv.Error:
        faults.append(
            fault_at(
                source.file,
                "a quotation mark that opens here does not close before its comma.",
                'Close it, or write two of them ("") for one inside a text.',
                row=number + 1,
            )
        )
        return rows, False
    return rows, True


def _too_many_rows(file: str, most: int, number: int) -> Fault:
    return fault_at(
        file,
        f"more than {most:,} rows are filled, and that is the most.",
        "Check that it is the right file; split the farm if it really is so large.",
        row=number,
        ends=True,
    )


def _delimiter(source: FileText, faults: list[Fault]) -> str:
    first = source.text[:LONGEST_HEADER].splitlines()[0]
    if "," in first:
        return ","
    for delimiter, name in ((";", "semicolons"), ("\t", "tabs")):
        if delimiter in first:
            faults.append(
                fault_at(
                    source.file,
                    f"the cells are separated by {name}, not by commas.",
                    SAVE_AS_UTF8,
                    row=1,
                    found=name,
                    expected="commas",
                )
            )
            return delimiter
    return ","


def join_rows(rows: Sequence[Sequence[str]], newline: str) -> str:
    r"""Write rows as CSV, quoting only the cells that need it.

    Parameters
    ----------
    rows : sequence of sequence of str
        The cells of each row, the heading among them.
    newline : str
        What ends a row.

    Returns
    -------
    str
        The text of the file.

    Examples
    --------
    >>> join_rows([["lot", "note"], ["A", 'two "good" ones, dry']], "\n")
    'lot,note\nA,"two ""good"" ones, dry"\n'
    """
    return "".join(
        (",".join(_quoted(cell) for cell in row) if len(row) > 1 else _alone(row)) + newline
        for row in rows
    )


def _alone(row: Sequence[str]) -> str:
    """Quote an empty only cell, so that its row is not an empty line."""
    return _quoted(row[0]) or '""' if row else ""


def _quoted(cell: str) -> str:
    if any(sign in cell for sign in ',"\r\n'):
        return '"' + cell.replace('"', '""') + '"'
    return cell
