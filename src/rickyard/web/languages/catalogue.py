"""A catalogue: English sentences with holes in them, found in finished sentences and said anew.

A hole is named by what stands in it, and a figure behind the name tells several apart: ``{n}`` a
number, ``{day}`` a day, ``{days}`` days in a row, ``{when}`` from when to when, ``{amount}``
figures with their unit, ``{names}`` names in a row, ``{name}`` a name, which stays as it is,
``{said}`` words that stand in the catalogue themselves.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Final

from rickyard.display import INTERNATIONAL, MONTHS, WEEKDAYS, listed
from rickyard.web.languages.messages import CatalogueError, read_messages

_HERE: Final = Path(__file__).resolve().parents[1] / "catalogues"

_MONTH: Final = "|".join(MONTHS)
_SHORT_WEEKDAYS: Final = tuple(one[:3] for one in WEEKDAYS)
_DAY: Final = (
    rf"(?:(?:{'|'.join(_SHORT_WEEKDAYS)}),? )?"
    rf"(?:(?:{_MONTH}) \d{{1,2}}|\d{{1,2}} (?:{_MONTH}))(?:,? \d{{4}})?(?:, \d{{1,2}}:\d{{2}})?"
)
_NUMBER: Final = r"[-−+]?\d[\d.,–:/]*(?<![.,:])"
_UNITS: Final = (
    "lb", "kg", "g", "mg", "t", "ppm", "ppb", "%", "°F", "°C", "Mcal", "mm", "cm", "m", "L",
)  # fmt: skip
_FIGURES: Final = re.compile(
    rf"[-−+]?[\d.,–]+(?: (?:to|[+]) [\d.,]+)? ?(?:{'|'.join(map(re.escape, _UNITS))})?"
)
_KINDS: Final[Mapping[str, str]] = {
    "n": _NUMBER,
    "day": _DAY,
    "days": rf"{_DAY}(?:, {_DAY})*(?: and {_DAY})?",
    "when": rf"(?:on|from) {_DAY}(?: to {_DAY})?",
    "amount": r"[-−+]?\d.*?",
    "names": r"\S.*?",
    "name": r"\S.*?",
    "said": r"\S.*?",
}
_HOLE: Final = re.compile(r"\{([a-z]+)(\d*)\}")
_DAYS: Final = re.compile(_DAY)

#: An amount in both systems, in the order of either.
_TWIN: Final = re.compile(r"([\d.,]+ (?:°F|lb)) \(([\d.,]+ (?:°C|kg))\)")

_SENTENCES: Final = re.compile(r"(?<=[.!?:])\s+")

#: International English as it is read back, so that one catalogue serves both.
_BACK: Final = re.compile(
    r"\b(" + "|".join(INTERNATIONAL.values()) + r")(s|ed|ing|ful|less|y|ier|)\b", re.IGNORECASE
)
_AMERICAN: Final = {said: one for one, said in INTERNATIONAL.items()}
_SPACED_PERCENT: Final = re.compile(r"(?<=\d) %")

#: So many sentences in a row are looked for as one message.
_MOST_TOGETHER: Final = 6


#: What stands between names, but not within what is said of one in parentheses.
_BETWEEN: Final = re.compile(r"(, | and | or )(?![^(]*\))")
_REASONS: Final = re.compile(r" \(([^()]*)\)$")


#: No name goes on over the end of a sentence, or is so long; nor are names in a row.
_ENDS: Final = re.compile(r"[.:!?] ")
_LONGEST_NAME: Final = 100
_LONGEST_NAMES: Final = 400

#: What stands in the place of names.
_INSTEAD: Final = ("It", "it", "all groups", "All groups")


@dataclass(frozen=True, slots=True)
class _Pattern:
    """A message with holes; ``words`` is the longest that it says itself."""

    shape: re.Pattern[str]
    said: str
    words: str


@dataclass(slots=True)
class Catalogue:
    """The sentences of a language.

    ``plain`` are those without holes; ``patterns`` the others, by the word with which they begin,
    or by nothing where a hole does.
    """

    language: str
    plain: Mapping[str, str]
    patterns: Mapping[str, tuple[_Pattern, ...]]
    known: dict[tuple[str, frozenset[str]], tuple[str, tuple[str, ...]]] = field(
        default_factory=dict
    )

    def turned(self, text: str, names: frozenset[str] = frozenset()) -> tuple[str, tuple[str, ...]]:
        """Return a text in this language, and which of its sentences stand in no catalogue.

        Parameters
        ----------
        text : str
            One or several finished sentences, or a few words, in the English of any farm.
        names : frozenset of str
            Names of lots, feeds, groups and people, which stay as they are.

        Returns
        -------
        tuple of (str, tuple of str)
            The text, and what is left in English.

        Examples
        --------
        >>> spanish = read_catalogue("es")
        >>> spanish.turned("No hay today. The next is on Thu, Nov 5.")
        ('Hoy no hay heno. El próximo es el jue 5 nov.', ())
        >>> spanish.turned("No such sentence.")
        ('No such sentence.', ('No such sentence.',))
        """
        key = text, names
        if key not in self.known:
            if len(self.known) > 20_000:
                self.known.clear()
            self.known[key] = self._turned(text, names)
        return self.known[key]

    def _turned(self, text: str, names: frozenset[str]) -> tuple[str, tuple[str, ...]]:
        whole = self.said(text, names)
        if whole is not None:
            return whole, ()
        sentences, told, left, at = _SENTENCES.split(text), [], [], 0
        while at < len(sentences):
            for until in range(min(len(sentences), at + _MOST_TOGETHER), at, -1):
                said = self.said(" ".join(sentences[at:until]), names)
                if said is not None:
                    told.append(said)
                    at = until
                    break
            else:
                told.append(sentences[at])
                left.append(sentences[at])
                at += 1
        return " ".join(told), tuple(left)

    def said(self, text: str, names: Collection[str] = ()) -> str | None:
        """Return words in this language, ``None`` where they stand in no message.

        Parameters
        ----------
        text : str
            The words, as they stand.
        names : collection of str
            Names that stay as they are.

        Returns
        -------
        str or None
            The same, said.

        Examples
        --------
        >>> read_catalogue("es").said("12 bales"), read_catalogue("es").said("12 owls")
        ('12 pacas', None)
        """
        if text in names or not any(one.isalpha() for one in text):
            return text
        text = _american(text)
        if text in self.plain:
            return self.plain[text]
        if text in _UNITS or _FIGURES.fullmatch(text):
            return text.replace(" to ", " a ")
        if _DAYS.fullmatch(text):
            return _day(text)
        said = self._by_pattern(text, names)
        if said is None and text[:1].isupper() and not text[1:2].isupper():
            small = text[:1].lower() + text[1:]
            said = self.plain.get(small) or self._by_pattern(small, names)
        return None if said is None else _capital(said, text)

    def _by_pattern(self, text: str, names: Collection[str]) -> str | None:
        begins = text.split(" ", 1)[0]
        for pattern in (*self.patterns.get(begins, ()), *self.patterns.get("", ())):
            found = pattern.shape.fullmatch(text) if pattern.words in text else None
            filled = None if found is None else self._filled(found.groupdict(), names)
            if filled is not None:
                # A percent sign stays on the line of its number.
                return pattern.said.format(**filled).replace(" %", "\u00a0%")
        return None

    def _filled(
        self, groups: Mapping[str, str], names: Collection[str]
    ) -> Mapping[str, str] | None:
        """Return what stands in the holes, said; ``None`` where something cannot be."""
        filled: dict[str, str] = {}
        for hole, text in groups.items():
            kind = hole.rstrip("0123456789")
            said: str | None = text
            if kind in ("said", "amount", "days", "when"):
                said = self.said(text, names) or self._row(text, names)
            elif kind == "day":
                said = _day(text)
            elif kind == "names":
                said = self._names(text, names)
            if kind.startswith("name") and (
                _ENDS.search(text)
                or len(text) > (_LONGEST_NAMES if kind == "names" else _LONGEST_NAME)
            ):
                return None
            if said is None:
                return None
            filled[hole] = said
        return filled

    def _row(self, text: str, names: Collection[str]) -> str | None:
        """Return several things in a row, each said; ``None`` where one of them cannot be."""
        if "; " in text:
            parts = text.split("; ")
            said = [self.said(one, names) or self._row(one, names) for one in parts]
            return None if None in said else "; ".join(one for one in said if one)
        before, joined, last = text.rpartition(" and ")
        if not joined:
            return None
        every = [self.said(one, names) for one in (*before.split(", "), last)]
        return None if None in every else listed([one for one in every if one], "y")

    def _names(self, text: str, names: Collection[str]) -> str:
        """Return names in a row, joined as this language does, each with why it is named."""
        if text in names:
            return text
        if text in _INSTEAD:
            return self.plain[text]
        parts = _BETWEEN.split(text)
        told = ""
        for number, one in enumerate(parts):
            if number % 2 == 0:
                told += _REASONS.sub(self._reasons, one)
            elif one == ", ":
                told += one
            else:
                # Before the sound of i Spanish says e for y.
                after = parts[number + 1].lower()
                sounds = after.startswith(("i", "hi"))
                told += " o " if one == " or " else " e " if sounds else " y "
        return told

    def _reasons(self, found: re.Match[str]) -> str:
        said = (self.plain.get(one, one) for one in found.group(1).split("; "))
        return f" ({'; '.join(said)})"


def read_catalogue(language: str) -> Catalogue:
    """Return the catalogue of a language.

    Parameters
    ----------
    language : str
        As ``es``.

    Returns
    -------
    Catalogue
        Read once, and kept.

    Raises
    ------
    CatalogueError
        If a message says a hole in one language and not in the other, or one that is no kind.

    Examples
    --------
    >>> read_catalogue("es").said("Feeding")
    'Alimentación'
    """
    return _read(language)


@cache
def _read(language: str) -> Catalogue:
    plain: dict[str, str] = {}
    patterns: dict[str, list[tuple[int, _Pattern]]] = {}
    for english, said in read_messages(_HERE / f"{language}.po").items():
        holes = {"".join(one) for one in _HOLE.findall(english)}
        if holes != {"".join(one) for one in _HOLE.findall(said)}:
            raise CatalogueError(f'{language}.po: "{english}" and what it becomes differ in {{}}.')
        if not holes:
            plain[english] = said
            continue
        begins = english.split(" ", 1)[0]
        begins = "" if "{" in begins else begins
        words = max(_HOLE.sub("\0", _TWIN.sub("\0", english)).split("\0"), key=len)
        shape = _Pattern(_shape(english), said, words)
        patterns.setdefault(begins, []).append((len(_HOLE.sub("", english)), shape))
    # Of several that fit, the one that says most itself is meant.
    ordered = {
        begins: tuple(one for _, one in sorted(every, key=lambda both: -both[0]))
        for begins, every in patterns.items()
    }
    return Catalogue(language, plain, ordered)


def _shape(english: str) -> re.Pattern[str]:
    """Return what finds a message in a finished sentence."""
    shape, at = "", 0
    for hole in _HOLE.finditer(english):
        kind = hole.group(1)
        if kind not in _KINDS:
            raise CatalogueError(f'"{english}" has a hole of no kind: {hole.group()}.')
        shape += _literal(english[at : hole.start()])
        shape += f"(?P<{kind}{hole.group(2)}>{_KINDS[kind]})"
        at = hole.end()
    return re.compile(shape + _literal(english[at:]), re.DOTALL)


def _literal(text: str) -> str:
    parts, at = [], 0
    for twin in _TWIN.finditer(text):
        us, metric = map(re.escape, twin.groups())
        parts += [re.escape(text[at : twin.start()]), rf"(?:{us} \({metric}\)|{metric} \({us}\))"]
        at = twin.end()
    return "".join([*parts, re.escape(text[at:])])


def _american(text: str) -> str:
    """Return a sentence of a metric farm as the catalogue has it."""

    def back(found: re.Match[str]) -> str:
        word = _AMERICAN[found.group(1).lower()]
        first = word[0].upper() if found.group(1)[0].isupper() else word[0]
        return f"{first}{word[1:]}{found.group(2)}"

    return _BACK.sub(back, _SPACED_PERCENT.sub("%", text))


def _capital(said: str, text: str) -> str:
    return said[:1].upper() + said[1:] if text[:1].isupper() else said


_SAID_MONTHS: Final = (
    "ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic",
)  # fmt: skip
_SAID_WEEKDAYS: Final = ("lun", "mar", "mié", "jue", "vie", "sáb", "dom")


def _day(text: str) -> str:
    """Return a day as it is written in Spanish, whichever English it was written in.

    >>> _day("Mon, Nov 30"), _day("30 Nov 2026"), _day("Nov 2, 2026, 14:05")
    ('lun 30 nov', '30 nov 2026', '2 nov 2026, 14:05')
    """
    clock = re.search(r", \d{1,2}:\d{2}$", text)
    words = re.findall(r"[A-Za-z]+|\d+", text[: clock.start()] if clock else text)
    weekday = (
        f"{_SAID_WEEKDAYS[_SHORT_WEEKDAYS.index(words.pop(0))]} "
        if (words[0] in _SHORT_WEEKDAYS)
        else ""
    )
    month = next(one for one in words if one in MONTHS)
    day, *year = [one for one in words if one != month]
    said = f"{weekday}{day} {_SAID_MONTHS[MONTHS.index(month)]}"
    return " ".join([said, *year]) + (clock.group() if clock else "")
