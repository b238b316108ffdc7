"""Rows that tell how each column was measured, among the headings: "method   oven   NIR   wet"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.tables import Seen
from rickyard.labs.vocabulary import field_of, method_in, plain

#: So many labels or units near it make a row one of headings.
_LEAST_HEADS: Final = 2
#: So many rows over such a row and under it are looked at.
_NEAR: Final = 3
#: What stands in such a row; "wet" and "calc" are no basis and no calcium there.
_HOW: Final = re.compile(
    r"(?:[-–—*./]|n/?a|yes|no|nirs?|near[- ]infrared|wet(?:[- ]?chem\w*)?|wc|chem\w*|"
    r"oven(?:[- ]dr\w+)?|"
    r"dr(?:y|ied|ying)|calc\w*|comp(?:uted|\.)?|est\w*|der(?:ived|\.)?|summative|icp\S*|aas?|"
    r"kjeldahl|dumas|comb\w*|grav\w*|titr\w*|color\w*|colour\w*|ise|hplc|gc|lc\S*|ic|xrf|uv\S*|"
    r"elisa|ankom|van soest|plate(?: count)?|electrode|probe|meter|bag|filter\w*|"
    r"enzym\w*|acid|muffle|ignition|berechnet|nass\w*|trocken\w*|chimi\w*|calcul\w*|[eé]tuve|"
    r"qu[ií]mic\w*|estufa|calculado|húmeda|via h[uú]meda|våt\w*|beregnet|beräkn\w*|oblicz\w*|"
    r"(?:(?:iso|en|din|aoac|nfta|ansi|astm|nf|une|uni|pn|bs|vdlufa)\b[\s/.-]*)+[\w.:/ -]{0,16}|"
    r"(?:in[- ]?house|sop|method)?[\s#-]*\d{1,4}(?:\.\d{1,3})*[a-z]?)",
    re.IGNORECASE,
)


def with_methods_told(rows: Sequence[list[Seen]]) -> list[list[Seen]]:
    """Return rows in which one of methods says nothing but the methods of its columns.

    A row counts that calls itself so and stands among headings of columns.

    Parameters
    ----------
    rows : sequence of list of Seen
        The rows of a page.

    Returns
    -------
    list of list of Seen
        The rows.
    """
    return [
        [_told(one) for one in row[1:] if method_in(one.text)] if _is_of_methods(rows, at) else row
        for at, row in enumerate(rows)
    ]


def _is_of_methods(rows: Sequence[list[Seen]], at: int) -> bool:
    row = rows[at]
    if len(row) <= _LEAST_HEADS or field_of(row[0].text.strip(" :")) != "method":
        return False
    if not all(_HOW.fullmatch(plain(one.text).strip(" .()")) for one in row[1:]):
        return False
    near = [*rows[max(0, at - _NEAR) : at], *rows[at + 1 : at + 1 + _NEAR]]
    return any(_heads(one) for one in near)


def _heads(row: Sequence[Seen]) -> bool:
    """Return whether a row names what stands in its columns, or tells their units."""
    labels = sum(one.label is not None and one.label.ours for one in row)
    units = sum(one.only_unit and not one.is_value for one in row)
    return max(labels, units) >= _LEAST_HEADS


def _told(one: Seen) -> Seen:
    words = method_in(one.text)
    cell = replace(one.cell, text=words)
    return replace(one, cell=cell, label=None, is_value=False, only_unit=False, only_basis=False,
                   field="")  # fmt: skip
