"""Reading a catalogue: a file of messages as gettext writes them, of which any editor knows."""

from __future__ import annotations

import ast
from pathlib import Path
from typing import Final

_FIELDS: Final = ("msgid", "msgstr")


class CatalogueError(ValueError):
    """A catalogue cannot be read; it names the line and what is wrong there."""


def read_messages(path: Path) -> dict[str, str]:
    """Return the messages of a file: what is said in English, and how the language says it.

    Parameters
    ----------
    path : Path
        A file of gettext messages in UTF-8; comments and its head are passed over.

    Returns
    -------
    dict of str to str
        In the order of the file.

    Raises
    ------
    CatalogueError
        If a line is no message, one stands twice, or one is not said.
    """
    found: dict[str, str] = {}
    said, field = dict.fromkeys(_FIELDS, ""), ""
    lines = [*path.read_text(encoding="utf-8").splitlines(), 'msgid ""']
    for number, line in enumerate(lines, 1):
        text = line.strip()
        if not text or text.startswith("#"):
            continue
        word, _, rest = text.partition(" ")
        if word == "msgid":
            _keep(found, said, f"{path.name}, line {number}")
            said = dict.fromkeys(_FIELDS, "")
        field, text = (word, rest) if word in _FIELDS else (field, text)
        if not field or not (text.startswith('"') and text.endswith('"')):
            raise CatalogueError(
                f"{path.name}, line {number}: {text[:60]} is no line of a message. Write msgid or "
                "msgstr and a text in quotation marks."
            )
        said[field] += str(ast.literal_eval(text))
    return found


def _keep(found: dict[str, str], said: dict[str, str], where: str) -> None:
    """Keep a message before the line at which another begins; the first, without words, is none."""
    english, other = said["msgid"], said["msgstr"]
    if not english:
        return
    if english in found:
        raise CatalogueError(f'{where}: the message before it stands twice: "{english}".')
    if not other:
        raise CatalogueError(f'{where}: the message before it is not translated: "{english}".')
    found[english] = other
