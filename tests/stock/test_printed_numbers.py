"""Numbers of print read back through the functions that hold them, each entered a second time.

Sources are those named in the files of the functions; "from memory" where they say so.
"""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Group
from rickyard.quantities import OutOfRange
from rickyard.safety.whom import gestation_days
from rickyard.stock.camelids.camelid import camelid, camelid_me_maintenance_mcal
from rickyard.stock.equations.appetite_factors import breed_factor, fat_factor
from rickyard.stock.fill.shares import (
    access_share,
    fill_share,
    places_needed,
    protein_factor,
    room_left_kg,
)
from rickyard.stock.fill.substitution import put_aside_rate
from rickyard.stock.horses.horse import mare_milk_kg
from rickyard.stock.horses.horse_growth import horse_weight_at_kg, young_horse
from rickyard.stock.minerals.calcium_phosphorus import calcium_phosphorus_g
from rickyard.stock.sheep.sheep_energy import litter_birth_weight_kg, me_maintenance_mj
from support.rows import each_row


def test_hours_of_access_halve_what_cows_eat_and_a_day_gives_all() -> None:
    """Miller et al. 2007: three hours, half; Lalman et al. 2012: six hours, 22 % less."""
    assert access_share(np.array([0.0, 3.0, 6.0, 24.0])) == pytest.approx([0.0, 0.5, 0.78, 1.0])
    assert access_share(15.0) == pytest.approx(0.89)
    assert access_share(1.5) == pytest.approx(0.25)


def test_too_little_protein_takes_a_quarter_of_intake_at_most() -> None:
    """Selk: 1.5 against 2.0 % of weight, from 8 down to 6 % of protein."""
    assert protein_factor(np.array([5.0, 6.0, 7.0, 8.0, 9.0])) == pytest.approx(
        [0.75, 0.75, 0.875, 1.0, 1.0]
    )


def test_places_at_rings_are_counted_up_and_nobody_has_no_ring() -> None:
    """Buskirk et al. 2003: 37 cm a cow."""
    assert places_needed(20, 0.37, 2.44) == 1
    assert places_needed(21, 0.37, 2.44) == 2
    assert places_needed(1, 0.37, 2.44) == 1
    for head, each, ring in ((0, 0.37, 2.44), (1, 0.0, 2.44), (1, 0.37, 0.0)):
        with pytest.raises(OutOfRange):
            places_needed(head, each, ring)


def test_there_is_no_room_beside_what_fills() -> None:
    assert room_left_kg(10.0, 12.0, 12.0) == 0.0
    assert room_left_kg(10.0, 13.0, 12.0) == 0.0
    assert room_left_kg(10.0, 6.0, 12.0) == pytest.approx(5.0)
    assert fill_share([3.0, 5.0], [12.0, 10.0]) == pytest.approx(0.75)


def test_appetite_by_breed_and_by_fat() -> None:
    """NRC 2000, Table 10-4: Holsteins 1.08, crosses 1.04; by shrunk weight scaled to 478 kg."""
    assert [breed_factor(one) for one in ("holstein", "holstein_cross", "other")] == [
        *(1.08, 1.04, 1.0)
    ]
    weights = np.array([300.0, 350.0, 400.0, 450.0, 500.0, 550.0, 600.0])
    assert fat_factor(weights) == pytest.approx([1.0, 1.0, 0.97, 0.90, 0.82, 0.73, 0.73])
    with pytest.raises(OutOfRange):
        breed_factor("angus")


#: Days of pregnancy; from memory.
CARRIED = {
    AnimalClass.EWE: 147,
    AnimalClass.DOE: 150,
    AnimalClass.MARE: 340,
    AnimalClass.LLAMA: 350,
    AnimalClass.COW: 280,
}


@pytest.mark.parametrize("kind", CARRIED)
def test_stock_carry_so_many_days(kind: AnimalClass) -> None:
    group = Group("g", "Dams", kind, 5, 100.0)
    assert timedelta(days=gestation_days(group)) == timedelta(days=CARRIED[kind])


def test_calcium_and_phosphorus_by_upkeep_gain_milk_and_calf() -> None:
    """NRC 2000, from memory: grams kept over the share that is absorbed."""
    kept = (
        0.0154 * 500.0 + 0.071 * 120.0 + 1.23 * 6.0 + 13.7 / 90.0 * 40.0,
        0.0160 * 500.0 + 0.039 * 120.0 + 0.95 * 6.0 + 7.6 / 90.0 * 40.0,
    )
    given = {"net_protein_gain_g": 120.0, "milk_kg": 6.0, "birth_weight_kg": 40.0}
    found = calcium_phosphorus_g(500.0, **given, last_90_days=True)
    assert list(found) == pytest.approx([kept[0] / 0.5, kept[1] / 0.68])
    early = calcium_phosphorus_g(500.0, **given)
    assert found[0] - early[0] == pytest.approx(13.7 / 90.0 * 40.0 / 0.5)
    assert found[1] - early[1] == pytest.approx(7.6 / 90.0 * 40.0 / 0.68)


def test_lambs_weigh_by_their_number_and_their_dam() -> None:
    """Five, nine and eleven kilograms of one to three lambs; from memory."""
    base = [litter_birth_weight_kg(one, 75.0) for one in (1, 2, 3)]
    assert [one / base[0] for one in base] == pytest.approx([1.0, 1.8, 2.2])
    assert litter_birth_weight_kg(2, 150.0) / base[1] == pytest.approx(2.0**0.75)


