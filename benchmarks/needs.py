"""How long the needs of a district take, beside the bare arithmetic of the same equations.

Run with ``python benchmarks/needs.py``; it takes one core. The bare arithmetic is written below
with nothing but NumPy and gives the same numbers, which is checked before anything is timed.
"""

from __future__ import annotations

import resource
import time
from collections.abc import Callable
from datetime import date, timedelta

import numpy as np

from rickyard.farm import AnimalClass, ColdRule, Group, WeatherRow
from rickyard.stock.beef.beef_batch import BLOCK_CELLS, herd_needs
from rickyard.stock.beef.defaults import settings_of
from rickyard.stock.beef.herd_parts import Days, Herd
from rickyard.stock.beef.herd_rows import herd_rows
from rickyard.stock.common import Conditions, weather_of
from rickyard.stock.herd.herd import group_needs

GROUPS, LENGTH, RUNS = 10_000, 210, 5
START = date(2026, 11, 1)
LB = 0.45359237


def groups(chance: np.random.Generator) -> list[Group]:
    found = []
    for at in range(GROUPS):
        calving = START + timedelta(days=int(chance.integers(10, 160)))
        name, head = f"g{at}", int(chance.integers(5, 200))
        kind = at % 4
        if kind == 0:
            group = Group(
                name,
                name,
                AnimalClass.COW,
                head,
                float(chance.uniform(480, 680)),
                calving_on=calving,
            )
        elif kind == 1:
            group = Group(
                name,
                name,
                AnimalClass.BRED_HEIFER,
                head,
                float(chance.uniform(360, 480)),
                mature_weight_kg=590.0,
                calving_on=calving,
            )
        elif kind == 2:
            group = Group(
                name,
                name,
                AnimalClass.STOCKER,
                head,
                float(chance.uniform(200, 330)),
                finish_weight_kg=580.0,
                age_months=float(chance.uniform(6, 14)),
                gain_kg_per_day=float(chance.uniform(0.3, 1.1)),
            )
        else:
            group = Group(name, name, AnimalClass.BULL, head, float(chance.uniform(750, 950)))
        found.append(group)
    return found


