"""Sheets by chance: a file for each number, with what it holds and where each value stands."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from corpus.paper import Paper
from corpus.writers import Workbook, delimited

from .content import Content, content
from .grid import Grid
from .shapes import SHAPES, told, way_of

FILES = ("csv", "semicolon", "tab", "fixed", "xlsx", "pipes", "paper")
_TITLES = ("Forage results", "Report of analysis", "Hay test report", "Analysis of forage")


@dataclass
class Sheet:
    """A file, what it holds, and the place of each value in the words of a reading."""

    name: str
    data: bytes
    content: Content
    places: dict[tuple[int, str, str], str]


def sheet(number: int) -> Sheet:
    """Return the sheet of that number; the same each time."""
    random = Random(f"sheet {number}")
    shape = list(SHAPES)[number % len(SHAPES)]
    held = content(random)
    way = way_of(random, held)
    grid = Grid()
    grid.line(random.choice(_TITLES))
    lines = told(way, held)
    above = lines if random.random() < 0.5 or way.basis_at == "title" else []
    for line in above:
        grid.line(line)
    grid.line()
    body = Grid()
    SHAPES[shape](held, way, body)
    top = grid.height
    grid.rows.extend(body.rows)
    grid.at = {key: (row + top, column) for key, (row, column) in body.at.items()}
    if lines and not above:
        grid.line()
        for line in lines:
            grid.line(line)
    kind = random.choice(FILES)
    data, places = WRITERS[kind](grid)
    name = f"{number}-{shape}-{kind}-unit-{way.unit_at}-basis-{way.basis_at}"
    return Sheet(name, data, held, places)


Written = tuple[bytes, dict[tuple[int, str, str], str]]


def _marked(mark: str, comma: bool = False) -> object:
    def write(grid: Grid) -> Written:
        rows = grid.rows
        if comma:
            values = set(grid.at.values())
            rows = [
                [text.replace(".", ",", 1) if (r, c) in values or _is_number(text) else text
                 for c, text in enumerate(row)]
                for r, row in enumerate(rows)
            ]  # fmt: skip
        places = {k: f"line {r + 1}, column {c + 1}" for k, (r, c) in grid.at.items()}
        return delimited(rows, mark).encode(), places

    return write


def _is_number(text: str) -> bool:
    return text.lstrip("+-").replace(".", "", 1).isdigit()


def _fixed(grid: Grid) -> Written:
    wide = [row for row in grid.rows if sum(map(bool, row)) > 1]
    columns = max(map(len, wide))
    numbers = {column for _, column in grid.at.values()}
    widths = [max((len(r[n]) for r in wide if len(r) > n), default=0) + 2 for n in range(columns)]
    lines = []
    places = {}
    for at, row in enumerate(grid.rows):
        if len(row) < 2:
            lines.append("".join(row))
            continue
        line = ""
        for column, text in enumerate(row):
            shown = text.rjust(widths[column] - 2) if column in numbers else text
            for key, place in grid.at.items():
                if place == (at, column):
                    places[key] = f"line {at + 1}, sign {len(line) + len(shown) - len(text) + 1}"
            line += shown.ljust(widths[column])
        lines.append(line.rstrip())
    return ("\n".join(lines) + "\n").encode(), places


def _book(grid: Grid) -> Written:
    book = Workbook()
    book.rows(book.sheet("Results"), grid.rows)
    places = {key: f"sheet Results, cell {_letters(c)}{r + 1}" for key, (r, c) in grid.at.items()}
    return book.content(), places


def _letters(column: int) -> str:
    first, last = divmod(column, 26)
    return ("" if not first else chr(64 + first)) + chr(65 + last)


def _pipes(grid: Grid) -> Written:
    lines = ["| " + " | ".join(row) + " |" if len(row) > 1 else "".join(row) for row in grid.rows]
    return ("\n".join(lines) + "\n").encode(), {}


def _paper(grid: Grid) -> Written:
    size = 8.0
    wide = [row for row in grid.rows if sum(map(bool, row)) > 1]
    columns = max(map(len, wide))
    widths = [
        max((len(r[n]) for r in wide if len(r) > n), default=0) * size * 0.56 + 9
        for n in range(columns)
    ]
    width = max(612.0, sum(widths) + 80)
    paper = Paper((width, max(792.0, 60 + 12.0 * len(grid.rows))))
    numbers = {column for _, column in grid.at.values()}
    for at, row in enumerate(grid.rows):
        x = 40.0
        for column, text in enumerate(row):
            right = column in numbers and len(row) > 1
            if text:
                paper.text(x + widths[column] - 6 if right else x, 40 + 12 * at, text, size,
                           align="right" if right else "left")  # fmt: skip
            x += widths[column] if len(row) > 1 else 0
    return paper.content(), {}


WRITERS = {
    "csv": _marked(","), "semicolon": _marked(";", comma=True), "tab": _marked("\t"),
    "fixed": _fixed, "xlsx": _book, "pipes": _pipes, "paper": _paper,
}  # fmt: skip
