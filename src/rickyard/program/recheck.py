"""A second look at a finished program, from the program and the farm alone.

Nothing of the matrix, the problem arrays or the solver is used: needs, lots and limits are
worked out again from the farm, and every amount that is fed is added up again in plain loops.
A program that fails here is not shown to anybody.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from rickyard.farm import Farm, Feed, FeedKind, Group, Lot, StatedNeed
from rickyard.forage.hazards import is_nitrate_suspect
from rickyard.forage.nitrate import (
    DIET_NO3N_CEILING_OTHER_PPM,
    DIET_NO3N_CEILING_PREGNANT_PPM,
    nitrate_share_limit,
)
from rickyard.forage.profile import lot_profile
from rickyard.hay.feeding import planning_feeding_loss_pct
from rickyard.program.breach import Breach
from rickyard.program.needs import LEAST_CA_TO_P, LEAST_FORAGE_PCT_BW
from rickyard.program.recheck_deliveries import delivery_breaches
from rickyard.program.recheck_wishes import unkept_wishes
from rickyard.program.result import GroupPeriod, SeasonProgram, SourceValues
from rickyard.program.season_needs import season_series
from rickyard.program.source_limits import (
    LEAST_SHARE_OFFERED,
    LEAST_WEIGHT_FOR_UREA_KG,
    MOST_GRAIN_PCT_BW,
    MOST_MINERAL_KG,
    USUAL_FEEDER,
)
from rickyard.program.yard import yard_lot
from rickyard.stock.herd import NeedSeries
from rickyard.stock.intake import NDF_CAP_PCT_BW, appetite_kg
from rickyard.stock.protein import CP_FLOOR_PCT
from rickyard.stock.small.bars import bars
from rickyard.stock.small.stated import with_stated_needs

#: Every balance, need and ceiling must hold to this share.
TOLERANCE: Final = 1e-6

#: Less than this of a feed in a season is held to milligrams instead, kg.
SEASON_KG: Final = 10.0


def recheck(program: SeasonProgram, farm: Farm) -> tuple[Breach, ...]:
    """Work a finished program out again and return what does not hold.

    Parameters
    ----------
    program : SeasonProgram
        The program to check.
    farm : Farm
        The farm it was made for.

    Returns
    -------
    tuple of Breach
        Empty when every balance, need, ceiling, bar and cost holds to 1e-6.
    """
    return tuple(_Recheck(program, farm).breaches())


class _Recheck:
    def __init__(self, program: SeasonProgram, farm: Farm) -> None:
        self.program, self.farm = program, with_stated_needs(farm)
        self.barred = {(bar.group_id, bar.source_id) for bar in bars(farm)}
        self.sources = {value.source_id: value for value in program.sources}
        self.cells = {(cell.group_id, cell.period): cell for cell in program.groups}
        self.eaten: dict[tuple[str, int], dict[str, float]] = defaultdict(dict)
        for row in program.feeding:
            amounts = self.eaten[row.group_id, row.period]
            amounts[row.source_id] = amounts.get(row.source_id, 0.0) + row.eaten_kg_dm_per_head_day
        self.claimed = {(row.group_id, row.period, row.nutrient): row for row in program.needs}

    def breaches(self) -> Iterator[Breach]:
        yield from self._values()
        yield from self._bars()
        yield from self._stocks()
        yield from self._purchases()
        yield from self._cost()
        yield from (Breach(*one) for one in unkept_wishes(self.program))
        for group in self.farm.groups:
            yield from self._group(group)
            yield from self._always_on_offer(group)
        yield from delivery_breaches(self.program, self.farm)

    def _values(self) -> Iterator[Breach]:
        """Compare the composition the program counted with the reports themselves."""
        for lot in self.farm.lots:
            profile = lot_profile(lot, self.farm.reports_of(lot.lot_id))
            value = self.sources[lot.lot_id]
            for name in ("dm_pct", "tdn_pct", "cp_pct", "ndf_pct", "ca_pct", "p_pct"):
                yield from _compare(
                    f"{lot.name}, {name}", getattr(value, name), getattr(profile, name)
                )
        for feed in self.farm.feeds:
            value = self.sources[feed.feed_id]
            price = value.usd_per_kg_dm * value.dm_pct / 100.0
            yield from _compare(f"{feed.name}, price", price, feed.price_usd_per_kg)
            for name in ("dm_pct", "tdn_pct", "cp_pct", "ndf_pct", "ca_pct", "p_pct"):
                stated = getattr(feed, name)
                if stated is not None:
                    yield from _compare(f"{feed.name}, {name}", getattr(value, name), stated)

    def _bars(self) -> Iterator[Breach]:
        """Look for anything fed to an animal it is barred from, too early, late or much."""
        lots = {lot.lot_id: lot for lot in self.farm.lots}
        feeds = {feed.feed_id: feed for feed in self.farm.feeds}
        for row in self.program.feeding:
            where = f"{row.source_id} to {row.group_id} from {row.start}"
            if (row.group_id, row.source_id) in self.barred:
                yield Breach(f"{where}, kept from it", row.offered_kg, 0.0)
            cell = self.cells.get((row.group_id, row.period))
            if cell is None or row.eaten_kg_dm_per_head_day < 0:
                yield Breach(f"{where}, fed at all", row.eaten_kg_dm_per_head_day, 0.0)
                continue
            eaten = row.eaten_kg_dm_per_head_day * cell.head * cell.days
            left = 1.0 - self._loss_frac(row.group_id, row.source_id)
            offered = eaten / left / (self.sources[row.source_id].dm_pct / 100.0)
            yield from _compare(f"{where}, offered", row.offered_kg, offered)
            end = row.start + timedelta(days=row.days - 1)
            if row.source_id in lots:
                lot = lots[row.source_id]
                late = lot.feed_by is not None and end > lot.feed_by
                early = lot.feed_from is not None and row.start < lot.feed_from
                if late or early:
                    yield Breach(f"{where}, outside its dates", row.offered_kg, 0.0)
            else:
                feed = feeds[row.source_id]
                most = self._most_kg_dm(row.source_id, cell)
                yield from _at_most(f"{where}, most a head", row.eaten_kg_dm_per_head_day, most)
                if feed.npn_cp_pct and cell.full_weight_kg < LEAST_WEIGHT_FOR_UREA_KG:
                    yield Breach(f"{where}, urea to light cattle", row.offered_kg, 0.0)

    def _most_kg_dm(self, feed_id: str, cell: GroupPeriod) -> float:
        feed = next(feed for feed in self.farm.feeds if feed.feed_id == feed_id)
        dm_frac = self.sources[feed_id].dm_pct / 100.0
        if feed.most_kg_per_head_day is not None:
            return feed.most_kg_per_head_day * dm_frac
        if feed.kind is FeedKind.MINERAL:
            return max(MOST_MINERAL_KG, feed.least_kg_per_head_day or 0.0) * dm_frac
        if feed.kind is FeedKind.GRAIN:
            return MOST_GRAIN_PCT_BW / 100.0 * cell.full_weight_kg
        return float("inf")

    def _stocks(self) -> Iterator[Breach]:
        """Walk every lot through the season."""
        offered: dict[tuple[str, int], float] = defaultdict(float)
        swallowed: dict[str, float] = defaultdict(float)
        for row in self.program.feeding:
            value = self.sources[row.source_id]
            cell = self.cells[row.group_id, row.period]
            offered[row.source_id, row.period] += row.offered_kg * value.dm_pct / 100.0
            swallowed[row.source_id] += row.eaten_kg_dm_per_head_day * cell.head * cell.days
        for lot, balance in zip(self.farm.lots, self.program.lots, strict=True):
            value = self.sources[lot.lot_id]
            yard = yard_lot(self.farm, lot, value.dm_pct, self.program.periods)
            standing, lost, drawn = yard.start_kg_dm, 0.0, 0.0
            for period in self.program.periods:
                lost += standing * (1.0 - float(yard.kept[period.index]))
                standing *= float(yard.kept[period.index])
                standing -= offered[lot.lot_id, period.index]
                drawn += offered[lot.lot_id, period.index]
                if standing < -TOLERANCE * max(yard.start_kg_dm, 1.0):
                    yield Breach(f"{lot.name}, stock on {period.start}", 0.0, standing)
            eaten = swallowed[lot.lot_id]
            scale = balance.start_t
            yield from _compare(f"{lot.name}, start", balance.start_t, yard.start_kg_dm / 1e3)
            yield from _compare(f"{lot.name}, eaten", balance.eaten_t, eaten / 1e3, scale)
            wasted = (drawn - eaten) / 1e3
            yield from _compare(f"{lot.name}, wasted", balance.feeding_loss_t, wasted, scale)
            yield from _compare(f"{lot.name}, lost", balance.storage_loss_t, lost / 1e3, scale)
            yield from _compare(f"{lot.name}, left", balance.left_t, standing / 1e3, scale)
            gone = balance.eaten_t + balance.feeding_loss_t + balance.storage_loss_t
            total = gone + balance.left_t
            yield from _compare(f"{lot.name}, whole", balance.start_t, total, scale)

    def _purchases(self) -> Iterator[Breach]:
        bought: dict[str, float] = defaultdict(float)
        for row in self.program.feeding:
            if row.kind == "feed":
                bought[row.source_id] += row.offered_kg
        claimed = {purchase.feed_id: purchase for purchase in self.program.purchases}
        for feed in self.farm.feeds:
            kilograms = bought[feed.feed_id]
            purchase = claimed.get(feed.feed_id)
            yield from _compare(
                f"{feed.name}, bought", purchase.as_fed_kg if purchase else 0.0, kilograms
            )
            yield from _compare(
                f"{feed.name}, cost",
                purchase.cost_usd if purchase else 0.0,
                kilograms * feed.price_usd_per_kg,
            )
            if feed.most_kg is not None:
                yield from _at_most(f"{feed.name}, most", kilograms, feed.most_kg, SEASON_KG)

    def _cost(self) -> Iterator[Breach]:
        keeps = self.farm.season.carry_over_value_pct / 100.0
        hay = 0.0
        for balance in self.program.lots:
            usd_per_t = self.sources[balance.lot_id].usd_per_kg_dm * 1e3
            hay += usd_per_t * (balance.start_t - keeps * balance.left_t)
        total = hay + sum(purchase.cost_usd for purchase in self.program.purchases)
        yield from _compare("cost of the season", self.program.cost, total)

    def _group(self, group: Group) -> Iterator[Breach]:
        middles = [
            period.start + timedelta(days=period.days // 2) for period in self.program.periods
        ]
        series = season_series(self.farm, group, self.program.periods)
        for period in self.program.periods:
            cell = self.cells.get((group.group_id, period.index))
            if cell is None:
                continue
            stated = _stated(self.farm, group.group_id, middles[period.index])
            diet = _Diet(self.eaten[group.group_id, period.index], self.sources)
            if stated is not None:
                wanted, ceilings = self._stated_bounds(group, stated, series, period.index)
            else:
                wanted, ceilings = self._computed_bounds(group, diet, series, period.index)
            ceilings |= self._nitrate_bounds(diet, series)
            yield from self._judge(group, period.index, diet, wanted, ceilings)

    def _always_on_offer(self, group: Group) -> Iterator[Breach]:
        """Look for a mineral that every head should get and does not."""
        for feed in self.farm.feeds:
            if feed.least_kg_per_head_day is None:
                continue
            least = self._even_share(feed) * feed.least_kg_per_head_day
            least *= self.sources[feed.feed_id].dm_pct / 100.0
            for cell in self._due(feed):
                if cell.group_id != group.group_id:
                    continue
                got = self.eaten[group.group_id, cell.period].get(feed.feed_id, 0.0)
                if got < least * (1.0 - TOLERANCE):
                    yield Breach(f"{feed.name} to {group.name}, period {cell.period}", got, least)

    def _due(self, feed: Feed) -> list[GroupPeriod]:
        """Return who should get a mineral that is always on offer, and when."""
        due = []
        for cell in self.cells.values():
            middle = cell.start + timedelta(days=self.program.periods[cell.period].days // 2)
            stated = _stated(self.farm, cell.group_id, middle) is not None
            light = bool(feed.npn_cp_pct) and cell.full_weight_kg < LEAST_WEIGHT_FOR_UREA_KG
            barred = (cell.group_id, feed.feed_id) in self.barred
            if not (stated or light or barred):
                due.append(cell)
        return due

    def _even_share(self, feed: Feed) -> float:
        """Return the share of its mineral that every head can get of what can be bought."""
        if feed.most_kg is None:
            return 1.0
        wanted = sum(
            cell.head * cell.days / (1.0 - self._loss_frac(cell.group_id, feed.feed_id))
            for cell in self._due(feed)
        ) * (feed.least_kg_per_head_day or 0.0)
        share = min(1.0, feed.most_kg / wanted) if wanted > 0 else 1.0
        return share if share > LEAST_SHARE_OFFERED else 0.0

    def _loss_frac(self, group_id: str, source_id: str) -> float:
        """Return what a group wastes of a lot or feed, from what the farm says of both."""
        group = self.farm.group(group_id)
        feeder = group.feeder or USUAL_FEEDER
        feed = next((one for one in self.farm.feeds if one.feed_id == source_id), None)
        if feed is not None and feed.feeding_loss_pct is not None:
            return feed.feeding_loss_pct / 100.0
        if feed is not None and feed.kind is not FeedKind.FORAGE:
            return 0.0
        if group.feeding_loss_pct is not None:
            return group.feeding_loss_pct / 100.0
        if feed is not None:
            return planning_feeding_loss_pct(feeder) / 100.0
        return planning_feeding_loss_pct(feeder, self.farm.lot(source_id).storage) / 100.0

    def _judge(
        self,
        group: Group,
        period: int,
        diet: _Diet,
        wanted: dict[str, tuple[float, float]],
        ceilings: dict[str, tuple[float, float]],
    ) -> Iterator[Breach]:
        for name, (need, supplied) in wanted.items():
            what = f"{group.name}, {name}, period {period}"
            row = self.claimed.get((group.group_id, period, name))
            if row is None:
                yield Breach(f"{what}, row", 0.0, need)
                continue
            yield from _compare(f"{what}, need", row.need, need)
            yield from _compare(f"{what}, supplied", row.supplied, supplied, max(need, 1e-3))
            missing = need - supplied - row.shortage
            if missing > TOLERANCE * max(abs(need), 1e-3):
                yield Breach(f"{what}, shortage", row.shortage, need - supplied)
        for name, (most, supplied) in ceilings.items():
            what = f"{group.name}, {name}, period {period}"
            # Nitrate is counted in milligrams, the others in kilograms.
            yield from _at_most(what, supplied, most, 1e3 if name == "nitrate" else 0.1)

    def _stated_bounds(
        self, group: Group, stated: StatedNeed, series: NeedSeries, at: int
    ) -> tuple[dict[str, tuple[float, float]], dict[str, tuple[float, float]]]:
        diet = _Diet(self.eaten[group.group_id, at], self.sources)
        pairs = {
            "nem": (stated.nem_mcal, diet.nem),
            "tdn": (stated.tdn_kg, diet.tdn),
            "cp": (stated.cp_kg, diet.cp),
            "ca": (_grams(stated.ca_kg), diet.ca),
            "p": (_grams(stated.p_kg), diet.p),
            "least_dm": (stated.least_dm_kg, diet.dm),
        }
        wanted = {name: (need, got) for name, (need, got) in pairs.items() if need is not None}
        if group.least_forage_pct_bw is not None:
            least = group.least_forage_pct_bw / 100.0 * float(series.full_weight_kg[at])
            wanted["forage"] = (least, diet.forage)
        most = stated.most_dm_kg
        return wanted, ({} if most is None else {"most_dm": (most, diet.dm)})

    def _computed_bounds(
        self, group: Group, diet: _Diet, series: NeedSeries, at: int
    ) -> tuple[dict[str, tuple[float, float]], dict[str, tuple[float, float]]]:
        season = self.farm.season
        full = float(series.full_weight_kg[at])
        share = group.least_forage_pct_bw
        share = season.least_forage_pct_bw if share is None else share
        share = LEAST_FORAGE_PCT_BW if share is None else share
        ratio = LEAST_CA_TO_P if season.least_ca_to_p is None else season.least_ca_to_p
        maintenance = float(series.nem_mcal[at])
        retained = float(series.retained_energy_mcal[at])
        wanted = {
            "cp": (float(series.cp_kg[at]), diet.cp),
            "cp_floor": (CP_FLOOR_PCT / 100.0 * diet.dm, diet.cp),
            "ca": (1e3 * float(series.ca_kg[at]), diet.ca),
            "p": (1e3 * float(series.p_kg[at]), diet.p),
            "ca_to_p": (ratio * diet.p, diet.ca),
            "forage": (share / 100.0 * full, diet.forage),
        }
        if retained <= 0:
            wanted["nem"] = (maintenance, diet.nem)
        elif diet.neg > 0:
            # Kilograms for maintenance and for gain, of this very diet, against what is eaten.
            kilograms = maintenance * diet.dm / diet.nem + retained * diet.dm / diet.neg
            wanted["gain_energy"] = (kilograms * diet.nem / diet.dm, diet.nem)
        ceilings = {"ndf": (NDF_CAP_PCT_BW / 100.0 * full, diet.forage_ndf)}
        if diet.dm > 0:
            ceilings["appetite"] = (
                float(
                    appetite_kg(
                        series.intake_rule[at],
                        float(series.shrunk_weight_kg[at]),
                        diet.nem / diet.dm,
                        float(series.milk_kg[at]),
                        float(series.intake_factor[at]),
                    )
                ),
                diet.dm,
            )
        return wanted, ceilings

    def _nitrate_bounds(self, diet: _Diet, series: NeedSeries) -> dict[str, tuple[float, float]]:
        # One that is ever pregnant in the season is spared all season: calving is spread.
        pregnant = bool(series.pregnant.any())
        ceiling = DIET_NO3N_CEILING_PREGNANT_PPM if pregnant else DIET_NO3N_CEILING_OTHER_PPM
        bounds = {"nitrate": (ceiling * diet.dm, diet.nitrate)} if diet.nitrate > 0 else {}
        for lot in self.farm.lots:
            amount = diet.amounts.get(lot.lot_id, 0.0)
            nitrate = self.sources[lot.lot_id].nitrate_no3n_ppm
            if nitrate is not None:
                most = nitrate_share_limit(nitrate, pregnant=pregnant) * diet.dm
            elif pregnant and self._nitrate_doubtful(lot):
                most = 0.0
            else:
                continue
            bounds[f"share of {lot.name}"] = (most, amount)
        return bounds

    def _nitrate_doubtful(self, lot: Lot) -> bool:
        reports = self.farm.reports_of(lot.lot_id)
        unstated = any(report.get("nitrate") is not None for report in reports)
        return unstated or is_nitrate_suspect(lot)


class _Diet:
    """What one head eats in a day, added up source by source."""

    def __init__(self, amounts: dict[str, float], sources: dict[str, SourceValues]) -> None:
        self.amounts = amounts
        self.dm = self.nem = self.neg = self.tdn = self.cp = 0.0
        self.ca = self.p = self.forage = self.forage_ndf = self.nitrate = 0.0
        for source_id, kilograms in amounts.items():
            value = sources[source_id]
            self.dm += kilograms
            self.nem += kilograms * value.nem_mcal_per_kg
            self.neg += kilograms * value.neg_mcal_per_kg
            self.tdn += kilograms * value.tdn_pct / 100.0
            self.cp += kilograms * value.cp_pct / 100.0
            self.ca += kilograms * value.ca_pct * 10.0  # grams
            self.p += kilograms * value.p_pct * 10.0  # grams
            self.nitrate += kilograms * (value.nitrate_no3n_ppm or 0.0)
            if value.is_forage:
                self.forage += kilograms
                self.forage_ndf += kilograms * value.ndf_pct / 100.0


def _stated(farm: Farm, group_id: str, day: date) -> StatedNeed | None:
    rows = [
        need for need in farm.needs if need.group_id == group_id and need.start <= day < need.end
    ]
    return rows[0] if rows else None


def _grams(kilograms: float | None) -> float | None:
    return None if kilograms is None else kilograms * 1e3


def _compare(what: str, claimed: float, found: float, scale: float = 0.0) -> Iterator[Breach]:
    if abs(claimed - found) > TOLERANCE * max(abs(claimed), abs(found), scale, 1e-6):
        yield Breach(what, claimed, found)


def _at_most(what: str, found: float, most: float, scale: float = 0.1) -> Iterator[Breach]:
    if found > most + TOLERANCE * max(most, scale):
        yield Breach(what, most, found)
