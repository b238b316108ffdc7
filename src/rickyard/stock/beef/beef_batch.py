"""The needs of many groups of beef cattle on many days in one call, arrays in and arrays out.

``Herd`` holds a row for each group, ``Days`` a column for each day; ``herd_needs`` gives arrays
of (groups, days). Groups are taken in blocks small enough to stay in the fast memory of a
processor, and each power and exponential is taken once.
"""

from __future__ import annotations

from dataclasses import fields
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.stock.beef.cold_days import add_cold
from rickyard.stock.beef.constituents import add_constituents
from rickyard.stock.beef.defaults import GESTATION_DAYS
from rickyard.stock.beef.gain_path import weight_and_gain
from rickyard.stock.beef.herd_arrays import Days, Herd, HerdNeeds
from rickyard.stock.beef.intake_states import add_intake
from rickyard.stock.common import (
    SHRUNK_PER_FULL,
    Conditions,
    Cycle,
    metabolic_weight,
    size_scaled_weight_kg,
)
from rickyard.stock.equations import (
    FIRST_CALF_PEAK_FACTOR,
    MAINTENANCE_G_PER_KG075,
    MP_PER_CP,
    SECOND_CALF_PEAK_FACTOR,
    THERMONEUTRAL_C,
    compensation_factor,
    conceptus_kg,
    maintenance_mcal_per_kg075,
    milk_kg,
    mp_efficiency,
    mp_lactation_g,
    mp_pregnancy_g,
    nem_lactation_mcal,
    nem_pregnancy_mcal,
    protein_of_gain_g,
    retained_energy_mcal,
)
from rickyard.stock.minerals import FETAL_DAYS, calcium_phosphorus_g
from rickyard.types import FloatArray

#: Groups times days of a block, by measurement: small enough for the fast memory, large enough
#: that the calls cost nothing beside the arithmetic.
BLOCK_CELLS: Final = 32_000