def bare(h: Herd, d: Days) -> dict[str, np.ndarray]:
    """The same equations, percent rule of cold and cattle wind chill, straight through."""
    c = {name: getattr(h, name)[:, None] for name in h.__dataclass_fields__}
    t = d.on
    ago = t - c["calving_on"]
    births = np.maximum(np.floor(ago / c["interval"]) + 1, 0)
    since = np.where(births > 0, ago - (births - 1) * c["interval"], -1)
    left = np.where(births > 0, c["interval"] - since, -ago)
    nursing = (births > 0) & (since < c["weaned_after"])
    t_preg = np.minimum(np.maximum(283 - left, 0), 285)
    now = np.maximum(t, c["weighed_on"])
    stated = np.isfinite(c["stated_gain_kg"])
    pace = np.where(stated, c["stated_gain_kg"], 0)
    gain = (
        np.where(
            births == 0,
            c["gain_before_calving_kg"],
            np.where(births == 1, c["gain_after_calving_kg"], 0),
        )
        + pace
    )
    w = c["shrunk_weight_kg"] + pace * (now - c["weighed_on"])
    w = w + c["gain_before_calving_kg"] * (np.minimum(now, c["calving_on"]) - c["weighed_on"])
    calved_for = np.minimum(now, c["calving_on"] + c["interval"]) - c["calving_on"]
    w = w + c["gain_after_calving_kg"] * np.maximum(calved_for, 0)
    w75 = w**0.75
    full = w / 0.96
    heifer, cow = c["is_heifer"], c["is_cow"]
    peak = c["peak_milk_kg"] * np.where(
        heifer, np.where(births <= 1, 0.74, np.where(births == 2, 0.88, 1.0)), 1.0
    )
    share = np.where(nursing, since, 0) / 7 / 8.5
    milk = peak * share * np.exp(1 - share)
    idle = (
        0.077 * c["breed_factor"] * np.where(c["intact_male"], 1.15, 1) * np.where(nursing, 1.2, 1)
    )
    before = 0.0007 * (20 - np.clip(d.previous_month_c, -20, 35))
    maint = w75 * (idle + before) * (c["activity_factor"] * c["heat_factor"])
    lact = milk * (0.092 * 4 + 0.049 * 8.3 - 0.0569)
    born = np.where((births == 0) & heifer, c["first_birth_weight_kg"], c["birth_weight_kg"])
    on = t_preg > 0
    preg = np.where(
        on,
        0.576
        / 1000
        * born
        * (0.4504 - 0.000766 * t_preg)
        * np.exp((0.03233 - 0.0000275 * t_preg) * t_preg),
        0,
    )
    conceptus = np.where(on, born * 0.01828 * np.exp(0.02 * t_preg - 0.0000143 * t_preg**2), 0)
    preg_mp = np.where(
        on,
        born
        * (0.001669 - 0.00000211 * t_preg)
        * np.exp((0.0278 - 0.0000176 * t_preg) * t_preg)
        * 6.25
        / 0.65,
        0,
    )
    final = np.where(np.isfinite(c["final_shrunk_weight_kg"]), c["final_shrunk_weight_kg"], w)
    eq = w * 478 / final
    retained = 0.0635 * (0.891 * eq) ** 0.75 * (0.956 * gain) ** 1.097
    protein = np.maximum(268 * gain - 29.4 * retained, 0)
    mp = 3.8 * w75 + protein / np.where(eq <= 300, 0.834 - 0.00114 * eq, 0.492)
    mp = mp + milk * 34 / 0.65 + preg_mp
    late90 = on & (left <= 90)
    ca = (0.0154 * w + 0.071 * protein + 1.23 * milk + np.where(late90, born * 13.7 / 90, 0)) / 0.5
    p = (0.0160 * w + 0.039 * protein + 0.95 * milk + np.where(late90, born * 7.6 / 90, 0)) / 0.68
    air = d.temperature_c
    mph = d.wind_km_per_h / 1.609344
    felt = (
        air
        - np.interp(mph, (0, 5, 10, 15, 20, 25, 30, 35, 40), (0, 6, 11, 15, 20, 27, 36, 50, 68))
        / 1.8
    )
    felt = np.where(c["windbreak"], air, felt)
    critical = np.where(d.wet, 15, c["critical_c"])
    extra = np.maximum(critical - felt, 0) * (1.8 / 100 * np.where(d.wet, 2, 1)) * maint
    mild = maint + lact + preg
    mud = c["mud_adds"] * maint
    most = 0.25 * (mild + mud)
    cold, owed = np.empty_like(extra), np.empty_like(extra)
    back = np.zeros(len(extra))
    for day in range(len(t)):
        asked = extra[:, day] + back
        cold[:, day] = np.minimum(asked, most[:, day])
        back = asked - cold[:, day]
        owed[:, day] = back
    cold = cold + mud
    asked_for = (t >= c["weighed_on"]) & (t < c["condition_until"])
    condition = np.where(asked_for, c["condition_mcal"], 0)
    late = t_preg > 283 / 3
    age = c["age_months"] + (t - c["weighed_on"]) / 30.4
    state = np.where(cow, np.where(late, 3, 2), np.where(age < 12, 0, 1))
    factor = (
        np.where(cow & (~heifer | (births > 0)), np.where(nursing, 1.2, np.where(late, 1.06, 1)), 1)
        * c["appetite_factor"]
    )
    nem = 1.14
    shares = np.array(
        [
            0.2435 - 0.0466 * nem - 0.1128 / nem,
            0.2435 - 0.0466 * nem - 0.0869 / nem,
            (0.04997 * nem**2 + 0.03840) / nem,
            (0.04997 * nem**2 + 0.04631) / nem,
        ]
    )
    eaten = (w75 * shares[state] + np.where(cow, 0.2, 0) * milk) * factor
    stage = np.where(nursing, 2, np.where(cow, 1, 0))
    wet_lb = np.clip(full / LB, 1100, 1500) - 1100
    warm = np.minimum(air, 32.2222222222222)
    gallons = (
        8.2
        + 0.005 * wet_lb
        + 0.104 * np.maximum(warm * 1.8 - 8, 0)
        + np.where(nursing, 0.77 + 0.00375 * wet_lb + 0.153 * np.minimum(milk / LB, 25), 0)
    )
    colder = np.clip(1 - 0.01 * (70 - (warm * 1.8 + 32)), 0.7, 1) * 3.785411784
    fahrenheit = warm * 1.8 + 32
    light, heavy, bull = (
        np.interp(fahrenheit, (70, 80, 90), table) * colder
        for table in ((6.5, 7.4, 10.6), (9.3, 10.6, 14.0), (12.7, 14.6, 19.5))
    )
    growing = light + np.maximum((full - 500 * LB) / (300 * LB), 0) * (heavy - light)
    water = np.where(cow, gallons * 3.785411784, np.where(c["is_breeding_bull"], bull, growing))
    vitamin = np.array([21, 27, 38]) / LB
    return {
        "shrunk_weight_kg": w,
        "full_weight_kg": full,
        "gain_kg": gain,
        "milk_kg": milk,
        "nem_maintenance_mcal": maint,
        "nem_lactation_mcal": lact,
        "nem_pregnancy_mcal": preg,
        "nem_cold_mcal": cold,
        "cold_owed_mcal": owed,
        "nem_condition_mcal": condition,
        "nem_mcal": maint + lact + preg + cold + condition,
        "retained_energy_mcal": retained,
        "mp_g": mp,
        "cp_kg": mp / 0.67 / 1000,
        "ca_kg": ca / 1000,
        "p_kg": p / 1000,
        "intake_factor": factor,
        "conceptus_kg": conceptus,
        "usual_hay_dm_kg": eaten,
        "mg_g": np.array([1.0, 1.2, 2.0])[stage] * eaten,
        "k_g": np.array([6.0, 6.0, 7.0])[stage] * eaten,
        "na_g": np.array([0.7, 0.7, 1.0])[stage] * eaten,
        "s_g": 1.5 * eaten,
        "cu_mg": 10 * eaten,
        "zn_mg": 30 * eaten,
        "mn_mg": np.array([20.0, 40.0, 40.0])[stage] * eaten,
        "se_mg": 0.1 * eaten,
        "fe_mg": 50 * eaten,
        "co_mg": 0.15 * eaten,
        "i_mg": 0.5 * eaten,
        "salt_g": 2.5 * eaten,
        "vitamin_a_iu": vitamin[np.where(c["is_breeding_bull"], 2, stage)] * full,
        "vitamin_d_iu": 2.6 / LB * full,
        "vitamin_e_iu": 16 / LB * eaten,
        "water_l": water,
    }


