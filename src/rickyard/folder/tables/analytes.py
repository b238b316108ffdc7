"""The analytes of a laboratory report: their headers, units and cells in ``reports.csv``.

A header is ``<analyte>_<unit>_<basis>``: ``cp_pct_dm`` on dry matter, ``cp_pct_ar`` as
received. An index has neither unit nor basis: ``rfv``. A share of another part names that
part: ``ndfd48_pct_ndf``. A value keeps the unit, the basis and the text of the laboratory.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from typing import Final

from rickyard.farm import Analyte, Basis
from rickyard.folder.tables import limits
from rickyard.folder.tables.cells import check_limit, plain_number, read_number
from rickyard.folder.tables.columns import Column
from rickyard.folder.tables.faults import CellError
from rickyard.folder.tables.limits import ColumnLimit
from rickyard.folder.tables.words import refuse_formula, refuse_spreadsheet_error
from rickyard.quantities import CANONICAL, UNITS

#: What laboratories print where there is no number.
NOT_NUMBERS: Final = ("ND", "BDL", "trace", "N/A", "N.D.", "NA", "not detected", "TNTC")

_CENSORED: Final = re.compile(r"([<>])\s*=?\s*(.+)")


@dataclass(frozen=True, slots=True)
class AnalyteSpec:
    """An analyte a report may carry.

    ``units`` are those its header may end in, none for an index. ``bases`` are ``dm``, ``ar``
    or the part it is a share of. ``limit`` is in the canonical unit of each dimension.
    """

    name: str
    means: str
    units: tuple[str, ...]
    bases: tuple[str, ...]
    limit: ColumnLimit

    @property
    def part(self) -> str:
        """Return the part that the value is a share of, or an empty string."""
        return next((basis for basis in self.bases if basis not in ("dm", "ar")), "")


@dataclass(frozen=True, slots=True)
class AnalyteHeader:
    """What one column of ``reports.csv`` holds: a value, or the method of a value."""

    spec: AnalyteSpec
    unit: str = ""
    basis: Basis = Basis.NONE
    is_method: bool = False


_OF_DM: Final = ("dm", "ar")


def _analytes() -> Iterator[AnalyteSpec]:
    text = files("rickyard.folder").joinpath("data", "analytes.csv").read_text("utf-8")
    for row in csv.DictReader(text.splitlines()):
        units, bases = tuple(row["units"].split()), tuple(row["bases"].split())
        limit = getattr(limits, row["limit"])
        yield AnalyteSpec(row["name"], row["means"], units, bases, limit)


#: Every analyte, in the order in which a report keeps them.
ANALYTES: Final = tuple(_analytes())

ORDER: Final = {spec.name: place for place, spec in enumerate(ANALYTES)}


def header_of(name: str, unit: str, basis: Basis) -> str | None:
    """Return the header of a value, or ``None`` if no column can hold it.

    Parameters
    ----------
    name, unit : str
        The analyte and its unit, in the words of the farm folder.
    basis : Basis
        What the value is a share of.

    Returns
    -------
    str or None
        The header of its column in ``reports.csv``.

    Examples
    --------
    >>> header_of("cp", "pct", Basis.DRY_MATTER)
    'cp_pct_dm'
    >>> header_of("ndfd48", "pct", Basis.NONE)
    'ndfd48_pct_ndf'
    """
    return _HEADER_OF.get((name, unit, basis))


def method_header(name: str) -> str:
    """Return the header of the method of one analyte.

    ``tdn_method`` says how TDN was computed, so the analysis behind it has another header.

    Parameters
    ----------
    name : str
        The key of an analyte.

    Returns
    -------
    str
        The heading of the column that names its method.
    """
    return "tdn_value_method" if name == "tdn" else f"{name}_method"


def _headers_of(spec: AnalyteSpec) -> dict[str, AnalyteHeader]:
    headers = {method_header(spec.name): AnalyteHeader(spec, is_method=True)}
    if not spec.units:
        headers[spec.name] = AnalyteHeader(spec)
    for unit in spec.units:
        for basis in spec.bases:
            kind = Basis(basis) if basis in _OF_DM else Basis.NONE
            headers[f"{spec.name}_{unit}_{basis}"] = AnalyteHeader(spec, unit, kind)
    return headers


#: What each header of ``reports.csv`` beyond the plain columns holds.
HEADERS: Final[dict[str, AnalyteHeader]] = {
    header: held for spec in ANALYTES for header, held in _headers_of(spec).items()
}

_HEADER_OF: Final = {
    (held.spec.name, held.unit, held.basis): header
    for header, held in HEADERS.items()
    if not held.is_method
}


def parse_analyte(held: AnalyteHeader, text: str, method: str) -> Analyte:
    """Read a filled cell under an analyte's header.

    Raises ``CellError`` if it is neither a number nor what laboratories print in place of one.

    Parameters
    ----------
    held : AnalyteHeader
        What the column holds.
    text : str
        The cell, not blank.
    method : str
        The method that counts for it.

    Returns
    -------
    Analyte
        The value in the unit and on the basis it was printed in, with the text.

    Examples
    --------
    >>> value = parse_analyte(HEADERS["nitrate_no3n_ppm_dm"], "<50", "")
    >>> value.value, value.censored, value.text
    (50.0, '<', '<50')
    """
    text = text.strip()
    spec = held.spec
    refuse_spreadsheet_error(text)
    refuse_formula(text)
    if text.casefold() in {word.casefold() for word in NOT_NUMBERS}:
        return Analyte(spec.name, None, held.unit, held.basis, method, text)
    match = _CENSORED.fullmatch(text)
    censored, figures = (match[1], match[2]) if match else ("", text)
    number, unit = _read(held, figures, text)
    _check(held, number, unit, text)
    return Analyte(spec.name, number, unit, held.basis, method, text, censored)


def _read(held: AnalyteHeader, figures: str, text: str) -> tuple[float, str]:
    """Return the number and its unit; a cell may name any unit the analyte is printed in."""
    wrong: CellError | None = None
    units = {UNITS[unit].dimension: unit for unit in (*held.spec.units, held.unit) if unit}
    for dimension in units or {"": ""}:
        column = _as_column(held, dimension)
        try:
            number, unit = read_number(column, held.unit, figures)
        except CellError as error:
            wrong = wrong or error
            continue
        if unit in held.spec.units or unit == held.unit:
            return number, unit
    problem = wrong.problem if wrong else f'"{text}" has a unit not used for {held.spec.name}.'
    words = ", ".join(NOT_NUMBERS[:4])
    raise CellError(
        problem,
        (wrong.suggestion if wrong and "Did you mean" in wrong.suggestion else "")
        or f"Write the number as printed; {words} and limits like <0.05 are read too.",
        "a number as the laboratory printed it",
    )


def _as_column(held: AnalyteHeader, dimension: str) -> Column:
    return Column(
        held.spec.name,
        held.spec.name,
        "quantity" if dimension else "number",
        held.spec.means,
        dimension=dimension,
        field_unit=CANONICAL[dimension].name if dimension else "",
    )


def _check(held: AnalyteHeader, number: float, unit: str, text: str) -> None:
    dimension = UNITS[unit].dimension if unit else ""
    limit = held.spec.limit
    if dimension == "ppm":
        # A limit of detection may be as low as it likes.
        found = held.spec.name.startswith("nitrate") and not text.startswith("<")
        limit = limits.NITRATE_PPM if found else limits.REPORT_PPM
    value = UNITS[unit].to_canonical(number) if unit else number
    check_limit(_as_column(held, dimension), limit, value, number, unit, text)


def format_analyte(analyte: Analyte) -> str:
    """Return the cell of a value: its text as printed, or the number where there is none.

    Parameters
    ----------
    analyte : Analyte
        A value with the text that was printed.

    Returns
    -------
    str
        What stands in its cell.
    """
    if analyte.text.strip():
        return analyte.text.strip()
    if analyte.value is None:
        return "N/A"
    return f"{analyte.censored}{plain_number(analyte.value)}"
