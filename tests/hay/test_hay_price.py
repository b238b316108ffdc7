"""Prices: worked examples, through the functions and the command."""

import json
from collections.abc import Sequence

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from rickyard.cli.main import main
from rickyard.farm import Storage, Wrap
from rickyard.hay.money.price_page import Market, Offer, WayOfStoring, hay_price, storage_prices
from rickyard.quantities import KG_PER_LB, KG_PER_SHORT_TON, OutOfRange
from support.rows import each_row

TON = KG_PER_SHORT_TON
OFFER = Offer(1100 * KG_PER_LB, 88.0, usd_per_bale=50.0, cp_pct=10.0, tdn_pct=56.0)


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["price", *arguments])


def test_the_worked_prices() -> None:
    """$50 on 1,100 lb is $90.91; $3.50 x 300 mi / 21.25 ton is $49.41; corn and meal $125.05."""
    freight = (3.5 / 1.609344, 300 * 1.609344, 21.25 * TON)
    market = Market(160.7142857 / TON, 400.0 / TON)
    found = hay_price(
        Offer(OFFER.bale_kg, 88.0, usd_per_bale=50.0, cp_pct=10.0, tdn_pct=56.0, freight=freight),
        market,
    )
    assert found.usd_per_kg * TON == pytest.approx(90.91, abs=0.005)
    assert (found.delivered_usd_per_kg - found.usd_per_kg) * TON == pytest.approx(49.41, abs=0.005)
    assert found.worth_usd_per_kg is not None
    assert found.worth_usd_per_kg * TON == pytest.approx(125.05, abs=0.02)


def test_losses_divide() -> None:
    """A $60 bale with 20 % of waste costs $75, not the $72 that is printed."""
    wasted = hay_price(Offer(500.0, 88.0, usd_per_bale=60.0, feeding_loss_pct=20.0))
    assert wasted.eaten_usd_per_kg * 500.0 == pytest.approx(75.0)


@given(st.floats(0.01, 1.0), st.floats(0.0, 60.0), st.floats(0.0, 60.0), st.floats(60.0, 95.0))
def test_what_is_eaten_never_costs_less(
    price: float, storage: float, feeding: float, dm: float
) -> None:
    found = hay_price(
        Offer(500.0, dm, usd_per_kg=price, storage_loss_pct=storage, feeding_loss_pct=feeding)
    )
    assert found.eaten_usd_per_kg >= found.delivered_usd_per_kg - 1e-12
    assert found.eaten_usd_per_kg_dm * dm / 100.0 == pytest.approx(found.eaten_usd_per_kg)
    assert found.usd_per_bale == pytest.approx(500.0 * price)


@pytest.mark.parametrize("prices", [(None, None), (0.1, 50.0)])
def test_one_price_is_wanted(prices: tuple[float | None, float | None]) -> None:
    with pytest.raises(OutOfRange, match="one of the two"):
        hay_price(Offer(500.0, 88.0, usd_per_kg=prices[0], usd_per_bale=prices[1]))


def test_prices_that_tell_nothing_are_told() -> None:
    assert "protein and TDN" in hay_price(Offer(500.0, 88.0, 0.1), Market(0.2, 0.4)).worth_remark
    odd = Market(0.5, 0.2)  # meal far cheaper than corn: protein would be worth less than nothing
    assert "cannot price this hay" in hay_price(OFFER, odd).worth_remark


def test_the_worked_storage() -> None:
    """At $120 and losses of 20, 5 and 3 %: $150 on ground; a barn at $19.14 pays from $112.6."""
    ways = [
        WayOfStoring("ground", Storage.EXPOSED_GROUND),
        WayOfStoring("barn", Storage.ENCLOSED_BARN, 19.14 / TON),
    ]
    ground, barn = storage_prices(ways, 120.0 / TON, 9.0, 1016.0)
    assert (ground.loss_pct, barn.loss_pct) == (20.0, 2.0)
    assert ground.fed_usd_per_kg * TON == pytest.approx(150.0)
    assert barn.fed_usd_per_kg * TON == pytest.approx(139.14 / 0.98)
    assert barn.pays_from_usd_per_kg is not None
    assert barn.pays_from_usd_per_kg * TON == pytest.approx(19.14 / 0.18)
    assert barn.worth_up_to_usd_per_kg is not None
    assert barn.worth_up_to_usd_per_kg * TON == pytest.approx(120 * 0.18)
    assert ground.pays_from_usd_per_kg is None


