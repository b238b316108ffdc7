"""The sentences of what is taken for granted and cautioned of, kept in ``data/sentences.toml``."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from datetime import date
from functools import cache
from importlib.resources import files
from typing import Any

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Assumption, Caution


@cache
def _sentences() -> dict[str, dict[str, Any]]:
    found = files("rickyard.program.inputs").joinpath("data", "sentences.toml")
    return tomllib.loads(found.read_text(encoding="utf-8"))


def assumed(key: str, **values: object) -> Assumption:
    """Return an assumption by the key of its sentence, filled in, with its source.

    Parameters
    ----------
    key : str
        The name of the sentence in the file.
    **values : object
        What stands in its braces.

    Returns
    -------
    Assumption
        The sentence and where it comes from.

    Examples
    --------
    >>> assumed("counted_dry", feed="Corn").sentence
    'Corn is counted as dry (100% dry matter): none is stated.'
    """
    row = _sentences()[key]
    return Assumption(row["text"].format(**values), row.get("source", COMMON_PRACTICE))


def cautioned(
    key: str,
    subject: str,
    *,
    of_groups: Iterable[str] = (),
    of_sources: Iterable[str] = (),
    start: date | None = None,
    end: date | None = None,
    **values: object,
) -> Caution:
    """Return a caution by the key of its sentence, filled in, with its level and source.

    Parameters
    ----------
    key : str
        The name of the sentence in the file.
    subject : str
        The id of the lot, feed or group it is about; empty for the farm.
    of_groups, of_sources : iterable of str
        Ids of the groups it is for, and of the lots and feeds it tells of.
    start, end : date, optional
        The first day on which it holds, and the first on which it does so no longer.
    **values : object
        What stands in its braces.

    Returns
    -------
    Caution
        The sentence, how grave it is and where it comes from.
    """
    row, said = _sentences()[key], assumed(key, **values)
    return Caution(
        row["level"],
        subject,
        said.sentence,
        said.source,
        groups=tuple(of_groups),
        sources=tuple(of_sources),
        start=start,
        end=end,
    )
