"""Printed rates per kilogram of body weight for small stock and horses, beside what is computed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from rickyard.stock.common.tables import Row
from rickyard.stock.goats.goat_2004 import me_goat_kj, me_maintenance_kj_per_kg075
from rickyard.stock.horses.horse_diet import intake_range_pct_bw
from rickyard.stock.sheep.hay_rates import hay_per_head_kg
from tools.small_stock_cells import CellTable, table_cells

_GOAT_COLUMNS: Final = {"maintenance_kj_per_kg075": "kJ/kg^0.75", "gain_kj_per_g": "kJ/g gain"}
_EATEN_COLUMNS: Final = {"total_low_pct_bw": "least % BW", "total_high_pct_bw": "most % BW"}
_HAY_COLUMNS: Final = {"low_pct_bw": "least % BW", "high_pct_bw": "most % BW"}


def rate_tables() -> tuple[CellTable, ...]:
    """Return the tables of rates per kilogram of body weight.

    Examples
    --------
    >>> [table.title for table in rate_tables()]
    ['Goats, energy by the papers of 2004', 'How much horses eat', 'Hay from weight alone']
    """
    return (
        CellTable(
            "Goats, energy by the papers of 2004",
            "Sahlu et al. 2004 and Luo et al. 2004; split of mature goats NRC 2007",
            "equation, one gram of gain at a time",
            table_cells("goat_2004_energy", _class, _GOAT_COLUMNS, _goats),
        ),
        CellTable(
            "How much horses eat",
            "Virginia Tech 406-473, Table 5, after NRC 1989",
            "table",
            table_cells("horse_intake", _class, _EATEN_COLUMNS, _eaten),
        ),
        CellTable(
            "Hay from weight alone",
            "table of sheep 1985, Alabama ANR-812, extension pages and common practice",
            "hay of a 100 kg animal, dry and without waste",
            table_cells("hay_rates", _class, _HAY_COLUMNS, _hay),
        ),
    )


def _class(row: Row) -> str:
    return row["class"].replace("_", " ")


def _goats(row: Row) -> Mapping[str, Any]:
    kind = row["class"]
    gain = me_goat_kj(kind, 1.0, gain_g=1.0) - me_goat_kj(kind, 1.0)
    return {
        "maintenance_kj_per_kg075": me_maintenance_kj_per_kg075(kind),
        "gain_kj_per_g": gain,
    }


def _eaten(row: Row) -> Mapping[str, Any]:
    return dict(zip(_EATEN_COLUMNS, intake_range_pct_bw(row["class"]), strict=True))


def _hay(row: Row) -> Mapping[str, Any]:
    return {
        "low_pct_bw": hay_per_head_kg(100.0, row["class"], 100.0, end="low"),
        "high_pct_bw": hay_per_head_kg(100.0, row["class"], 100.0, end="high"),
    }
