"""One table of a farm folder: its header, and its rows as values by field."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any, Final

from rickyard.folder.hints import TradeWord, trade_word
from rickyard.folder.tables.analytes import HEADERS as ANALYTE_HEADERS
from rickyard.folder.tables.analytes import AnalyteHeader
from rickyard.folder.tables.cells import parse_cell
from rickyard.folder.tables.columns import MEASURES, Column, Table, match_header, unit_in_header
from rickyard.folder.tables.faults import (
    MOST_OF_A_FILE,
    MOST_SHOWN,
    CellError,
    Fault,
    fault_at,
)
from rickyard.folder.tables.files import REPORTS
from rickyard.folder.tables.texts import MOST_CELLS, FileText, Reading, split_rows
from rickyard.folder.tables.words import did_you_mean
from rickyard.quantities import UNITS

MOST_COLUMNS: Final = 600  # more than all analytes in all their units

_LETTERS: Final = 26


#: The parts of a number that is written with a comma before its last three digits.
_THOUSANDS: Final = re.compile(r"[1-9]\d{0,2}")
_HUNDREDS: Final = re.compile(r"\d{3}(?:\.\d+)?")


@dataclass(frozen=True, slots=True)
class CellPlace:
    """What one column of a file holds: a plain column in a unit, or an analyte's."""

    header: str
    column: Column | None = None
    unit: str = ""
    analyte: AnalyteHeader | None = None


@dataclass(frozen=True, slots=True)
class Filled:
    """A filled cell of a row."""

    place: CellPlace
    text: str


@dataclass(slots=True)
class TableRow:
    """One row of a table.

    ``values`` holds every field that was read without fault. ``sure`` tells whether a cell
    that is not in ``cells`` was really left empty: not so under a header that is at fault.
    """

    table: Table
    number: int
    raw: tuple[str, ...]
    headers: Mapping[str, str]
    values: dict[str, Any] = field(default_factory=dict)
    cells: dict[str, Filled] = field(default_factory=dict)
    analytes: list[Filled] = field(default_factory=list)
    sure: bool = True

    def get(self, name: str) -> Any:
        """Return the value of a field, ``None`` if it is blank or could not be read."""
        return self.values.get(name)

    def text(self, name: str) -> str:
        """Return the cell of a field as written."""
        return self.cells[name].text if name in self.cells else ""

    def missing(self, name: str, problem: str, suggestion: str, expected: str) -> Fault:
        """Return the fault of a field that may be known later: until then the row is kept."""
        return replace(self.fault(name, problem, suggestion, expected), waits=True)

    def fault(self, name: str, problem: str, suggestion: str, expected: str = "") -> Fault:
        """Return a fault at the cell of a field, or at where it should stand."""
        if name in self.cells:
            header = self.cells[name].place.header
        else:
            header = self.headers.get(name) or self.table.column_of(name).common_headers()[0]
        return fault_at(
            self.table.file,
            problem,
            suggestion,
            row=self.number,
            column=header,
            found=self.text(name),
            expected=expected,
        )


@dataclass(frozen=True, slots=True)
class TableRows:
    """A table as read: its places from left to right and its rows that are not blank.

    ``complete`` is false if rows at the end could not be told apart.
    """

    source: FileText
    places: tuple[CellPlace, ...]
    rows: tuple[TableRow, ...]
    complete: bool

    def ids(self, name: str) -> frozenset[str] | None:
        """Return every id written under a field, even in faulty rows.

        ``None`` means that the column or rows are missing, so that nothing can be said of ids.
        """
        spots = [at for at, place in enumerate(self.places) if _fills(place, name)]
        if not spots or not self.complete:
            return None
        spot = spots[0]
        return frozenset(row.raw[spot].strip() for row in self.rows if spot < len(row.raw))


def _fills(place: CellPlace, name: str) -> bool:
    return place.column is not None and place.column.field == name


