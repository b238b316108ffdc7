"""Second look at every need: worked out again from the farm, against what is really eaten."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import timedelta
from typing import Final

from rickyard.farm import Group, StatedNeed
from rickyard.forage.values import (
    DIET_NO3N_CEILING_OTHER_PPM,
    DIET_NO3N_CEILING_PREGNANT_PPM,
)
from rickyard.nutrients import AT_LEAST, SUPPLIES
from rickyard.program.audit.view import TOLERANCE, AuditView, Breach, at_most, compare
from rickyard.program.inputs import LEAST_CA_TO_P, LEAST_FORAGE_PCT_BW
from rickyard.program.ration_check import has_free_access, week_may_lack
from rickyard.program.result import GroupPeriod, SourceValues
from rickyard.quantities import is_some
from rickyard.safety import births, counts_as_pregnant, diet_spans, water_no3n_ppm
from rickyard.stock.common import NeedSeries
from rickyard.stock.equations import CP_FLOOR_PCT, NDF_CAP_PCT_BW, appetite_kg
from rickyard.stock.fill import floors_of, ndf_cap_pct_bw

#: What is needed or the most there may be, and what there is, by nutrient.
Bounds = dict[str, tuple[float, float]]


def need_breaches(look: AuditView) -> Iterator[Breach]:
    """Look for needs that are softened, missed without being told, or ceilings that are passed."""
    for group in look.farm.groups:
        series = look.series(group)
        for period in look.program.periods:
            cell = look.cells.get((group.group_id, period.index))
            if cell is None:
                continue
            weight = float(series.full_weight_kg[period.index])
            what = f"{group.name}, weight, period {period.index}"
            yield from compare(what, cell.full_weight_kg, weight)
            yield from compare(f"{group.name}, head", cell.head, group.head)
            stated = look.stated(cell)
            diet = Diet(look.eaten[group.group_id, period.index], look.sources)
            if stated is not None:
                wanted, ceilings = _stated_bounds(group, diet, stated, series, period.index)
                if not look.is_own(cell):
                    _add_class_bounds(look, group, diet, series, period.index, wanted, ceilings)
            else:
                wanted, ceilings = _computed_bounds(look, group, diet, series, period.index)
                if has_free_access(look.program, group, period.index):
                    ceilings = {}  # what fills them is looked at ration by ration
            # One that nothing could fall below has no row.
            wanted |= {
                name: both
                for name, both in _floors(look, group, diet, series, cell).items()
                if (group.group_id, period.index, name) in look.claimed or both[0] > both[1]
            }
            ceilings |= _safety_bounds(look, group, diet, series, period.index)
            yield from judge(look, group, period.index, wanted, ceilings)


def judge(
    look: AuditView,
    group: Group,
    period: int,
    wanted: Bounds,
    ceilings: Bounds,
) -> Iterator[Breach]:
    """Compare needs and ceilings, as (bound, what there is), with what the program claims."""
    for name, (need, supplied) in wanted.items():
        what = f"{group.name}, {name}, period {period}"
        row = look.claimed.get((group.group_id, period, name))
        if row is None:
            yield Breach(f"{what}, row", 0.0, need)
            continue
        yield from compare(f"{what}, need", row.need, need)
        yield from compare(f"{what}, supplied", row.supplied, supplied, max(need, 1e-3))
        missing = need - supplied - row.shortage
        may_lack = week_may_lack(look.program, look.farm, group, name, TOLERANCE)
        if missing > may_lack * max(abs(need), 1e-3):
            yield Breach(f"{what}, shortage", row.shortage, need - supplied)
    for name, (most, supplied) in ceilings.items():
        what = f"{group.name}, {name}, period {period}"
        # Nitrate is counted in milligrams, the others in kilograms.
        yield from at_most(what, supplied, most, 1e3 if name == "nitrate" else 0.1)


#: A period that begins in the week before an event falls in its week, and of a birth, after which
#: the young live of what the mother eats, also one that begins in the week after it. [d]
A_WEEK: Final = 7


def fall_breaches(look: AuditView) -> Iterator[Breach]:
    """Look for less energy or protein in the week of a birth or of weaning than before it."""
    for group in look.farm.groups:
        stops = [] if group.weaning_on is None else [(group.weaning_on, 0)]
        for event, after in [*((day, A_WEEK) for day in births(group)), *stops]:
            for period in look.program.periods[1:]:
                where, early = (group.group_id, period.index), (group.group_id, period.index - 1)
                here = where in look.cells and early in look.cells
                if not here or not -A_WEEK < (period.start - event).days <= after:
                    continue
                diets = [Diet(look.eaten[one], look.sources) for one in (early, where)]
                in_tdn = look.series(group).tdn_kg is not None
                for name in ("tdn" if in_tdn else "nem", "cp"):
                    was, now = (one.of[name] for one in diets)
                    what = f"{group.name}, {name} at birth or weaning, period {period.index}"
                    yield from at_most(what, was, now, 1.0)


#: In one night forage falls by so much of the whole ration of the day before at most. Judgement
#: after schedules for horses, as the table of safety says. [-]
MOST_FALL: Final = 0.25


def forage_breaches(look: AuditView) -> Iterator[Breach]:
    """Look for forage that falls too far from one period to the next and is not told to.

    What can no longer be fed, by its dates, by a rule or by a wish, is not counted before.
    """
    wished = {one.wish.source_id for one in look.program.wishes}
    for (group_id, period), now in look.eaten.items():
        was = look.eaten.get((group_id, period - 1), {})
        stays = {
            one: kg
            for one, kg in was.items()
            if look.is_forage(one)
            and one not in wished
            and look.in_season(one, period)
            and not look.is_barred(group_id, one, period)
        }
        least = sum(stays.values()) - MOST_FALL * sum(was.values())
        here = sum(kg for one, kg in now.items() if look.is_forage(one))
        what = f"{look.farm.group(group_id).name}, forage-fall, period {period}"
        told = look.claimed.get((group_id, period, "forage_fall"))
        if told is not None:
            yield from compare(f"{what}, forage", told.supplied, here, 1.0)
            yield from at_most(f"{what}, missed", told.need - here, told.shortage, 1.0)
            here += told.shortage
        yield from at_most(what, least, here, 1.0)


def mix_breaches(look: AuditView) -> Iterator[Breach]:
    """Look for hay that is more of the forage than it may be, and is not told to be."""
    for (group_id, period), now in look.eaten.items():
        span = look.program.periods[period]
        limits: dict[tuple[str, float], float] = defaultdict(float)
        for one in look.bound:
            mine = one.group_id == group_id and one.rule.demand == "mix"
            if mine and one.holds(span.start, span.days):
                part = (one.rule.amount or 0.0) / 100.0
                limits[one.rule.rule_id, part] += now.get(one.source_id, 0.0)
        forage = sum(kg for one, kg in now.items() if look.is_forage(one))
        lacks = max((kg - part * forage for (_, part), kg in limits.items()), default=0.0)
        told = look.claimed.get((group_id, period, "other_hay"))
        here = 0.0 if told is None else told.shortage
        what = f"{look.farm.group(group_id).name}, other hay, period {period}"
        yield from at_most(what, lacks, here, 1.0)


def _stated_bounds(
    group: Group, diet: Diet, stated: StatedNeed, series: NeedSeries, at: int
) -> tuple[Bounds, Bounds]:
    wanted = {}
    for one in AT_LEAST:
        need = getattr(stated, one.need, None)
        if need is not None:
            wanted[one.key] = (one.need_scale * need, diet.of[one.supply])
    if group.least_forage_pct_bw is not None:
        least = group.least_forage_pct_bw / 100.0 * float(series.full_weight_kg[at])
        wanted["forage"] = (least, diet.of["forage"])
    most = stated.most_dm_kg
    return wanted, ({} if most is None else {"most_dm": (most, diet.dm)})


#: Calcium of ewes and does before birth, of the dry matter (from memory). [g/kg]
_CALCIUM: Final = 4.0

#: Magnesium of sheep and of nursing ewes, of the dry matter whose magnesium is known (NRC 1985;
#: nursing: judgement), by the rule. [g/kg]
_MAGNESIUM: Final = (("tetany-magnesium-ewes", 1.8), ("magnesium-sheep", 1.2))


#: Forage of grown sheep and goats and of camelids, of the dry matter. Judgement. [-]
_FORAGE_OF_DM: Final = 0.5


def _floors(
    look: AuditView, group: Group, diet: Diet, series: NeedSeries, cell: GroupPeriod
) -> Bounds:
    """Return the shares of the diet that the class of a group or a rule of safety asks for."""
    wanted: Bounds = {}
    if _bound(look, "milk-fever-calcium", group, cell):
        wanted["ca_floor"] = (_CALCIUM * diet.dm, diet.of["ca"])
    if look.stated(cell) is not None and look.is_own(cell):
        return wanted
    if _bound(look, "forage-half", group, cell):
        wanted["forage_share"] = (_FORAGE_OF_DM * diet.dm, diet.of["forage"])
    need = series.constituent("mg_g")
    mine = [least for rule_id, least in _MAGNESIUM if _bound(look, rule_id, group, cell)]
    if need is not None:
        at = series.more.get("usual_hay_dm_kg", series.dry_matter_kg)
        assert at is not None
        mine.append(float(need[cell.period] / at[cell.period]))
    if mine:
        wanted["mg"] = (max(mine) * diet.of["mg_dm"], diet.of["mg"])
    return wanted


def _bound(look: AuditView, rule_id: str, group: Group, cell: GroupPeriod) -> bool:
    """Say whether a rule of the whole diet binds on any day of a period."""
    period = look.program.periods[cell.period]
    end = period.start + timedelta(days=period.days)
    spans = diet_spans(rule_id, group, look.farm)
    return spans is not None and (
        not spans or any(first < end and period.start < last for first, last in spans)
    )


def _add_class_bounds(
    look: AuditView,
    group: Group,
    diet: Diet,
    series: NeedSeries,
    at: int,
    wanted: Bounds,
    ceilings: Bounds,
) -> None:
    """Add what the class of a group asks of its diet beside the sum of its needs."""
    floors, weight = floors_of(group), float(series.full_weight_kg[at])
    of_farm = look.farm.season.least_ca_to_p
    ratio = max(floors.ca_to_p, LEAST_CA_TO_P if of_farm is None else of_farm)
    wanted["ca_to_p"] = (ratio * diet.of["p"], diet.of["ca"])
    if floors.cp_pct == floors.cp_pct:
        wanted["cp_floor"] = (floors.cp_pct / 100.0 * diet.dm, diet.of["cp"])
    share = group.least_forage_pct_bw
    share = floors.forage_pct_bw if share is None else share
    wanted["forage"] = (share / 100.0 * weight, diet.of["forage"])
    cap = ndf_cap_pct_bw(series.intake_rule[at])
    if cap < float("inf"):
        ceilings["ndf"] = (cap / 100.0 * weight, diet.of["room"])


def _computed_bounds(
    look: AuditView, group: Group, diet: Diet, series: NeedSeries, at: int
) -> tuple[Bounds, Bounds]:
    season = look.farm.season
    full = float(series.full_weight_kg[at])
    share = group.least_forage_pct_bw
    share = season.least_forage_pct_bw if share is None else share
    share = LEAST_FORAGE_PCT_BW if share is None else share
    ratio = LEAST_CA_TO_P if season.least_ca_to_p is None else season.least_ca_to_p
    maintenance = float(series.nem_mcal[at])
    retained = float(series.retained_energy_mcal[at])
    wanted = {}
    for one in AT_LEAST:
        values = series.constituent(one.need)
        if values is not None and one.key != "nem":
            wanted[one.key] = (one.need_scale * float(values[at]), diet.of[one.supply])
    wanted |= {
        "cp_floor": (CP_FLOOR_PCT / 100.0 * diet.dm, diet.of["cp"]),
        "ca_to_p": (ratio * diet.of["p"], diet.of["ca"]),
        "forage": (share / 100.0 * full, diet.of["forage"]),
    }
    if not is_some(retained):
        wanted["nem"] = (maintenance, diet.nem)
    elif is_some(diet.neg):
        # Kilograms for maintenance and for gain, of this very diet, against what is eaten.
        kilograms = maintenance * diet.dm / diet.nem + retained * diet.dm / diet.neg
        wanted["gain_energy"] = (kilograms * diet.nem / diet.dm, diet.nem)
    ceilings = {"ndf": (NDF_CAP_PCT_BW / 100.0 * full, diet.of["room"])}
    if is_some(diet.dm):
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


def _safety_bounds(
    look: AuditView, group: Group, diet: Diet, series: NeedSeries, at: int
) -> Bounds:
    """Return what the rules of safety leave of each source, and of nitrate in the whole diet."""
    # One that is ever pregnant in the season is spared all season: calving is spread.
    pregnant = bool(series.pregnant.any()) or counts_as_pregnant(group, look.farm)
    ceiling = DIET_NO3N_CEILING_PREGNANT_PPM if pregnant else DIET_NO3N_CEILING_OTHER_PPM
    bounds: Bounds = {}
    if is_some(diet.of["nitrate"]) and water_no3n_ppm(look.farm) is None:
        bounds["nitrate"] = (ceiling * diet.dm, diet.of["nitrate"])
    period = look.program.periods[at]
    for one in look.bound:
        if one.group_id != group.group_id or one.rule.demand not in ("none", "share"):
            continue
        if one.holds(period.start, period.days):
            name = f"{one.rule.rule_id}, share of {look.sources[one.source_id].name}"
            most = one.rule.most_share * diet.dm
            bounds[name] = (most, diet.amounts.get(one.source_id, 0.0))
    return bounds | _shared_bounds(look, group, diet, series, at)


def _shared_bounds(
    look: AuditView, group: Group, diet: Diet, series: NeedSeries, at: int
) -> Bounds:
    """Return what rules leave of all sources that are limited by them together."""
    period, weight = look.program.periods[at], float(series.full_weight_kg[at])
    sums: dict[tuple[str, str], set[str]] = {}
    most: dict[tuple[str, str], float] = {}
    for one in look.bound:
        mine = one.group_id == group.group_id and one.holds(period.start, period.days)
        if mine and one.rule.together:
            key = one.rule.together, one.rule.demand
            sums.setdefault(key, set()).add(one.source_id)
            whole = diet.dm if one.rule.demand == "share" else weight
            limit = (one.rule.amount or 0.0) / 100.0 * whole
            most[key] = min(limit, most.get(key, limit))
    return {
        f"{name} together, {demand}": (
            most[name, demand],
            sum(diet.amounts.get(one, 0.0) for one in sources),
        )
        for (name, demand), sources in sums.items()
    }


class Diet:
    """What one head eats in a day, added up source by source."""

    def __init__(self, amounts: dict[str, float], sources: dict[str, SourceValues]) -> None:
        self.amounts = amounts
        self.of = dict.fromkeys(SUPPLIES, 0.0)
        for source_id, kilograms in amounts.items():
            value = sources[source_id]
            for name, one in SUPPLIES.items():
                if value.is_forage or not one.of_forage:
                    held = (getattr(value, one.field) or 0.0) * one.scale if one.field else 1.0
                    self.of[name] += kilograms * held
        self.dm, self.nem, self.neg = self.of["dm"], self.of["nem"], self.of["neg"]
