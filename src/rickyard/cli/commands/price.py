"""``rickyard price``: what hay costs in every way that counts, and what storing it well saves."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import click

from rickyard.cli import shared
from rickyard.quantities import KG_PER_LB, KM_PER_MILE, OutOfRange

if TYPE_CHECKING:
    from rickyard.hay.money import WayOfStoring

BUSHEL_KG: Final = 56.0 * KG_PER_LB  # shelled corn, from memory

_MASS = shared.QuantityOption("mass", "lb")
_PRICE = shared.QuantityOption("price", "usd_per_ton")
_PERCENT = shared.Number(0.0, 100.0, "10")
_NOT_NEGATIVE = shared.Number(0.0, 1e9, "120")
_JSON_HELP = "Write JSON on standard output instead of a table."


@click.group()
def price() -> None:
    """Turn prices of hay into ones that compare, and say what storing it well is worth."""


@price.command()
@click.option("--bale", "usd_per_bale", type=_NOT_NEGATIVE, help="Price of a bale, dollars.")
@click.option("--ton", "usd_per_kg", type=_PRICE, help="Price of a ton, such as 120 or 130 $/t.")
@click.option("--weight", "bale_kg", type=_MASS, required=True, help="Weight of a bale, 1150 lb.")
@click.option(
    "--dm", "dm_pct", type=_PERCENT, default=88.0, show_default=True, help="Dry matter, %."
)
@click.option("--cp", "cp_pct", type=_PERCENT, help="Crude protein, % of dry matter.")
@click.option("--tdn", "tdn_pct", type=_PERCENT, help="TDN, % of dry matter.")
@click.option("--miles", type=_NOT_NEGATIVE, help="Loaded miles of the way home.")
@click.option("--rate", type=_NOT_NEGATIVE, help="Freight, dollars per loaded mile.")
@click.option(
    "--load", "load_kg", type=shared.QuantityOption("mass", "ton"), help="Hay on the truck."
)
@click.option("--storage-loss", type=_PERCENT, default=0.0, help="Storage loss, %.")
@click.option("--feeding-loss", type=_PERCENT, default=0.0, help="Feeding waste, %.")
@click.option(
    "--corn", "corn_usd_per_bu", type=_NOT_NEGATIVE, help="Price of corn, dollars per bushel."
)
@click.option("--meal", "meal_usd_per_kg", type=_PRICE, help="Price of soybean meal, per ton.")
@click.option("--metric", is_flag=True, help="Show prices per tonne and kilogram.")
@click.option("--json", "as_json", is_flag=True, help=_JSON_HELP)
@shared.answering
def hay(
    usd_per_bale: float | None,
    usd_per_kg: float | None,
    bale_kg: float,
    dm_pct: float,
    cp_pct: float | None,
    tdn_pct: float | None,
    miles: float | None,
    rate: float | None,
    load_kg: float | None,
    storage_loss: float,
    feeding_loss: float,
    corn_usd_per_bu: float | None,
    meal_usd_per_kg: float | None,
    metric: bool,
    as_json: bool,
) -> None:
    """Say what an offer of hay comes to per ton, dry, delivered and eaten."""
    from rickyard.hay.money import Market, Offer, hay_price
    from rickyard.service import understood
    from rickyard.sheets.data_files import document

    market = None
    if (corn_usd_per_bu is None) != (meal_usd_per_kg is None):
        shared.fail("To price hay against feed give both --corn and --meal.", shared.EXIT_USAGE)
    if corn_usd_per_bu is not None and meal_usd_per_kg is not None:
        market = Market(corn_usd_per_bu / BUSHEL_KG, meal_usd_per_kg)
    offer = Offer(
        bale_kg=bale_kg,
        dm_pct=dm_pct,
        usd_per_kg=usd_per_kg,
        usd_per_bale=usd_per_bale,
        cp_pct=cp_pct,
        tdn_pct=tdn_pct,
        freight=_freight(miles, rate, load_kg),
        storage_loss_pct=storage_loss,
        feeding_loss_pct=feeding_loss,
    )
    with understood("This offer cannot be priced"):
        found = hay_price(offer, market)
    if as_json:
        shared.write_stdout(document("price hay", offer=offer, price=found))
        return
    from rickyard.cli.show import print_hay_price

    print_hay_price(offer, found, "metric" if metric else "us", shared.terminal())


def _freight(
    miles: float | None, rate: float | None, load_kg: float | None
) -> tuple[float, float, float] | None:
    given = (miles, rate, load_kg)
    if all(one is None for one in given):
        return None
    if miles is None or rate is None or load_kg is None:
        shared.fail("Freight needs all of --miles, --rate and --load.", shared.EXIT_USAGE)
    return rate / KM_PER_MILE, miles * KM_PER_MILE, load_kg


@price.command()
@click.option("--ton", "usd_per_kg", type=_PRICE, required=True, help="Price of the hay per ton.")
@click.option(
    "--stored", "stored_kg", type=shared.QuantityOption("mass", "ton"), help="Hay stored a year."
)
@click.option(
    "--months", type=_NOT_NEGATIVE, default=6.0, show_default=True, help="Time in storage."
)
@click.option(
    "--rain",
    "rain_m",
    type=shared.QuantityOption("length", "in"),
    required=True,
    help="Rain a year, 36 in.",
)
@click.option("--net", type=_PRICE, help="Net wrap in place of twine, per ton.")
@click.option("--pad", type=_PRICE, help="Rock pad, per ton and year.")
@click.option("--tarp", type=_PRICE, help="Tarp, per ton and year.")
@click.option("--barn", type=_NOT_NEGATIVE, help="What a barn costs to build, dollars.")
@click.option(
    "--years", type=_NOT_NEGATIVE, default=20.0, show_default=True, help="Life of the barn."
)
@click.option(
    "--interest", type=_PERCENT, default=6.0, show_default=True, help="Interest, % a year."
)
@click.option(
    "--upkeep", type=_NOT_NEGATIVE, default=0.0, help="Upkeep of the barn, dollars a year."
)
@click.option("--metric", is_flag=True, help="Show prices per tonne.")
@click.option("--json", "as_json", is_flag=True, help=_JSON_HELP)
@shared.answering
def storage(
    usd_per_kg: float,
    stored_kg: float | None,
    months: float,
    rain_m: float,
    net: float | None,
    pad: float | None,
    tarp: float | None,
    barn: float | None,
    years: float,
    interest: float,
    upkeep: float,
    metric: bool,
    as_json: bool,
) -> None:
    """Set ways of storing round bales side by side, against twine on the ground.

    A way is shown when what it costs is given: --net, --pad, --tarp, --barn.
    """
    from rickyard.hay.money import capital_recovery, storage_prices
    from rickyard.sheets.data_files import document

    if barn is None and upkeep:
        shared.fail(
            "--upkeep is that of a barn: say with --barn what it costs to build.", shared.EXIT_USAGE
        )
    if barn is not None and not stored_kg:
        shared.fail("A barn needs --stored, the hay it holds in a year.", shared.EXIT_USAGE)
    try:
        yearly = None
        if barn is not None and stored_kg:
            yearly = float(capital_recovery(barn, interest, years, upkeep)) / stored_kg
        ways = _ways(net, pad, tarp, yearly)
        found = storage_prices(ways, usd_per_kg, months, rain_m * 1000.0)
    except OutOfRange as error:
        shared.fail(f"These ways of storing cannot be compared: {error}", shared.EXIT_USAGE)
    if as_json:
        shared.write_stdout(
            document("price storage", months=months, usd_per_kg=usd_per_kg, ways=found)
        )
        return
    from rickyard.cli.show import print_storage_prices

    print_storage_prices(found, usd_per_kg, "metric" if metric else "us", shared.terminal())


def _ways(
    net: float | None, pad: float | None, tarp: float | None, barn: float | None
) -> list[WayOfStoring]:
    """Return the ways whose costs are known, twine on the ground first."""
    from rickyard.farm import Storage, Wrap
    from rickyard.hay.money import WayOfStoring

    choices = (
        ("twine, on the ground", Storage.EXPOSED_GROUND, (), Wrap.PLASTIC_TWINE),
        ("net wrap, on the ground", Storage.EXPOSED_GROUND, (net,), Wrap.NET),
        ("twine, on rock", Storage.EXPOSED_ELEVATED, (pad,), Wrap.PLASTIC_TWINE),
        ("net wrap, on rock", Storage.EXPOSED_ELEVATED, (net, pad), Wrap.NET),
        ("tarp, on the ground", Storage.COVERED_GROUND, (tarp,), None),
        ("tarp, on rock", Storage.COVERED_ELEVATED, (tarp, pad), None),
        ("barn", Storage.ENCLOSED_BARN, (barn,), None),
    )
    return [
        WayOfStoring(name, where, sum(known), wrap)
        for name, where, costs, wrap in choices
        if len(known := [cost for cost in costs if cost is not None]) == len(costs)
    ]
