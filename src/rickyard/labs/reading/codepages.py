"""Text of old machines: the code page in which its words have letters, and no signs within."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

from rickyard.labs.vocabulary import is_word_of_reports

#: Code pages of single bytes, the likeliest first: of windows, of old Macintosh machines, and of
#: programs before windows.
_PAGES: Final = ("cp1252", "mac_roman", "cp850", "cp437")
#: Code pages of the east, which letters alone do not tell from those of the west: words do.
_PAGES_OF_THE_EAST: Final = ("cp1250", "iso8859_2", "cp852", "cp1257", "cp1254")
#: So many words of reports more make a page of the east the right one.
_LEAST_WORDS: Final = 1
_PARTS: Final = re.compile(r"[^\W\d_]{3,}")
#: Lines as programs drew them before windows, which no letters of a later code page are.
_DRAWN: Final = (b"\xc4\xc4\xc4", b"\xcd\xcd\xcd")
#: Words that are looked at, and bytes of a file.
_MOST_WORDS: Final = 2000
_MOST_BYTES: Final = 400_000
_WORD: Final = re.compile(rb"[^\s;,|\"]*[\x80-\xff][^\s;,|\"]*")
#: Letters with marks: those that western words have most, often, and now and then.
_MOST: Final = frozenset("äöüßéñÄÖÜÉÑ")
_OFTEN: Final = frozenset("èàáóíúçåøæÅØ")
_NOW_AND_THEN: Final = frozenset("êëâîïôûœÈÀÇÁÍÓÚÂÊÎÔÛ")
#: A lead of fewer points than these is told of.
_LEAD: Final = 0.15
#: Signs that stand by themselves or beside numbers in a report.
_SIGNS: Final = frozenset("–—‘’“”•°±×½¼¾…≤≥«»§²³·")
_VOWELS: Final = frozenset("aeiouyäöü")
_UNDEFINED: Final = "\ufffd"


def in_old_letters(data: bytes) -> tuple[str, str]:
    """Return a text whose letters are no UTF-8, and what is to be said of how it was read.

    A letter with a mark is likely within a word; a sign, a Greek letter or a capital in the midst
    of small letters is not. The code page with the likelier letters is taken.

    Parameters
    ----------
    data : bytes
        The file.

    Returns
    -------
    tuple of str
        The text; and a note where two code pages fit alike and make different words, else "".

    Examples
    --------
    >>> [in_old_letters("Süd".encode(page))[0] for page in ("cp1252", "cp850", "mac_roman")]
    ['Süd', 'Süd', 'Süd']
    """
    if any(line in data for line in _DRAWN):
        return data.decode("cp437", errors="replace"), ""
    words = list(dict.fromkeys(_WORD.findall(data[:_MOST_BYTES])))[:_MOST_WORDS]
    east = _of_the_east(words)
    if east:
        return data.decode(east, errors="replace"), ""
    scores = {
        page: sum(_likely(word.decode(page, errors="replace")) for word in words) for page in _PAGES
    }
    best = max(_PAGES, key=lambda page: scores[page])
    note = ""
    for other in _PAGES:
        if other == best or scores[other] <= scores[best] - _LEAD:
            continue
        for word in words:
            one, two = (word.decode(page, errors="replace") for page in (best, other))
            if one != two and not note:
                note = (
                    f'The letters of this file can be read in two ways: "{one}" or "{two}". It '
                    f'was read as "{one}". Look at the names, or ask for the file in UTF-8.'
                )
    return data.decode(best, errors="replace"), note


def _of_the_east(words: list[bytes]) -> str:
    """Return the code page of the east in which more words are those of reports; else ""."""
    known = {
        page: sum(_known(word.decode(page, errors="replace")) for word in words)
        for page in (*_PAGES, *_PAGES_OF_THE_EAST)
    }
    west = max(known[page] for page in _PAGES)
    best = max(_PAGES_OF_THE_EAST, key=lambda page: known[page])
    return best if known[best] >= west + _LEAST_WORDS else ""


def _known(text: str) -> int:
    """Return how many words of a text that have letters with marks are those of reports."""
    return sum(not one.isascii() and is_word_of_reports(one) for one in _PARTS.findall(text))


def _likely(word: str) -> float:
    """Return how likely the letters of a word are that are no plain ones."""
    return sum(
        _of_one(sign, word[at - 1 : at], word[at + 1 : at + 2])
        for at, sign in enumerate(word)
        if ord(sign) > 127
    )


def _of_one(sign: str, before: str, after: str) -> float:
    """Return how likely a sign is between the two beside it."""
    if sign == _UNDEFINED or unicodedata.category(sign) == "Cc":
        return -2.0
    if sign == "µ" and after == "g":
        return 1.0
    if "LATIN" not in unicodedata.name(sign, "") or sign in "ªº":
        within = before.isalpha() or (after.isalpha() and sign != "°")
        return -1.0 if within and sign not in "’" else 0.3 if sign in _SIGNS else -0.3
    if not (before.isalpha() or after.isalpha()):
        return -0.5  # a letter by itself
    if (sign.isupper() and before.islower()) or (sign.islower() and after.isupper()):
        return -1.0
    if sign.isupper() and before.isupper() and after.islower():
        return -1.0
    if sign == "ß":
        return 1.0 if before.lower() in _VOWELS and before else -1.0
    if before and before.lower() in _VOWELS and sign in "áíóúàè":
        return 0.5  # "Groáe" is less likely than "Große"
    if sign == "ç" and after.isalpha() and after not in "aouáóú":
        return -0.5
    ranks = ((_MOST, 1.0), (_OFTEN, 0.9), (_NOW_AND_THEN, 0.7))
    likely = next((points for signs, points in ranks if sign in signs), 0.3)
    return likely if before or sign.isupper() else 0.6 * likely  # a name begins with a capital
