"""Cells, rows and columns of a farm folder: what may stand where, and faults that say so.

Texts in, typed rows and faults out; knows no rule between rows.
"""

# fmt: off
from rickyard.folder.tables import limits, rows, texts
from rickyard.folder.tables.analytes import (
    ANALYTES, AnalyteHeader, AnalyteSpec, HEADERS, ORDER, format_analyte, header_of, method_header,
    parse_analyte,
)
from rickyard.folder.tables.cells import (
    check_limit, format_cell, parse_cell, plain_number, read_number,
)
from rickyard.folder.tables.columns import Column, Table, Units
from rickyard.folder.tables.dates import FIRST_YEAR, LAST_YEAR, parse_date
from rickyard.folder.tables.faults import (
    CellError, Fault, FolderFaults, LONGEST_QUOTE, MOST_OF_A_FILE, fault_at,
)
from rickyard.folder.tables.files import (
    FARM_KEYS, FED, FEEDS, FORMAT, GROUPS, LABS, LOTS, MOVES, NEEDS, REPORTS, SEASON, SEASON_KEYS,
    STACKS, TABLES, WEATHER, WISHES, headers_of,
)
from rickyard.folder.tables.limits import ColumnLimit
from rickyard.folder.tables.rows import CellPlace, Filled, TableRow, TableRows, read_rows
from rickyard.folder.tables.texts import FileText, Reading, join_rows, load_text
from rickyard.folder.tables.words import did_you_mean

__all__ = [
    "ANALYTES", "AnalyteHeader", "AnalyteSpec", "CellError", "CellPlace", "Column", "ColumnLimit",
    "FARM_KEYS", "FED", "FEEDS", "FIRST_YEAR", "FORMAT", "Fault", "FileText", "Filled",
    "FolderFaults", "GROUPS", "HEADERS", "LABS", "LAST_YEAR", "LONGEST_QUOTE", "LOTS",
    "MOST_OF_A_FILE", "MOVES", "NEEDS", "ORDER", "REPORTS", "Reading", "SEASON", "SEASON_KEYS",
    "STACKS", "TABLES", "Table", "TableRow", "TableRows", "Units", "WEATHER", "WISHES",
    "check_limit", "did_you_mean", "fault_at", "format_analyte", "format_cell", "header_of",
    "headers_of", "join_rows", "limits", "load_text", "method_header", "parse_analyte",
    "parse_cell", "parse_date", "plain_number", "read_number", "read_rows", "rows", "texts",
]
