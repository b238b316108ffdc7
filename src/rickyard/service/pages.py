"""Pages about a farm that need no program: lots read, needs, yard, sampling, prices of hay."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from rickyard.animals import CLASSES, Stock
from rickyard.display import display_for, localized
from rickyard.farm import Farm, Group, Lot, Storage, Winter
from rickyard.forage.energy import rank_by_tdn
from rickyard.forage.plausibility import lot_profile, lot_profiles
from rickyard.forage.reading import LotReading, every_number, read_lot
from rickyard.forage.uncertainty import Labs
from rickyard.forage.values import Screens
from rickyard.hay.sampling import LotSplit, Options, SamplePlan, farm_sample_plans, split_lot
from rickyard.hay.yard import YardPage, yard_page
from rickyard.match import NutrientPrices, lot_worth, prices_of_feeds, worth_sentence
from rickyard.program.inputs import NeedTable
from rickyard.quantities import QuantityError, parse_quantity
from rickyard.safety import Binding, bindings, rule_cautions, with_rules
from rickyard.service.errors import NotUnderstood, understood, worked_out
from rickyard.service.held import Held, held_by_object, still
from rickyard.sheets.paper import LotSheet, lot_sheet
from rickyard.stock.beef import USUAL_HAY_NEM
from rickyard.stock.equations import RULES, appetite_kg
from rickyard.stock.herd import care_cautions

#: So many pages of farms are held worked out. They can be dropped at any time.
_HELD: Final = 64

_PRICE_UNIT: Final = {"us": "usd_per_lb", "metric": "usd_per_kg"}


@dataclass(frozen=True, slots=True)
class ReadLots:
    """Every lot in sentences, at what prices its worth is told, and lots ranked by energy."""

    readings: tuple[LotReading, ...]
    prices: NutrientPrices | None
    ranked: tuple[str, ...]


def stated_prices(tdn: str | None, cp: str | None, units: str) -> NutrientPrices | None:
    """Return prices of energy and protein as a person types them.

    ``tdn``, ``cp``: price of TDN and of crude protein as typed: "0.07 $/lb". ``units``: the farm's
    units, for a price without one. Returns both prices; ``None`` where none is given [US dollars
    per kg]. Raises ``NotUnderstood`` if one is missing or cannot be read.
    """
    if tdn is None and cp is None:
        return None
    if tdn is None or cp is None:
        raise NotUnderstood("Give both --tdn-price and --cp-price, or neither.")
    unit = _PRICE_UNIT.get(units, "usd_per_lb")
    try:
        energy, protein = (parse_quantity(text, "price", unit) for text in (tdn, cp))
    except QuantityError as problem:
        raise NotUnderstood(f"{problem} Write a price such as 0.07 $/lb.") from problem
    if energy < 0.0 or protein < 0.0:
        raise NotUnderstood("A price must not be negative.")
    return NutrientPrices(energy, protein, "as stated")


def read_lots(
    farm: Farm,
    prices: NutrientPrices | None = None,
    *,
    one_lab: bool = False,
    screens: Screens | None = None,
    lot_ids: Collection[str] = (),
    everything: bool = False,
) -> ReadLots:
    """Read lots of a farm: what the hay is, what it fits, what is dangerous.

    ``prices``: what energy and protein cost; those of the farm's feeds if left out. ``one_lab``:
    whether only the error within one laboratory is counted. ``screens``: a district's own screening
    limits. ``lot_ids``: the lots asked for; where none is named, all are read and ranked by energy.
    ``everything``: whether every value of the reports and all that is computed is told. Returns a
    reading for each lot, and their order by energy. Raises ``NotUnderstood`` if a lot named is not
    the farm's.
    """
    labs = Labs.ONE if one_lab else Labs.ANY
    return _read(still(farm), prices, labs, screens, tuple(lot_ids), everything)


@held_by_object(_HELD)
def _read(
    farm: Farm,
    prices: NutrientPrices | None,
    labs: Labs,
    screens: Screens | None,
    lot_ids: tuple[str, ...],
    everything: bool,
) -> ReadLots:
    paid = prices or prices_of_feeds(farm.feeds)
    readings = []
    bound = bindings(farm)
    for lot in _lots_named(farm, lot_ids):
        reports = farm.reports_of(lot.lot_id)
        mine = [one for one in bound if one.source_id == lot.lot_id]
        one = _read_lot(lot, farm, labs, screens, _may_have(farm, mine))
        if everything:
            one = replace(one, numbers=(*one.numbers, *every_number(lot, reports, labs)))
        readings.append(_valued(_with_rules(one, farm, mine), lot, farm, paid))
    shown = localized(tuple(readings), display_for(farm.units))
    return ReadLots(shown, paid, () if lot_ids else _ranked(farm))


def stock_words(groups: Iterable[Group]) -> frozenset[str]:
    """Return the kinds of stock of some groups, as the table of what they need calls them."""
    kinds = {CLASSES[one.animal_class].stock for one in groups}
    return frozenset("dairy cattle" if one is Stock.DAIRY else one.value for one in kinds)


def _may_have(farm: Farm, mine: Sequence[Binding]) -> frozenset[str]:
    """Return the kinds of stock of a farm that may have a lot on some day."""
    may = stock_words(one for one in farm.groups if one.group_id not in _barred(mine))
    return may if may or not farm.groups else _NOBODY


#: What stands for the kinds of stock where none of the farm may have a lot.
_NOBODY: Final = frozenset({"none"})


def _barred(mine: Sequence[Binding]) -> set[str]:
    return {one.group_id for one in mine if one.bars and not one.spans}


def _read_lot(
    lot: Lot, farm: Farm, labs: Labs, screens: Screens | None, stock: frozenset[str]
) -> LotReading:
    """Read a lot, or hold what it read before: what is fed or moved leaves it as it is."""
    reports = farm.reports_of(lot.lot_id)
    if screens is not None:
        return read_lot(lot, reports, None, labs, screens, stock)
    key = (id(lot), id(farm.reports), labs, stock)
    found = _readings.of([key])
    if key not in found:
        # Lot and reports are kept beside, so that their numbers are no others'.
        found = {key: (lot, farm.reports, read_lot(lot, reports, None, labs, None, stock))}
        _readings.hold(found)
    return found[key][2]


#: Lots as they were read, each with itself and the reports of its farm.
_readings: Final = Held[tuple[int, int, Labs, frozenset[str]], tuple[Lot, object, LotReading]](
    10 * _HELD
)


def _with_rules(reading: LotReading, farm: Farm, mine: Sequence[Binding]) -> LotReading:
    """Put what a lot means to the stock of the farm before all else that is said of it.

    Who may not have it is told here as in a season, and horses that need more care.
    """
    found = [
        caution
        for group in farm.groups
        if group.care is not None
        for caution in care_cautions(group, farm)
        if caution.about == reading.lot_id
    ]
    # What is for no stock at all the hazard itself says.
    grave = [
        one
        for one in mine
        if one.rule.stage == "sugar"
        or (one.bars and one.rule.level == "danger" and one.rule.stock != ("all",))
    ]
    kept = rule_cautions(farm, grave)
    if farm.groups and _may_have(farm, mine) is _NOBODY:
        reading = replace(reading, headline=f"{reading.headline} No stock here may have it.")
    return replace(reading, cautions=(*kept, *found, *with_rules(reading.cautions, farm, mine)))


def _lots_named(farm: Farm, lot_ids: Collection[str]) -> tuple[Lot, ...]:
    """Return the lots asked for, in the order of the farm; all where none is."""
    known = [lot.lot_id for lot in farm.lots]
    for lot_id in lot_ids:
        if lot_id not in known:
            raise NotUnderstood(
                f'"{lot_id}" is no lot of this farm; its lots are {", ".join(known)}.'
            )
    return tuple(lot for lot in farm.lots if not lot_ids or lot.lot_id in lot_ids)


def _ranked(farm: Farm) -> tuple[str, ...]:
    """Return the lots of each kind of forage by energy, a sentence for each."""
    measured = [
        (lot.name, lot.forage, lot_profile(lot, farm.reports_of(lot.lot_id)).measured)
        for lot in farm.lots
    ]
    return tuple(group.sentence for group in rank_by_tdn(measured))


def _valued(reading: LotReading, lot: Lot, farm: Farm, prices: NutrientPrices | None) -> LotReading:
    if prices is None:
        return reading
    worth = lot_worth(reading.measured, prices)
    sentence = worth_sentence(worth, farm.units, lot.value_usd_per_kg)
    if any(one.level == "danger" for one in reading.cautions):
        sentence = f"Only once the danger is dealt with: {sentence[0].lower()}{sentence[1:]}"
    return replace(reading, value=sentence)


def lot_sheets(farm: Farm, lot_ids: Collection[str], day: date) -> tuple[LotSheet, ...]:
    """Return what a buyer should know of lots of a farm.

    ``lot_ids``: the lots; where none is named, those with a sale price. ``day``: whose evening the
    bales are counted for. Raises ``NotUnderstood`` if a lot named is not the farm's, or if none is
    named and none is for sale; ``CannotWorkOut`` if neither weight nor size of a bale is known.
    """
    lots = _lots_named(farm, lot_ids)
    if not lot_ids:
        lots = tuple(lot for lot in lots if lot.sale_usd_per_kg is not None)
    if not lots:
        known = ", ".join(lot.lot_id for lot in farm.lots) or "none"
        raise NotUnderstood(
            "No lot of this farm has a sale price. Name the lot: --lot LOT.\n"
            f"  Its lots are {known}."
        )
    with worked_out():
        return tuple(lot_sheet(farm, lot, day) for lot in lots)


def in_winter(farm: Farm, winter: str | None) -> Farm:
    """Return the farm in another winter than its folder plans for; the same without one."""
    if winter is None:
        return farm
    return replace(farm, season=replace(farm.season, winter=Winter(winter)))


def appetite(table: NeedTable, g: int, t: int) -> float:
    """Return what a group wants of an ordinary hay, or the most it can eat where that is told.

    In dry matter. [kg DM per head and day]
    """
    if table.intake_rule[g][t] not in RULES:
        return float(table.most_dm_kg[g, t])
    return float(
        appetite_kg(
            table.intake_rule[g][t],
            float(table.shrunk_weight_kg[g, t]),
            USUAL_HAY_NEM,
            float(table.milk_kg[g, t]),
            float(table.intake_factor[g, t]),
        )
    )


def groups_named(farm: Farm, group_id: str | None) -> tuple[Group, ...]:
    """Return one group of a farm, or all.

    Raises ``NotUnderstood`` if the farm has no such group.
    """
    found = tuple(one for one in farm.groups if group_id in (None, one.group_id))
    if group_id is not None and not found:
        known = ", ".join(group.group_id for group in farm.groups) or "none"
        raise NotUnderstood(
            f'No group of this farm is called "{group_id}".\n  Its groups are {known}.'
        )
    return found


def dry_matter_of(farm: Farm) -> dict[str, float]:
    """Return the dry matter of every lot as it is counted, percent as fed."""
    profiles = lot_profiles(farm.lots, farm.reports)
    return {lot_id: one.dm_pct for lot_id, one in profiles.items()}


@held_by_object(_HELD)
def yard_on(farm: Farm, day: date, *, drought_often: bool = False) -> YardPage:
    """Return what stands in the yard on a day, what it lost and will lose.

    ``drought_often``: whether a quarter is to be kept in reserve. Returns lots, total, need and
    advice [kg as fed, kg DM]. Raises ``NotUnderstood`` if the day or the book does not allow it.
    """
    with understood("The yard cannot be worked out"):
        return yard_page(farm, day, dry_matter_of(farm), drought_often=drought_often)


def lot_split(
    farm: Farm, page: YardPage, day: date, lot_id: str, bales: str, storage: str
) -> LotSplit:
    """Return the lots that come of bales of a lot which go to stand in another way.

    ``bales``: how many of its bales, as typed. ``storage``: how they are to stand. Returns the rows
    of both lots. Raises ``NotUnderstood`` if there is no such lot or storage, or the bales cannot
    be taken.
    """
    line = next((one for one in page.lines if one.lot_id == lot_id), None)
    if line is None:
        known = ", ".join(lot.lot_id for lot in farm.lots)
        raise NotUnderstood(f'"{lot_id}" is no lot of this farm; its lots are {known}.')
    if storage not in list(Storage):
        raise NotUnderstood(f'"{storage}" is no way of storing; write one of {", ".join(Storage)}.')
    try:
        count = float(bales)
    except ValueError as error:
        raise NotUnderstood(f'"{bales}" is not a number of bales.') from error
    with understood(f"{lot_id} cannot be split that way"):
        return split_lot(
            farm.lot(lot_id),
            count,
            Storage(storage),
            day,
            standing=line.standing.bales,
            bale_kg=line.standing.bale_kg,
            taken=[lot.lot_id for lot in farm.lots],
        )


def sampling_plan(
    farm: Farm, day: date, options: Options, only: Collection[str] = ()
) -> tuple[SamplePlan, ...]:
    """Return which lots to sample, when, how and what for.

    ``options``: lots for sale, wetted, heated or off, and how to core. ``only``: the lots wanted;
    all if empty. One for each lot, the most urgent first. Raises ``NotUnderstood`` if a lot named
    is not the farm's, or the farm cannot be sampled as asked.
    """
    known = [lot.lot_id for lot in farm.lots]
    named = (only, options.for_sale, options.animals_off, options.wetted, options.heated)
    for name in sorted({name for some in named for name in some}):
        if name not in known:
            raise NotUnderstood(
                f'"{name}" is no lot of this farm; its lots are {", ".join(known)}.'
            )
    with understood("The farm cannot be sampled as asked"):
        plans = farm_sample_plans(farm, day, dry_matter_of(farm), options)
    return tuple(plan for plan in plans if not only or plan.lot_id in only)
