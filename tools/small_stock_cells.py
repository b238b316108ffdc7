"""Every printed table cell for small stock and horses, with what the program computes beside it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final, cast

from rickyard.quantities import KG_PER_LB, MJ_PER_MCAL
from rickyard.stock.common.energy_units import ME_PER_DE, SHEEP_1985_DE_PER_TDN, tdn_from_me_kg
from rickyard.stock.common.series import RuminantNeed
from rickyard.stock.common.tables import Row, read_rows
from rickyard.stock.dairy.dairy import dairy_1989, dry_cow_2001, heifer_2001
from rickyard.stock.goats import goat
from rickyard.stock.horses import horse_1989
from rickyard.stock.horses.horse import Work, horse_work, mare_in_milk, mare_milk_kg, mare_pregnant
from rickyard.stock.horses.horse import stallion as stallion_need
from rickyard.stock.horses.horse_growth import horse_gain_at_kg, horse_weight_at_kg, young_horse
from rickyard.stock.sheep import hay_rates, printed_cells
from rickyard.stock.sheep.sheep import sheep_1985
from rickyard.stock.sheep.sheep_energy import (
    litter_birth_weight_kg,
    me_maintenance_mj,
    me_milk_mj,
    me_pregnancy_mj,
    me_total_mj,
)
from rickyard.stock.sheep.sheep_protein import ewe_row_cp_g

HORSE_KG: Final = 500.0
_G_PER_KG: Final = 1000.0


@dataclass(frozen=True, slots=True)
class Cell:
    """A printed cell: its row and column in words, the text printed, and the value computed."""

    row: str
    column: str
    printed: str
    computed: float
    evidence: str

    @property
    def difference(self) -> float:
        """Return computed less printed."""
        return self.computed - float(self.printed)

    @property
    def half_figure(self) -> float:
        """Return half of the last figure printed."""
        _, _, decimals = self.printed.partition(".")
        return 0.5 * float(10 ** -len(decimals))


@dataclass(frozen=True, slots=True)
class CellTable:
    """A published table: title, source, route of the program, cells in reading order."""

    title: str
    source: str
    route: str
    cells: tuple[Cell, ...]


def table_cells(
    name: str,
    label: Callable[[Row], str],
    columns: Mapping[str, str],
    compute: Callable[[Row], Mapping[str, Any]],
    wanted: Callable[[Row], bool] = lambda row: True,
) -> tuple[Cell, ...]:
    """Return the cells of a table of the package: ``columns`` maps its columns to headings.

    Examples
    --------
    >>> cells = table_cells(
    ...     "hay_rates", lambda row: row["class"], {"low_pct_bw": "low"}, lambda row: row
    ... )
    >>> cells[0].row, cells[0].printed
    ('ewe_maintenance', '1.5')
    """

    def of(row: Row) -> Iterator[Cell]:
        values = compute(row)
        for column, heading in columns.items():
            if column in values and row.get(column):
                computed = float(values[column])
                yield Cell(label(row), heading, row[column], computed, row["evidence"])

    return tuple(cell for row in read_rows(name) if wanted(row) for cell in of(row))


_SHEEP_COLUMNS: Final = {
    "dm_kg": "DM kg", "tdn_kg": "TDN kg", "de_mcal": "DE Mcal", "me_mcal": "ME Mcal",
    "cp_g": "CP g", "ca_g": "Ca g", "p_g": "P g", "vitamin_a_iu": "A IU", "vitamin_e_iu": "E IU",
}  # fmt: skip


def _sheep_label(row: Row) -> str:
    return f"{row['class']} {row['bw_kg']} kg"


def _fields(need: object, names: Mapping[str, str]) -> dict[str, Any]:
    return {name: getattr(need, name) for name in names if hasattr(need, name)}


def _sheep(row: Row) -> Mapping[str, Any]:
    return _fields(sheep_1985(row["class"], float(row["bw_kg"])), _SHEEP_COLUMNS)


# Vitamin A per kg of weight and vitamin E per kg of dry matter, derived from the table itself.
_VITAMIN_A: Final = {"maintenance": 47.0, "single": 85.0, "twin": 100.0}
_VITAMIN_E_PER_DM: Final = 15.0
_VITAMIN_E_PER_DM_LIGHT: Final = 20.0
_LIGHT_KG: Final = 20.0


def _sheep_by_equation(row: Row) -> Mapping[str, Any]:
    sheep_class, weight, dm = row["class"], float(row["bw_kg"]), float(row["dm_kg"])
    tdn = float(row["tdn_kg"])
    stage = "maintenance"
    if "late_gest" in sheep_class or sheep_class.endswith("lact_single"):
        stage = "single"
    elif sheep_class.endswith("lact_twin"):
        stage = "twin"
    light = weight <= _LIGHT_KG
    per_dm = _VITAMIN_E_PER_DM_LIGHT if light else _VITAMIN_E_PER_DM
    values: dict[str, Any] = {
        "dm_pct_bw": 100.0 * dm / weight,
        "de_mcal": SHEEP_1985_DE_PER_TDN * tdn,
        "me_mcal": ME_PER_DE * SHEEP_1985_DE_PER_TDN * tdn,
        "vitamin_a_iu": _VITAMIN_A[stage] * weight,
        "vitamin_e_iu": per_dm * dm,
    }
    if sheep_class.startswith("ewe_"):
        gain = float(row["adg_g"]) / _G_PER_KG
        values["cp_g"] = ewe_row_cp_g(sheep_class, dm, weight, gain)
    return values


def _ewe_2023(row: Row) -> Mapping[str, Any]:
    """Return a 150-lb ewe with twins by factors: milk of the mid lactation, 1.2 kg."""
    weight = float(row["bw_lb"]) * KG_PER_LB
    mcal_per_kg = 1.91 if row["stage"] == "maintenance" else 2.39  # NRC 2007, from memory
    diet = mcal_per_kg * MJ_PER_MCAL
    parts = [me_maintenance_mj(weight, diet)]
    if row["stage"] == "late_gestation":
        parts.append(me_pregnancy_mj(133.0, litter_birth_weight_kg(2)))
    if row["stage"] == "lactation":
        parts.append(me_milk_mj(1.2, diet))
    energy = float(me_total_mj(*parts)) / MJ_PER_MCAL
    tdn_lb = float(tdn_from_me_kg(energy)) / KG_PER_LB
    return {"dm_lb": energy / mcal_per_kg / KG_PER_LB, "tdn_lb": tdn_lb}


def sheep_tables() -> tuple[CellTable, ...]:
    """Return the tables of sheep.

    Examples
    --------
    >>> [len(table.cells) for table in sheep_tables()]
    [702, 425, 8, 5]
    """
    edition = "NRC 1985, Nutrient Requirements of Sheep, Table 1"
    by_equation = {"dm_pct_bw": "DM % BW", **_SHEEP_COLUMNS}
    calcium = table_cells(
        "calcium_2007",
        lambda row: f"{row['species']} {row['stage'].replace('_', ' ')}, 70 kg, twins",
        {"ca_g": "Ca g"},
        lambda row: {"ca_g": printed_cells.calcium_2007_g(row["species"], row["stage"])},
    )
    ewe = table_cells(
        "sheep_2023_ewe",
        lambda row: f"ewe 150 lb, twins, {row['stage'].replace('_', ' ')}",
        {"dm_lb": "DM lb", "tdn_lb": "TDN lb"},
        _ewe_2023,
        lambda row: row["stage"] != "lactation",
    )
    lactation = table_cells(
        "sheep_2023_ewe",
        lambda row: "ewe 150 lb, twins, lactation (1.2 kg of milk assumed)",
        {"tdn_lb": "TDN lb"},
        _ewe_2023,
        lambda row: row["stage"] == "lactation",
    )
    return (
        CellTable(
            "Sheep by the table", edition, "table",
            table_cells("sheep_1985", _sheep_label, _SHEEP_COLUMNS, _sheep),
        ),
        CellTable(
            "The same cells by equation", edition,
            "energy from the printed TDN, vitamins from weight and dry matter, protein of mature "
            "ewes by factors",
            table_cells("sheep_1985", _sheep_label, by_equation, _sheep_by_equation),
        ),
        CellTable("Calcium by stage", printed_cells.CALCIUM_EDITION, "table", calcium),
        CellTable("One ewe of a newer edition", printed_cells.EWE_EDITION, "energy by factors",
                  ewe + lactation),
    )  # fmt: skip


_GOAT_COLUMNS: Final = {
    "dm_at_2_0_kg": "DM kg (2.0)", "dm_at_2_4_kg": "DM kg (2.4)", "tdn_g": "TDN g",
    "de_mcal": "DE Mcal", "me_mcal": "ME Mcal", "cp_g": "TP g", "dp_g": "DP g", "ca_g": "Ca g",
    "p_g": "P g", "vitamin_a_1000iu": "A 1000 IU", "vitamin_a_iu": "A IU", "vitamin_d_iu": "D IU",
}  # fmt: skip


def _goat_values(need: RuminantNeed) -> dict[str, Any]:
    return {
        **_fields(need, _GOAT_COLUMNS),
        "dm_at_2_0_kg": need.me_mcal / 2.0,
        "dm_at_2_4_kg": need.me_mcal / 2.4,
        "tdn_g": _G_PER_KG * need.tdn_kg,
        "dp_g": goat.goat_protein_g(need.me_mcal, digestible=True),
        "vitamin_a_1000iu": (need.vitamin_a_iu or 0.0) / 1000.0,
    }


def _goat_addition(row: Row) -> Mapping[str, Any]:
    """Return what an addition adds to a 50 kg goat."""
    gain = 0.0 if row["addition"] == "late_pregnancy" else float(row["addition"].split("_")[1])
    with_it = goat.goat_1981(50.0, late_pregnancy=gain == 0.0, gain_g=gain)
    more, kept = _goat_values(with_it), _goat_values(goat.goat_1981(50.0))
    return {name: more[name] - kept[name] for name in more if name in kept and name != "dp_g"}


def _goat_milk(row: Row) -> Mapping[str, Any]:
    more = _goat_values(goat.goat_1981(50.0, milk_kg=1.0, fat_pct=float(row["fat_pct"])))
    kept = _goat_values(goat.goat_1981(50.0))
    return {name: more[name] - kept[name] for name in more if name != "dp_g"}


def _goat_mohair(row: Row) -> Mapping[str, Any]:
    fleece = float(row["fleece_kg_per_year"])
    more = _goat_values(goat.goat_1981(50.0, fleece_kg_per_year=fleece))
    kept = _goat_values(goat.goat_1981(50.0))
    return {name: more[name] - kept[name] for name in ("tdn_g", "cp_g")}


def goat_tables() -> tuple[CellTable, ...]:
    """Return the tables of goats.

    Examples
    --------
    >>> [table.title for table in goat_tables()][0]
    'Goats, maintenance'
    """
    edition = "NRC 1981, Nutrient Requirements of Goats, No. 15"
    return (
        CellTable(
            "Goats, maintenance", edition, "equation; minerals and vitamins by the table",
            table_cells(
                "goat_1981_maintenance", lambda row: f"{row['bw_kg']} kg", _GOAT_COLUMNS,
                lambda row: _goat_values(goat.goat_1981(float(row["bw_kg"]))),
            ),
        ),
        CellTable(
            "Goats, additions", edition, "equation; minerals and vitamins by the table",
            table_cells("goat_1981_additions", lambda row: row["addition"].replace("_", " "),
                   _GOAT_COLUMNS, _goat_addition),
        ),
        CellTable(
            "Goats, each kg of milk", edition, "equation; protein, minerals, vitamins by the table",
            table_cells("goat_1981_milk", lambda row: f"{row['fat_pct']} % fat", _GOAT_COLUMNS,
                   _goat_milk),
        ),
        CellTable(
            "Goats, mohair", edition, "mean of the table per kg of fleece",
            table_cells("goat_1981_mohair", lambda row: f"{row['fleece_kg_per_year']} kg a year",
                   _GOAT_COLUMNS, _goat_mohair),
        ),
    )  # fmt: skip


_HORSE_COLUMNS: Final = {
    "milk_kg": "milk kg", "bw_kg": "BW kg", "gain_kg": "gain kg", "de_mcal": "DE Mcal",
    "cp_g": "CP g", "lysine_g": "Lys g", "ca_g": "Ca g", "p_g": "P g", "mg_g": "Mg g",
    "k_g": "K g", "na_g": "Na g", "cl_g": "Cl g", "cu_mg": "Cu mg", "zn_mg": "Zn mg",
    "se_mg": "Se mg", "vitamin_a_iu": "A IU", "vitamin_d_iu": "D IU", "vitamin_e_iu": "E IU",
}  # fmt: skip

_PRINTED_FIELD: Final = {"Mcal": "_mcal", "g": "_g", "mg": "_mg", "IU": "_iu"}


def _growth(row: Row) -> Mapping[str, Any]:
    age = float(row["age_months"])
    weight, gain = horse_weight_at_kg(HORSE_KG, age), horse_gain_at_kg(HORSE_KG, age)
    need = _fields(young_horse(HORSE_KG, age), _HORSE_COLUMNS)
    return {"bw_kg": weight, "gain_kg": gain, **need}


def _milk(row: Row) -> Mapping[str, Any]:
    month = float(row["month"])
    need = _fields(mare_in_milk(HORSE_KG, month), _HORSE_COLUMNS)
    return {"milk_kg": mare_milk_kg(HORSE_KG, month), **need}


def _printed_horse(row: Row) -> Mapping[str, Any]:
    if row["class"] == "maintenance":
        need = horse_work(HORSE_KG)
    else:
        need = stallion_need(HORSE_KG, breeding=row["class"] == "stallion_breeding")
    return {"value": getattr(need, row["quantity"] + _PRINTED_FIELD[row["unit"]])}


def _horse_1989(row: Row) -> Mapping[str, Any]:
    energy = horse_1989.horse_1989_de_mcal(float(row["bw_kg"]), row["class"])
    computed = {
        "de": energy,
        "cp": horse_1989.horse_1989_cp_g(energy),
        "ca": horse_1989.horse_1989_ca_g(energy),
    }
    return {"value": computed[row["quantity"]]} if row["quantity"] in computed else {}


def horse_tables() -> tuple[CellTable, ...]:
    """Return the tables of horses, all of 500 kg.

    Examples
    --------
    >>> sum(len(table.cells) for table in horse_tables()) > 250
    True
    """
    edition = "NRC 2007, Nutrient Requirements of Horses, 6th rev. ed."
    tables = (
        ("Horses at work, 500 kg", "horse_2007_work_500kg",
         lambda row: row["work"].replace("_", " "),
         lambda row: _fields(horse_work(HORSE_KG, cast(Work, row["work"])), _HORSE_COLUMNS)),
        ("Mares in milk, 500 kg", "horse_2007_lactation_500kg",
         lambda row: f"month {row['month']}", _milk),
        ("Mares in foal, 500 kg", "horse_2007_gestation_500kg",
         lambda row: f"month {row['month']}",
         lambda row: _fields(mare_pregnant(HORSE_KG, float(row["month"])), _HORSE_COLUMNS)),
        ("Growing horses, 500 kg mature", "horse_2007_growth_500kg",
         lambda row: f"{row['age_months']} months", _growth),
    )  # fmt: skip
    route = "equation; pregnancy by factors per kg"
    made = [
        CellTable(title, edition, route, table_cells(name, label, _HORSE_COLUMNS, compute))
        for title, name, label, compute in tables
    ]
    printed = table_cells(
        "horse_2007_printed_500kg",
        lambda row: f"{row['class'].replace('_', ' ')}, {row['quantity']} ({row['unit']})",
        {"value": "value"}, _printed_horse,
    )  # fmt: skip
    older = table_cells(
        "horse_1989_printed",
        lambda row: f"{row['class']}, {row['bw_kg']} kg, {row['quantity']} ({row['unit']})",
        {"value": "value"}, _horse_1989,
    )  # fmt: skip
    made.append(CellTable("Horses, rows that reprints show", edition, "equation", printed))
    made.append(CellTable("Horses, the older edition", horse_1989.EDITION, "equation", older))
    return tuple(made)


def other_tables() -> tuple[CellTable, ...]:
    """Return the tables of dairy stock and of animal units.

    Examples
    --------
    >>> [table.title for table in other_tables()]
    ['Dairy heifers and dry cows', 'Growing dairy heifers', 'Dry cows of 680 kg', 'Animal units']
    """

    def shares(row: Row) -> Mapping[str, Any]:
        need = dairy_1989(row["class"], 1.0)
        grams = {f"{one}_pct": getattr(need, f"{one}_g") / 10.0 for one in ("cp", "ca", "p")}
        return {**grams, "tdn_pct": 100.0 * need.tdn_kg, "me_mcal_per_kg": need.me_mcal}

    def heifer(row: Row) -> Mapping[str, Any]:
        inputs = ("bw_kg", "gain_kg", "mature_kg", "diet_me_mcal_per_kg")
        return _fields(heifer_2001(*(float(row[one]) for one in inputs)), _HEIFER_COLUMNS)

    def dry_cow(row: Row) -> Mapping[str, Any]:
        return _fields(dry_cow_2001(float(row["day_pregnant"])), _DRY_COW_COLUMNS)

    def units(row: Row) -> Mapping[str, Any]:
        weight, share = float(row["bw_lb"]), float(row["intake_pct_bw"])
        found = float(hay_rates.table_animal_units(weight * KG_PER_LB, share))
        # Back in pounds a tie of the print must stay a tie.
        pounds = round(found * hay_rates.UNIT_KG_PER_YEAR / KG_PER_LB, 6)
        return {"lb_per_year": pounds, "animal_units": found}

    return (
        CellTable("Dairy heifers and dry cows", "NRC 1989, dairy", "table",
                  table_cells("dairy_1989", lambda row: row["class"], _DAIRY_COLUMNS, shares)),
        CellTable("Growing dairy heifers", "NRC 2001, dairy", "equation",
                  table_cells("dairy_2001_heifer", lambda row: f"{row['bw_kg']} kg",
                              _HEIFER_COLUMNS, heifer)),
        CellTable("Dry cows of 680 kg", "NRC 2001, dairy", "table",
                  table_cells("dairy_2001_dry_cow", lambda row: f"day {row['day_pregnant']}",
                         _DRY_COW_COLUMNS, dry_cow)),
        CellTable("Animal units", "Animal Unit Equivalent Chart - Texas", "equation",
                  table_cells("animal_units", lambda row: f"{row['kind']} {row['bw_lb']} lb",
                         {"lb_per_year": "lb a year", "animal_units": "units"}, units)),
    )  # fmt: skip


_DAIRY_COLUMNS: Final = {
    "cp_pct": "CP %", "tdn_pct": "TDN %", "me_mcal_per_kg": "ME Mcal/kg", "ca_pct": "Ca %",
    "p_pct": "P %",
}  # fmt: skip
_DRY_COW_COLUMNS: Final = {
    "dm_kg": "DM kg", "nel_mcal": "NEL Mcal", "mp_g": "MP g", "cp_pct": "CP %", "ca_pct": "Ca %",
    "p_pct": "P %",
}  # fmt: skip
_HEIFER_COLUMNS: Final = {"dm_kg": "DM kg", "me_mcal": "ME Mcal", "mp_g": "MP g"}


def all_tables() -> tuple[CellTable, ...]:
    """Return the tables of needs, in the order of the page.

    Examples
    --------
    >>> sum(len(table.cells) for table in all_tables()) > 1600
    True
    """
    return (*sheep_tables(), *goat_tables(), *horse_tables(), *other_tables())
