"""Layout files and files of answers: TOML that people can read, send on and put under version."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Final

from rickyard.labs.layouts.structure import LEAST_ALIKE, alike

VERSION: Final = 1
#: Questions whose answer holds for every file of a layout; others are about one file.
LASTING: Final = (
    "basis",
    "order of dates",
    "decimals",
    "nitrate form",
    "name or number",
    "unit ",
    "analyte ",
    "share ",
)


class LayoutFileError(ValueError):
    """A layout or a file of answers that cannot be read; the message says what to write."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a person said to a question, and who, when and why, where they told."""

    text: str
    who: str = ""
    when: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True)
class LayoutFile:
    """Answers that hold for every file with the same headings."""

    name: str
    headings: tuple[str, ...]
    answers: Mapping[str, Answer] = field(default_factory=dict)

    def serves(self, structure: tuple[str, ...]) -> bool:
        """Return whether a file with that structure is one of this layout."""
        return alike(self.headings, structure) >= LEAST_ALIKE


def is_lasting(key: str) -> bool:
    """Return whether the answer to a question may be kept with a layout.

    Parameters
    ----------
    key : str
        The key of a question.

    Returns
    -------
    bool
        Whether the answer is true of every file with these headings.

    Examples
    --------
    >>> is_lasting("basis"), is_lasting("unit nem"), is_lasting("number line 4")
    (True, True, False)
    """
    return key in LASTING or key.startswith(tuple(one for one in LASTING if one.endswith(" ")))


def read_answers(text: str, name: str) -> dict[str, Answer]:
    r"""Read a file of answers.

    Parameters
    ----------
    text : str
        TOML.
    name : str
        The name of the file, for messages.

    Returns
    -------
    dict of str to Answer
        Answers by the key of their question.

    Raises
    ------
    LayoutFileError
        If it is no TOML with a table ``[answers]``.

    Examples
    --------
    >>> read_answers('[answers]\nbasis = "dm"', "answers.toml")["basis"].text
    'dm'
    """
    return _answers(_loaded(text, name), name)


def read_layout(text: str, name: str) -> LayoutFile:
    """Read a layout file.

    Parameters
    ----------
    text : str
        TOML, as ``layout_text`` writes it.
    name : str
        The name of the file, for messages.

    Returns
    -------
    LayoutFile
        The layout.

    Raises
    ------
    LayoutFileError
        If it is no layout file of this version.
    """
    told = _loaded(text, name)
    if told.get("version") != VERSION:
        raise LayoutFileError(
            f'{name}: "version" is {told.get("version")!r}; this program reads version {VERSION}. '
            "Make the layout again with --layout."
        )
    headings = told.get("headings")
    if not isinstance(headings, list) or not all(isinstance(one, str) for one in headings):
        raise LayoutFileError(f'{name}: "headings" must be a list of texts. Make the layout again.')
    return LayoutFile(str(told.get("name", "")), tuple(headings), _answers(told, name))


def _loaded(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise LayoutFileError(f"{name}: it is no TOML ({error}). Mend that line.") from None


def _answers(told: Mapping[str, Any], name: str) -> dict[str, Answer]:
    table = told.get("answers", {})
    if not isinstance(table, dict):
        raise LayoutFileError(f'{name}: write the answers under a line "[answers]".')
    found = {}
    for key, value in table.items():
        if isinstance(value, dict):
            parts = {part: _plain(value.get(part, "")) for part in ("who", "when", "why")}
            found[key] = Answer(_plain(value.get("answer", "")), **parts)
        else:
            found[key] = Answer(_plain(value))
    return found


def _plain(value: object) -> str:
    return value.isoformat() if isinstance(value, date) else str(value)


def layout_text(layout: LayoutFile) -> str:
    """Return a layout as the text of its file.

    Parameters
    ----------
    layout : LayoutFile
        The layout.

    Returns
    -------
    str
        TOML.

    Examples
    --------
    >>> print(layout_text(LayoutFile("two columns", ("cp", "wide"), {"basis": Answer("dm")})))
    # A layout of laboratory reports: answers that hold for every file with these headings.
    version = 1
    name = "two columns"
    headings = ["cp", "wide"]
    <BLANKLINE>
    [answers]
    "basis" = "dm"
    <BLANKLINE>
    """
    lines = [
        "# A layout of laboratory reports: answers that hold for every file with these headings.",
        f"version = {VERSION}",
        f"name = {_quoted(layout.name)}",
        "headings = [" + ", ".join(_quoted(one) for one in layout.headings) + "]",
        "",
        "[answers]",
    ]
    lines += [f"{_quoted(key)} = {_quoted(one.text)}" for key, one in layout.answers.items()]
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    shown = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(s if s.isprintable() else f"\\u{ord(s):04x}" for s in shown) + '"'