def read_rows(
    table: Table,
    source: FileText,
    faults: list[Fault],
    reading: Reading | None = None,
    *,
    american: bool = False,
) -> TableRows | None:
    """Read one table.

    Parameters
    ----------
    table : Table
        What the file should hold.
    source : FileText
        The file.
    faults : list of Fault
        Faults are added here: those of a file that is at fault all over only until it is clear
        that it is.
    reading : Reading, optional
        What has been read of the folder so far, in which what is read here is counted.
    american : bool
        Whether 11/30/2026 is read where it can be no other day.

    Returns
    -------
    TableRows or None
        The table; ``None`` if not even its header could be read.
    """
    reading = Reading() if reading is None else reading
    mine: list[Fault] = []
    records, complete = split_rows(source, table.most_rows + 1, mine)
    header = records[0][1] if records else []
    body = records[1:]
    places = _read_header(table, header, body, mine)
    if places is None:
        faults.extend(mine)
        return None
    sure = not any(fault.row == 1 for fault in mine)
    headers = {
        place.column.field: place.header for place in reversed(places) if place.column is not None
    }
    rows: list[TableRow] = []
    for number, cells in body:
        if end := _end_of_reading(table.file, number, len(mine), reading):
            mine.append(end)
            complete = False
            break
        row = TableRow(table, number, tuple(cells), headers)
        rows.append(row)
        reading.rows += 1
        reading.cells += sum(map(bool, cells))
        fits = _fits(row, len(header), mine)
        row.sure = fits and sure
        if fits:
            before = len(mine)
            _fill(row, places, mine, american)
            if len(mine) > before + 1 and (split := _split_number(row, len(header))):
                mine[before:] = [split]
                row.sure, row.values, row.cells = False, {}, {}
    faults.extend(mine)
    return TableRows(source, tuple(places), tuple(rows), complete)


def _end_of_reading(file: str, number: int, found: int, reading: Reading) -> Fault | None:
    """Return why a file is read no further than before this row."""
    if found >= MOST_OF_A_FILE:
        problem = f"{found} faults stand above this row, and it was read no further."
        return fault_at(file, problem, "Mend those, then read it again.", row=number, ends=True)
    if reading.cells > MOST_CELLS:
        problem = f"the folder holds more than {MOST_CELLS:,} filled cells, and was read to here."
        advice = "Check that these are the right files; split the farm if it really is so large."
        return fault_at(file, problem, advice, row=number, ends=True)
    return None


def _read_header(
    table: Table, header: list[str], body: list[tuple[int, list[str]]], faults: list[Fault]
) -> list[CellPlace] | None:
    if not header and not body:
        return None
    if len(header) > MOST_COLUMNS:
        problem = f"the header has {len(header):,} cells, and {MOST_COLUMNS} is the most."
        faults.append(fault_at(table.file, problem, "Check that it is the right file.", row=1))
        return None
    if not any(cell.strip() for cell in header):
        faults.append(fault_at(table.file, "the row is empty.", "Write the headers in it.", row=1))
        return None
    filled = {at for _, cells in body for at, cell in enumerate(cells) if cell.strip()}
    places: list[CellPlace] = []
    seen: set[str] = set()
    for at, cell in enumerate(header):
        name = cell.strip()
        fault: Fault | None = None
        place = CellPlace(name)
        if not name:
            fault = _no_header(table, at) if at in filled else None
        elif name.casefold() in seen:
            fault = fault_at(
                table.file,
                "this header is there twice.",
                "Keep one of the two columns.",
                row=1,
                column=name,
                found=name,
            )
        else:
            place = _place_of(table, name)
            if place.column is None and place.analyte is None:
                fault = _unknown_header(table, name)
        seen.add(name.casefold())
        places.append(place)
        if fault is not None:
            faults.append(fault)
        if len(faults) >= MOST_SHOWN:
            faults.append(_end_of_header(table, len(faults)))
            return None
    faults.extend(_missing_columns(table, places))
    return places


def _end_of_header(table: Table, found: int) -> Fault:
    return fault_at(
        table.file,
        f"{found} faults stand in the header, and the file was read no further.",
        "Check that it is the right file, or mend those.",
        row=1,
        ends=True,
    )


