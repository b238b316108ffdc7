"""The analytes of a laboratory report: their headers, units and cells in ``reports.csv``.

A header is ``<analyte>_<unit>_<basis>``: ``cp_pct_dm`` on dry matter, ``cp_pct_ar`` as
received. An index has neither unit nor basis: ``rfv``. A share of another part names that
part: ``ndfd48_pct_ndf``. A value keeps the unit, the basis and the text of the laboratory.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Analyte, Basis
from rickyard.folder.tables.cells import check_limit, plain_number, read_number
from rickyard.folder.tables.columns import Column
from rickyard.folder.tables.faults import CellError
from rickyard.folder.tables.limits import BY_DEFINITION, ColumnLimit
from rickyard.folder.tables.words import refuse_formula, refuse_spreadsheet_error
from rickyard.quantities import UNITS

#: What laboratories print where there is no number.
NOT_NUMBERS: Final = ("ND", "BDL", "trace", "N/A", "N.D.", "NA", "not detected", "TNTC")

_CENSORED: Final = re.compile(r"([<>])\s*=?\s*(.+)")
_ENERGY_UNITS: Final = ("mcal_per_lb", "mcal_per_kg", "mj_per_kg")


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


_FRACTION: Final = "Write the percentage that the laboratory printed."
_SHARE: Final = ColumnLimit(0.0, 100.0, BY_DEFINITION, usual=(0.0, 100.0), advice=_FRACTION)
_NEVER_UNDER_1: Final = ColumnLimit(
    0.0, 100.0, COMMON_PRACTICE, usual=(1.0, 100.0), advice=_FRACTION, fraction_trap=True
)
_DRY: Final = ColumnLimit(
    5.0,
    100.0,
    COMMON_PRACTICE,
    usual=(20.0, 100.0),
    too_low="too wet for any forage",
    advice=_FRACTION,
    fraction_trap=True,
)
_WATER: Final = ColumnLimit(0.0, 95.0, COMMON_PRACTICE, usual=(5.0, 80.0), advice=_FRACTION)
_PPM: Final = ColumnLimit(0.0, 1_000_000.0, BY_DEFINITION)
# Wide enough for any forage in Mcal/kg: hay has 0.8-1.75 NEm, and NEg may fall a little
# below zero in straw.
_NE: Final = ColumnLimit(0.1, 3.5, COMMON_PRACTICE, usual=(0.5, 2.5), advice="Check the unit.")
_NEVER_OVER_6: Final = ColumnLimit(
    0.1, 6.0, COMMON_PRACTICE, usual=(1.0, 4.5), advice="Check the unit."
)
_NEG: Final = ColumnLimit(-0.2, 3.0, COMMON_PRACTICE, usual=(0.05, 1.8), advice="Check the unit.")
_INDEX: Final = ColumnLimit(20.0, 500.0, COMMON_PRACTICE, usual=(40.0, 350.0), advice="An index.")
_PH: Final = ColumnLimit(2.5, 10.0, COMMON_PRACTICE, usual=(3.5, 9.0))

_COUNT: Final = ColumnLimit(0.0, 1e12, COMMON_PRACTICE)

_OF_DM: Final = ("dm", "ar")
_PCT: Final = ("pct", "g_per_kg")
_MAJOR: Final = ("pct", "g_per_kg", "ppm")
_TRACE: Final = ("ppm", "pct")


def _share(name: str, means: str, limit: ColumnLimit = _SHARE) -> AnalyteSpec:
    return AnalyteSpec(name, means, _PCT, _OF_DM, limit)


def _share_or_part(name: str, means: str, part: str) -> AnalyteSpec:
    return AnalyteSpec(name, means, _PCT, (*_OF_DM, part), _SHARE)


def _mineral(name: str, means: str, units: tuple[str, ...]) -> AnalyteSpec:
    return AnalyteSpec(name, means, units, _OF_DM, _SHARE)


def _only_part(name: str, means: str, part: str) -> AnalyteSpec:
    return AnalyteSpec(name, means, ("pct",), (part,), _SHARE)


def _toxin(name: str, means: str) -> AnalyteSpec:
    return AnalyteSpec(name, means, ("ppb", "ppm"), _OF_DM, _PPM)


def _colonies(name: str, means: str) -> AnalyteSpec:
    return AnalyteSpec(name, means, ("cfu_per_g",), ("ar",), _COUNT)


def _energy(name: str, means: str, limit: ColumnLimit) -> AnalyteSpec:
    return AnalyteSpec(name, means, _ENERGY_UNITS, _OF_DM, limit)


#: Every analyte, in the order in which a report keeps them.
ANALYTES: Final = (
    AnalyteSpec("dm", "dry matter", ("pct",), ("ar",), _DRY),
    AnalyteSpec("moisture", "moisture", ("pct",), ("ar",), _WATER),
    _share("cp", "crude protein", _NEVER_UNDER_1),
    _share_or_part("adicp", "crude protein bound in acid detergent fiber", "cp"),
    _share_or_part("ndicp", "crude protein bound in neutral detergent fiber", "cp"),
    _share_or_part("soluble_cp", "soluble crude protein", "cp"),
    _share("adf", "acid detergent fiber", _NEVER_UNDER_1),
    _share("ndf", "neutral detergent fiber", _NEVER_UNDER_1),
    _share_or_part("lignin", "lignin", "ndf"),
    _share("ee", "ether extract, crude fat"),
    _share("ash", "ash"),
    _share("starch", "starch"),
    _share("wsc", "water-soluble carbohydrate"),
    _share("esc", "ethanol-soluble carbohydrate"),
    _share("nfc", "non-fiber carbohydrate"),
    AnalyteSpec("ndfd48", "fiber digested in 48 hours", ("pct",), ("ndf",), _SHARE),
    AnalyteSpec("tdn", "total digestible nutrients", ("pct",), _OF_DM, _NEVER_UNDER_1),
    _energy("nem", "net energy for maintenance", _NE),
    _energy("neg", "net energy for gain", _NEG),
    _energy("nel", "net energy for lactation", _NE),
    AnalyteSpec("rfv", "relative feed value", (), (), _INDEX),
    AnalyteSpec("rfq", "relative forage quality", (), (), _INDEX),
    _mineral("ca", "calcium", _MAJOR),
    _mineral("p", "phosphorus", _MAJOR),
    _mineral("mg", "magnesium", _MAJOR),
    _mineral("k", "potassium", _MAJOR),
    _mineral("s", "sulfur", _MAJOR),
    _mineral("na", "sodium", _MAJOR),
    _mineral("cl", "chloride", _MAJOR),
    _mineral("fe", "iron", _TRACE),
    _mineral("mn", "manganese", _TRACE),
    _mineral("zn", "zinc", _TRACE),
    _mineral("cu", "copper", _TRACE),
    _mineral("mo", "molybdenum", _TRACE),
    _mineral("co", "cobalt", _TRACE),
    _mineral("se", "selenium", _TRACE),
    _mineral("nitrate_no3n", "nitrate, given as nitrate nitrogen", _TRACE),
    _mineral("nitrate_no3", "nitrate, given as the nitrate ion", _TRACE),
    _mineral("nitrate_kno3", "nitrate, given as potassium nitrate", _TRACE),
    _mineral("nitrate", "nitrate, its form not stated", _TRACE),
    AnalyteSpec("ph", "acidity", (), (), _PH),
    AnalyteSpec("hcn", "prussic acid", ("ppm",), _OF_DM, _PPM),
    _share("n", "nitrogen"),
    _share_or_part("adin", "nitrogen in acid detergent fiber", "n"),
    _share_or_part("ndin", "nitrogen in neutral detergent fiber", "n"),
    _only_part("rdp", "rumen-degradable protein", "cp"),
    _only_part("rup", "rumen-undegradable protein", "cp"),
    _share("ndfom", "neutral detergent fiber free of ash"),
    _only_part("ndfd24", "fiber digested in 24 hours", "ndf"),
    _only_part("ndfd30", "fiber digested in 30 hours", "ndf"),
    _only_part("ndfd240", "fiber digested in 240 hours", "ndf"),
    _share_or_part("undf240", "fiber undigested after 240 hours", "ndf"),
    _share("tfa", "total fatty acids"),
    _share("nsc", "non-structural carbohydrate: starch and WSC"),
    _energy("de", "digestible energy", _NEVER_OVER_6),
    _energy("me", "metabolizable energy", _NEVER_OVER_6),
    _share("lactic", "lactic acid"),
    _share("acetic", "acetic acid"),
    _share("propionic", "propionic acid"),
    _share("butyric", "butyric acid"),
    _share("ethanol", "ethanol"),
    _share_or_part("ammonia", "ammonia as crude protein", "cp"),
    _colonies("mold", "mold colonies"),
    _colonies("yeast", "yeast colonies"),
    _toxin("ergovaline", "ergovaline of endophyte-infected fescue"),
    _toxin("lolitrem_b", "lolitrem B of endophyte-infected ryegrass"),
    _toxin("aflatoxin", "aflatoxin"),
    _toxin("fumonisin", "fumonisin"),
    _toxin("don", "deoxynivalenol, vomitoxin"),
    _toxin("zearalenone", "zearalenone"),
    _toxin("ochratoxin", "ochratoxin A"),
    _toxin("t2", "T-2 toxin"),
)

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

    Raises
    ------
    CellError
        If it is neither a number nor what laboratories print in place of one.

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
    canonical = {
        "percent": "pct",
        "ppm": "ppm",
        "energy_density": "mcal_per_kg",
        "count": "cfu_per_g",
    }
    return Column(
        held.spec.name,
        held.spec.name,
        "quantity" if dimension else "number",
        held.spec.means,
        dimension=dimension,
        field_unit=canonical.get(dimension, ""),
    )


def _check(held: AnalyteHeader, number: float, unit: str, text: str) -> None:
    dimension = UNITS[unit].dimension if unit else ""
    limit = _PPM if dimension == "ppm" else held.spec.limit
    value = UNITS[unit].to_canonical(number) if unit else number
    check_limit(_as_column(held, dimension), limit, value, number, unit, text)


def format_analyte(analyte: Analyte) -> str:
    """Return the cell of a value: its text as printed, or the number where there is none."""
    if analyte.text.strip():
        return analyte.text.strip()
    if analyte.value is None:
        return "N/A"
    return f"{analyte.censored}{plain_number(analyte.value)}"
