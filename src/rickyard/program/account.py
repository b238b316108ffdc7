"""The season program in numbers: who got what, what was needed, where the hay went."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Farm
from rickyard.program.curved import LEAST_RATIO, AppetiteRows
from rickyard.program.model import AT_LEAST, SHORT_ENERGY_NEG_PER_NEM, Model
from rickyard.program.problem import UNITS, Problem
from rickyard.program.result import (
    Bound,
    Costs,
    FeedingRow,
    GroupPeriod,
    LotBalance,
    NeedRow,
    Purchase,
)
from rickyard.stock.growth import gain_kg

FloatArray = NDArray[np.float64]

#: Amounts smaller than this, kg DM per head and day, are solver dust and not fed to anybody.
DUST_KG: Final = 1e-7

#: A need missed by less than this share counts as met.
SHORT_TOLERANCE: Final = 1e-6


def eaten_of(model: Model, x: FloatArray) -> FloatArray:
    """Return kg DM eaten per head and day, shape (groups, sources, periods), without dust."""
    eaten = model.eaten(x)
    eaten[eaten < DUST_KG] = 0.0
    return eaten


def drawn_kg(problem: Problem, eaten: FloatArray) -> FloatArray:
    """Return kg DM offered by group, source and period, waste included."""
    head_days = problem.needs.head_days[:, None, :]
    loss = problem.sources.feeding_loss_frac[:, :, None]
    return np.asarray(eaten * head_days / (1.0 - loss))


def feeding_rows(problem: Problem, eaten: FloatArray) -> tuple[FeedingRow, ...]:
    """Return one row for each amount that is fed."""
    drawn = drawn_kg(problem, eaten)
    rows = []
    for g, i, t in np.argwhere(eaten > 0.0).tolist():
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
    need, supplied, bound = _needs_and_supplies(problem, model, supply)
    rows = []
    here = problem.needs.head_days > 0
    for name, wanted in need.items():
        for g, t in np.argwhere(here & np.isfinite(wanted)).tolist():
            rows.append(
                _need_row(problem, (g, t), name, bound[name], wanted[g, t], supplied[name][g, t])
            )
    rows.sort(key=lambda row: (row.group_id, row.period))
    return tuple(rows)


def _supply(eaten: FloatArray, per_kg: FloatArray) -> FloatArray:
    return np.asarray(np.einsum("git,i->gt", eaten, per_kg))


def _needs_and_supplies(
    problem: Problem, model: Model, supply: dict[str, FloatArray]
) -> tuple[dict[str, FloatArray], dict[str, FloatArray], dict[str, Bound]]:
    needs = problem.needs
    dm, nothing = supply["dm"], np.full(supply["dm"].shape, np.nan)
    need = {
        "nem": np.where(needs.growing, nothing, needs.nem_mcal),
        "gain_energy": _gain_energy_need(problem, supply),
        "tdn": needs.tdn_kg,
        "cp": needs.cp_kg,
        "cp_floor": needs.cp_floor_frac * dm,
        "ca": needs.ca_g,
        "p": needs.p_g,
        "ca_to_p": needs.ca_to_p * supply["p"],
        "forage": needs.least_forage_kg,
        "least_dm": needs.least_dm_kg,
        "most_dm": needs.most_dm_kg,
        "appetite": np.where(needs.stated, nothing, appetite_of(model, supply)),
        "ndf": needs.most_ndf_kg,
        "nitrate": np.where(supply["nitrate"] > 0, needs.most_nitrate_ppm * dm, nothing),
    }
    supplied = {name: supply[column] for name, column in AT_LEAST.items()}
    supplied |= {
        "gain_energy": supply["nem"],
        "cp_floor": supply["cp"],
        "ca_to_p": supply["ca"],
        "most_dm": dm,
        "appetite": dm,
        "ndf": supply["ndf"],
        "nitrate": supply["nitrate"],
    }
    ceilings = ("most_dm", "appetite", "ndf", "nitrate")
    bound: dict[str, Bound] = {name: "at_most" if name in ceilings else "at_least" for name in need}
    return need, supplied, bound


def _gain_energy_need(problem: Problem, supply: dict[str, FloatArray]) -> FloatArray:
    """Return the NEm of the amount of the actual diet that maintenance and gain take.

    ``R/M + E/G <= 1`` times ``M`` reads ``R + E M/G <= M``.
    """
    needs = problem.needs
    nem, neg = supply["nem"], supply["neg"]
    ratio = np.full(nem.shape, SHORT_ENERGY_NEG_PER_NEM)
    np.divide(neg, nem, out=ratio, where=nem > 0)
    need = needs.nem_mcal + needs.retained_mcal / np.maximum(ratio, LEAST_RATIO)
    return np.asarray(np.where(needs.growing, need, np.nan))


def appetite_of(model: Model, supply: dict[str, FloatArray]) -> FloatArray:
    """Return appetite at the diet actually eaten, kg DM per head and day."""
    rows = AppetiteRows.of(model)
    diet = rows.first_diet().reshape(supply["dm"].shape)
    np.divide(supply["nem"], supply["dm"], out=diet, where=supply["dm"] > DUST_KG)
    appetite, _ = rows.appetite(diet.ravel())
    return appetite.reshape(diet.shape)


def _need_row(
    problem: Problem, cell: tuple[int, int], name: str, bound: Bound, need: float, supplied: float
) -> NeedRow:
    group, period = problem.needs.groups[cell[0]], problem.needs.periods[cell[1]]
    missing = need - supplied if bound == "at_least" else 0.0
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
        shortage=float(missing) if missing > SHORT_TOLERANCE * max(abs(need), 1e-3) else 0.0,
    )


def group_periods(problem: Problem, model: Model, eaten: FloatArray) -> tuple[GroupPeriod, ...]:
    """Return who each group is in each period and what gain its diet allows."""
    needs = problem.needs
    supply = {name: _supply(eaten, per_kg) for name, per_kg in problem.per_kg.items()}
    appetite = appetite_of(model, supply)
    rows = []
    for g, t in np.argwhere(needs.head_days > 0).tolist():
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
    if nem <= 0:
        return 0.0
    needs = problem.needs
    left = dm - float(needs.nem_mcal[g, t]) * dm / nem
    retained = max(0.0, left) * neg / dm
    return float(gain_kg(retained, float(needs.scaled_weight_kg[g, t])))


def lot_balances(problem: Problem, eaten: FloatArray) -> tuple[LotBalance, ...]:
    """Follow each lot's dry matter from the first day to the last, period by period."""
    sources = problem.sources
    drawn = drawn_kg(problem, eaten).sum(axis=0)
    swallowed = (eaten * problem.needs.head_days[:, None, :]).sum(axis=0)
    rows = []
    for i in range(sources.lot_count):
        standing, lost = float(sources.start_kg_dm[i]), 0.0
        for t, kept in enumerate(sources.kept[i].tolist()):
            lost += standing * (1.0 - kept)
            standing = standing * kept - float(drawn[i, t])
        if abs(standing) < DUST_KG:
            standing = 0.0
        eaten_kg, drawn_total = float(swallowed[i].sum()), float(drawn[i].sum())
        value = sources.values[i]
        bale_dm = (
            None if value.bale_weight_kg is None else value.bale_weight_kg * value.dm_pct / 100.0
        )
        rows.append(
            LotBalance(
                lot_id=value.source_id,
                name=value.name,
                start_t=float(sources.start_kg_dm[i]) / 1000.0,
                eaten_t=eaten_kg / 1000.0,
                feeding_loss_t=(drawn_total - eaten_kg) / 1000.0,
                storage_loss_t=lost / 1000.0,
                left_t=standing / 1000.0,
                start_bales=_bales(float(sources.start_kg_dm[i]), bale_dm),
                fed_bales=_bales(drawn_total, bale_dm),
            )
        )
    return tuple(rows)