def _place_of(table: Table, name: str) -> CellPlace:
    match = match_header(table, name)
    if match is not None:
        return CellPlace(name, *match)
    analyte = ANALYTE_HEADERS.get(name.casefold()) if table is REPORTS else None
    return CellPlace(name, analyte=analyte)


def _no_header(table: Table, at: int) -> Fault:
    first, last = divmod(at, _LETTERS)
    letters = (chr(ord("A") + first - 1) if first else "") + chr(ord("A") + last)
    return fault_at(
        table.file,
        "the header is empty, and cells under it are filled.",
        "Write the header, or clear the column.",
        row=1,
        column=letters,
    )


def _missing_columns(table: Table, places: list[CellPlace]) -> list[Fault]:
    present = {place.column.field for place in places if place.column is not None}
    # A header that could not be read may be the one that is missing: it is told once.
    unknown = [place.header for place in places if place.column is None and place.header]
    missing: list[Fault] = []
    for column in table.columns:
        if not column.required or column.field in present:
            continue
        if any(_meant(table, column, header) for header in unknown):
            continue
        names = " or ".join(column.common_headers()[:2])
        words = f"; one of {', '.join(column.words)}" if column.words else ""
        missing.append(
            fault_at(
                table.file,
                f"the column {names} is missing.",
                f"Add it: {column.means}{words}.",
                row=1,
                expected=names,
            )
        )
    return missing


def _meant(table: Table, column: Column, header: str) -> bool:
    folded = header.casefold()
    word = trade_word(table.file, _without_unit(header))
    if word is not None:
        return column.name in word.meant
    if folded == column.name or (column.dimension and folded.startswith(f"{column.name}_")):
        return True
    return bool(did_you_mean(folded, column.common_headers()))


def _unknown_header(table: Table, name: str) -> Fault:
    problem, suggestion = _explain_header(table, name)
    return fault_at(table.file, problem, suggestion, row=1, column=name, found=name)


#: Letters of the sign of an element.
LONGEST_SYMBOL: Final = 2


def _explain_header(table: Table, name: str) -> tuple[str, str]:
    choices = [header for column in table.columns for header in column.common_headers()]
    if table is REPORTS:
        choices += ANALYTE_HEADERS
    near = did_you_mean(name.replace(" ", "_"), choices)
    if len(_without_unit(name)) <= LONGEST_SYMBOL:
        near = ""  # another element is no slip of the pen: sulfur is not phosphorus
    word = trade_word(table.file, _without_unit(name))
    if word is not None:
        return "this header is not known.", _headers_of(table, word)
    for column in table.columns:
        if not column.dimension:
            continue
        headers = " or ".join(column.common_headers())
        if name.casefold() == f"{column.name}{column.tail}":
            return "the header has no unit.", f"Write {headers}."
        unit = unit_in_header(column, name)
        if unit in UNITS:
            return (
                f"{unit} is the unit of {MEASURES[UNITS[unit].dimension]}, "
                f"and this column holds {MEASURES[column.dimension]}.",
                f"Write {headers}.",
            )
        if unit and any(header in near for header in column.common_headers()):
            return f"{unit} is not a unit this program knows.", f"Write {headers}."
    if table is REPORTS and (fault := _explain_analyte(name)):
        return fault
    known = ", ".join(dict.fromkeys(column.name for column in table.columns))
    return "this header is not known.", near or f"The columns of {table.file} are {known}."


def _headers_of(table: Table, word: TradeWord) -> str:
    """Say which headers a word of the trade means, each with its unit."""
    headers = {column.name: column.common_headers()[0] for column in table.columns}
    meant = tuple(headers.get(name, name) for name in word.meant)
    return TradeWord(meant, word.note).sentence


def _without_unit(header: str) -> str:
    """Return a header without the unit at its end, where it has one."""
    start, _, end = header.rpartition("_")
    return start if start and end.casefold() in {name.casefold() for name in UNITS} else header


