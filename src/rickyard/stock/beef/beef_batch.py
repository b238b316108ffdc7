"""The needs of many groups of beef cattle on many days in one call, arrays in and arrays out.

``Herd`` holds a row for each group, ``Days`` a column for each day; ``herd_needs`` gives arrays
of (groups, days). Groups are taken in blocks small enough to stay in the fast memory of a
processor, and each power and exponential is taken once.
"""

from __future__ import annotations

from dataclasses import fields
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from rickyard.stock.beef.defaults import GESTATION_DAYS
from rickyard.stock.beef.gain_path import weight_and_gain
from rickyard.stock.beef.herd_parts import (
    Days,
    Herd,
    HerdNeeds,
    add_cold,
    add_constituents,
    add_intake,
)
from rickyard.stock.common import (
    SHRUNK_PER_FULL,
    Conditions,
    Cycle,
    metabolic_weight,
    size_scaled_weight_kg,
)
from rickyard.stock.equations import (
    DAYS_PER_MONTH,
    FIRST_CALF_PEAK_FACTOR,
    LACTATION_FACTOR,
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
from rickyard.types import BoolArray, FloatArray

#: Groups times days of a block, by measurement: small enough for the fast memory, large enough
#: that the calls cost nothing beside the arithmetic.
BLOCK_CELLS: Final = 32_000


def herd_needs(herd: Herd, days: Days, conditions: Conditions | None = None) -> HerdNeeds:
    """Return what one head of each of N groups needs on each of T days, arrays of shape (N, T).

    ``conditions`` says which rules hold for all of them; what the days are like is in ``days``. A
    weight outside 50 to 1100 kg on any day raises ``OutOfRange``. Source: NRC (2000), Nutrient
    Requirements of Beef Cattle, 7th rev. ed., Update.
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


#: Days from birth over which needs are held at least where they stood on the last day before it,
#: and at the milk of the end of this time.
FRESH_DAYS: Final = DAYS_PER_MONTH


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
    since = np.where(cycle.nursing, cycle.days_since_birth, 0.0)
    # Printed tables begin at the end of the first month: needs stand at least there from birth on.
    held = np.where(cycle.nursing, np.maximum(since, FRESH_DAYS), 0.0)
    out["milk_need_kg"] = np.asarray(milk_kg(held / 7.0, peak))
    out["milk_kg"] = out["milk_need_kg"].copy()
    early = cycle.nursing & (since < FRESH_DAYS)
    of_each = np.broadcast_to(peak, since.shape)[early]
    out["milk_kg"][early] = milk_kg(since[early] / 7.0, of_each)
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
    lactation = np.asarray(nem_lactation_mcal(out["milk_need_kg"]))
    fresh = np.nonzero(_fresh(cycle))
    # A nursing cow's maintenance is higher already; the two together are held.
    more = (1.0 - 1.0 / LACTATION_FACTOR) * out["nem_maintenance_mcal"][fresh]
    at_term = nem_pregnancy_mcal(float(GESTATION_DAYS), _born_kg(herd, cycle, fresh))
    lactation[fresh] = np.maximum(lactation[fresh], np.asarray(at_term) - more)
    out["nem_lactation_mcal"] = lactation
    out["nem_pregnancy_mcal"] = np.asarray(nem_pregnancy_mcal(cycle.day_pregnant, birth_weight))
    out["conceptus_kg"] = np.asarray(conceptus_kg(cycle.day_pregnant, birth_weight))
    out["birth_weight_kg"] = np.broadcast_to(birth_weight, metabolic.shape)
    asked = (days.on >= _column(herd.weighed_on)) & (days.on < _column(herd.condition_until))
    out["nem_condition_mcal"] = np.where(asked, _column(herd.condition_mcal), 0.0)


def _fresh(cycle: Cycle) -> BoolArray:
    """Return where an animal has calved within the month, shape (N, T)."""
    return cycle.nursing & (cycle.births > 0.0) & (cycle.days_since_birth <= FRESH_DAYS)


_Cells: TypeAlias = tuple[NDArray[np.intp], ...]


def _born_kg(herd: Herd, cycle: Cycle, cells: _Cells) -> FloatArray:
    """Return the birth weight of the calf that was born last in some cells [kg]."""
    row = cells[0]
    first = herd.is_heifer[row] & (cycle.births[cells] <= 1.0)
    return np.where(first, herd.first_birth_weight_kg[row], herd.birth_weight_kg[row])


def _at_term(
    herd: Herd, cycle: Cycle, cells: _Cells, weight: FloatArray, scaled: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return what animals in some cells would need on the last day of pregnancy.

    Metabolizable protein, calcium and phosphorus [g], with the gain asked for until then.
    """
    row = cells[0]
    stated = herd.stated_gain_kg[row]
    gain = np.where(np.isnan(stated), herd.gain_before_calving_kg[row], stated)
    gain = np.where(herd.is_heifer[row] & (cycle.births[cells] <= 1.0), gain, 0.0)
    retained = np.zeros(gain.shape)
    grows = gain > 0.0
    retained[grows] = retained_energy_mcal(gain[grows], scaled[grows])
    protein = np.asarray(protein_of_gain_g(gain, retained))
    born = _born_kg(herd, cycle, cells)
    mp = MAINTENANCE_G_PER_KG075 * np.asarray(metabolic_weight(weight))
    mp = mp + protein / np.asarray(mp_efficiency(scaled))
    mp = mp + np.asarray(mp_pregnancy_g(float(GESTATION_DAYS), born))
    calcium, phosphorus = calcium_phosphorus_g(
        weight,
        net_protein_gain_g=protein,
        milk_kg=0.0,
        birth_weight_kg=born,
        last_90_days=True,
    )
    return mp, np.asarray(calcium), np.asarray(phosphorus)


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
    milk = out.pop("milk_need_kg")
    mp = MAINTENANCE_G_PER_KG075 * metabolic + for_gain + mp_lactation_g(milk)
    mp = mp + mp_pregnancy_g(cycle.day_pregnant, birth_weight)
    last_90_days = cycle.pregnant & (cycle.days_to_birth <= FETAL_DAYS)
    calcium, phosphorus = calcium_phosphorus_g(
        weight,
        net_protein_gain_g=protein,
        milk_kg=milk,
        birth_weight_kg=birth_weight,
        last_90_days=last_90_days,
    )
    fresh = np.nonzero(_fresh(cycle))
    if len(fresh[0]):
        then = _at_term(herd, cycle, fresh, weight[fresh], scaled[fresh])
        for now, least in zip((mp, calcium, phosphorus), then, strict=True):
            now[fresh] = np.maximum(now[fresh], least)
    out["mp_g"] = mp
    out["cp_kg"] = mp / MP_PER_CP / 1000.0
    out["ca_kg"] = calcium / 1000.0
    out["p_kg"] = phosphorus / 1000.0