def _bales(kg_dm: float, bale_kg_dm: float | None) -> float | None:
    return None if bale_kg_dm is None else kg_dm / bale_kg_dm


def purchases(problem: Problem, eaten: FloatArray) -> tuple[Purchase, ...]:
    """Return what is bought of each feed."""
    sources = problem.sources
    drawn = drawn_kg(problem, eaten).sum(axis=(0, 2))
    rows = []
    for i in range(sources.lot_count, len(sources.values)):
        dm = float(drawn[i])
        if dm > DUST_KG:
            value = sources.values[i]
            rows.append(
                Purchase(
                    feed_id=value.source_id,
                    name=value.name,
                    as_fed_kg=dm / (value.dm_pct / 100.0),
                    dm_kg=dm,
                    cost_usd=dm * value.usd_per_kg_dm,
                )
            )
    return tuple(rows)


def costs(
    farm: Farm, problem: Problem, lots: tuple[LotBalance, ...], bought: tuple[Purchase, ...]
) -> Costs:
    """Return the cost of the season by kind."""
    price = [value.usd_per_kg_dm * 1000.0 for value in problem.sources.values]
    end_worth = farm.season.carry_over_value_pct / 100.0
    pairs = list(zip(lots, price, strict=False))
    return Costs(
        hay_eaten=sum(lot.eaten_t * usd for lot, usd in pairs),
        hay_feeding_loss=sum(lot.feeding_loss_t * usd for lot, usd in pairs),
        hay_storage_loss=sum(lot.storage_loss_t * usd for lot, usd in pairs),
        carry_over_discount=sum((1.0 - end_worth) * lot.left_t * usd for lot, usd in pairs),
        purchases=sum(purchase.cost_usd for purchase in bought),
    )