def _explain_analyte(name: str) -> tuple[str, str] | None:
    """Explain a header that begins with an analyte but has no such unit or basis."""
    folded = name.casefold()
    best = ""
    for held in ANALYTE_HEADERS.values():
        analyte = held.spec.name
        if folded == analyte or folded.startswith(f"{analyte}_"):
            best = max(best, analyte, key=len)
    if not best:
        return None
    headers = [
        header
        for header, held in ANALYTE_HEADERS.items()
        if held.spec.name == best and not held.is_method
    ]
    near = did_you_mean(name, headers)
    return f"the header does not end in a unit and basis of {best}.", (
        f"{near}Write one of: {', '.join(headers)}."
    )


def _fits(row: TableRow, width: int, faults: list[Fault]) -> bool:
    cells = row.raw
    if len(cells) == width or (len(cells) > width and not any(c.strip() for c in cells[width:])):
        return True
    suggestion = (
        "A text or number with a comma in it needs quotation marks around it."
        if len(cells) > width
        else "Write a comma for every empty cell."
    )
    faults.append(
        fault_at(
            row.table.file,
            f"the row has {len(cells)} {'cell' if len(cells) == 1 else 'cells'}, "
            f"and the header has {width}.",
            suggestion,
            row=row.number,
            expected=f"{width} cells",
        )
    )
    return False


def _split_number(row: TableRow, width: int) -> Fault | None:
    """Return the one fault of a row that a comma in a number moved by a cell, where one may be."""
    cells = [cell.strip() for cell in row.raw]
    for first, second in pairwise(cells):
        if len(cells) > width and _THOUSANDS.fullmatch(first) and _HUNDREDS.fullmatch(second):
            return fault_at(
                row.table.file,
                f"the row has {len(cells)} cells, and the header has {width}: {first},{second} "
                "stands in two of them, and all behind it moved.",
                f"Write {first}{second} without a comma, or in quotation marks.",
                row=row.number,
                expected=f"{width} cells",
            )
    return None


def _fill(row: TableRow, places: list[CellPlace], faults: list[Fault], american: bool) -> None:
    for column in row.table.columns:
        if not column.required:
            row.values.setdefault(column.field, column.blank)
    # A price per bale needs the weight of the bale, so it is read last.
    in_order = sorted(
        zip(places, row.raw, strict=False),
        key=lambda pair: pair[0].column is not None and pair[0].column.counts == "per_bale",
    )
    for place, cell in in_order:
        if not cell.strip():
            continue
        if place.analyte is not None:
            row.analytes.append(Filled(place, cell))
        elif place.column is not None:
            _fill_field(row, place, place.column, cell, faults, american)
    _refuse_blanks(row, faults)


def _fill_field(
    row: TableRow,
    place: CellPlace,
    column: Column,
    cell: str,
    faults: list[Fault],
    american: bool,
) -> None:
    other = row.cells.get(column.field)
    if other is not None:
        faults.append(
            row.fault(
                column.field,
                f"{other.place.header} and {place.header} are both filled.",
                "Leave one of the two empty.",
            )
        )
        return
    row.cells[column.field] = Filled(place, cell.strip())
    row.values.pop(column.field, None)
    if column.counts == "per_bale" and "bale_weight_kg" not in row.values:
        return  # the weight itself is at fault, and that is told
    try:
        weight = row.values.get("bale_weight_kg")
        value = parse_cell(column, place.unit, cell, weight, american=american)
    except CellError as error:
        faults.append(row.fault(column.field, error.problem, error.suggestion, error.expected))
        return
    row.values[column.field] = value


def _refuse_blanks(row: TableRow, faults: list[Fault]) -> None:
    for column in row.table.columns:
        if column.required and column.field in row.headers and column.field not in row.cells:
            words = f", one of {', '.join(column.words)}" if column.words else ""
            faults.append(
                row.fault(
                    column.field,
                    "the cell is empty, and it must be known.",
                    f"Write here: {column.means}{words}.",
                    "a value",
                )
            )
