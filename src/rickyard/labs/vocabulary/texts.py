"""Texts in one form, so that they compare: case, signs, small letters, marks of footnotes."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import Final

_SIGNS: Final = str.maketrans(
    {
        "‐": "-",
        "‑": "-",
        "‒": "-",
        "–": "-",
        "—": "-",
        "−": "-",
        "\u00ad": None,
        "\u200b": None,
        "\ufeff": None,
        "μ": "u",
        "µ": "u",
        "’": "'",
        "“": '"',
        "”": '"',
        "≤": "<",
        "≥": ">",
        "⁄": "/",
        "×": "x",
    }
)
#: Marks that point to a footnote, where they stand at the end or the start of a text.
FOOTNOTE_MARKS: Final = "*†‡§¶^¤◊※"
_EDGE_MARKS: Final = re.compile(
    rf"^[{re.escape(FOOTNOTE_MARKS)}]+|[{re.escape(FOOTNOTE_MARKS)}]+(?=$|\s*[,(\[])"
)
_SUPERSCRIPTS: Final = re.compile(r"[¹²³⁴⁵⁶⁷⁸⁹ᵃᵇᶜᵈ]+$")
#: "A.D. fiber", "T.D.N.": letters with points are one word.
_DOTTED: Final = re.compile(r"\b(?:[a-z]\.){2,}(?:[a-z]\b)?")
#: "N°" is short for a number, and no nitrogen.
_NUMERO: Final = re.compile(r"\bn ?°")
_MARK_IN_BRACKETS: Final = re.compile(r"[\[(](\d|[a-zA-Z])[\])]$")
_SQUARE_MARK: Final = re.compile(r"\[(?:\d|[a-zA-Z])\]$")
_TOKENS: Final = re.compile(r"[a-z]+|\d+(?:\.\d+)?|%")
#: Letters that are no letter with an accent.
_LETTERS: Final = str.maketrans({"ł": "l", "ø": "o", "æ": "ae", "œ": "oe", "ð": "d", "đ": "d"})


def phrases(text: str) -> tuple[str, ...]:
    """Return the phrases of a list that is written with bars between them.

    Parameters
    ----------
    text : str
        The list.

    Returns
    -------
    tuple of str
        The phrases, in order.

    Examples
    --------
    >>> phrases("not detected|trace")
    ('not detected', 'trace')
    """
    return tuple(text.split("|"))


@lru_cache(maxsize=65536)
def plain(text: str) -> str:
    r"""Return a text in small letters, with plain signs and single spaces.

    Examples
    --------
    >>> plain("  Crude\u00a0Protein – % DM")
    'crude protein - % dm'
    """
    shown = unicodedata.normalize("NFKC", text.translate(_SIGNS)).translate(_SIGNS)
    shown = " ".join(shown.split()).casefold()
    return _NUMERO.sub("no", shown) if "°" in shown else shown


#: "% BS / DM", "% TQS / as fed": a basis in short in another tongue, and again in English.
_TWICE: Final = re.compile(
    r"\b(?:b\.?s|m\.?s|t\.?s|t\.?m|s\.?s|d\.?s)\.?\s*/\s*(?=(?:dm|dmb|dry)\b)|"
    r"\b(?:t\.?q\.?s?|t\.?c\.?o|f\.?m|m\.?f|m\.?n|m\.?b)\.?\s*/\s*(?=as[ -](?:fed|received|is)\b)",
    re.IGNORECASE,
)


def in_english_alone(text: str) -> str:
    """Return a text without short words of a basis that English ones of the same repeat.

    Examples
    --------
    >>> in_english_alone("Protéine (% BS / DM)"), in_english_alone("MS / as fed")
    ('Protéine (% DM)', 'MS / as fed')
    """
    return _TWICE.sub("", text) if "/" in text else text


@lru_cache(maxsize=16384)
def marks_of(text: str) -> str:
    """Return the marks of footnotes at the edges of a text.

    Examples
    --------
    >>> marks_of("Calcium*"), marks_of("TDN¹")
    ('*', '1')
    """
    stripped = text.strip()
    found = "".join(_EDGE_MARKS.findall(stripped))
    small = _SUPERSCRIPTS.search(stripped)
    bracket = _MARK_IN_BRACKETS.search(stripped)
    if bracket:
        return found + bracket[1].casefold()
    return found + (unicodedata.normalize("NFKC", small[0]) if small else "")


def without_marks(text: str) -> str:
    """Return a text without the marks of footnotes at its edges.

    Examples
    --------
    >>> without_marks("*Crude protein¹"), without_marks("NDF[d]")
    ('Crude protein', 'NDF')
    """
    shown = _SQUARE_MARK.sub("", text.strip())
    return _EDGE_MARKS.sub("", _SUPERSCRIPTS.sub("", shown)).strip()


@lru_cache(maxsize=65536)
def tokens(text: str) -> tuple[str, ...]:
    """Return the words and numbers of a text in small letters.

    Examples
    --------
    >>> tokens("Net Energy, maint. (48h)")
    ('net', 'energy', 'maint', '48', 'h')
    """
    shown = _DOTTED.sub(lambda found: found[0].replace(".", "") + " ", unaccented(text))
    return tuple(_TOKENS.findall(shown))


@lru_cache(maxsize=65536)
def unaccented(text: str) -> str:
    """Return a text in small letters without accents.

    Examples
    --------
    >>> unaccented("Białko, Tørstof")
    'bialko, torstof'
    """
    shown = plain(text)
    if shown.isascii():
        return shown
    bare = unicodedata.normalize("NFKD", shown.translate(_LETTERS))
    return "".join(sign for sign in bare if not unicodedata.combining(sign))


def distance(first: str, second: str, most: int = 3) -> int:
    """Return how many letters were left out, added, changed or exchanged between two words.

    Parameters
    ----------
    first, second : str
        The words.
    most : int
        Where more than this are different, ``most + 1`` is returned.

    Returns
    -------
    int
        The number of letters, 0 to ``most + 1``. [-]

    Examples
    --------
    >>> distance("protein", "protien"), distance("calcium", "potassium")
    (1, 4)
    """
    if abs(len(first) - len(second)) > most:
        return most + 1
    before: list[int] = []
    row = list(range(len(second) + 1))
    for i, a in enumerate(first, 1):
        last, row = row, [i]
        for j, b in enumerate(second, 1):
            cost = min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (a != b))
            if i > 1 and j > 1 and a == second[j - 2] and b == first[i - 2]:
                cost = min(cost, before[j - 2] + 1)
            row.append(cost)
        if min(row) > most:
            return most + 1
        before = last
    return min(row[-1], most + 1)
