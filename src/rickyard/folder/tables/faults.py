"""What is wrong with a farm folder, said so that a person can put it right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

LONGEST_QUOTE: Final = 60  # characters of a cell that a message repeats
MOST_SHOWN: Final = 50  # faults told; whoever has more mends these and reads again
MOST_OF_A_FILE: Final = 200  # faults after which a file is read no further


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in one place of a farm folder.

    ``row`` counts as a spreadsheet does (the header is row 1), or is the line of
    ``farm.toml``; it is ``None`` for a fault of a whole file. ``message`` is the complete
    text: the place, what was found, and on its own line what to write instead. ``ends`` says
    that nothing behind it was looked at, ``waits`` that only something is missing yet: the rest of
    the row may be kept, and nothing be planned with it.
    """

    file: str
    row: int | None
    column: str
    found: str
    expected: str
    suggestion: str
    message: str
    ends: bool = False
    waits: bool = False

    def __str__(self) -> str:
        """Return the message."""
        return self.message


class CellError(ValueError):
    """A cell that cannot be read, before its place in the folder is known.

    Parameters
    ----------
    problem : str
        What is wrong, as a sentence that begins with the quoted cell.
    suggestion : str
        What to write instead.
    expected : str, optional
        What the cell should hold.
    """

    def __init__(self, problem: str, suggestion: str, expected: str = "") -> None:
        super().__init__(problem)
        self.problem = problem
        self.suggestion = suggestion
        self.expected = expected


class FolderFaults(Exception):  # noqa: N818 - named for what the person is shown
    """Everything wrong with a farm folder; nothing of it was loaded.

    Parameters
    ----------
    faults : iterable of Fault
        All faults of all files, in the order in which they are told.
    """

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__(self.faults)

    def __str__(self) -> str:
        """Return the first messages, then how many there are."""
        count = len(self.faults)
        files = len({fault.file for fault in self.faults})
        told = f"{count} {'fault' if count == 1 else 'faults'} in "
        told += f"{files} {'file' if files == 1 else 'files'}"
        ended = [fault for fault in self.faults[MOST_SHOWN:] if fault.ends]
        if count > MOST_SHOWN:
            told = f"The first {MOST_SHOWN} of {'at least ' if ended else ''}{told} are shown"
        shown = [*self.faults[:MOST_SHOWN], *ended]
        return "\n".join([*(fault.message for fault in shown), f"{told}; nothing was loaded."])


def fault_at(
    file: str,
    problem: str,
    suggestion: str,
    *,
    row: int | None = None,
    column: str = "",
    found: str = "",
    expected: str = "",
    row_word: str = "row",
    column_word: str = "column",
    ends: bool = False,
) -> Fault:
    """Compose a fault and its message from its place and its two sentences.

    Parameters
    ----------
    file : str
        Name of the file inside the folder.
    problem, suggestion : str
        What is wrong and what to write instead.
    row : int, optional
        Row or line.
    column : str, optional
        Header of the column, or key of ``farm.toml``.
    found, expected : str, optional
        The cell as written and what it should hold.
    row_word, column_word : str, optional
        What rows and columns are called in this file.
    ends : bool, default False
        Whether nothing behind it was looked at.

    Returns
    -------
    Fault
        The fault with its complete message.

    Examples
    --------
    >>> print(fault_at("lots.csv", "The file is empty.", "Write the header row."))
    lots.csv: The file is empty.
      Write the header row.
    """
    suggestion = suggestion.strip()
    if found:
        problem = problem.replace(found, _on_one_line(found))
    place = file
    if row is not None:
        place += f", {row_word} {row}"
    if column:
        place += f", {column_word} {column}"
    message = f"{place}: {problem}"
    if suggestion:
        message += f"\n  {suggestion}"
    return Fault(file, row, column, found, expected, suggestion, message, ends)


def _on_one_line(text: str) -> str:
    line = text.replace("\r", " ").replace("\n", " ")
    return line if len(line) <= LONGEST_QUOTE else line[: LONGEST_QUOTE - 3] + "..."
