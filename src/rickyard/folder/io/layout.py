"""The texts of a farm folder from a farm, keeping of an earlier folder all that still holds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, Final, TypeVar

from rickyard.farm import Analyte, Farm, Report, WeatherRow
from rickyard.folder.io.settings import SETTINGS_FILE, write_settings
from rickyard.folder.tables import (
    HEADERS,
    ORDER,
    REPORTS,
    TABLES,
    AnalyteHeader,
    CellError,
    CellPlace,
    Column,
    FileText,
    FolderFaults,
    Table,
    TableRow,
    TableRows,
    fault_at,
    format_analyte,
    format_cell,
    header_of,
    join_rows,
    method_header,
    parse_analyte,
    parse_cell,
)

NEWLINE: Final = "\n"

_Plain = TypeVar("_Plain")


@dataclass(frozen=True, slots=True)
class Layout:
    """How a folder was written: its texts, columns, units and cells.

    ``tables`` holds the tables by file. The writer keeps of it all that still says the same.
    """

    settings: FileText
    tables: Mapping[str, TableRows]


def as_written(farm: Farm) -> Farm:
    """Return the farm as its folder will give it back.

    Texts lose the spaces around them, the values of a report stand in the order of the
    analytes, and a value whose text does not say what it holds gets its number as text. A farm
    that was read from a folder is returned unchanged.

    Parameters
    ----------
    farm : Farm
        The farm.

    Returns
    -------
    Farm
        The same, as it is read back.

    Raises
    ------
    FolderFaults
        If a value of a report has no column that could hold it.
    """
    parts: dict[str, Any] = {
        table.part: tuple(map(_stripped, getattr(farm, table.part))) for table in TABLES
    }
    parts["reports"] = tuple(map(_as_written_report, parts["reports"]))
    return replace(_stripped(farm), **parts)


def _stripped(item: _Plain) -> _Plain:
    texts = {
        entry.name: getattr(item, entry.name).strip()
        for entry in fields(item)  # type: ignore[arg-type]  # every item is a dataclass
        if type(getattr(item, entry.name)) is str
    }
    return replace(item, **texts)  # type: ignore[type-var]


def _as_written_report(report: Report) -> Report:
    values = [_as_written_analyte(_stripped(analyte)) for analyte in report.analytes]
    return replace(report, analytes=tuple(sorted(values, key=lambda each: ORDER[each.name])))


def _as_written_analyte(analyte: Analyte) -> Analyte:
    header = header_of(analyte.name, analyte.unit, analyte.basis)
    if header is None:
        raise FolderFaults(
            [
                fault_at(
                    REPORTS.file,
                    f"no column holds {analyte.name} in {analyte.unit or 'no unit'} "
                    f"on basis {analyte.basis.value}.",
                    "Give the value in a unit and on a basis that laboratories print.",
                    found=analyte.name,
                )
            ]
        )
    written = replace(analyte, text=format_analyte(analyte))
    if _reads_back(HEADERS[header], written):
        return written
    # The text says something else than the value: the value counts.
    return replace(analyte, text=format_analyte(replace(analyte, text="")))


def folder_texts(farm: Farm, layout: Layout | None = None) -> dict[str, bytes]:
    """Return the bytes of every file of a farm's folder.

    Columns, units, order and cells of the layout that still say the same are kept; a file in which
    nothing changed is kept byte for byte.

    Parameters
    ----------
    farm : Farm
        The farm, as given by `as_written`.
    layout : Layout, optional
        The layout of the folder it was read from.

    Returns
    -------
    dict of str to bytes
        The files by name.
    """
    settings = None if layout is None else layout.settings
    files = {SETTINGS_FILE: _encoded(write_settings(farm, settings), settings)}
    for table in TABLES:
        old = None if layout is None else layout.tables.get(table.file)
        items = getattr(farm, table.part)
        if table.required or items or old is not None:
            source = None if old is None else old.source
            files[table.file] = _encoded(_table_text(table, items, old), source)
    return files


def _encoded(text: str, source: FileText | None) -> bytes:
    mark = "utf-8-sig" if source is not None and source.marked else "utf-8"
    return text.encode(mark)


def _values_of(table: Table, item: Any) -> dict[str, Any]:
    """Return an item's fields by name, the method of a report aside."""
    values = {
        column.field: getattr(item, column.field)
        for column in table.columns
        if column.field != "method"
    }
    if isinstance(item, WeatherRow):
        values["day"] = (item.day, item.monthly)
    return values


class _Keys:
    """Keys of rows, counting those that share one, so that each row finds its old self."""

    def __init__(self, table: Table) -> None:
        self._table = table
        self._seen: dict[tuple[Any, ...], int] = {}

    def of(self, values: Mapping[str, Any]) -> tuple[Any, ...]:
        key = tuple(values[name] for name in self._table.key)
        self._seen[key] = self._seen.get(key, 0) + 1
        return (*key, self._seen[key])


def _table_text(table: Table, items: Sequence[Any], old: TableRows | None) -> str:
    places = list(old.places) if old is not None else _canonical_places(table, items)
    before = {}
    if old is not None:
        keys = _Keys(table)
        before = {keys.of(row.values): row for row in old.rows}
    written: list[list[str]] = []
    keys = _Keys(table)
    for item in items:
        values = _values_of(table, item)
        line = _Line(places, before.get(keys.of(values)))
        if isinstance(item, Report):
            values["method"] = _common_method(item, line.old)
            _write_analytes(line, item, values["method"])
        _write_fields(line, table, values)
        written.append(line.cells)
    if old is not None and written == [list(row.raw) for row in old.rows]:
        return old.source.text
    newline = "\r\n" if old is not None and "\r\n" in old.source.text else NEWLINE
    width = len(places)
    padded = [[*cells, *[""] * (width - len(cells))] for cells in written]
    return join_rows([[place.header for place in places], *padded], newline)


