"""Cells at their places, and where each value of a sheet stands."""

from __future__ import annotations

from dataclasses import dataclass, field

from .content import Analyte, Content

#: A bag by its number in the content, an analyte and a basis.
Key = tuple[int, str, str]


@dataclass
class Grid:
    """Rows of texts; ``over`` are texts that reach over several columns, with how many.

    ``at`` is where each value stands, by row and column, and ``tables`` the rows with which
    tables begin that have columns of their own.
    """

    rows: list[list[str]] = field(default_factory=list)
    over: dict[tuple[int, int], int] = field(default_factory=dict)
    at: dict[Key, tuple[int, int]] = field(default_factory=dict)
    tables: list[int] = field(default_factory=list)

    @property
    def height(self) -> int:
        return len(self.rows)

    def put(self, row: int, column: int, text: str) -> None:
        """Write a text at a place, making room for it."""
        while len(self.rows) <= row:
            self.rows.append([])
        line = self.rows[row]
        line.extend([""] * (column + 1 - len(line)))
        line[column] = text

    def line(self, *texts: str) -> int:
        """Write a row under all others and return its number."""
        row = self.height
        self.rows.append(list(texts))
        return row

    def value(self, row: int, column: int, content: Content, bag: int, analyte: Analyte,
              basis: str, behind: str = "") -> None:  # fmt: skip
        """Write a value, with its unit behind it or not, and keep where it stands."""
        text = content.take(bag, analyte, basis)
        self.at[bag, analyte.key, content.basis_of(analyte, basis)] = (row, column)
        self.put(row, column, f"{text} {behind}".rstrip())