@given(st.floats(0.02, 0.5), st.floats(0.5, 15.0), st.floats(300.0, 1500.0), st.floats(0.001, 0.1))
def test_a_way_pays_just_when_hay_is_dearer_than_its_price(
    price: float, months: float, rain: float, cost: float
) -> None:
    ways = [
        WayOfStoring("twine", Storage.EXPOSED_GROUND, 0.0, Wrap.PLASTIC_TWINE),
        WayOfStoring("net", Storage.EXPOSED_GROUND, cost, Wrap.NET),
    ]
    twine, net = storage_prices(ways, price, months, rain)
    assert net.worth_up_to_usd_per_kg is not None
    assert net.pays_from_usd_per_kg is not None
    assert (price > net.pays_from_usd_per_kg) == (cost < net.worth_up_to_usd_per_kg)
    assert net.loss_pct < twine.loss_pct


def test_no_way_of_storing_is_refused() -> None:
    with pytest.raises(OutOfRange):
        storage_prices([], 0.1, 6.0, 900.0)


def test_the_command_prices_an_offer() -> None:
    found = run("hay", "--bale", "50", "--weight", "1100", "--cp", "10", "--tdn", "56")
    assert found.exit_code == 0, found.output
    assert found.output.startswith("$50.00 a bale of 1,100 lb is $91/ton")
    metric = run("hay", "--ton", "130 $/t", "--weight", "500 kg", "--metric")
    assert "$130/t" in metric.output


def test_the_command_sets_storage_side_by_side() -> None:
    arguments = ("--ton", "120", "--rain", "36 in", "--barn", "25000", "--stored", "140")
    found = run("storage", *arguments, "--upkeep", "500", "--pad", "3", "--tarp", "3")
    assert found.exit_code == 0, found.output
    assert found.output.startswith("Cheapest: tarp, on rock")
    assert max(map(len, found.output.splitlines())) <= 100
    written = json.loads(run("storage", *arguments, "--json").stdout)
    assert written["rickyard"] == "price storage"
    barn = written["ways"][-1]
    assert barn["way"]["name"] == "barn"
    assert barn["way"]["usd_per_kg_year"] * TON == pytest.approx(2179.6 / 140, abs=0.01)


@each_row(
    ("arguments", "word"),
    [
        (("hay", "--weight", "1100"), "one of the two"),
        (("hay", "--weight", "1100", "--bale", "5", "--corn", "4"), "both --corn and --meal"),
        (("hay", "--weight", "1100", "--bale", "5", "--miles", "4"), "Freight needs all of"),
        (("hay", "--weight", "heavy", "--bale", "5"), "not a number"),
        (("hay", "--weight", "1100", "--bale", "5", "--dm", "0.88"), "dry matter"),
        (("storage", "--ton", "120", "--rain", "36", "--barn", "9"), "--stored"),
        (("storage", "--ton", "120"), "--rain"),
    ],
)
def test_the_command_says_what_to_write(arguments: Sequence[str], word: str) -> None:
    found = run(*arguments)
    assert found.exit_code == 2
    assert word in found.output


def test_a_bale_that_weighs_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange, match="bale weight 0 kg must be above zero"):
        hay_price(Offer(0.0, 88.0, usd_per_kg=0.1))


def test_one_way_of_storing_is_not_called_the_cheapest() -> None:
    alone = run("storage", "--ton", "120", "--rain", "36").output
    assert "Cheapest" not in alone
    assert "--pad" in alone
    assert "Cheapest" in run("storage", "--ton", "120", "--rain", "36", "--pad", "3").output


def test_storing_beyond_what_is_published_says_so() -> None:
    """The table ends at 18 months."""
    arguments = ("storage", "--ton", "120", "--rain", "36", "--pad", "3", "--months")
    assert "beyond 18 months" in run(*arguments, "19").output
    assert "beyond 18 months" not in run(*arguments, "18").output


def test_faults_of_a_barn_are_told_in_plain_words() -> None:
    storing = ("storage", "--ton", "120", "--rain", "36")
    assert "--barn" in run(*storing, "--upkeep", "100").output
    never = run(*storing, "--barn", "25000", "--stored", "140", "--years", "0")
    assert "years 0 must be above zero" in never.output
