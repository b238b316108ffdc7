"""Field words for sampling: tests, standings of a lot, kinds of lines in the yard's book."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

_TESTS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "dm": "dry matter",
        "cp": "crude protein",
        "adf": "ADF",
        "ndf": "NDF",
        "tdn": "TDN",
        "rfv": "relative feed value",
        "ndfd48": "fiber digestibility",
        "lignin": "lignin",
        "ash": "ash",
        "ee": "fat",
        "starch": "starch",
        "wsc": "water-soluble sugars",
        "esc": "simple sugars",
        "ca": "calcium",
        "p": "phosphorus",
        "mg": "magnesium",
        "k": "potassium",
        "s": "sulfur",
        "fe": "iron",
        "cu": "copper",
        "zn": "zinc",
        "mo": "molybdenum",
        "nitrate": "nitrate",
        "hcn": "prussic acid",
        "adicp": "bound protein (ADICP)",
        "ergovaline": "ergovaline",
        "mold": "mold count",
        "coliform": "coliform count",
        "ph": "acidity (pH)",
    }
)

#: How things stand with the sample of a lot.
STATUS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "due": "sample now",
        "later": "upcoming",
        "late": "overdue: sample today",
        "unsettled": "sample now, still changing",
        "tested": "test still good",
    }
)

#: Lines of the yard's book.
LINES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "opening": "on hand at the start",
        "put_up": "put up",
        "bought": "bought",
        "moved_in": "moved in",
        "count": "found by count",
        "correction": "corrected",
        "missing": "taken, but not on the books",
        "fed": "fed",
        "sold": "sold",
        "lost": "lost",
        "moved_out": "moved out",
    }
)


def plain_test(test: str) -> str:
    """Return what a person calls a test.

    Parameters
    ----------
    test : str
        The name of a test as the order of tests has it.

    Returns
    -------
    str
        The same in a person's words.

    Examples
    --------
    >>> plain_test("adicp"), plain_test("selenium")
    ('bound protein (ADICP)', 'selenium')
    """
    return _TESTS.get(test, test)
