"""Second look at stocks and money: every lot walked through, every dollar added up again."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import Final

from rickyard.farm import Feed, Lot
from rickyard.program.audit.fed import most_kg
from rickyard.program.audit.use import changes
from rickyard.program.audit.view import SEASON_KG, AuditView, Breach, at_most, compare, is_over
from rickyard.program.inputs import yard_lot
from rickyard.program.result import LotBalance, Purchase, Sale
from rickyard.quantities import is_some

#: Dry matter a head eats of the reserve, percent of its full live weight a day.
RESERVE_PCT_BW: Final = 2.5


def book_breaches(look: AuditView) -> Iterator[Breach]:
    """Look for hay that is not there, feed that is not bought, and money that does not add up."""
    yield from _stocks(look)
    yield from _sales(look)
    yield from _purchases(look)
    yield from _cost(look)
    yield from _cash(look)
    yield from _reserve(look)


def _stocks(look: AuditView) -> Iterator[Breach]:
    offered: dict[tuple[str, int], float] = defaultdict(float)
    swallowed: dict[str, float] = defaultdict(float)
    for row in look.program.feeding:
        cell = look.cells.get((row.group_id, row.period))
        if cell is None:
            continue  # told by the look at the feedings
        dm_frac = look.sources[row.source_id].dm_pct / 100.0
        offered[row.source_id, row.period] += row.offered_kg * dm_frac
        swallowed[row.source_id] += row.eaten_kg_dm_per_head_day * cell.head * cell.days
    for lot, balance in zip(look.farm.lots, look.program.lots, strict=True):
        drawn = [offered[lot.lot_id, period.index] for period in look.program.periods]
        yield from _lot(look, lot, balance, drawn, swallowed[lot.lot_id])


def _lot(
    look: AuditView, lot: Lot, balance: LotBalance, drawn: list[float], eaten: float
) -> Iterator[Breach]:
    """Walk a lot through the season; what is sold goes on the first day."""
    value = look.sources[lot.lot_id]
    yard = yard_lot(look.farm, lot, value.dm_pct, look.program.periods)
    sold = sum(one.dm_kg for one in look.program.sales if one.lot_id == lot.lot_id)
    standing, lost = yard.start_kg_dm - sold, 0.0
    if is_over(0.0, standing, max(yard.start_kg_dm, 1.0)):
        yield Breach(f"{lot.name}, stock after the sale", 0.0, standing)
    for period in look.program.periods:
        lost += standing * (1.0 - float(yard.kept[period.index]))
        standing *= float(yard.kept[period.index])
        standing -= drawn[period.index]
        if is_over(0.0, standing, max(yard.start_kg_dm, 1.0)):
            yield Breach(f"{lot.name}, stock on {period.start}", 0.0, standing)
    scale, wasted = balance.start_t, (sum(drawn) - eaten) / 1e3
    yield from compare(f"{lot.name}, start", balance.start_t, yard.start_kg_dm / 1e3)
    yield from compare(f"{lot.name}, eaten", balance.eaten_t, eaten / 1e3, scale)
    yield from compare(f"{lot.name}, wasted", balance.feeding_loss_t, wasted, scale)
    yield from compare(f"{lot.name}, lost", balance.storage_loss_t, lost / 1e3, scale)
    yield from compare(f"{lot.name}, left", balance.left_t, standing / 1e3, scale)
    yield from compare(f"{lot.name}, sold", balance.sold_t, sold / 1e3, scale)
    gone = balance.eaten_t + balance.feeding_loss_t + balance.storage_loss_t
    total = gone + balance.left_t + balance.sold_t
    yield from compare(f"{lot.name}, whole", balance.start_t, total, scale)


def _sales(look: AuditView) -> Iterator[Breach]:
    for sale in look.program.sales:
        lot, value = look.lots[sale.lot_id], look.sources[sale.lot_id]
        price = lot.sale_usd_per_kg
        if price is None:
            yield Breach(f"{lot.name}, sold without a buyer", sale.as_fed_kg, 0.0)
            continue
        yield from _sale(lot, sale, price, value.dm_pct)


def _sale(lot: Lot, sale: Sale, price: float, dm_pct: float) -> Iterator[Breach]:
    yield from compare(f"{lot.name}, revenue", sale.revenue_usd, sale.as_fed_kg * price)
    yield from compare(f"{lot.name}, dry matter sold", sale.dm_kg, sale.as_fed_kg * dm_pct / 100.0)
    yield from at_most(f"{lot.name}, sold less than nothing", -sale.as_fed_kg, 0.0)


def _purchases(look: AuditView) -> Iterator[Breach]:
    fed: dict[str, float] = defaultdict(float)
    for row in look.program.feeding:
        if row.kind == "feed":
            fed[row.source_id] += row.offered_kg
    claimed = {purchase.feed_id: purchase for purchase in look.program.purchases}
    for feed in look.farm.feeds:
        purchase = claimed.get(feed.feed_id)
        if purchase is None:
            yield from compare(f"{feed.name}, bought", 0.0, fed[feed.feed_id])
            continue
        yield from _purchase(look, feed, purchase, fed[feed.feed_id])


def _purchase(look: AuditView, feed: Feed, purchase: Purchase, fed: float) -> Iterator[Breach]:
    bought = purchase.as_fed_kg
    dm_frac = look.sources[feed.feed_id].dm_pct / 100.0
    if feed.load_kg is None:
        yield from compare(f"{feed.name}, bought", bought, fed)
    else:
        loads = purchase.loads
        if loads is None or loads != int(loads):
            yield Breach(f"{feed.name}, whole loads", loads or 0.0, bought / feed.load_kg)
        yield from compare(f"{feed.name}, loads", (loads or 0) * feed.load_kg, bought)
        yield from at_most(f"{feed.name}, fed of what is bought", fed, bought, SEASON_KG)
    yield from compare(f"{feed.name}, left", purchase.left_kg, bought - fed, max(bought, SEASON_KG))
    yield from compare(f"{feed.name}, dry matter bought", purchase.dm_kg, bought * dm_frac)
    yield from compare(f"{feed.name}, cost", purchase.cost_usd, bought * feed.price_usd_per_kg)
    most = most_kg(feed)
    if most is not None:
        yield from at_most(f"{feed.name}, most", bought, most, SEASON_KG)


def _cost(look: AuditView) -> Iterator[Breach]:
    """Add the cost up: hay gone, feed paid for less what is left of it, sales, changes of hay."""
    program, season = look.program, look.farm.season
    keeps = season.carry_over_value_pct / 100.0
    total = 0.0
    for balance in program.lots:
        usd_per_t = look.sources[balance.lot_id].usd_per_kg_dm * 1e3
        total += usd_per_t * (balance.start_t - keeps * balance.left_t)
    for purchase in program.purchases:
        price = look.feeds[purchase.feed_id].price_usd_per_kg
        total += purchase.cost_usd - min(keeps, 1.0) * purchase.left_kg * price
    total -= sum(sale.revenue_usd for sale in program.sales)
    changing = changes(look) * season.change_usd
    yield from compare("cost of changing hay", program.costs.changes, changing)
    total += changing
    scale = sum(purchase.cost_usd for purchase in program.purchases)
    yield from compare("cost of the season", program.cost, total, scale)
    yield from compare("cost by kind", program.costs.total, program.cost, scale)


def _cash(look: AuditView) -> Iterator[Breach]:
    limit = look.farm.season.cash_limit_usd
    if limit is None:
        return
    paid = sum(one.cost_usd for one in look.program.purchases)
    brought = sum(one.revenue_usd for one in look.program.sales)
    over = paid - brought - limit
    yield from _farm_limit(look, "cash", limit, paid - brought, over, max(paid, 1.0))


def _reserve(look: AuditView) -> Iterator[Breach]:
    days = look.farm.season.reserve_days
    if not days:
        return
    last = len(look.program.periods) - 1
    cells = [cell for cell in look.program.groups if cell.period == last]
    weight = sum(cell.head * cell.full_weight_kg for cell in cells)
    wanted = days * weight * RESERVE_PCT_BW / 100.0 / 1e3
    if not wanted:
        return
    left = sum(balance.left_t for balance in look.program.lots)
    yield from _farm_limit(look, "reserve", wanted, left, wanted - left, wanted)


def _farm_limit(
    look: AuditView, name: str, need: float, supplied: float, missed: float, scale: float
) -> Iterator[Breach]:
    """Compare a limit of the whole farm, and see that it is named where it is missed."""
    row = next((one for one in look.program.farm_limits if one.nutrient == name), None)
    if row is None:
        yield Breach(f"{name}, row", 0.0, need)
        return
    yield from compare(f"{name}, limit", row.need, need)
    yield from compare(f"{name}, supplied", row.supplied, supplied, scale)
    yield from at_most(f"{name}, shortage", missed, row.shortage, scale)
    named = any(one.nutrient == name and not one.group_id for one in look.program.shortages)
    if is_some(row.shortage) and not named:
        yield Breach(f"{name}, shortage that is not named", 0.0, row.shortage)
