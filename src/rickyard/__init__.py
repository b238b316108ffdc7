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
    from rickyard.farm import (
        Analyte as Analyte,
    )
    from rickyard.farm import (
        AnimalClass as AnimalClass,
    )
    from rickyard.farm import (
        Assumption as Assumption,
    )
    from rickyard.farm import (
        Basis as Basis,
    )
    from rickyard.farm import (
        BeefBreed as BeefBreed,
    )
    from rickyard.farm import (
        Caution as Caution,
    )
    from rickyard.farm import (
        Coat as Coat,
    )
    from rickyard.farm import (
        ColdRule as ColdRule,
    )
    from rickyard.farm import (
        Farm as Farm,
    )
    from rickyard.farm import (
        FedRow as FedRow,
    )
    from rickyard.farm import (
        Feed as Feed,
    )
    from rickyard.farm import (
        Feeder as Feeder,
    )
    from rickyard.farm import (
        FeedKind as FeedKind,
    )
    from rickyard.farm import (
        Forage as Forage,
    )
    from rickyard.farm import (
        Group as Group,
    )
    from rickyard.farm import (
        Hide as Hide,
    )
    from rickyard.farm import (
        LabPackage as LabPackage,
    )
    from rickyard.farm import (
        Lot as Lot,
    )
    from rickyard.farm import (
        Maturity as Maturity,
    )
    from rickyard.farm import (
        MoveKind as MoveKind,
    )
    from rickyard.farm import (
        MoveRow as MoveRow,
    )
    from rickyard.farm import (
        Mud as Mud,
    )
    from rickyard.farm import (
        Package as Package,
    )
    from rickyard.farm import (
        Report as Report,
    )
    from rickyard.farm import (
        Season as Season,
    )
    from rickyard.farm import (
        Sex as Sex,
    )
    from rickyard.farm import (
        StatedNeed as StatedNeed,
    )
    from rickyard.farm import (
        Storage as Storage,
    )
    from rickyard.farm import (
        WeatherRow as WeatherRow,
    )
    from rickyard.farm import (
        WindChill as WindChill,
    )
    from rickyard.farm import (
        Winter as Winter,
    )
    from rickyard.farm import (
        WishRow as WishRow,
    )
    from rickyard.farm import (
        Work as Work,
    )
    from rickyard.farm import (
        Wrap as Wrap,
    )
    from rickyard.folder import (
        FolderFaults as FolderFaults,
    )
    from rickyard.folder import (
        read_folder as read_folder,
    )
    from rickyard.folder import (
        read_wishes as read_wishes,
    )
    from rickyard.folder import (
        write_folder as write_folder,
    )
    from rickyard.forage.energy import (
        de_from_tdn as de_from_tdn,
    )
    from rickyard.forage.energy import (
        digestible_dry_matter_pct as digestible_dry_matter_pct,
    )
    from rickyard.forage.energy import (
        dry_matter_intake_pct_bw as dry_matter_intake_pct_bw,
    )
    from rickyard.forage.energy import (
        me_from_tdn as me_from_tdn,
    )
    from rickyard.forage.energy import (
        neg_from_me as neg_from_me,
    )
    from rickyard.forage.energy import (
        neg_from_tdn as neg_from_tdn,
    )
    from rickyard.forage.energy import (
        nel_from_tdn as nel_from_tdn,
    )
    from rickyard.forage.energy import (
        nem_from_me as nem_from_me,
    )
    from rickyard.forage.energy import (
        nem_from_tdn as nem_from_tdn,
    )
    from rickyard.forage.energy import (
        relative_feed_value as relative_feed_value,
    )
    from rickyard.forage.energy import (
        relative_forage_quality_grass as relative_forage_quality_grass,
    )
    from rickyard.forage.energy import (
        relative_forage_quality_legume as relative_forage_quality_legume,
    )
    from rickyard.forage.energy import (
        tdn_midwest as tdn_midwest,
    )
    from rickyard.forage.energy import (
        usda_alfalfa_grade as usda_alfalfa_grade,
    )
    from rickyard.forage.energy import (
        usda_grass_grade as usda_grass_grade,
    )
    from rickyard.forage.hazards import (
        hay_temperature_action as hay_temperature_action,
    )
    from rickyard.forage.plausibility import (
        LotProfile as LotProfile,
    )
    from rickyard.forage.plausibility import (
        lot_profile as lot_profile,
    )
    from rickyard.forage.reading import (
        LotReading as LotReading,
    )
    from rickyard.forage.reading import (
        lot_hazards as lot_hazards,
    )
    from rickyard.forage.reading import (
        read_lot as read_lot,
    )
    from rickyard.forage.values import (
        adjusted_cp_pct as adjusted_cp_pct,
    )
    from rickyard.forage.values import (
        as_received_to_dm as as_received_to_dm,
    )
    from rickyard.forage.values import (
        dcad_meq_per_kg as dcad_meq_per_kg,
    )
    from rickyard.forage.values import (
        dm_to_basis as dm_to_basis,
    )
    from rickyard.forage.values import (
        nitrate_class_clemson as nitrate_class_clemson,
    )
    from rickyard.forage.values import (
        no3n_from_kno3 as no3n_from_kno3,
    )
    from rickyard.forage.values import (
        no3n_from_no3 as no3n_from_no3,
    )
    from rickyard.forage.values import (
        tetany_ratio as tetany_ratio,
    )
    from rickyard.hay.bales import (
        bale_weight_kg as bale_weight_kg,
    )
    from rickyard.hay.feeding import (
        feeding_loss_pct as feeding_loss_pct,
    )
    from rickyard.hay.money import (
        hay_price as hay_price,
    )
    from rickyard.hay.money import (
        petersen_value as petersen_value,
    )
    from rickyard.hay.precision import (
        composite_se as composite_se,
    )
    from rickyard.hay.precision import (
        samples_required as samples_required,
    )
    from rickyard.hay.sampling import Options as SamplingOptions  # noqa: F401 - see _RENAMED
    from rickyard.hay.sampling import (
        SamplePlan as SamplePlan,
    )
    from rickyard.hay.storage import (
        storage_loss_pct as storage_loss_pct,
    )
    from rickyard.hay.yard import (
        YardPage as YardPage,
    )
    from rickyard.library import (
        NotSound as NotSound,
    )
    from rickyard.library import (
        compare as compare,
    )
    from rickyard.library import (
        demo_farm as demo_farm,
    )
    from rickyard.library import (
        needs as needs,
    )
    from rickyard.library import (
        plan as plan,
    )
    from rickyard.library import (
        readings as readings,
    )
    from rickyard.library import (
        sampling_plan as sampling_plan,
    )
    from rickyard.library import (
        table as table,
    )
    from rickyard.library import (
        to_pandas as to_pandas,
    )
    from rickyard.library import (
        what_if as what_if,
    )
    from rickyard.library import (
        with_season as with_season,
    )
    from rickyard.library import (
        yard_page as yard_page,
    )
    from rickyard.program.audit import (
        recheck as recheck,
    )
    from rickyard.program.compare import (
        Comparison as Comparison,
    )
    from rickyard.program.inputs import (
        NeedTable as NeedTable,
    )
    from rickyard.program.planning import (
        HeadCount as HeadCount,
    )
    from rickyard.program.planning import (
        Intake as Intake,
    )
    from rickyard.program.planning import (
        LotLoss as LotLoss,
    )
    from rickyard.program.planning import (
        Price as Price,
    )
    from rickyard.program.planning import (
        SeasonEnd as SeasonEnd,
    )
    from rickyard.program.planning import (
        WhatIfAnswer as WhatIfAnswer,
    )
    from rickyard.program.planning import (
        WinterIs as WinterIs,
    )
    from rickyard.program.result import (
        PlanOptions as PlanOptions,
    )
    from rickyard.program.result import (
        SeasonProgram as SeasonProgram,
    )
    from rickyard.program.result import (
        Wish as Wish,
    )
    from rickyard.program.solver import (
        SolveError as SolveError,
    )
    from rickyard.program.winters import (
        plan_winters as plan_winters,
    )
    from rickyard.quantities import (
        OutOfRange as OutOfRange,
    )
    from rickyard.sheets.data_files import (
        plan_json as plan_json,
    )
    from rickyard.sheets.data_files import (
        read_plan as read_plan,
    )
    from rickyard.sheets.paper import (
        season_pdf as season_pdf,
    )
    from rickyard.sheets.paper import (
        week_list as week_list,
    )
    from rickyard.sheets.paper import (
        week_pdf as week_pdf,
    )
    from rickyard.stock.cold import (
        effective_temperature_c as effective_temperature_c,
    )
    from rickyard.stock.cold import (
        lower_critical_temperature_c as lower_critical_temperature_c,
    )
    from rickyard.stock.equations import (
        appetite_kg as appetite_kg,
    )
    from rickyard.stock.equations import (
        milk_kg as milk_kg,
    )
    from rickyard.stock.equations import (
        nem_lactation_mcal as nem_lactation_mcal,
    )
    from rickyard.stock.equations import (
        nem_maintenance_mcal as nem_maintenance_mcal,
    )
    from rickyard.stock.equations import (
        nem_pregnancy_mcal as nem_pregnancy_mcal,
    )
    from rickyard.stock.herd import (
        NeedSeries as NeedSeries,
    )
    from rickyard.stock.herd import (
        group_needs as group_needs,
    )
    from rickyard.tables import (
        Table as Table,
    )