def _canonical_places(table: Table, items: Sequence[Any]) -> list[CellPlace]:
    """Return a column for every field that must or does stand in the table."""
    places = []
    for column in table.columns:
        if column.counts != "as_is" or column.field == "method":
            continue
        if column.required or any(
            not _is_blank(column, getattr(item, column.field)) for item in items
        ):
            places.append(CellPlace(column.canonical_header, column, column.field_unit))
    return places


def _is_blank(column: Column, value: Any) -> bool:
    return value is None or value == "" or (value is False and column.blank is False)


class _Line:
    """One row being written: the cells of its old self, changed where they must be."""

    def __init__(self, places: list[CellPlace], old: TableRow | None) -> None:
        self.places = places
        self.old = old
        self.cells = list(old.raw) if old is not None else []

    def old_text(self, spot: int) -> str:
        return self.old.raw[spot] if self.old is not None and spot < len(self.old.raw) else ""

    def put(self, spot: int, text: str) -> None:
        while len(self.cells) <= spot:
            self.cells.append("")
        self.cells[spot] = text

    def clear(self, spots: Sequence[int]) -> None:
        for spot in spots:
            if spot < len(self.cells) and self.cells[spot].strip():
                self.cells[spot] = ""

    def spots(self, name: str) -> list[int]:
        """Return where a field may stand, the place it stood in first."""
        found = [
            at
            for at, place in enumerate(self.places)
            if place.column is not None and place.column.field == name
        ]
        return sorted(found, key=lambda at: not self.old_text(at).strip())

    def add(self, place: CellPlace) -> int:
        self.places.append(place)
        return len(self.places) - 1


def _write_fields(line: _Line, table: Table, values: Mapping[str, Any]) -> None:
    weight = values.get("bale_weight_kg")
    done: set[str] = set()
    for column in table.columns:
        if column.field in done:
            continue
        done.add(column.field)
        value = values[column.field]
        spots = line.spots(column.field)
        if spots and _still_says(line, spots[0], value, weight):
            continue
        line.clear(spots)
        if not _is_blank(column, value):
            _write_value(line, spots, column, value, weight)


def _still_says(line: _Line, spot: int, value: Any, weight: float | None) -> bool:
    text, place = line.old_text(spot), line.places[spot]
    if not text.strip() or place.column is None:
        return False
    try:
        return bool(parse_cell(place.column, place.unit, text, weight) == value)
    except CellError:
        return False  # a price per bale whose bale has no weight any more


def _write_value(
    line: _Line, spots: Sequence[int], column: Column, value: Any, weight: float | None
) -> None:
    for spot in spots:
        place = line.places[spot]
        assert place.column is not None  # spots of a field have its column
        text = format_cell(place.column, place.unit, value, weight)
        if text is not None:
            line.put(spot, text)
            return
    spot = line.add(CellPlace(column.canonical_header, column, column.field_unit))
    text = format_cell(column, column.field_unit, value, weight)
    assert text is not None  # the field's own unit always reads back
    line.put(spot, text)


def _common_method(report: Report, old: TableRow | None) -> str:
    """Return the method to write for the whole report.

    An empty cell under an analyte's own method means this one, so it must be empty itself if
    any value has no method.
    """
    methods = [analyte.method for analyte in report.analytes]
    if "" in methods or not methods:
        return ""
    if old is not None and old.values["method"]:
        return str(old.values["method"])
    return max(sorted(set(methods)), key=methods.count)


def _write_analytes(line: _Line, report: Report, method: str) -> None:
    kept: set[int] = set()
    for analyte in report.analytes:
        spot = _spot_of(line, analyte)
        if spot is None:
            header = header_of(analyte.name, analyte.unit, analyte.basis)
            assert header is not None  # refused by as_written
            held = HEADERS[header]
            spot = line.add(CellPlace(header, unit=held.unit, analyte=held))
        if line.old_text(spot).strip() != analyte.text:
            line.put(spot, analyte.text)
        kept.add(spot)
        kept.update(_write_method(line, analyte, method))
    others = [
        at for at, place in enumerate(line.places) if place.analyte is not None and at not in kept
    ]
    line.clear(others)


def _spots_of(line: _Line, name: str, is_method: bool) -> Iterator[int]:
    found = [
        at
        for at, place in enumerate(line.places)
        if place.analyte is not None
        and place.analyte.spec.name == name
        and place.analyte.is_method is is_method
    ]
    yield from sorted(found, key=lambda at: not line.old_text(at).strip())


def _spot_of(line: _Line, analyte: Analyte) -> int | None:
    for spot in _spots_of(line, analyte.name, False):
        held = line.places[spot].analyte
        assert held is not None  # spots of an analyte have its header
        if _reads_back(held, analyte):
            return spot
    return None


def _reads_back(held: AnalyteHeader, analyte: Analyte) -> bool:
    try:
        return parse_analyte(held, analyte.text, analyte.method) == analyte
    except CellError:
        return False  # its text cannot stand in this unit


def _write_method(line: _Line, analyte: Analyte, method: str) -> list[int]:
    spots = list(_spots_of(line, analyte.name, True))
    if spots and line.old_text(spots[0]).strip() == analyte.method != "":
        return spots
    if analyte.method == method:
        return []
    header = method_header(analyte.name)
    spot = spots[0] if spots else line.add(CellPlace(header, analyte=HEADERS[header]))
    line.put(spot, analyte.method)
    return [spot]
