"""Rickyard: know each lot of hay, and feed it to the stock it suits at the least cost.

Everything a program of yours needs is offered here by name; ``dir(rickyard)`` lists it. Names
are loaded when they are first used, so that the import itself costs nothing.

>>> import rickyard
>>> round(rickyard.relative_feed_value(41.0, 53.0))
100
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

from rickyard.version import __version__

if TYPE_CHECKING:
    # fmt: off
    from rickyard.farm import (
        Analyte, AnimalClass, Assumption, Basis, BeefBreed, Caution, Coat, ColdRule, Farm, FedRow,
        Feed, FeedKind, Feeder, Forage, Group, Hide, LabPackage, Lot, Maturity, MoveKind, MoveRow,
        Mud, Package, Report, Season, Sex, StackRow, StatedNeed, Storage, WeatherRow, WindChill,
        Winter, WishRow, Work, Wrap,
    )
    from rickyard.folder import FolderFaults, read_folder, read_wishes, write_folder
    from rickyard.forage.energy import (
        de_from_tdn, digestible_dry_matter_pct, dry_matter_intake_pct_bw, me_from_tdn, neg_from_me,
        neg_from_tdn, nel_from_tdn, nem_from_me, nem_from_tdn, relative_feed_value,
        relative_forage_quality_grass, relative_forage_quality_legume, tdn_midwest,
        usda_alfalfa_grade, usda_grass_grade,
    )
    from rickyard.forage.hazards import hay_temperature_action, lot_hazards
    from rickyard.forage.plausibility import LotProfile, lot_profile
    from rickyard.forage.reading import LotReading, read_lot
    from rickyard.forage.values import (
        adjusted_cp_pct, as_received_to_dm, dcad_meq_per_kg, dm_to_basis, nitrate_class_clemson,
        no3n_from_kno3, no3n_from_no3, tetany_ratio,
    )
    from rickyard.hay.bales import bale_weight_kg
    from rickyard.hay.feeding import feeding_loss_pct
    from rickyard.hay.money import hay_price, petersen_value
    from rickyard.hay.precision import composite_se, samples_required
    from rickyard.hay.sampling import Options as SamplingOptions, SamplePlan
    from rickyard.hay.storage import storage_loss_pct
    from rickyard.hay.yard import YardPage
    from rickyard.calls import (
        NotSound, compare, demo_farm, needs, plan, readings, sampling_plan, table, to_pandas,
        what_if, with_season, yard_page,
    )
    from rickyard.program.audit import recheck
    from rickyard.program.compare import Comparison
    from rickyard.program.inputs import NeedTable
    from rickyard.program.planning import (
        Bought, Cash, Condition, HeadCount, Intake, LotLoss, Price, SalePrice, SeasonEnd,
        WhatIfAnswer, WinterIs,
    )
    from rickyard.program.result import PlanOptions, SeasonProgram, Wish
    from rickyard.program.solver import SolveError
    from rickyard.program.winters import plan_winters
    from rickyard.quantities import OutOfRange
    from rickyard.sheets.data_files import plan_json, read_plan
    from rickyard.sheets.paper import season_pdf, week_list, week_pdf
    from rickyard.stock.cold import effective_temperature_c, lower_critical_temperature_c
    from rickyard.stock.common import NeedSeries
    from rickyard.stock.equations import (
        appetite_kg, milk_kg, nem_lactation_mcal, nem_maintenance_mcal, nem_pregnancy_mcal,
    )
    from rickyard.stock.herd import group_needs
    from rickyard.tables import Table
    # fmt: on

#: Where each name comes from. A test holds this list and the ones around it together.
_ROOMS: Final = {
    "rickyard.farm": (
        "Analyte AnimalClass Assumption Basis BeefBreed Caution Coat ColdRule Farm FedRow Feed "
        "FeedKind Feeder Forage Group Hide LabPackage Lot Maturity MoveKind MoveRow Mud Package "
        "Report Season Sex StackRow StatedNeed Storage WeatherRow WindChill Winter WishRow Work "
        "Wrap"
    ),
    "rickyard.folder": "FolderFaults read_folder read_wishes write_folder",
    "rickyard.forage.energy": (
        "de_from_tdn digestible_dry_matter_pct dry_matter_intake_pct_bw me_from_tdn neg_from_me "
        "neg_from_tdn nel_from_tdn nem_from_me nem_from_tdn relative_feed_value "
        "relative_forage_quality_grass relative_forage_quality_legume tdn_midwest "
        "usda_alfalfa_grade usda_grass_grade"
    ),
    "rickyard.forage.hazards": "hay_temperature_action lot_hazards",
    "rickyard.forage.plausibility": "LotProfile lot_profile",
    "rickyard.forage.reading": "LotReading read_lot",
    "rickyard.forage.values": (
        "adjusted_cp_pct as_received_to_dm dcad_meq_per_kg dm_to_basis nitrate_class_clemson "
        "no3n_from_kno3 no3n_from_no3 tetany_ratio"
    ),
    "rickyard.hay.bales": "bale_weight_kg",
    "rickyard.hay.feeding": "feeding_loss_pct",
    "rickyard.hay.money": "hay_price petersen_value",
    "rickyard.hay.precision": "composite_se samples_required",
    "rickyard.hay.sampling": "SamplePlan",
    "rickyard.hay.storage": "storage_loss_pct",
    "rickyard.hay.yard": "YardPage",
    "rickyard.calls": (
        "NotSound compare demo_farm needs plan readings sampling_plan table to_pandas what_if "
        "with_season yard_page"
    ),
    "rickyard.program.audit": "recheck",
    "rickyard.program.compare": "Comparison",
    "rickyard.program.inputs": "NeedTable",
    "rickyard.program.planning": (
        "Bought Cash Condition HeadCount Intake LotLoss Price SalePrice SeasonEnd WhatIfAnswer "
        "WinterIs"
    ),
    "rickyard.program.result": "PlanOptions SeasonProgram Wish",
    "rickyard.program.solver": "SolveError",
    "rickyard.program.winters": "plan_winters",
    "rickyard.quantities": "OutOfRange",
    "rickyard.sheets.data_files": "plan_json read_plan",
    "rickyard.sheets.paper": "season_pdf week_list week_pdf",
    "rickyard.stock.cold": "effective_temperature_c lower_critical_temperature_c",
    "rickyard.stock.common": "NeedSeries",
    "rickyard.stock.equations": (
        "appetite_kg milk_kg nem_lactation_mcal nem_maintenance_mcal nem_pregnancy_mcal"
    ),
    "rickyard.stock.herd": "group_needs",
    "rickyard.tables": "Table",
}

#: Names that are called otherwise in their room.
_RENAMED: Final = {"SamplingOptions": ("rickyard.hay.sampling", "Options")}

_PLACES: Final = {
    **{name: (room, name) for room, names in _ROOMS.items() for name in names.split()},
    **_RENAMED,
}

# fmt: off
__all__ = [
    "Analyte", "AnimalClass", "Assumption", "Basis", "BeefBreed", "Bought", "Cash", "Caution",
    "Coat", "ColdRule", "Comparison", "Condition", "Farm", "FedRow", "Feed", "FeedKind", "Feeder",
    "FolderFaults", "Forage", "Group", "HeadCount", "Hide", "Intake", "LabPackage", "Lot",
    "LotLoss", "LotProfile", "LotReading", "Maturity", "MoveKind", "MoveRow", "Mud", "NeedSeries",
    "NeedTable", "NotSound", "OutOfRange", "Package", "PlanOptions", "Price", "Report", "SalePrice",
    "SamplePlan", "SamplingOptions", "Season", "SeasonEnd", "SeasonProgram", "Sex", "SolveError",
    "StackRow", "StatedNeed", "Storage", "Table", "WeatherRow", "WhatIfAnswer", "WindChill",
    "Winter", "WinterIs", "Wish", "WishRow", "Work", "Wrap", "YardPage", "__version__",
    "adjusted_cp_pct", "appetite_kg", "as_received_to_dm", "bale_weight_kg", "compare",
    "composite_se", "dcad_meq_per_kg", "de_from_tdn", "demo_farm", "digestible_dry_matter_pct",
    "dm_to_basis", "dry_matter_intake_pct_bw", "effective_temperature_c", "feeding_loss_pct",
    "group_needs", "hay_price", "hay_temperature_action", "lot_hazards", "lot_profile",
    "lower_critical_temperature_c", "me_from_tdn", "milk_kg", "needs", "neg_from_me",
    "neg_from_tdn", "nel_from_tdn", "nem_from_me", "nem_from_tdn", "nem_lactation_mcal",
    "nem_maintenance_mcal", "nem_pregnancy_mcal", "nitrate_class_clemson", "no3n_from_kno3",
    "no3n_from_no3", "petersen_value", "plan", "plan_json", "plan_winters", "read_folder",
    "read_lot", "read_plan", "read_wishes", "readings", "recheck", "relative_feed_value",
    "relative_forage_quality_grass", "relative_forage_quality_legume", "samples_required",
    "sampling_plan", "season_pdf", "storage_loss_pct", "table", "tdn_midwest", "tetany_ratio",
    "to_pandas", "usda_alfalfa_grade", "usda_grass_grade", "week_list", "week_pdf", "what_if",
    "with_season", "write_folder", "yard_page",
]
# fmt: on


def __getattr__(name: str) -> Any:
    if name not in _PLACES:
        raise AttributeError(f"module 'rickyard' has no attribute {name!r}")
    room, inner = _PLACES[name]
    value = getattr(import_module(room), inner)
    # The next look finds it at once.
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted(__all__)