@pytest.mark.parametrize(
    ("stage", "dm", "tdn", "cp"),
    [
        ("late_gestation", 1.4, 62.5, 13.0),
        ("lactation", 1.75, 62.5, 13.0),
        ("growth", 1.75, 62.5, 13.0),
    ],
)
def test_camelids_eat_the_middle_of_what_is_printed(
    stage: str, dm: float, tdn: float, cp: float
) -> None:
    """Van Saun: dry matter and TDN from memory, protein seen."""
    need = camelid(150.0, stage)  # type: ignore[arg-type]
    assert need.dm_kg == pytest.approx(dm * 1.5)
    assert need.tdn_kg == pytest.approx(tdn / 100.0 * dm * 1.5)
    assert need.cp_g == pytest.approx(10.0 * cp * dm * 1.5)
    assert need.ca_g == pytest.approx(6.0 * dm * 1.5)
    assert need.p_g == pytest.approx(3.0 * dm * 1.5)
    assert need.vitamin_d_iu == pytest.approx(30.0 * 150.0)
    kept = camelid(150.0)
    assert kept.dm_kg == pytest.approx(1.25 * 1.5)
    assert kept.me_mcal == pytest.approx(camelid_me_maintenance_mcal(150.0))


@each_row(
    ("age", "efficiency", "vitamin_d"),
    [
        (4.0, 0.50, 22.2),
        (6.9, 0.50, 22.2),
        (7.0, 0.45, 17.4),
        (9.0, 0.40, 17.4),
        (11.0, 0.35, 17.4),
        (12.0, 0.30, 17.4),
        (13.0, 0.30, 15.9),
        (19.0, 0.30, 13.7),
        (24.0, 0.30, 13.7),
    ],
)
def test_young_horses_by_their_age(age: float, efficiency: float, vitamin_d: float) -> None:
    """NRC 2007, from memory: a gain of half a kilogram against none, at 300 kg."""
    still, grows = (young_horse(500.0, age, weight_kg=300.0, gain_kg=gain) for gain in (0.0, 0.5))
    gained = {
        "de_mcal": (1.99 + 1.21 * age - 0.021 * age**2) * 0.5,
        "cp_g": 1000.0 * 0.5 * 0.20 / efficiency / 0.79,
        "ca_g": 32.0 * 0.5,
        "p_g": 17.8 * 0.5,
        "mg_g": 1.25 * 0.5,
        "k_g": 3.0 * 0.5,
        "na_g": 1.0 * 0.5,
        "cl_g": 0.0,
    }
    for name, amount in gained.items():
        more = getattr(grows, name) - getattr(still, name)
        assert more == pytest.approx(amount, abs=1e-9), name
    upkeep = {
        "de_mcal": 0.0565 * age**-0.145 * 300.0,
        "cp_g": 1.44 * 300.0,
        "ca_g": 0.072 * 300.0,
        "p_g": 0.040 * 300.0,
        "mg_g": 0.015 * 300.0,
        "k_g": 0.050 * 300.0,
        "na_g": 0.020 * 300.0,
        "cl_g": 0.0825 * 300.0,
        "cu_mg": 0.25 * 300.0,
        "zn_mg": 300.0,
        "vitamin_d_iu": vitamin_d * 300.0,
        "vitamin_a_iu": 45.0 * 300.0,
    }
    for name, amount in upkeep.items():
        assert getattr(still, name) == pytest.approx(amount), name


def test_horses_grow_along_the_curve_and_mares_milk_by_month() -> None:
    """NRC 2007, from memory: 9.7 % of mature weight at birth; milk of the first six months."""
    assert horse_weight_at_kg(500.0, 0.0) == pytest.approx(48.5)
    twelve = (9.7 + 90.3 * (1.0 - np.exp(-0.0772 * 12.0))) / 100.0
    assert horse_weight_at_kg(500.0, 12.0) == pytest.approx(500.0 * twelve)
    milk = [mare_milk_kg(500.0, float(month)) for month in range(1, 7)]
    assert milk == pytest.approx(
        [500.0 * one for one in (0.0326, 0.0324, 0.0299, 0.0271, 0.0244, 0.0218)]
    )


@pytest.mark.parametrize(
    ("tdn", "rate"), [(51.9, 0.8), (52.0, 0.7), (58.0, 0.7), (58.1, 0.7), (45.0, 0.8)]
)
def test_starch_puts_forage_aside_by_its_class(tdn: float, rate: float) -> None:
    """Half a percent of weight: 0.8 kg a kilogram on poor forage, 0.7 on medium and good."""
    assert put_aside_rate("starch", 0.5, tdn) == pytest.approx(rate)


@pytest.mark.parametrize(("tdn", "rate"), [(51.9, 0.0), (52.0, 0.3), (58.0, 0.3), (58.1, 0.5)])
def test_fibrous_feeds_put_forage_aside_by_its_class(tdn: float, rate: float) -> None:
    """An edge of quality belongs to the medium class."""
    assert put_aside_rate("fibre", 0.5, tdn) == pytest.approx(rate, abs=1e-12)


def test_sheep_need_less_as_they_age_and_entire_males_more() -> None:
    """CSIRO, from memory: 0.28 MJ a kilogram to 0.75, 3 % less a year up to six; rams 15 % more."""
    young = float(me_maintenance_mj(70.0, 8.0, age_years=0.0))
    ages = [float(me_maintenance_mj(70.0, 8.0, age_years=one)) / young for one in (1.0, 6.0, 9.0)]
    assert ages == pytest.approx([np.exp(-0.03), np.exp(-0.18), np.exp(-0.18)])
    ram = float(me_maintenance_mj(70.0, 8.0, age_years=0.0, entire_male=True))
    assert ram == pytest.approx(1.15 * young)
    efficiency = 0.02 * 8.0 + 0.5
    assert young == pytest.approx(0.28 * 70.0**0.75 / efficiency, rel=1e-3)
    heavy = float(me_maintenance_mj(140.0, 8.0, age_years=0.0))
    assert heavy / young == pytest.approx(2.0**0.75)
