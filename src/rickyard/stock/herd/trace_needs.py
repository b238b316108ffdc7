"""Copper, selenium, magnesium, vitamins A and E: what a class needs, and what is too much."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np

from rickyard.animals import CLASSES
from rickyard.farm import AnimalClass
from rickyard.stock.common import NeedSeries, find_row

#: What is looked at, its name in the needs of a class, and its unit a head and day.
TRACED: Final = MappingProxyType(
    {
        "cu": ("cu_mg", "mg"),
        "se": ("se_mg", "mg"),
        "mg": ("mg_g", "g"),
        "vitamin_a": ("vitamin_a_iu", "IU"),
        "vitamin_e": ("vitamin_e_iu", "IU"),
    }
)


@dataclass(frozen=True, slots=True)
class TraceNeed:
    """What one head needs a day of one mineral or vitamin, and the most of the whole diet.

    ``most_added`` is the most that feeds may add by law. Units are those of ``TRACED``.
    """

    name: str
    unit: str
    need: float
    most: float | None
    most_added: float | None
    source: str


def trace_needs(
    animal_class: AnimalClass, series: NeedSeries, dm_kg: float, weight_kg: float
) -> tuple[TraceNeed, ...]:
    """Return the highest needs of a season of what `TRACED` names.

    Source: The needs of the class, or the table ``trace_needs``, which names its sources.

    Parameters
    ----------
    animal_class : AnimalClass
        The class.
    series : NeedSeries
        Its needs, which hold some of them by stage.
    dm_kg : float
        Dry matter that it eats. [kg/d]
    weight_kg : float
        Body weight. [kg]

    Returns
    -------
    tuple of TraceNeed
        One for each, in the order of ``TRACED``.
    """
    found = []
    for name, (key, unit) in TRACED.items():
        row = find_row("trace_needs", stock=CLASSES[animal_class].stock.value, what=name)
        need = float(row["need"]) * (dm_kg if row["basis"] == "kg_dm" else weight_kg)
        own = series.constituent(key)
        if own is not None and np.any(known := np.isfinite(own) & (own > 0.0)):
            need = float(own[known].max())
        most = float(row["most_per_kg_dm"]) * dm_kg if row["most_per_kg_dm"] else None
        added = float(row["most_added"]) if row["most_added"] else None
        found.append(TraceNeed(name, unit, need, most, added, row["source"]))
    return tuple(found)
