"""Everything a person needs to sample a lot, on one page: when, how, which bales, what for."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from types import MappingProxyType
from typing import Final

from rickyard.farm import Farm, Lot, Package, Report, Season
from rickyard.forage.hazards import counts_as_deadly, is_known_cured
from rickyard.forage.plausibility import lot_profile
from rickyard.hay.bales import book_density_as_fed_kg_m3, round_volume_m3, square_volume_m3
from rickyard.hay.common import WorkCalendar, require_between, work_calendar
from rickyard.hay.precision import (
    LEAST_PAIRS,
    Spread,
    chance_of_hot_bale,
    core_sd_from_pairs,
    pairs_of,
    spread_of,
)
from rickyard.hay.sampling.analyses import Purpose, Wanted, inspections, purpose_of, wanted_tests
from rickyard.hay.sampling.bale_selection import BaleChoice, How, choose_bales, seed_for
from rickyard.hay.sampling.cores import (
    GALLON_ML,
    QUART_ML,
    TIP_M,
    bag_volume_ml,
    core_mass_g,
    sample_remark,
)
from rickyard.hay.sampling.lab_packages import HELD_BY, Order, cheapest_order
from rickyard.hay.sampling.lots import composites_for, sample_code
from rickyard.hay.sampling.probing import (
    DRY_HANDLING,
    HANDLING,
    SCOOP_HANDLING,
    WET_HANDLING,
    Probing,
    probing_of,
)
from rickyard.hay.sampling.protocols import Effort, Protocol, protocols_for
from rickyard.hay.sampling.when import (
    BOUND,
    BoxPlace,
    SampleDates,
    Since,
    Timing,
    is_silage,
    sample_dates,
)
from rickyard.hay.storage import book_of, standing_on
from rickyard.quantities import M_PER_IN, OutOfRange
from rickyard.tables import Tabular

#: The tip whose 20 cores make half a pound (Univ. Kentucky): 5/8 in.
USUAL_TIP_M: Final = 0.625 * M_PER_IN
#: The humid end of the published storage losses, where rainfall is not known.
UNKNOWN_RAIN_MM: Final = 1016.0
#: Loose hay and silage have no bales: as good as any number of places to sample.
PLACES_IN_A_HEAP: Final = 10_000
#: A test that lacks one of these is not enough where the hay calls for it.
HAZARDS: Final = MappingProxyType(
    {
        "nitrate": "nitrate",
        "hcn": "prussic acid",
        "adicp": BOUND,
        "ergovaline": "ergovaline",
    }
)
#: Share of hot bales for which a sheet tells the chance that the sample holds one.
TOLD_HOT_SHARE: Final = 0.10


@dataclass(frozen=True, slots=True)
class Options:
    """How a farm samples: its probe, the way bales are drawn, what it wants to pay and know.

    The sets name lots: to be sold, with animals that do not do as planned, and that got wet or
    heated since they were tested.
    """

    tip_m: float = USUAL_TIP_M
    how: How = "random"
    seed: int | None = None
    within: float | None = None
    effort: Effort = field(default_factory=Effort)
    for_sale: frozenset[str] = frozenset()
    animals_off: frozenset[str] = frozenset()
    wetted: frozenset[str] = frozenset()
    heated: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, repr=False)
class SamplePlan(Tabular):
    """The page of one lot. ``protocols`` has the one to follow first; ``order`` what to buy."""

    lot_id: str
    name: str
    sample_id: str
    bales_standing: float
    dates: SampleDates
    wanted: tuple[Wanted, ...]
    order: Order | None
    protocols: tuple[Protocol, ...]
    composites: int
    choice: BaleChoice | None
    probing: Probing
    core_g: float | None
    sample_g: float | None
    bags: str
    remarks: tuple[str, ...]
    spread_source: str
    handling: tuple[str, ...]

    @property
    def due_on(self) -> date:
        """Return the day to sample, or the end of days when a test still holds."""
        return self.dates.sample_on or date.max

    def _facts(self) -> tuple[tuple[str, str], ...]:
        tests = ", ".join(one.test for one in self.wanted)
        return (
            ("lot", f"{self.lot_id} ({self.name})"),
            ("status", self.dates.status),
            ("due", f"{self.dates.sample_on or self.dates.status}"),
            ("tests", tests or "none"),
        )


def farm_sample_plans(
    farm: Farm, today: date, dm_pct: Mapping[str, float], options: Options | None = None
) -> tuple[SamplePlan, ...]:
    """Make the page of every lot of a farm that still stands.

    Parameters
    ----------
    farm : Farm
        Lots, reports, book, groups, laboratories, season and country are read.
    today : date
        The day asked about.
    dm_pct : mapping of str to float
        Dry matter of each lot. [%]
    options : Options, optional
        How the farm samples. A probe's tip outside 0.3 to 1.3 in, or a country that is not known,
        raises ``OutOfRange``.

    Returns
    -------
    tuple of SamplePlan
        The pages, soonest first.
    """
    wish = options or Options()
    least, most = TIP_M
    require_between("probe tip", 1000.0 * wish.tip_m, 1000.0 * least, 1000.0 * most, "mm")
    calendar = work_calendar(farm.country)
    purposes = {purpose_of(group.animal_class.value) for group in farm.groups}
    pages = []
    for lot in farm.lots:
        rain = farm.season.rainfall_mm_per_year
        book = book_of(
            lot, farm.moves, farm.fed, dm_pct[lot.lot_id],
            UNKNOWN_RAIN_MM if rain is None else rain,
        )  # fmt: skip
        now = standing_on(book, today, dm_pct[lot.lot_id])
        if now.bales < 1.0:
            continue
        reports = [one for one in farm.reports_of(lot.lot_id) if _was_there(one, today)]
        came = max(
            (book.bales_on(line.day) for line in book.lines if line.day <= today), default=now.bales
        )
        since = Since(
            sampled_on=_sampled_on(reports),
            undated=any(_is_composition(report) for report in reports),
            share_fed=1.0 - now.bales / came,
            animals_off=lot.lot_id in wish.animals_off,
            for_sale=lot.lot_id in wish.for_sale,
            wetted_on=today if lot.lot_id in wish.wetted else None,
            heated_on=today if lot.lot_id in wish.heated else None,
        )
        field_of = _Field(lot, now.bales, now.as_fed_kg, now.bale_kg, dm_pct[lot.lot_id])
        eaters = purposes | ({Purpose.SALE} if since.for_sale else set())
        pages.append(_page(farm, field_of, reports, since, eaters, today, calendar, wish))
    return tuple(sorted(pages, key=_turn))


def _turn(page: SamplePlan) -> tuple[bool, date, str]:
    """Return when a lot is cored: first what can kill untested, then by its day."""
    deadly = page.dates.status != "tested" and any(one.before_fed for one in page.wanted)
    return not deadly, page.due_on, page.lot_id


@dataclass(frozen=True, slots=True)
class _Field:
    """A lot as it stands today."""

    lot: Lot
    bales: float
    as_fed_kg: float
    bale_kg: float
    dm_pct: float

    @property
    def is_heap(self) -> bool:
        """Return whether it has no bales to number and draw."""
        return self.lot.package is Package.LOOSE

    @property
    def bales_rounded_up(self) -> int:
        return math.floor(self.bales)

    @property
    def reachable(self) -> int:
        stated = self.lot.bales_reachable
        return self.bales_rounded_up if stated is None else min(self.bales_rounded_up, int(stated))


def _was_there(report: Report, today: date) -> bool:
    """Return whether a report had been sampled by a day; undated ones had."""
    day = report.sampled_on or report.reported_on
    return day is None or day <= today


def _sampled_on(reports: Sequence[Report]) -> date | None:
    """Return when the newest test of composition was sampled, or reported where that is all."""
    days = [
        report.sampled_on or report.reported_on for report in reports if _is_composition(report)
    ]
    known = [day for day in days if day is not None]
    return max(known, default=None)


def _is_composition(report: Report) -> bool:
    return any(report.get(name) is not None for name in ("cp", "adf", "ndf", "tdn"))


def _page(
    farm: Farm,
    here: _Field,
    reports: Sequence[Report],
    since: Since,
    purposes: Collection[Purpose],
    today: date,
    calendar: WorkCalendar,
    wish: Options,
) -> SamplePlan:
    lot = here.lot
    wanted = wanted_tests(
        lot,
        purposes,
        wetted=since.wetted_on is not None,
        heated=since.heated_on is not None,
    )
    lacking = _lacking(wanted, reports)
    since = replace(
        since,
        lacking=" and ".join(HAZARDS[one.test] for one in lacking),
        may_kill=any(one.before_fed for one in lacking),
        deadly=any(_is_deadly(one, lot, reports) for one in lacking),
    )
    order = cheapest_order(farm.labs, wanted)
    timing = Timing(lab_working_days=None if order is None else order.working_days)
    place = BoxPlace(calendar, timing, farm.season.rainfall_mm_per_year)
    feeding = first_feeding(lot, farm.season)
    dates = sample_dates(lot, feeding, today, here.dm_pct, place, since)
    if dates.status != "tested" and dates.reasons and dates.reasons[0].startswith("its test lacks"):
        wanted = lacking
        order = cheapest_order(farm.labs, wanted)
    spread = lot_spread(lot, farm.reports)
    ways = _ways(here, spread, order, wanted, wish)
    way = ways[0]
    seed = seed_for(farm.name, lot.lot_id, feeding.isoformat()) if wish.seed is None else wish.seed
    probing = probing_of(
        lot.package, lot.storage, lot.bale_diameter_m, silage=is_silage(lot)
    )  # fmt: skip
    core = _core_g(here, wish.tip_m, probing.depth_m)
    sample = None if core is None else core * way.cores
    return SamplePlan(
        lot_id=lot.lot_id,
        name=lot.name,
        sample_id=sample_code(lot.lot_id, len(reports) + 1),
        bales_standing=here.bales,
        dates=dates,
        wanted=wanted,
        order=order,
        protocols=ways,
        composites=composites_for(here.as_fed_kg),
        choice=_choice(here, way.bales, seed, wish.how),
        probing=probing,
        core_g=core,
        sample_g=sample,
        bags="one freezer bag" if probing.taken == "scoop" else _bags(sample),
        remarks=_remarks(here, purposes, way, wanted, sample),
        spread_source=spread.source,
        handling=_handling(probing, dates.wet),
    )


def _ways(
    here: _Field, spread: Spread, order: Order | None, wanted: Sequence[Wanted], wish: Options
) -> tuple[Protocol, ...]:
    return protocols_for(
        PLACES_IN_A_HEAP if here.is_heap else max(1, here.reachable),
        spread,
        fee_usd=0.0 if order is None else order.price_usd,
        effort=wish.effort,
        patchy=not here.is_heap and any(one.test == "nitrate" for one in wanted),
        within=wish.within,
        composites=composites_for(here.as_fed_kg),
    )


def _handling(probing: Probing, wet: bool) -> tuple[str, ...]:
    taken = SCOOP_HANDLING if probing.taken == "scoop" else HANDLING
    return (*taken, WET_HANDLING if wet else DRY_HANDLING)


def first_feeding(lot: Lot, season: Season) -> date:
    """Return the first day on which a lot may be fed in a season.

    Examples
    --------
    >>> from rickyard.farm import Forage, Storage
    >>> lot = Lot("A", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0,
    ...           date(2026, 6, 1), date(2026, 6, 1), feed_from=date(2027, 1, 1))
    >>> first_feeding(lot, Season(date(2026, 11, 1), date(2027, 5, 1)))
    datetime.date(2027, 1, 1)
    """
    if lot.feed_from is None:
        return season.start
    return max(season.start, lot.feed_from)


def lot_spread(lot: Lot, reports: Sequence[Report] = ()) -> Spread:
    """Return the spread of protein from core to core of a lot.

    Parameters
    ----------
    lot : Lot
        First cuttings, weedy and rained-on hay are taken as uneven.
    reports : sequence of Report
        All of a farm's reports; six pairs of composites in them go before the default.

    Returns
    -------
    Spread
        The spread, its source saying which of the two it is. [% of dry matter]
    """
    pairs = pairs_of(reports, "cp")
    usual = spread_of("cp")
    if len(pairs.differences) >= LEAST_PAIRS:
        own = core_sd_from_pairs(pairs.differences, pairs.cores, usual.repeat)
        source = f"{len(pairs.differences)} pairs of composites of this farm"
        return replace(usual, observed=math.hypot(own, usual.repeat), source=source)
    return spread_of("cp", uneven=lot.cutting == 1 or bool(lot.weedy) or bool(lot.rained_on))


def _lacking(wanted: Sequence[Wanted], reports: Sequence[Report]) -> tuple[Wanted, ...]:
    """Return the tests of hazards that are wanted and stand on no report."""
    there = {analyte.name for report in reports for analyte in report.analytes}
    return tuple(
        one
        for one in wanted
        if one.test in HAZARDS and HELD_BY.get(one.test, frozenset({one.test})).isdisjoint(there)
    )


def _is_deadly(lacking: Wanted, lot: Lot, reports: Sequence[Report]) -> bool:
    """Return whether the lot counts as deadly for want of a test."""
    if lacking.test == "nitrate":
        return counts_as_deadly(lot)
    return lacking.test == "hcn" and not is_known_cured(lot, lot_profile(lot, reports))


def _choice(here: _Field, wanted: int, seed: int, how: How) -> BaleChoice | None:
    if here.is_heap or here.reachable < 1:
        return None
    closed = range(here.reachable + 1, here.bales_rounded_up + 1)
    return choose_bales(here.bales_rounded_up, wanted, seed, how=how, unreachable=closed)


def _core_g(here: _Field, tip_m: float, depth_m: float | None) -> float | None:
    """Return the weight of a core, from the bale's own density where size and weight are known."""
    if depth_m is None:
        return None
    lot = here.lot
    sides = (lot.bale_length_m, lot.bale_width_m, lot.bale_height_m)
    try:
        if lot.bale_diameter_m is not None and lot.bale_width_m is not None:
            density = here.bale_kg / float(round_volume_m3(lot.bale_diameter_m, lot.bale_width_m))
        elif None not in sides:
            density = here.bale_kg / float(square_volume_m3(*sides))
        else:
            density = book_density_as_fed_kg_m3(lot.package, 100.0 - here.dm_pct)
        return float(core_mass_g(tip_m, depth_m, density))
    except OutOfRange:
        return None  # loose hay, or a density that no core equation covers