def bare_in_blocks(h: Herd, d: Days) -> dict[str, np.ndarray]:
    """The bare arithmetic on as many groups at a time as the engine takes."""
    step = BLOCK_CELLS // LENGTH
    out: dict[str, np.ndarray] = {}
    for first in range(0, GROUPS, step):
        for name, values in bare(h.rows(first, first + step), d).items():
            out.setdefault(name, np.empty((GROUPS, LENGTH)))[first : first + step] = values
    return out


def best(call: Callable[[], object]) -> float:
    took = []
    for _ in range(RUNS):
        began = time.perf_counter()
        call()
        took.append(time.perf_counter() - began)
    return min(took)


def peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main() -> None:
    chance = np.random.default_rng(20261101)
    herds = groups(chance)
    began = time.perf_counter()
    start = float(START.toordinal())
    herd, _ = herd_rows(herds, [settings_of(one) for one in herds], [start] * GROUPS)
    rows_s = time.perf_counter() - began
    count = np.arange(LENGTH)
    days = Days(
        on=start + count,
        previous_month_c=4.0 - 12.0 * np.sin(count / 70.0),
        temperature_c=2.0 - 14.0 * np.sin(count / 70.0) + chance.normal(0, 5, LENGTH),
        wind_km_per_h=chance.uniform(0, 35, LENGTH),
        wet=chance.random(LENGTH) < 0.08,
    )
    percent = Conditions(cold_rule=ColdRule.PERCENT)
    before_mb = peak_mb()
    needs = herd_needs(herd, days, percent)
    engine_mb = peak_mb() - before_mb
    wanted = bare(herd, days)
    assert set(wanted) == set(needs.values), set(wanted) ^ set(needs.values)
    for name, values in wanted.items():
        np.testing.assert_allclose(needs[name], values, rtol=1e-9, atol=1e-9, err_msg=name)
    del needs, wanted

    engine_s = best(lambda: herd_needs(herd, days, percent))
    bare_s = best(lambda: bare(herd, days))
    blocks_s = best(lambda: bare_in_blocks(herd, days))
    cells = GROUPS * LENGTH
    print(f"{GROUPS:,} groups x {LENGTH} days, 35 needs each, {cells:,} cells, best of {RUNS}")
    for name, took in (
        ("engine, percent rule of cold", engine_s),
        ("bare NumPy, whole arrays", bare_s),
        ("bare NumPy, in blocks", blocks_s),
    ):
        print(f"{name:30} {took:6.3f} s  {1e9 * took / cells:5.0f} ns/cell")
    print(f"ratio engine to bare, whole    {engine_s / bare_s:6.2f}")
    print(f"ratio engine to bare, blocks   {engine_s / blocks_s:6.2f}")
    print(f"memory taken by the engine     {engine_mb:6.0f} MB, its results among them")
    for rule in (ColdRule.NONE, ColdRule.FACTORIAL):
        took = best(lambda rule=rule: herd_needs(herd, days, Conditions(cold_rule=rule)))
        print(f"engine, rule of cold {rule.value:9} {took:6.3f} s")
    print(f"groups to rows of the engine   {rows_s:6.3f} s")
    one_group(days)


def one_group(days: Days) -> None:
    """A single group through the same engine, spread calving and cold days included."""
    season = [START + timedelta(days=int(day)) for day in range(LENGTH)]
    rows = [
        WeatherRow(day, False, float(days.temperature_c[at]), float(days.wind_km_per_h[at]))
        for at, day in enumerate(season)
    ]
    weather = weather_of(rows, season[0], season[-1])
    cows = Group("c", "Cows", AnimalClass.COW, 60, 560.0, calving_on=date(2027, 3, 1))
    spread = Group(
        "s", "Cows", AnimalClass.COW, 60, 560.0, calving_on=date(2027, 3, 1), calving_spread_days=60
    )
    for name, group in (("one date", cows), ("60 days of calving", spread)):
        took = best(
            lambda group=group: group_needs(
                group, season, weather=weather, cold_rule=ColdRule.PERCENT
            )
        )
        print(f"one group, {name:19} {1000 * took:6.1f} ms")


if __name__ == "__main__":
    main()
