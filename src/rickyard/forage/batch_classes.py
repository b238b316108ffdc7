"""Grades and hazard classes of many reports of one forage, as places in published tables."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Forage
from rickyard.forage.classes import ClassTable
from rickyard.forage.columns import Column, ReportColumns
from rickyard.forage.grades import (
    OLDER_ALFALFA_RFV,
    TASK_FORCE_RFV,
    USDA_ALFALFA_ADF,
    USDA_ALFALFA_CP,
    USDA_ALFALFA_NDF,
    USDA_ALFALFA_RFV,
    USDA_ALFALFA_TDN,
    USDA_GRASS_CP,
)

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

#: For each class: the column or index that is classed, the table, and the forages it holds for.
BATCH_CLASSES: Final[dict[str, tuple[str, ClassTable, frozenset[Forage]]]] = {
    "usda_alfalfa_rfv": ("rfv", USDA_ALFALFA_RFV, _ALFALFA),
    "usda_alfalfa_adf": ("adf", USDA_ALFALFA_ADF, _ALFALFA),
    "usda_alfalfa_ndf": ("ndf", USDA_ALFALFA_NDF, _ALFALFA),
    "usda_alfalfa_tdn": ("tdn_regression_pct", USDA_ALFALFA_TDN, _ALFALFA),
    "usda_alfalfa_cp": ("cp", USDA_ALFALFA_CP, _ALFALFA),
    "usda_grass_cp": ("cp", USDA_GRASS_CP, _GRASSES),
    "older_alfalfa_rfv": ("rfv", OLDER_ALFALFA_RFV, _MIXED),
    "task_force_rfv": ("rfv", TASK_FORCE_RFV, _BY_RFV),
}


def batch_classes(
    forage: Forage, block: ReportColumns, indices: Mapping[str, Column]
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
    >>> from rickyard.forage.columns import plain_columns
    >>> columns = plain_columns(Forage.COOL_GRASS, {"cp": np.array([14.0, 4.0, np.nan])})
    >>> batch_classes(Forage.COOL_GRASS, columns, {})["usda_grass_cp"].tolist()
    [3, 0, -1]
    """
    found = {}
    for name, (what, table, forages) in BATCH_CLASSES.items():
        if forage not in forages:
            continue
        if what in indices:
            found[name] = table.places(indices[what])
        elif block.has(what):
            found[name] = table.places(block[what])
    return found