def herd_needs(herd: Herd, days: Days, conditions: Conditions | None = None) -> HerdNeeds:
    """Return what one head of each group needs on each day.

    Parameters
    ----------
    herd : Herd
        N groups.
    days : Days
        T days.
    conditions : Conditions, optional
        Which rules hold for all of them; what the days are like is in ``days``.

    Returns
    -------
    HerdNeeds
        Arrays of shape (N, T).

    Raises
    ------
    OutOfRange
        If a weight lies outside 50 to 1100 kg on any day.

    References
    ----------
    .. [1] NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.
    """
    chosen = Conditions() if conditions is None else conditions
    count, width = len(herd.shrunk_weight_kg), len(days.on)
    step = max(BLOCK_CELLS // max(width, 1), 1)
    whole: dict[str, NDArray[np.generic]] = {}
    for first in range(0, count, step):
        last = min(first + step, count)
        for name, block in _block(herd.rows(first, last), days, chosen).items():
            if name not in whole:
                whole[name] = np.empty((count, width), dtype=block.dtype)
            whole[name][first:last] = block
    return _gathered(whole)


def _gathered(whole: dict[str, NDArray[np.generic]]) -> HerdNeeds:
    cycle = Cycle(**{entry.name: whole.pop(entry.name) for entry in fields(Cycle)})  # type: ignore[arg-type]
    state = whole.pop("intake_state")
    return HerdNeeds(cycle, state, whole)  # type: ignore[arg-type]  # every other one is a float


def _block(herd: Herd, days: Days, chosen: Conditions) -> dict[str, NDArray[np.generic]]:
    cycle = herd.cycle(days.on, GESTATION_DAYS)
    weight, gain = weight_and_gain(days.on, cycle.births, herd)
    out: dict[str, FloatArray] = {"shrunk_weight_kg": weight, "gain_kg": gain}
    out["full_weight_kg"] = weight / SHRUNK_PER_FULL
    metabolic = np.asarray(metabolic_weight(weight))
    _energy(out, herd, days, chosen, cycle, metabolic)
    _growth_and_protein(out, herd, cycle, metabolic)
    add_cold(out, herd, days, chosen)
    out["nem_mcal"] = (
        out["nem_maintenance_mcal"]
        + out["nem_lactation_mcal"]
        + out["nem_pregnancy_mcal"]
        + out["nem_cold_mcal"]
        + out["nem_condition_mcal"]
    )
    state = add_intake(out, herd, days, chosen, cycle, metabolic)
    add_constituents(out, herd, days, cycle)
    kept: dict[str, NDArray[np.generic]] = {**out, "intake_state": state}
    for entry in fields(Cycle):
        kept[entry.name] = getattr(cycle, entry.name)
    return kept


def _column(values: NDArray[np.generic]) -> FloatArray:
    return np.asarray(values[:, np.newaxis], dtype=np.float64)


def _energy(
    out: dict[str, FloatArray],
    herd: Herd,
    days: Days,
    chosen: Conditions,
    cycle: Cycle,
    metabolic: FloatArray,
) -> None:
    peak = _column(herd.peak_milk_kg)
    if np.any(herd.is_heifer):
        share = np.where(
            cycle.births <= 1.0,
            FIRST_CALF_PEAK_FACTOR,
            np.where(cycle.births == 2.0, SECOND_CALF_PEAK_FACTOR, 1.0),
        )
        peak = np.where(herd.is_heifer[:, np.newaxis], share, 1.0) * peak
    week = np.where(cycle.nursing, cycle.days_since_birth, 0.0) / 7.0
    out["milk_kg"] = np.asarray(milk_kg(week, peak))
    warm = np.where(np.isnan(days.previous_month_c), THERMONEUTRAL_C, days.previous_month_c)
    compensation = 1.0
    if chosen.maintenance_by_condition:
        compensation = compensation_factor(_column(herd.condition_score))
    per_weight = maintenance_mcal_per_kg075(
        cycle.nursing,
        herd.intact_male[:, np.newaxis],
        breed_factor=_column(herd.breed_factor),
        compensation=compensation,
        previous_month_temperature_c=warm,
        activity_factor=_column(herd.activity_factor * herd.heat_factor),
    )
    birth_weight = _column(herd.birth_weight_kg)
    if np.any(herd.is_heifer):
        first = (cycle.births == 0.0) & herd.is_heifer[:, np.newaxis]
        birth_weight = np.where(first, _column(herd.first_birth_weight_kg), birth_weight)
    out["nem_maintenance_mcal"] = metabolic * per_weight
    out["nem_lactation_mcal"] = np.asarray(nem_lactation_mcal(out["milk_kg"]))
    out["nem_pregnancy_mcal"] = np.asarray(nem_pregnancy_mcal(cycle.day_pregnant, birth_weight))
    out["conceptus_kg"] = np.asarray(conceptus_kg(cycle.day_pregnant, birth_weight))
    out["birth_weight_kg"] = np.broadcast_to(birth_weight, metabolic.shape)
    asked = (days.on >= _column(herd.weighed_on)) & (days.on < _column(herd.condition_until))
    out["nem_condition_mcal"] = np.where(asked, _column(herd.condition_mcal), 0.0)


def _growth_and_protein(
    out: dict[str, FloatArray], herd: Herd, cycle: Cycle, metabolic: FloatArray
) -> None:
    weight, gain = out["shrunk_weight_kg"], out["gain_kg"]
    final = _column(herd.final_shrunk_weight_kg)
    scaled = np.asarray(size_scaled_weight_kg(weight, np.where(np.isnan(final), weight, final)))
    retained = np.zeros(weight.shape)
    protein = np.zeros(weight.shape)
    for_gain = protein
    grows = np.any(gain > 0.0, axis=1)
    if np.any(grows):
        retained[grows] = retained_energy_mcal(gain[grows], scaled[grows])
        protein = np.asarray(protein_of_gain_g(gain, retained))
        for_gain = protein / mp_efficiency(scaled)
    out["retained_energy_mcal"] = retained
    birth_weight = out.pop("birth_weight_kg")
    mp = MAINTENANCE_G_PER_KG075 * metabolic + for_gain + mp_lactation_g(out["milk_kg"])
    mp = mp + mp_pregnancy_g(cycle.day_pregnant, birth_weight)
    last_90_days = cycle.pregnant & (cycle.days_to_birth <= FETAL_DAYS)
    calcium, phosphorus = calcium_phosphorus_g(
        weight,
        net_protein_gain_g=protein,
        milk_kg=out["milk_kg"],
        birth_weight_kg=birth_weight,
        last_90_days=last_90_days,
    )
    out["mp_g"] = mp
    out["cp_kg"] = mp / MP_PER_CP / 1000.0
    out["ca_kg"] = calcium / 1000.0
    out["p_kg"] = phosphorus / 1000.0
