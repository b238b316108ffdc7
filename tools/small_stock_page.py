"""The page that sets computed beside printed needs of small stock and horses.

``python -m tools.small_stock_page docs/requirements-small-stock.md`` writes the
tables anew between the two marks of the page and leaves the rest as it is.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Final

from tools.small_stock_cells import Cell, CellTable, all_tables
from tools.small_stock_rates import rate_tables

BEGIN: Final = "<!-- computed beside printed: begin -->"
END: Final = "<!-- computed beside printed: end -->"

# A computed 2.35 stands for a printed 2.4: a hair of binary rounding is no difference.
_HAIR: Final = 1e-9


def within_print(cell: Cell) -> bool:
    """Return whether a computed value rounds to the printed one.

    Examples
    --------
    >>> within_print(Cell("60 kg", "TDN g", "608", 607.7, "derived"))
    True
    """
    return abs(cell.difference) <= cell.half_figure + _HAIR


def generated_part() -> str:
    """Return the tables of the page, in Markdown.

    Returns
    -------
    str
        A summary, then each published table with printed, computed and difference in a cell.

    Examples
    --------
    >>> generated_part().startswith("| table | source |")
    True
    """
    tables = (*all_tables(), *rate_tables())
    lines = _markdown(
        ("table", "source", "how computed", "cells", "beyond the last printed figure", "largest"),
        (_summary(table) for table in tables),
    )
    for table in tables:
        lines += ["", f"### {table.title}", "", f"{table.source}; computed by {table.route}.", ""]
        lines += _wide(table)
    return "\n".join(lines) + "\n"


def renewed(page: str) -> str:
    """Return a page with its tables written anew.

    Parameters
    ----------
    page : str
        The page, with both marks.

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
    >>> BEGIN in renewed(f"above {BEGIN} old {END} below")
    True
    """
    before, begin, rest = page.partition(BEGIN)
    _, end, after = rest.partition(END)
    if not begin or not end:
        raise ValueError(f"The page lacks {BEGIN} or {END}.")
    return f"{before}{BEGIN}\n\n{generated_part()}\n{END}{after}"


def _summary(table: CellTable) -> Sequence[str]:
    beyond = [cell for cell in table.cells if not within_print(cell)]
    largest = max(table.cells, key=lambda cell: abs(cell.difference) / _scale(cell))
    said = "none"
    if beyond:
        said = (
            f"{_signed(largest)} ({100.0 * largest.difference / _scale(largest):+.1f} %), "
            f"{largest.row}, {largest.column}"
        )
    counts = (str(len(table.cells)), str(len(beyond)))
    return (table.title, table.source, table.route, *counts, said)


def _scale(cell: Cell) -> float:
    return abs(float(cell.printed)) or 1.0


def _signed(cell: Cell) -> str:
    places = _places(cell)
    text = f"{cell.difference:+.{places}f}"
    return "0" if float(text) == 0.0 else text


def _places(cell: Cell) -> int:
    return len(cell.printed.partition(".")[2]) + 1


def _wide(table: CellTable) -> list[str]:
    columns = list(dict.fromkeys(cell.column for cell in table.cells))
    rows: dict[str, dict[str, Cell]] = {}
    for cell in table.cells:
        rows.setdefault(cell.row, {})[cell.column] = cell

    def body() -> Iterable[Sequence[str]]:
        for name, cells in rows.items():
            flags = "; ".join(dict.fromkeys(cell.evidence for cell in cells.values()))
            yield (name, *(_text(cells.get(column)) for column in columns), flags)

    return _markdown(("row", *columns, "printed value"), body())


def _text(cell: Cell | None) -> str:
    if cell is None:
        return ""
    return f"{cell.printed} / {cell.computed:.{_places(cell)}f} / {_signed(cell)}"


def _markdown(header: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    lines = ["| " + " | ".join(header) + " |", "|" + "---|" * len(header)]
    lines += ["| " + " | ".join(row) + " |" for row in rows]
    return lines


def main(arguments: Sequence[str]) -> int:
    """Write the tables of a page anew.

    Parameters
    ----------
    arguments : sequence of str
        The file.

    Returns
    -------
    int
        0 when written, 2 when no file was named.

    Examples
    --------
    >>> main([])
    Name the page to renew, docs/requirements-small-stock.md.
    2
    """
    if len(arguments) != 1:
        print("Name the page to renew, docs/requirements-small-stock.md.")
        return 2
    path = Path(arguments[0])
    path.write_text(renewed(path.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
