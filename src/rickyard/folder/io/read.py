"""Read a farm folder: whole, or not at all with every fault told."""

from __future__ import annotations

import os
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path
from typing import Any, Final

from rickyard.farm import (
    Analyte,
    Farm,
    FedRow,
    Feed,
    Group,
    LabPackage,
    Lot,
    MoveRow,
    Report,
    StackRow,
    StatedNeed,
    WeatherRow,
    WishRow,
)
from rickyard.folder.io.layout import Layout
from rickyard.folder.io.settings import (
    SETTINGS_FILE,
    is_american,
    read_settings,
    settings_questions,
)
from rickyard.folder.rules import Known, folder_faults, folder_questions, wish_faults
from rickyard.folder.tables import (
    LONGEST_QUOTE,
    ORDER,
    REPORTS,
    TABLES,
    WISHES,
    CellError,
    Fault,
    Filled,
    FolderFaults,
    Reading,
    TableRow,
    TableRows,
    fault_at,
    load_text,
    parse_analyte,
    read_rows,
)
from rickyard.tables import Tabular, counted

_MAKERS: Final[Mapping[str, Any]] = {
    "lots": Lot,
    "groups": Group,
    "feeds": Feed,
    "needs": StatedNeed,
    "fed": FedRow,
    "moves": MoveRow,
    "labs": LabPackage,
    "wishes": WishRow,
    "stacks": StackRow,
}


@dataclass(frozen=True, slots=True, repr=False)
class FarmFolder(Tabular):
    """A farm, how its folder was written, and what in it is worth a second look.

    ``missing`` is what must be known before anything is planned, where it was read to be kept.
    """

    farm: Farm
    layout: Layout
    questions: tuple[Fault, ...] = ()
    missing: tuple[Fault, ...] = ()

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return (("", repr(self.farm)), ("", counted(len(self.questions), "question")))


def read_folder(
    path: str | os.PathLike[str],
    known_table_ids: Collection[str] | None = None,
    *,
    to_keep: bool = False,
) -> FarmFolder:
    """Read a farm folder.

    Parameters
    ----------
    path : str or path-like
        The folder.
    known_table_ids : collection of str, optional
        Rows of the feed table; ``feeds.csv`` is checked against them if they are given.
    to_keep : bool, default False
        Whether it is read to be kept: then a lot without a weight or a group without an age is no
        fault, and is told as missing.

    Returns
    -------
    FarmFolder
        The farm, its layout, and questions about what is possible but unusual.

    Raises
    ------
    FolderFaults
        If anything is wrong anywhere; it holds every fault of every file.
    """
    folder = Path(path)
    _refuse_no_folder(folder)
    faults: list[Fault] = []
    reading = Reading()
    settings_text = load_text(folder, SETTINGS_FILE, True, faults)
    settings = None if settings_text is None else read_settings(settings_text, faults)
    american = settings is not None and is_american(settings["units"], settings["country"])
    tables: dict[str, TableRows] = {}
    for table in TABLES:
        source = load_text(folder, table.file, table.required, faults)
        rows = (
            None if source is None else read_rows(table, source, faults, reading, american=american)
        )
        if rows is not None:
            tables[table.file] = rows
    season = None if settings is None else settings["season"]
    analytes = _read_analytes(tables.get(REPORTS.file), faults)
    # Rules between rows may be broken once by every row: a few hundred are enough to mend.
    faults.extend(islice(folder_faults(tables, season, known_table_ids), MOST_BETWEEN_ROWS))
    missing = tuple(sorted((one for one in faults if to_keep and one.waits), key=_place))
    if len(faults) > len(missing) or settings is None or settings_text is None:
        raise FolderFaults(sorted(faults, key=_place))
    farm = _make_farm(settings, tables, analytes)
    asked = [
        *settings_questions(settings_text, farm.season, bool(farm.weather)),
        *islice(folder_questions(tables, farm.season), MOST_BETWEEN_ROWS),
    ]
    questions = tuple(sorted(asked, key=_place))
    return FarmFolder(farm, Layout(settings_text, tables), questions, missing)


def read_wishes(path: str | os.PathLike[str], farm: Farm) -> tuple[WishRow, ...]:
    """Read wishes for a season program from a file of any name and place.

    Parameters
    ----------
    path : str or path-like
        The file; it is written like ``wishes.csv`` of a farm folder.
    farm : Farm
        The farm whose lots, feeds, groups and season it speaks of.

    Returns
    -------
    tuple of WishRow
        The wishes, as they stand in the file. Those of the farm's own folder are not among them.

    Raises
    ------
    FolderFaults
        If anything in the file is wrong; it holds every fault.
    """
    place = Path(path).absolute()
    name = place.name or str(place)
    _refuse_no_folder(place.parent)
    faults: list[Fault] = []
    source = load_text(place.parent, name, True, faults)
    # Faults name the file by its own name.
    table, american = replace(WISHES, file=name), is_american(farm.units, farm.country)
    rows = None if source is None else read_rows(table, source, faults, american=american)
    if rows is not None:
        known = Known(
            frozenset(lot.lot_id for lot in farm.lots) | {feed.feed_id for feed in farm.feeds},
            frozenset(group.group_id for group in farm.groups),
        )
        faults.extend(islice(wish_faults(rows.rows, known, farm.season), MOST_BETWEEN_ROWS))
    if faults or rows is None:
        raise FolderFaults(sorted(faults, key=lambda fault: fault.row or 0))
    return tuple(WishRow(**row.values) for row in rows.rows)


