"""The page that sets computed beside printed needs of beef cattle.

``python -m tools.beef_page docs/requirements-beef.md`` writes the tables anew between
the marks of the page and leaves the rest as it is.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from functools import cache
from itertools import groupby
from pathlib import Path
from typing import Final

from rickyard.evidence import MEANING, Flag
from rickyard.stock.common import read_rows
from rickyard.verify.evaluate import CheckRow, Outcome, evaluate, read_checks, read_shipped
from tools.beef_tables import BEEF_TABLES, FILE

CELLS_BEGIN: Final = "<!-- computed beside printed: begin -->"
CELLS_END: Final = "<!-- computed beside printed: end -->"
EVIDENCE_BEGIN: Final = "<!-- evidence: begin -->"
EVIDENCE_END: Final = "<!-- evidence: end -->"

# Two binary numbers that print alike: a hair is no difference.
_HAIR: Final = 1e-9

_CHECKS: Final = "beef_requirements_checks.csv"


def _cells() -> tuple[CheckRow, ...]:
    """Return every cell of the tables, and of the check file those that belong beside them."""
    checks = (row for row in read_shipped(_CHECKS) if row.quantity in BEEF_TABLES)
    return (*read_checks(FILE), *checks)


#: Every cell that the page shows.
PAGE_CELLS: Final = _cells()


@cache
def beef_page() -> str:
    """Return the tables of computed beside printed values, in Markdown.

    Returns
    -------
    str
        A summary by quantity, then every cell with its inputs, source and difference.

    Examples
    --------
    >>> beef_page().startswith("| quantity | unit | cells |")
    True
    """
    order = sorted(PAGE_CELLS, key=lambda row: (row.quantity, row.unit))
    outcomes = [evaluate(row, BEEF_TABLES) for row in order]
    blocks = [
        (key, list(found))
        for key, found in groupby(outcomes, key=lambda one: (one.row.quantity, one.row.unit))
    ]
    lines = _table(
        ("quantity", "unit", "cells", "beyond tolerance", "largest difference"),
        (_summary(quantity, unit, found) for (quantity, unit), found in blocks),
    )
    for (quantity, unit), found in blocks:
        lines += ["", f"### {quantity}, {unit}", ""]
        lines += _table(
            ("cell", "given", "printed", "computed", "difference", "kind", "source"),
            (_line(one) for one in found),
        )
    return "\n".join(lines) + "\n"


def evidence_table() -> str:
    """Return how each requirement is known, in Markdown.

    Examples
    --------
    >>> evidence_table().splitlines()[0]
    '| requirement | name in the output | how it is known | source |'
    """
    rows = (
        (one["what"], f"`{one['name']}`", Flag(one["flag"]).value, one["source"] or "-")
        for one in read_rows("beef_evidence")
    )
    lines = _table(("requirement", "name in the output", "how it is known", "source"), rows)
    meanings = _table(
        ("how it is known", "meaning"), ((flag.value, text) for flag, text in MEANING.items())
    )
    return "\n".join([*lines, "", *meanings]) + "\n"


def renewed(page: str) -> str:
    """Return a page with its generated tables written anew.

    Parameters
    ----------
    page : str
        The page, with all four marks.

    Returns
    -------
    str
        The page.

    Raises
    ------
    ValueError
        If a mark is missing.

    Examples
    --------
    >>> marks = (EVIDENCE_BEGIN, EVIDENCE_END, CELLS_BEGIN, CELLS_END)
    >>> page = renewed("old".join(marks))
    >>> all(mark in page for mark in marks)
    True
    """
    page = _between(page, EVIDENCE_BEGIN, EVIDENCE_END, evidence_table())
    return _between(page, CELLS_BEGIN, CELLS_END, beef_page())


def _between(page: str, begin: str, end: str, text: str) -> str:
    before, found, rest = page.partition(begin)
    _, found_end, after = rest.partition(end)
    if not (found and found_end):
        raise ValueError(f"The page needs the marks {begin} and {end}.")
    return f"{before}{begin}\n\n{text}\n{end}{after}"


def _summary(quantity: str, unit: str, found: list[Outcome]) -> tuple[str, ...]:
    beyond = sum(one.status != "pass" for one in found)
    differences = [abs(_difference(one)) for one in found]
    return quantity, unit, str(len(found)), str(beyond), f"{max(differences):.3g}"


def _difference(outcome: Outcome) -> float:
    if not isinstance(outcome.computed, float) or isinstance(outcome.row.expected, str):
        return float("nan")
    difference = outcome.computed - outcome.row.expected
    return difference if abs(difference) > _HAIR else 0.0


def _line(outcome: Outcome) -> tuple[str, ...]:
    row = outcome.row
    given = ", ".join(f"{name} {_written(value)}" for name, value in row.inputs.items())
    return (
        f"`{row.id}`",
        given,
        _written(row.expected),
        _written(outcome.computed),
        f"{_difference(outcome):+.3g}",
        row.kind,
        row.source,
    )


def _written(value: object) -> str:
    return f"{value:.5g}" if isinstance(value, float) else str(value)


def _table(header: Iterable[str], rows: Iterable[Iterable[str]]) -> list[str]:
    head = list(header)
    return [
        "| " + " | ".join(cell.replace("|", "/") for cell in line) + " |"
        for line in (head, ["---"] * len(head), *rows)
    ]


def main(arguments: list[str]) -> None:
    """Write the tables of the page named anew."""
    path = Path(arguments[0])
    path.write_text(renewed(path.read_text("utf-8")), "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
