"""Numbers of a laboratory that are printed together with the names of samples."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.tables import DraftSample, number_and_name

#: A number of a laboratory: letters and digits, or digits with perhaps a letter behind.
_CODE: Final = (
    r"#?(?P<number>(?:\d{2,4}[-/])?(?:[A-Z]{1,5}[-/. ]?\d[\w/.-]*|\d{2,}[A-Za-z]?(?:[-/.]\w+)*))"
)
_OPEN: Final = r"[\"“„«]\s*"
_CLOSED: Final = r"\s*[\"”“»]"
#: '118a "Cow lane"', '"Cow lane" (118a)': what stands in quotes is the name.
_WITH_QUOTES: Final = (
    re.compile(rf"{_CODE}[\s,:(–-]+{_OPEN}(?P<name>[^\"“”„«»]{{2,45}}?){_CLOSED}\)?"),
    re.compile(
        rf"{_OPEN}(?P<name>[^\"“”„«»]{{2,45}}?){_CLOSED}[\s,:(\[–-]*(?:no\.?\s|nr\.?\s)?{_CODE}[)\]]?"
    ),
)
#: "Pit 1 Ref CF/26/0932": the number behind the word for it, as in two lines of one cell.
_REFERRED: Final = re.compile(
    rf"(?P<name>[^\W\d_].{{1,44}}?)[\s,;]+(?:(?:lab|our)\s)?(?:ref(?:erence)?|lab)"
    rf"(?:\s?(?:no|nr|number)\b)?[.:]?\s+{_CODE}",
    re.IGNORECASE,
)
#: "SF-31 north oats": a short number of a series, where every sample has one.
_SERIES: Final = re.compile(r"(?P<number>[A-Z]{1,4}-\d{2,3})\s+(?P<name>[A-Za-z][^:]{2,40})")
#: "GH-5 Front gate": a number that begins with the first letters of the laboratory's name.
_OF_HOUSE: Final = re.compile(
    r"(?P<number>(?P<letters>[A-Z]{2,4})-?\d{1,4})\s+(?P<name>[^:]{2,40})"
)
#: "Bale row 3 (TZ/2)", "Bale row 1 [EL90]": a number in brackets behind every name.
_IN_BRACKETS: Final = re.compile(
    rf"(?P<name>[^()\[\]]*[^\W\d_][^()\[\]]*?)\s*[(\[](?:no\.?\s|nr\.?\s)?{_CODE}[)\]]"
)
#: "## TZ/66 / Stone eighty", "25-127 | Long lane": a number before every name, parted by a sign.
_BEFORE_SIGN: Final = re.compile(
    rf"#*\s*{_CODE}\s*(?:[|:]|\s[/–-]|/(?=\s))\s+(?P<name>[^\W\d_][^:]{{1,44}})"
)
#: "TZ/69 Badger eighty", "25-142 Long lane": a number that is none of a name.
_BEFORE_NAME: Final = re.compile(
    r"#*\s*(?P<number>[A-Z]{1,5}(?:/\d|-\d\d)[\w/.-]*|\d\d[-/]\d{2,}[\w/-]*|\d{4,}[a-z]?)\s+"
    r"(?P<name>[^\W\d_][^:]{1,44})"
)
#: A shorter number in brackets counts cuts or rows: "North (C1)".
_LEAST_SIGNS: Final = 3
_YEAR: Final = re.compile(r"(?:19|20)\d\d")

Part = tuple[str, str] | None


def numbered_by_name(samples: Sequence[DraftSample], title: str = "") -> None:
    """Part the laboratory's number from the names of samples, where each holds one.

    A number beside a name in quotes counts for itself. Short numbers count where they begin with
    the first letters of the ``title`` of the file.

    Parameters
    ----------
    samples : sequence of DraftSample
        The samples of a file; their fields are changed.
    title : str
        The first text of the file.

    Examples
    --------
    >>> from rickyard.labs.common import Cell
    >>> texts = ("Row 1 (EL90)", "Row 2 (TZ/2)")
    >>> both = [DraftSample({"id": Cell(text, 0, 0, 1, "")}) for text in texts]
    >>> numbered_by_name(both)
    >>> [(one.fields["id"].text, one.fields["lab_no"].text) for one in both]
    [('Row 1', 'EL90'), ('Row 2', 'TZ/2')]
    """
    if any("lab_no" in sample.fields for sample in samples):
        return
    for sample in samples:
        if "id" in sample.fields and (part := _quoted(sample.fields["id"].text)) is not None:
            _take(sample, part)
    texts = [sample.fields["id"].text for sample in samples if "id" in sample.fields]
    if len(samples) < 2 or len(texts) < len(samples):
        return
    if any("lab_no" in sample.fields for sample in samples):
        return

    def of_house(text: str) -> Part:
        return _before(text) or _of_house(text, title)

    ways: tuple[Callable[[str], Part], ...] = (of_house, _behind, _before_sign, _before_name)
    for way in ways:
        found = [part for part in map(way, texts) if part is not None]
        apart = len({number for number, _ in found}) == len(found)
        apart &= way is of_house or len({name for _, name in found}) == len(found)
        if len(found) == len(samples) and apart:
            for sample, part in zip(samples, found, strict=True):
                _take(sample, part)
            return


def _take(sample: DraftSample, part: tuple[str, str]) -> None:
    cell = sample.fields["id"]
    sample.fields["lab_no"] = replace(cell, text=part[0])
    sample.fields["id"] = replace(cell, text=part[1])


def _quoted(text: str) -> Part:
    """Return number and name where one is told by quotes or a word, or both stand behind "##"."""
    headed = (_BEFORE_SIGN,) if text.startswith("#") else ()
    for pattern in (*_WITH_QUOTES, _REFERRED, *headed):
        told = pattern.fullmatch(text.strip(" :,"))
        if told is not None and (pattern is not _REFERRED or _is_number(told["number"])):
            return told["number"], told["name"].strip()
    return None


def _is_number(text: str) -> bool:
    """Return whether a number is long enough to be the laboratory's, and is no year."""
    return len(text) >= _LEAST_SIGNS and not _YEAR.fullmatch(text)


def _before(text: str) -> Part:
    """Return the number of a series that stands before a name, and the name."""
    told = _SERIES.fullmatch(text.strip(" :"))
    return number_and_name(text) or ((told["number"], told["name"].strip()) if told else None)


def _of_house(text: str, title: str) -> Part:
    """Return number and name where the number begins as the words of the title over it do."""
    told = _OF_HOUSE.fullmatch(text.strip(" :"))
    initials = "".join(word[0] for word in title.split()).upper()
    if told is None or not initials.startswith(told["letters"]):
        return None
    return told["number"], told["name"].strip()


def _behind(text: str) -> Part:
    """Return number and name where the number stands in brackets behind the name."""
    told = _IN_BRACKETS.fullmatch(text.strip(" :"))
    if told is None or len(told["number"]) < _LEAST_SIGNS or _YEAR.fullmatch(told["number"]):
        return None
    return told["number"], told["name"].strip()


def _before_sign(text: str) -> Part:
    """Return number and name where a sign parts the number from the name behind it."""
    told = _BEFORE_SIGN.fullmatch(text.strip(" :"))
    if told is None or _YEAR.fullmatch(told["number"]):
        return None
    return told["number"], told["name"].strip()


def _before_name(text: str) -> Part:
    """Return number and name where the number stands right before the name."""
    told = _BEFORE_NAME.fullmatch(text.strip(" :"))
    if told is None or _YEAR.fullmatch(told["number"]):
        return None
    return told["number"], told["name"].strip()