#: Where each name comes from. A test holds this list and the one above together.
_ROOMS: Final = {
    "rickyard.farm": (
        "Analyte AnimalClass Assumption Basis BeefBreed Caution Coat ColdRule Farm FedRow Feed "
        "FeedKind Feeder Forage Group Hide LabPackage Lot Maturity MoveKind MoveRow Mud Package "
        "Report Season Sex StatedNeed Storage WeatherRow WindChill Winter WishRow Work Wrap"
    ),
    "rickyard.folder": "FolderFaults read_folder read_wishes write_folder",
    "rickyard.forage.energy": (
        "de_from_tdn digestible_dry_matter_pct dry_matter_intake_pct_bw me_from_tdn neg_from_me "
        "neg_from_tdn nel_from_tdn nem_from_me nem_from_tdn relative_feed_value "
        "relative_forage_quality_grass relative_forage_quality_legume tdn_midwest "
        "usda_alfalfa_grade usda_grass_grade"
    ),
    "rickyard.forage.hazards": "hay_temperature_action",
    "rickyard.forage.plausibility": "LotProfile lot_profile",
    "rickyard.forage.reading": "LotReading lot_hazards read_lot",
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
    "rickyard.library": (
        "NotSound compare demo_farm needs plan readings sampling_plan table to_pandas what_if "
        "with_season yard_page"
    ),
    "rickyard.program.audit": "recheck",
    "rickyard.program.compare": "Comparison",
    "rickyard.program.inputs": "NeedTable",
    "rickyard.program.planning": "HeadCount Intake LotLoss Price SeasonEnd WhatIfAnswer WinterIs",
    "rickyard.program.result": "PlanOptions SeasonProgram Wish",
    "rickyard.program.solver": "SolveError",
    "rickyard.program.winters": "plan_winters",
    "rickyard.quantities": "OutOfRange",
    "rickyard.sheets.data_files": "plan_json read_plan",
    "rickyard.sheets.paper": "season_pdf week_list week_pdf",
    "rickyard.stock.cold": "effective_temperature_c lower_critical_temperature_c",
    "rickyard.stock.equations": (
        "appetite_kg milk_kg nem_lactation_mcal nem_maintenance_mcal nem_pregnancy_mcal"
    ),
    "rickyard.stock.herd": "NeedSeries group_needs",
    "rickyard.tables": "Table",
}

#: Names that are called otherwise in their room.
_RENAMED: Final = {"SamplingOptions": ("rickyard.hay.sampling", "Options")}

_PLACES: Final = {
    **{name: (room, name) for room, names in _ROOMS.items() for name in names.split()},
    **_RENAMED,
}

__all__ = ["__version__", *_PLACES]


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