def _bags(sample_g: float | None) -> str:
    if sample_g is None:
        return "weigh the first five cores to know how many bags it takes"
    volume = float(bag_volume_ml(sample_g))
    if volume <= QUART_ML:
        return "one quart freezer bag"
    if volume <= GALLON_ML:
        return "one gallon freezer bag"
    return "two gallon freezer bags, marked as one sample"


def _remarks(
    here: _Field,
    purposes: Collection[Purpose],
    way: Protocol,
    wanted: Sequence[Wanted],
    sample_g: float | None,
) -> tuple[str, ...]:
    found = []
    if sample_g is not None and (told := sample_remark(sample_g)):
        found.append(f"Sample: {told}")
    if here.is_heap and any(one.test == "nitrate" for one in wanted):
        found.append(
            "Nitrate is patchy and the result is an average: ask the extension office or a "
            "veterinarian before you feed it."
        )
    elif any(one.test == "nitrate" for one in wanted):
        chance = chance_of_hot_bale(
            TOLD_HOT_SHARE, min(way.bales, here.bales_rounded_up), here.bales_rounded_up
        )
        found.append(
            f"If one bale in ten is high in nitrate, {100.0 * chance:.0f}% of such samples include "
            "one; the result is an average. Where bales are fed one at a time, act on twice the "
            "composite, and ask the extension office or a veterinarian before you feed it."
        )
    if not here.is_heap and here.reachable < 1:
        found.append(
            "No bale can be reached: sample while the hay is being stacked or when the stack is "
            "opened."
        )
    elif not here.is_heap:
        found.append(
            "If the probe will not go in, core the next spare on the list, not the bale beside it."
        )
    found.extend(inspections(here.lot, purposes))
    return tuple(found)
