"""Ids, words from a list, yes and no; and the nearest word to a wrong one."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches
from enum import StrEnum
from typing import Final

from rickyard.display import MONTHS
from rickyard.folder.hints import trade_word
from rickyard.folder.tables.faults import CellError

LONGEST_ID: Final = 40
MOST_COMPARED: Final = 500  # beyond this a guess takes longer than it helps
LONGEST_GUESSED: Final = 60  # characters; what is longer is no slip of the pen

_ID: Final = re.compile(r"[^\W_][\w.-]*")
_NOT_IN_ID: Final = re.compile(r"[^\w.-]")
_MONTHS: Final = tuple(month.lower() for month in MONTHS)
_DAY_MONTH: Final = re.compile(rf"(\d{{1,2}})-({'|'.join(_MONTHS)})", re.IGNORECASE)
_MONTH_YEAR: Final = re.compile(rf"({'|'.join(_MONTHS)})-(\d{{2}})", re.IGNORECASE)
_SCIENTIFIC: Final = re.compile(r"\d(?:\.\d+)?E\+\d+", re.IGNORECASE)

_SPREADSHEET_ERRORS: Final = frozenset(
    ("#REF!", "#N/A", "#VALUE!", "#DIV/0!", "#NAME?", "#NULL!", "#NUM!", "#SPILL!", "#CALC!")
)
_YES: Final = frozenset(("yes", "y", "true", "1"))
_NO: Final = frozenset(("no", "n", "false", "0"))


def refuse_spreadsheet_error(text: str) -> None:
    """Refuse an error value or a run of ``#`` that a spreadsheet left in a cell."""
    if text.upper() in _SPREADSHEET_ERRORS or (len(text) > 1 and not text.strip("#")):
        raise CellError(
            f'"{text}" is an error of the spreadsheet, not a value.',
            "Mend the cell in the spreadsheet and save again.",
        )


def refuse_formula(text: str) -> None:
    """Refuse a formula where its result is expected."""
    if text.startswith("="):
        raise CellError(
            f'"{text}" is a formula, not its result.',
            "Copy the cell in the spreadsheet, paste it as a value and save again.",
        )


def spreadsheet_date(text: str) -> str:
    """Return what was typed before a spreadsheet made a date of it, or an empty string.

    >>> spreadsheet_date("2-Jan")
    '1-2'
    """
    if match := _DAY_MONTH.fullmatch(text):
        return f"{_MONTHS.index(match[2].lower()) + 1}-{match[1]}"
    if match := _MONTH_YEAR.fullmatch(text):
        return f"{_MONTHS.index(match[1].lower()) + 1}-{match[2]}"
    return ""


def is_scientific(text: str) -> bool:
    """Tell whether a long number was shortened by a spreadsheet, as 2.02611E+11."""
    return _SCIENTIFIC.fullmatch(text) is not None


def parse_id(text: str) -> str:
    """Read a short name that other files refer to.

    >>> parse_id("NB-2")
    'NB-2'
    """
    expected = f"letters, figures, - . and _, at most {LONGEST_ID}"
    if typed := spreadsheet_date(text):
        raise CellError(
            f'"{text}" looks like a date that a spreadsheet made of a name.',
            f"Did you mean {typed}? Format the column as text before typing.",
            expected,
        )
    if is_scientific(text):
        raise CellError(
            f'"{text}" is a long number that a spreadsheet shortened.',
            "Format the column as text and type the number again.",
            expected,
        )
    if len(text) > LONGEST_ID:
        raise CellError(
            f'"{text}" has {len(text)} characters, and {LONGEST_ID} is the most.',
            "Write a short name here and the long one under name.",
            expected,
        )
    if _ID.fullmatch(text) is None:
        mended = _NOT_IN_ID.sub("_", text).strip("_.-")
        found = "a space" if " " in text else "a sign that cannot stand in a short name"
        if _NOT_IN_ID.search(text) is None:
            found = "a sign in front"
        guess = f"Did you mean {mended}? " if mended else ""
        raise CellError(
            f'"{text}" has {found}.',
            f"{guess}Use letters, figures, - . and _ only, and begin with a letter or figure.",
            expected,
        )
    return text


def parse_word(text: str, words: type[StrEnum]) -> StrEnum:
    """Read a word of a list; capitals, spaces and hyphens do not matter.

    >>> from rickyard.farm import Forage
    >>> str(parse_word("Cool grass", Forage))
    'cool_grass'
    """
    wanted = re.sub(r"[\s-]+", "_", text.casefold())
    for word in words:
        if word.value == wanted:
            return word
    every = ", ".join(words)
    meant = trade_word(words.__name__, text)
    guess = did_you_mean(wanted, words) if meant is None else meant.sentence
    raise CellError(
        f'"{text}" is not one of the words known here.',
        f"{guess}Write one of: {every}.",
        f"one of {every}",
    )


def parse_flag(text: str) -> bool:
    """Read yes or no.

    >>> parse_flag("Yes"), parse_flag("0")
    (True, False)
    """
    word = text.casefold()
    if word in _YES:
        return True
    if word in _NO:
        return False
    raise CellError(
        f'"{text}" is neither yes nor no.',
        "Write yes or no, or leave the cell empty if it is not known.",
        "yes or no",
    )


def did_you_mean(text: str, choices: Iterable[str]) -> str:
    """Return ``Did you mean ...? `` with the nearest choice, or an empty string.

    Parameters
    ----------
    text : str
        What was written.
    choices : iterable of str
        What could have been meant.

    Returns
    -------
    str
        The question with a space behind it; empty where nothing is near.

    Examples
    --------
    >>> did_you_mean("alfafa", ["alfalfa", "clover"])
    'Did you mean alfalfa? '
    """
    if len(text) > LONGEST_GUESSED:
        return ""
    by_fold = {choice.casefold(): choice for choice in choices}
    if len(by_fold) > MOST_COMPARED:
        return ""
    near = get_close_matches(text.casefold(), by_fold, n=1, cutoff=0.6)
    return f"Did you mean {by_fold[near[0]]}? " if near else ""