def _refuse_no_folder(folder: Path) -> None:
    try:
        found = folder.is_dir()
        fault = None if found else _not_a_folder(folder)
    except (OSError, ValueError) as error:  # a name too long or with a zero byte, a closed parent
        reason = error.strerror if isinstance(error, OSError) else str(error)
        fault = fault_at(
            _shown_name(folder),
            f"the folder cannot be opened: {reason}.",
            "Check the name, and who may open it and the folders it lies in.",
        )
    if fault is not None:
        raise FolderFaults([fault])


def _shown_name(folder: Path) -> str:
    name = (folder.name or str(folder)).replace("\0", "?")
    return name if len(name) <= LONGEST_QUOTE else f"{name[: LONGEST_QUOTE - 3]}..."


def _not_a_folder(folder: Path) -> Fault:
    name = _shown_name(folder)
    if folder.exists():
        return fault_at(
            name,
            "this is a file, and a farm folder is expected.",
            "Name the folder that holds farm.toml and lots.csv.",
        )
    return fault_at(name, "there is no such folder.", "Check the name and where you are.")


MOST_BETWEEN_ROWS: Final = 1_000  # faults of rules between rows that are looked for

_FILES: Final = (SETTINGS_FILE, *(table.file for table in TABLES))


def _place(fault: Fault) -> tuple[int, int]:
    return _FILES.index(fault.file), fault.row or 0


def _read_analytes(table: TableRows | None, faults: list[Fault]) -> dict[int, tuple[Analyte, ...]]:
    """Read the values of every report, by row."""
    if table is None:
        return {}
    return {row.number: _analytes_of(row, faults) for row in table.rows}


def _analytes_of(row: TableRow, faults: list[Fault]) -> tuple[Analyte, ...]:
    methods: dict[str, str] = {}
    values: dict[str, Filled] = {}
    found: list[Analyte] = []
    for filled in row.analytes:
        held = filled.place.analyte
        assert held is not None  # only analytes stand in this list
        if held.is_method:
            methods[held.spec.name] = filled.text.strip()
        elif held.spec.name in values:
            other = values[held.spec.name].place.header
            faults.append(
                _analyte_fault(
                    row,
                    filled,
                    f"{other} and {filled.place.header} are both filled.",
                    "Leave one of the two empty.",
                )
            )
        else:
            values[held.spec.name] = filled
    for name, filled in values.items():
        held = filled.place.analyte
        assert held is not None
        try:
            method = methods.pop(name, row.get("method") or "")
            found.append(parse_analyte(held, filled.text, method))
        except CellError as error:
            faults.append(
                _analyte_fault(row, filled, error.problem, error.suggestion, error.expected)
            )
    if not row.analytes and row.sure:
        faults.append(
            fault_at(
                REPORTS.file,
                "the report has no values.",
                "Fill at least one analyte, such as cp_pct_dm, or delete the row.",
                row=row.number,
            )
        )
    return tuple(sorted(found, key=lambda analyte: ORDER[analyte.name]))


def _analyte_fault(
    row: TableRow, filled: Filled, problem: str, suggestion: str, expected: str = ""
) -> Fault:
    return fault_at(
        REPORTS.file,
        problem,
        suggestion,
        row=row.number,
        column=filled.place.header,
        found=filled.text.strip(),
        expected=expected,
    )


def _make_farm(
    settings: dict[str, Any],
    tables: Mapping[str, TableRows],
    analytes: Mapping[int, tuple[Analyte, ...]],
) -> Farm:
    rows = {table.part: tables[table.file].rows if table.file in tables else () for table in TABLES}
    made: dict[str, Any] = {
        part: tuple(make(**row.values) for row in rows[part]) for part, make in _MAKERS.items()
    }
    reports = tuple(_make_report(row, analytes[row.number]) for row in rows["reports"])
    weather = tuple(_make_weather(row.values) for row in rows["weather"])
    return Farm(**settings, **made, reports=reports, weather=weather)


def _make_report(row: TableRow, analytes: tuple[Analyte, ...]) -> Report:
    values = {name: value for name, value in row.values.items() if name != "method"}
    return Report(**values, analytes=analytes)


def _make_weather(values: Mapping[str, Any]) -> WeatherRow:
    day, monthly = values["day"]
    rest = {name: value for name, value in values.items() if name != "day"}
    return WeatherRow(day=day, monthly=monthly, **rest)
