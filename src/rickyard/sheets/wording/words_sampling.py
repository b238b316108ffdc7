"""Field words for sampling: tests, standings of a lot, kinds of lines in the yard's book."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from importlib.resources import files
from types import MappingProxyType
from typing import Final


def _words(about: str) -> Mapping[str, str]:
    """Return the words of one kind from ``sampling_words.csv``, by key."""
    text = files("rickyard.sheets").joinpath("data", "sampling_words.csv").read_text("utf-8")
    rows = csv.DictReader(text.splitlines())
    return MappingProxyType({row["key"]: row["words"] for row in rows if row["about"] == about})


_TESTS: Final = _words("test")

#: How things stand with the sample of a lot.
STATUS: Final = _words("standing")

#: Lines of the yard's book.
LINES: Final = _words("line")


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
