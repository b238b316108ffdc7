"""What must hold of the needs of small stock and horses whatever the numbers."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.quantities import OutOfRange
from rickyard.stock.camelids.camelid import DM_PCT_BW, camelid
from rickyard.stock.common.energy_units import (
    goat_de_from_me_mcal,
    goat_tdn_from_me_kg,
    me_from_tdn_mcal,
    tdn_from_me_kg,
)
from rickyard.stock.common.tables import column, find_rows
from rickyard.stock.dairy.dairy import dairy_1989, heifer_2001, heifer_class
from rickyard.stock.goats import goat, goat_2004
from rickyard.stock.horses.donkey import donkey_cp_g, donkey_de_mcal
from rickyard.stock.horses.horse import WORKS, horse_work, mare_in_milk, mare_pregnant, stallion
from rickyard.stock.horses.horse_diet import horse_cold_mcal
from rickyard.stock.horses.horse_growth import horse_weight_at_kg, young_horse
from rickyard.stock.sheep.hay_rates import hay_per_head_kg
from rickyard.stock.sheep.sheep import SHEEP_CLASSES, ram_1985, sheep_1985
from rickyard.stock.sheep.sheep_energy import (
    me_gain_mj,
    me_maintenance_mj,
    me_milk_mj,
)
from rickyard.stock.sheep.sheep_protein import (
    ewe_cp_factorial_g,
)
from support.rows import each_row

MEANT_TO_RISE = ("tdn_kg", "me_mcal", "dm_kg", "p_g")


def span(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


@given(
    span(50.0, 89.0),
    span(0.1, 1.0),
    st.sampled_from([c for c in SHEEP_CLASSES if c.startswith("ewe_")]),
)
def test_mature_ewes_need_more_the_heavier(weight: float, more: float, name: str) -> None:
    light, heavy = sheep_1985(name, weight), sheep_1985(name, weight + more)
    for constituent in (*MEANT_TO_RISE, "cp_g", "ca_g"):
        assert getattr(heavy, constituent) > getattr(light, constituent)


@given(st.sampled_from(sorted(SHEEP_CLASSES)), span(0.0, 1.0))
def test_between_two_rows_lies_between_their_values(name: str, share: float) -> None:
    rows = find_rows("sheep_1985", **{"class": name})
    weights = column(rows, "bw_kg")
    weight = weights[0] + share * (weights[1] - weights[0])
    low, high = sorted(column(rows, "cp_g")[:2])
    assert low - 1e-9 <= sheep_1985(name, float(weight)).cp_g <= high + 1e-9


@given(span(20.0, 100.0), span(0.0, 4.0), span(0.1, 2.0))
def test_goats_need_more_for_more_milk(weight: float, milk: float, more: float) -> None:
    less, much = (goat.goat_1981(weight, milk_kg=kg) for kg in (milk, milk + more))
    for constituent in ("tdn_kg", "cp_g", "ca_g", "p_g", "vitamin_a_iu"):
        assert getattr(much, constituent) > getattr(less, constituent)


@given(span(10.0, 80.0), span(0.0, 250.0), span(1.0, 50.0))
def test_kids_need_more_for_more_gain(weight: float, gain: float, more: float) -> None:
    less, much = (goat.goat_1981(weight, gain_g=g) for g in (gain, gain + more))
    assert much.tdn_kg > less.tdn_kg
    assert much.cp_g > less.cp_g
    assert much.ca_g is not None
    assert much.ca_g >= less.ca_g


@given(span(10.0, 99.0), span(0.5, 1.0))
def test_goats_need_more_the_heavier(weight: float, more: float) -> None:
    light, heavy = goat.goat_1981(weight), goat.goat_1981(weight + more)
    assert heavy.tdn_kg > light.tdn_kg
    assert heavy.ca_g is not None
    assert heavy.ca_g >= light.ca_g
    newer = goat_2004.me_goat_kj("mature", np.array([weight, weight + more]))
    assert newer[1] > newer[0]


@given(span(100.0, 900.0), span(1.0, 50.0), st.sampled_from(WORKS))
def test_horses_need_more_the_heavier_and_the_harder_they_work(
    weight: float, more: float, work: Any
) -> None:
    light, heavy = horse_work(weight, work), horse_work(weight + more, work)
    for name in ("de_mcal", "cp_g", "lysine_g", "ca_g", "p_g", "k_g", "cl_g", "zn_mg"):
        assert getattr(heavy, name) > getattr(light, name)
    idle = horse_work(weight)
    for name in ("de_mcal", "cp_g", "ca_g", "p_g", "na_g", "vitamin_e_iu"):
        assert getattr(light, name) >= getattr(idle, name)


@given(span(200.0, 800.0))
def test_mares_need_more_to_foaling_and_less_as_milk_falls(weight: float) -> None:
    months = np.arange(1.0, 12.0)
    pregnant = mare_pregnant(weight, months)
    assert np.all(np.diff(pregnant.de_mcal) >= 0.0)
    assert np.all(np.diff(pregnant.cp_g) >= 0.0)
    milking = mare_in_milk(weight, np.arange(1.0, 7.0))
    assert np.all(np.diff(milking.de_mcal) < 0.0)
    assert np.all(milking.de_mcal > pregnant.de_mcal[-1])
    assert stallion(weight, breeding=True).de_mcal > stallion(weight, breeding=False).de_mcal


@given(span(200.0, 800.0), span(4.0, 23.0))
def test_young_horses_grow(mature: float, age: float) -> None:
    assert horse_weight_at_kg(mature, age + 1.0) > horse_weight_at_kg(mature, age)
    assert horse_weight_at_kg(mature, age) < mature
    slow, fast = (young_horse(mature, age, gain_kg=gain) for gain in (0.2, 0.6))
    for name in ("de_mcal", "cp_g", "ca_g", "p_g", "mg_g"):
        assert getattr(fast, name) > getattr(slow, name)


@given(span(200.0, 800.0), span(-40.0, 30.0), span(0.1, 10.0))
def test_horses_need_more_in_more_cold(weight: float, temperature: float, colder: float) -> None:
    mild = horse_cold_mcal(weight, temperature)
    cold = horse_cold_mcal(weight, temperature - colder)
    assert cold >= mild >= 0.0
    assert horse_cold_mcal(weight, temperature, adapted=True) <= mild


@given(span(150.0, 500.0), span(0.3, 1.0), span(2.0, 2.8))
def test_dairy_heifers_need_more_for_more_gain(weight: float, gain: float, diet: float) -> None:
    slow, fast = (heifer_2001(weight, kg, 650.0, diet) for kg in (gain, gain + 0.1))
    assert fast.me_mcal > slow.me_mcal
    assert heifer_2001(weight + 10.0, gain, 650.0, diet).me_mcal > slow.me_mcal


WEIGHTS = np.array([55.0, 62.5, 80.0])
ON_ARRAYS: list[Callable[[Any], Any]] = [
    lambda w: sheep_1985("ewe_lact_twin", w),
    ram_1985,
    lambda w: goat.goat_1981(w, gain_g=120.0, milk_kg=1.0, late_pregnancy=True),
    lambda w: horse_work(w, "light"),
    lambda w: mare_pregnant(w, 9.0),
    lambda w: mare_in_milk(w, 4.0),
    lambda w: young_horse(500.0, 10.0, weight_kg=w),
    lambda w: camelid(w, "lactation"),
    lambda w: dairy_1989("dry_cow", w),
]


@each_row("need_of", ON_ARRAYS)
def test_arrays_give_arrays_and_floats_give_floats(need_of: Callable[[Any], Any]) -> None:
    many, one = need_of(WEIGHTS), need_of(float(WEIGHTS[1]))
    for name in type(one).__dataclass_fields__:
        value = getattr(one, name)
        if value is None or isinstance(value, str | tuple):
            continue
        assert isinstance(value, float), name
        whole = getattr(many, name)
        assert whole.shape == WEIGHTS.shape, name
        assert whole[1] == pytest.approx(value), name


@given(span(40.0, 250.0), st.sampled_from(sorted(DM_PCT_BW)))
def test_llamas_need_more_the_heavier(weight: float, stage: Any) -> None:
    light, heavy = camelid(weight, stage), camelid(weight + 1.0, stage)
    for name in ("tdn_kg", "cp_g", "ca_g", "p_g"):
        assert getattr(heavy, name) > getattr(light, name)
    assert donkey_cp_g(weight + 1.0) > donkey_cp_g(weight)


@given(span(20.0, 120.0), span(0.0, 3.0), span(0.05, 0.4), span(7.0, 12.0))
def test_sheep_by_factors_need_more_for_more(
    weight: float, milk: float, gain: float, diet: float
) -> None:
    assert me_maintenance_mj(weight + 1.0, diet) > me_maintenance_mj(weight, diet)
    assert me_milk_mj(milk + 0.1, diet) > me_milk_mj(milk, diet)
    assert me_gain_mj(weight, gain + 0.01, 130.0, diet) > me_gain_mj(weight, gain, 130.0, diet)
    assert me_maintenance_mj(weight, diet + 0.5) < me_maintenance_mj(weight, diet)
    assert ewe_cp_factorial_g(2.0, weight, milk_kg=milk + 0.1) > ewe_cp_factorial_g(
        2.0, weight, milk_kg=milk
    )


@given(span(0.01, 50.0))
def test_ways_between_energies_lead_back(energy: float) -> None:
    assert me_from_tdn_mcal(tdn_from_me_kg(energy)) == pytest.approx(energy)
    assert goat_de_from_me_mcal(energy) / 4.409 == pytest.approx(goat_tdn_from_me_kg(energy))


@each_row(
    "wrong",
    [
        lambda: goat.goat_1981(0.0),
        lambda: goat.goat_1981(50.0, milk_kg=-1.0),
        lambda: goat_2004.me_goat_kj("mature", -5.0),
        lambda: horse_work(0.0),
        lambda: horse_work(500.0, "leisurely"),  # type: ignore[arg-type]
        lambda: mare_in_milk(500.0, 7.0),
        lambda: donkey_de_mcal(0.0),
        lambda: camelid(100.0, "resting"),  # type: ignore[arg-type]
        lambda: heifer_class(2.0),
        lambda: ram_1985(30.0),
        lambda: ram_1985(200.0),
        lambda: hay_per_head_kg(70.0, "ewe_maintenance", 0.0),
    ],
)
def test_what_means_nothing_is_refused(wrong: Callable[[], Any]) -> None:
    with pytest.raises(OutOfRange):
        wrong()
