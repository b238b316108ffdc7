"""The season program in numbers: who got what, what was needed, and what became of it."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.nutrients import AT_LEAST, FLOORS, NUTRIENTS
from rickyard.program.explain.balances import drawn_kg
from rickyard.program.model import (
    LEAST_RATIO,
    SHORT_ENERGY_NEG_PER_NEM,
    AppetiteRows,
    Model,
    assured_supplies,
    change_amounts,
    descent_amounts,
    leeways,
    mix_amounts,
)
from rickyard.program.problem import UNITS, Problem
from rickyard.program.result import Bound, FeedingRow, GroupPeriod, NeedRow
from rickyard.quantities import is_some
from rickyard.stock.equations import gain_kg
from rickyard.types import BoolArray, FloatArray

#: Amounts smaller than this, kg DM per head and day, are solver dust and not fed to anybody.
DUST_KG: Final = 1e-7

#: Stock with free access that are filled so far are not hungry: what they eat is not known better.
FILLED_ENOUGH: Final = 0.95

#: Ceilings that can be broken before anything is eaten, so that what is too much is told.
MISSABLE_CEILINGS: Final = frozenset({"sulfur", "nitrate", "tetany", "milk_fever", "change_over"})


def eaten_of(model: Model, x: FloatArray) -> FloatArray:
    """Return what is eaten, without the dust of a solver.

    Parameters
    ----------
    model : Model
        The linear program.
    x : array
        A program in it.

    Returns
    -------
    array, shape (groups, sources, periods)
        What is eaten. [kg DM per head and day]
    """
    eaten = model.eaten(x)
    return np.where(is_some(eaten - DUST_KG), eaten, 0.0)


def feeding_rows(problem: Problem, eaten: FloatArray) -> tuple[FeedingRow, ...]:
    """Return one row for each amount that is fed."""
    drawn = drawn_kg(problem, eaten)
    rows = []
    for g, i, t in np.argwhere(is_some(eaten)).tolist():
        value = problem.sources.values[i]
        period = problem.needs.periods[t]
        offered = float(drawn[g, i, t]) / (value.dm_pct / 100.0)
        weight = value.bale_weight_kg
        rows.append(
            FeedingRow(
                group_id=problem.needs.groups[g].group_id,
                period=t,
                start=period.start,
                days=period.days,
                source_id=value.source_id,
                kind=value.kind,
                eaten_kg_dm_per_head_day=float(eaten[g, i, t]),
                offered_kg=offered,
                bales=None if weight is None else offered / weight,
            )
        )
    rows.sort(key=lambda row: (row.group_id, row.period))
    return tuple(rows)


def need_rows(problem: Problem, model: Model, eaten: FloatArray) -> tuple[NeedRow, ...]:
    """Return need, supply and shortage of every constrained nutrient, group and period."""
    supply = {name: _supply(eaten, per_kg) for name, per_kg in problem.per_kg.items()}
    need, supplied, bound = _needs_and_supplies(problem, model, eaten, supply)
    asked = need
    if model.problem is not problem:
        # Rations meet the mean of their weeks; a week is short where they do not.
        asked, _, _ = _needs_and_supplies(model.problem, model, eaten, supply)
    assured = assured_supplies(problem, eaten, need)
    unsure, leeway = np.full(supply["dm"].shape, np.nan), leeways(problem)
    rows = []
    here = problem.needs.here
    for name, wanted in need.items():
        for g, t in np.argwhere(here & np.isfinite(wanted)).tolist():
            got = (supplied[name][g, t], assured.get(name, unsure)[g, t])
            # What is met on the mean is short on the mean, in every week of a ration alike.
            least = float(asked[name][g, t])
            if NUTRIENTS[name].kind not in ("energy", "protein"):
                least = min(least, float(wanted[g, t]))
            if name == "fill":
                least *= FILLED_ENOUGH
            row = _need_row(
                model.problem, (g, t), name, bound[name], (wanted[g, t], least), got, leeway[g]
            )
            rows.append(row)
    rows.sort(key=lambda row: (row.group_id, row.period))
    return tuple(rows)


def _supply(eaten: FloatArray, per_kg: FloatArray) -> FloatArray:
    return np.asarray(np.einsum("git,i->gt", eaten, per_kg))


def _needs_and_supplies(
    problem: Problem, model: Model, eaten: FloatArray, supply: dict[str, FloatArray]
) -> tuple[dict[str, FloatArray], dict[str, FloatArray], dict[str, Bound]]:
    needs = problem.needs
    dm, nothing = supply["dm"], np.full(supply["dm"].shape, np.nan)
    free, filled = _filled(model.problem, eaten)
    nitrate = supply["nitrate"] + problem.water_no3n_mg
    found = {
        **needs.least,
        "nem": np.where(needs.growing, nothing, needs.least["nem"]),
        "gain_energy": _gain_energy_need(problem, supply),
        "cp_floor": needs.cp_floor_frac * dm,
        "ca_to_p": needs.ca_to_p * supply["p"],
        **{one.key: needs.floors[one.key] * supply[one.floor_among] for one in FLOORS},
        "most_dm": needs.most_dm_kg,
        "appetite": np.where(needs.stated, nothing, appetite_of(model, supply, eaten)),
        "ndf": np.where(free, nothing, needs.most_ndf_kg),
        "fill": np.where(free, filled[0], nothing),
        "nitrate": np.where(is_some(nitrate), needs.most_nitrate_ppm * dm, nothing),
    }
    need = {name: found[name] for name in NUTRIENTS if name in found}
    supplied = {one.key: supply[one.supply] for one in AT_LEAST}
    supplied |= {
        "gain_energy": supply["nem"],
        "cp_floor": supply["cp"],
        "ca_to_p": supply["ca"],
        **{one.key: supply[one.floor_of] for one in FLOORS},
        "most_dm": dm,
        "appetite": dm,
        "ndf": supply["room"],
        "fill": filled[1],
        "nitrate": nitrate,
    }
    need["change_over"], supplied["change_over"] = change_amounts(problem, eaten)
    least, forage = descent_amounts(problem, eaten)
    # A row stands only where it falls too far: elsewhere there is nothing to tell.
    dust = problem.met_within * np.maximum(np.abs(least), 1e-3)
    need["forage_fall"] = np.where(least - forage > dust, least, nothing)
    supplied["forage_fall"] = forage
    least, beside = mix_amounts(problem, eaten)
    dust = problem.met_within * np.maximum(np.abs(least), 1e-3)
    need["other_hay"] = np.where(least - beside > dust, least, nothing)
    supplied["other_hay"] = beside
    ceilings = {"most_dm", "appetite", "ndf", "nitrate", "change_over"}
    for one in problem.ceilings:
        if one.name == "nitrate":
            continue  # shown wherever there is any
        room = one.most + one.share * _supply(eaten, one.against)
        need[one.name] = np.where(one.active, room, nothing)
        supplied[one.name] = one.already + _supply(eaten, one.amount)
        ceilings.add(one.name)
    bound: dict[str, Bound] = {name: "at_most" if name in ceilings else "at_least" for name in need}
    return need, supplied, bound


def _filled(problem: Problem, eaten: FloatArray) -> tuple[BoolArray, tuple[FloatArray, FloatArray]]:
    """Return who has free access, and an ordinary appetite and what is filled of it. [kg DM]."""
    dm = np.zeros(problem.needs.head_days.shape)
    if problem.fill is None:
        return np.zeros(dm.shape, dtype=bool), (dm, dm)
    ordinary = dm + problem.fill.appetite_kg[:, None]
    return problem.fill.free, (ordinary, ordinary * problem.fill.shares(eaten))


def _gain_energy_need(problem: Problem, supply: dict[str, FloatArray]) -> FloatArray:
    """Return the NEm of the amount of the actual diet that maintenance and gain take.

    ``R/M + E/G <= 1`` times ``M`` reads ``R + E M/G <= M``.
    """
    needs = problem.needs
    nem, neg = supply["nem"], supply["neg"]
    ratio = np.full(nem.shape, SHORT_ENERGY_NEG_PER_NEM)
    np.divide(neg, nem, out=ratio, where=is_some(nem))
    need = needs.least["nem"] + needs.retained_mcal / np.maximum(ratio, LEAST_RATIO)
    return np.asarray(np.where(needs.growing, need, np.nan))


def appetite_of(model: Model, supply: dict[str, FloatArray], eaten: FloatArray) -> FloatArray:
    """Return appetite at the diet actually eaten, kg DM per head and day.

    Of stock with free access that at which what they are offered fills them.
    """
    rows = AppetiteRows.of(model)
    diet = rows.first_diet().reshape(supply["dm"].shape)
    np.divide(supply["nem"], supply["dm"], out=diet, where=supply["dm"] > DUST_KG)
    appetite = rows.appetite(diet.ravel())
    appetite = appetite.reshape(diet.shape)
    if model.problem.fill is None:
        return appetite
    share = model.problem.fill.shares(eaten)
    fills = np.divide(supply["dm"], share, out=appetite.copy(), where=share > DUST_KG)
    return np.asarray(np.where(model.problem.fill.free, fills, appetite))


def _need_row(
    problem: Problem,
    cell: tuple[int, int],
    name: str,
    bound: Bound,
    wanted: tuple[float, float],
    got: tuple[float, float],
    leeway: float,
) -> NeedRow:
    """Return a row.

    ``wanted`` is the need, and how much of it the ration asks for. ``got`` is the mean supply and
    the assured one, NaN where means count.
    """
    group, period = problem.needs.groups[cell[0]], problem.needs.periods[cell[1]]
    need, asked = wanted
    supplied, assured = got
    counted = supplied if np.isnan(assured) else assured
    missing = asked - counted if bound == "at_least" else 0.0
    least = problem.met_within * max(abs(need), 1e-3) + leeway * (supplied - counted)
    if name in MISSABLE_CEILINGS:
        missing = supplied - need
    return NeedRow(
        group_id=group.group_id,
        period=period.index,
        start=period.start,
        days=period.days,
        nutrient=name,
        unit=UNITS[name],
        bound=bound,
        need=float(need),
        supplied=float(supplied),
        shortage=float(missing) if missing > least else 0.0,
        assured=None if np.isnan(assured) else float(assured),
    )


def group_periods(problem: Problem, model: Model, eaten: FloatArray) -> tuple[GroupPeriod, ...]:
    """Return who each group is in each period and what gain its diet allows."""
    needs = problem.needs
    supply = {name: _supply(eaten, per_kg) for name, per_kg in problem.per_kg.items()}
    appetite = appetite_of(model, supply, eaten)
    rows = []
    for g, t in np.argwhere(needs.here).tolist():
        period = needs.periods[t]
        growing = bool(needs.growing[g, t])
        rows.append(
            GroupPeriod(
                group_id=needs.groups[g].group_id,
                period=t,
                start=period.start,
                days=int(needs.days[g, t]),
                head=int(needs.head[g, t]),
                stage=needs.stage[g][t],
                full_weight_kg=float(needs.full_weight_kg[g, t]),
                intake_kg_dm_per_head_day=float(supply["dm"][g, t]),
                appetite_kg_dm_per_head_day=(None if needs.stated[g, t] else float(appetite[g, t])),
                wanted_gain_kg_per_day=float(needs.gain_kg[g, t]) if growing else None,
                expected_gain_kg_per_day=_gain(problem, supply, g, t) if growing else None,
            )
        )
    return tuple(rows)


def _gain(problem: Problem, supply: dict[str, FloatArray], g: int, t: int) -> float:
    """Return the gain the diet allows, kg a day; zero where it does not cover maintenance."""
    dm, nem, neg = (float(supply[name][g, t]) for name in ("dm", "nem", "neg"))
    if not is_some(nem):
        return 0.0
    needs = problem.needs
    left = dm - float(needs.least["nem"][g, t]) * dm / nem
    retained = max(0.0, left) * neg / dm
    return float(gain_kg(retained, float(needs.scaled_weight_kg[g, t])))
