"""Grades and hazard classes of many reports of one forage, as places in published tables."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Forage
from rickyard.forage.batch.batch_hazards import PLAIN_HAZARDS
from rickyard.forage.energy import (
    OLDER_ALFALFA_RFV,
    TASK_FORCE_RFV,
    USDA_ALFALFA_ADF,
    USDA_ALFALFA_CP,
    USDA_ALFALFA_NDF,
    USDA_ALFALFA_RFV,
    USDA_ALFALFA_TDN,
    USDA_GRASS_CP,
)
from rickyard.forage.hazards import HAZARD_TABLES
from rickyard.forage.values import NOT_GIVEN, ClassTable, ReportColumns
from rickyard.types import FloatArray

_GRASSES: Final = frozenset(
    {
        Forage.COOL_GRASS,
        Forage.ANNUAL_RYEGRASS,
        Forage.WARM_GRASS,
        Forage.SUMMER_ANNUAL,
        Forage.SMALL_GRAIN,
        Forage.PRAIRIE,
    }
)
_ALFALFA: Final = frozenset({Forage.ALFALFA})
_MIXED: Final = frozenset({Forage.ALFALFA, Forage.LEGUME_GRASS})
_BY_RFV: Final = frozenset(Forage) - {Forage.CORN_SILAGE, Forage.STRAW}

#: What a hazard table classes by the name of a column, as the index that restates it.
_AS_INDEX: Final = {
    "nitrate_no3n": "nitrate_no3n_ppm",
    "nsc": "nsc_pct",
    "tetany": "tetany_ratio",
    "cu/mo": "cu_to_mo_ratio",
}
_EVERY: Final = frozenset(Forage)


@dataclass(frozen=True, slots=True)
class BatchClass:
    """One class of a batch: the column or index that is classed, by which table, for which forages.

    The value is multiplied by ``factor`` to come to the unit of the table. ``wet_only`` leaves
    dry hay unclassed.
    """

    what: str
    factor: float
    table: ClassTable
    forages: frozenset[Forage]
    wet_only: bool = False


_GRADES: Final = {
    "usda_alfalfa_rfv": BatchClass("rfv", 1.0, USDA_ALFALFA_RFV, _ALFALFA),
    "usda_alfalfa_adf": BatchClass("adf", 1.0, USDA_ALFALFA_ADF, _ALFALFA),
    "usda_alfalfa_ndf": BatchClass("ndf", 1.0, USDA_ALFALFA_NDF, _ALFALFA),
    "usda_alfalfa_tdn": BatchClass("tdn_regression_pct", 1.0, USDA_ALFALFA_TDN, _ALFALFA),
    "usda_alfalfa_cp": BatchClass("cp", 1.0, USDA_ALFALFA_CP, _ALFALFA),
    "usda_grass_cp": BatchClass("cp", 1.0, USDA_GRASS_CP, _GRASSES),
    "older_alfalfa_rfv": BatchClass("rfv", 1.0, OLDER_ALFALFA_RFV, _MIXED),
    "task_force_rfv": BatchClass("rfv", 1.0, TASK_FORCE_RFV, _BY_RFV),
}
#: Every grade and hazard class by name.
BATCH_CLASSES: Final[dict[str, BatchClass]] = {
    **_GRADES,
    **{
        name: BatchClass(_AS_INDEX.get(what, what), factor, table, _EVERY)
        for name, (what, factor, table) in HAZARD_TABLES.items()
    },
    **{
        name: BatchClass(one.what, one.factor, one.table, _EVERY, one.wet_only)
        for name, one in PLAIN_HAZARDS.items()
    },
}


def batch_classes(
    forage: Forage, block: ReportColumns, indices: Mapping[str, FloatArray]
) -> dict[str, NDArray[np.int8]]:
    """Grade and class the reports of a block.

    Parameters
    ----------
    forage : Forage
        What every report of the block is on.
    block : ReportColumns
        The reports. [% DM; ppm DM]
    indices : mapping of str to array
        From ``batch_indices``.

    Returns
    -------
    dict of str to array of int8
        Places in the labels of the table of that name in ``BATCH_CLASSES``, -1 where the value
        is not given.

    Examples
    --------
    >>> from rickyard.forage.values.columns import plain_columns
    >>> columns = plain_columns(Forage.COOL_GRASS, {"cp": np.array([14.0, 4.0, np.nan])})
    >>> batch_classes(Forage.COOL_GRASS, columns, {})["usda_grass_cp"].tolist()
    [3, 0, -1]
    """
    found = {}
    for name, one in BATCH_CLASSES.items():
        if forage not in one.forages:
            continue
        values = indices.get(one.what)
        if values is None:
            if not block.has(one.what):
                continue
            values = block[one.what]
        places = one.table.places(values if one.factor == 1.0 else one.factor * values)
        if one.wet_only:
            places = np.where(block.wet, places, np.int8(NOT_GIVEN))
        found[name] = places
    return found
