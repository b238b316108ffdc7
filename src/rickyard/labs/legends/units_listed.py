"""Sentences that list analytes by the unit they are printed in: "CP, ADF in %; Ca, P in g/kg"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from rickyard.labs.legends.groups import GROUPS
from rickyard.labs.vocabulary import is_only_unit, label_of, written_in

_BEFORE: Final = re.compile(
    r"^\s*(?:(?:printed |reporting )?units?(?: used)?|einheiten|unités|unidades)\s*[:=-]\s*",
    re.IGNORECASE,
)
_IN_UNIT: Final = re.compile(
    r"(?P<of>\S.*?)(?:\s+(?:in|as|are in|is in|en)\s+|\s*[:=]\s*)(?P<unit>\S.*)"
)
_PARTED: Final = re.compile(r"\s*,\s*(?:and\s+)?|\s+(?:and|und|et|y|&)\s+")
_LEAST: Final = 2
#: A sentence lists no more names than these.
_MOST: Final = 24


@dataclass(frozen=True, slots=True)
class Listed:
    """Analytes that a sentence names, with the unit and perhaps the basis told for them."""

    analytes: tuple[str, ...]
    unit: str
    basis: str


def units_listed(text: str) -> list[Listed]:
    """Return what a sentence lists, if it is nothing but such a list; else nothing.

    Parameters
    ----------
    text : str
        The sentence.

    Returns
    -------
    list of Listed
        A member for each unit, in the order of the sentence.

    Examples
    --------
    >>> [(one.analytes, one.unit) for one in units_listed("Units: CP, ADF in g/kg; Zn in ppm.")]
    [(('cp', 'adf'), 'g_per_kg'), (('zn',), 'ppm')]
    >>> units_listed("Zinc was tested in our own laboratory; results in ppm.")
    []
    """
    begins = _BEFORE.match(text)
    body = text[begins.end() if begins else 0 :].strip().rstrip(".")
    found = []
    for part in re.split(r"\s*;\s*", body):
        told = _IN_UNIT.fullmatch(part)
        known = written_in(told["unit"]) if told else None
        names = _each_named(told["of"]) if told else ()
        if told is None or known is None or not known.unit or not names:
            return []
        if not is_only_unit(told["unit"]):
            return []
        found.append(Listed(names, known.unit, known.basis))
    count = sum(len(one.analytes) for one in found)
    return found if begins or (len(found) >= _LEAST and count > len(found)) else []


def _each_named(text: str) -> tuple[str, ...]:
    """Return the analytes of a list of names, or nothing where one of them is not known."""
    words = tuple(one for one in _PARTED.split(text.strip()) if one)
    return tuple(dict.fromkeys(_from(words[:_MOST])))


def _from(words: tuple[str, ...]) -> tuple[str, ...]:
    """Return the analytes of words; two of them may be one name: "Net energy, gain"."""
    if not words:
        return ()
    options = [(words[0], 1), (", ".join(words[:2]), 2)]
    for named, taken in options if len(words) > 1 else options[:1]:
        analytes = _analytes(named)
        rest = _from(words[taken:]) if analytes else ()
        if analytes and (rest or not words[taken:]):
            return (*analytes, *rest)
    group = GROUPS.get(words[0].casefold(), ())
    rest = _from(words[1:]) if group else ()
    return (*group, *rest) if group and (rest or not words[1:]) else ()


def _analytes(name: str) -> tuple[str, ...]:
    label = label_of(name)
    plainly = label is not None and label.ours and not label.misspelled
    return label.candidates if label and plainly and len(label.candidates) == 1 else ()
