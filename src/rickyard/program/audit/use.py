"""Second look at the rules of hay in use: at once, in runs, in servings, and what changes cost."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from math import ceil
from typing import Final

from rickyard.farm import Group
from rickyard.program.audit.view import AuditView, Breach, is_over
from rickyard.program.result import NEEDS_OF_HAY, GroupPeriod, SeasonProgram, Wish
from rickyard.quantities import is_some

#: Where a group goes short of what hay gives, rations ask for no more of a hay than this. Common
#: practice. [% of live weight]
HUNGRY_LEAST_PCT_BW: Final = 0.05


def rule_breaches(look: AuditView) -> Iterator[Breach]:
    """Look for too many hays at once, runs that are too short and servings that are too small."""
    for group in look.farm.groups:
        yield from _at_once(look, group)
        if _most_at_once(look, group) is None and not look.farm.season.least_run_days:
            continue
        yield from _servings(look, group)
        hays = {one for period in _present(look, group) for one in _fed(look, group, period)}
        for source_id in sorted(hays):
            yield from _runs(look, group, source_id)


def changes(look: AuditView) -> int:
    """Return how often a group begins a hay after its own first period."""
    count = 0
    for group in look.farm.groups:
        here = _present(look, group)
        for period in here[1:]:
            if period - 1 in here:
                count += len(_fed(look, group, period) - _fed(look, group, period - 1))
    return count


def _most_at_once(look: AuditView, group: Group) -> int | None:
    own = group.hays_at_once
    return look.farm.season.hays_at_once if own is None else own


def _present(look: AuditView, group: Group) -> list[int]:
    return sorted(period for group_id, period in look.cells if group_id == group.group_id)


def _fed(look: AuditView, group: Group, period: int) -> set[str]:
    """Return the hays of which a group is fed anything in a period."""
    amounts = look.eaten.get((group.group_id, period), {})
    return {one for one, kilograms in amounts.items() if is_some(kilograms) and look.is_hay(one)}


def _at_once(look: AuditView, group: Group) -> Iterator[Breach]:
    most = _most_at_once(look, group)
    if most is None:
        return
    for period in _present(look, group):
        count = len(_fed(look, group, period))
        if count > most:
            yield Breach(f"{group.name}, hays at once, period {period}", most, count)


def _servings(look: AuditView, group: Group) -> Iterator[Breach]:
    share = look.farm.season.least_serving_pct_bw / 100.0
    if look.program.rations and _is_hungry(look, group):
        share = min(share, HUNGRY_LEAST_PCT_BW / 100.0)
    for period in _present(look, group):
        least = share * look.cells[group.group_id, period].full_weight_kg
        for source_id in sorted(_fed(look, group, period)):
            amount = look.eaten[group.group_id, period][source_id]
            if is_over(least, amount) and not _asked_for(look, group, source_id, period):
                where = f"{source_id} to {group.name}, period {period}"
                yield Breach(f"{where}, least serving", amount, least)


def _is_hungry(look: AuditView, group: Group) -> bool:
    """Say whether a group goes short of what hay gives: then a little every day is well."""
    return any(
        one.group_id == group.group_id and one.nutrient in NEEDS_OF_HAY
        for one in look.program.shortages
    )


def _runs(look: AuditView, group: Group, source_id: str) -> Iterator[Breach]:
    """Look for a run that neither its length nor anything outside the plan excuses."""
    days = look.farm.season.least_run_days
    if not days:
        return
    least = ceil(days / look.farm.season.period_days)
    here = _present(look, group)
    run: list[int] = []
    for period in [*here, here[-1] + 2]:
        if period in here and source_id in _fed(look, group, period):
            if run and period == run[-1] + 1:
                run.append(period)
                continue
            yield from _run(look, group, source_id, run, least)
            run = [period]
            continue
        yield from _run(look, group, source_id, run, least)
        run = []


def _run(
    look: AuditView, group: Group, source_id: str, run: list[int], least: int
) -> Iterator[Breach]:
    if not run or len(run) >= least:
        return
    if not any(
        _asked_for(look, group, source_id, beside)
        or not _could_be_fed(look, group, source_id, beside)
        for beside in (run[0] - 1, run[-1] + 1)
    ):
        where = f"{source_id} to {group.name}, periods {run[0]} to {run[-1]}"
        yield Breach(f"{where}, run", len(run), least)


def _asked_for(look: AuditView, group: Group, source_id: str, period: int) -> bool:
    """Say whether somebody wishes it fed there: a wish may be kept in part, and says so."""
    if not 0 <= period < len(look.program.periods):
        return False
    return any(_wished(look, group, source_id, period, kind) for kind in ("amount", "feed"))


def _could_be_fed(look: AuditView, group: Group, source_id: str, period: int) -> bool:
    """Say whether a run could have gone on there: they are here, and the hay may be fed."""
    if (group.group_id, period) not in look.cells or not look.in_season(source_id, period):
        return False
    if look.is_barred(group.group_id, source_id, period):
        return False
    return not _wished(look, group, source_id, period, "keep_off")


def _wished(look: AuditView, group: Group, source_id: str, period: int, kind: str) -> bool:
    one = look.program.periods[period]
    for outcome in look.program.wishes:
        wish = outcome.wish
        mine = wish.kind == kind and wish.source_id == source_id
        if not mine or wish.group_id not in ("", group.group_id):
            continue
        over = wish.end is not None and one.start >= wish.end
        before = wish.start is not None and (wish.start - one.start).days >= one.days
        if not over and not before:
            return True
    return False


#: A wished amount holds to this share.
SHARE: Final = 2e-4

#: Less than this is not fed. [kg DM per head and day]
NOTHING_KG: Final = 2e-6


def unkept_wishes(program: SeasonProgram) -> Iterator[tuple[str, float, float]]:
    """Look for wishes that a program calls kept and does not keep.

    Yields what is wrong, the amount wished and the amount fed [kg DM per head and day].
    """
    fed: dict[tuple[str, str, int], float] = {}
    for row in program.feeding:
        key = (row.group_id, row.source_id, row.period)
        fed[key] = fed.get(key, 0.0) + row.eaten_kg_dm_per_head_day
    for outcome in program.wishes:
        if outcome.kept != "kept":
            continue
        wish = outcome.wish
        for cell in _cells(program, wish):
            amount = fed.get((cell.group_id, wish.source_id, cell.period), 0.0)
            wanted = wish.kg_dm_per_head_day or 0.0
            wrong = {
                "feed": not is_some(amount),
                "keep_off": amount > NOTHING_KG,
                "amount": abs(amount - wanted) > SHARE * wanted + NOTHING_KG,
            }[wish.kind]
            if wrong:
                where = f"{wish.source_id} to {cell.group_id} from {cell.start}"
                yield f"{where}, wish {wish.kind.replace('_', ' ')}", wanted, amount


def _cells(program: SeasonProgram, wish: Wish) -> list[GroupPeriod]:
    """Return the groups and periods of which a wish speaks."""
    mine = [cell for cell in program.groups if wish.group_id in ("", cell.group_id)]
    touched = [cell for cell in mine if _touches(program, cell, wish)]
    if wish.kind == "keep_off":
        return touched
    inside = [cell for cell in mine if _middle_within(program, cell, wish)]
    return inside or touched


def _touches(program: SeasonProgram, cell: GroupPeriod, wish: Wish) -> bool:
    period = program.periods[cell.period]
    last = period.start + timedelta(days=period.days - 1)
    too_late = wish.start is not None and last < wish.start
    too_early = wish.end is not None and period.start >= wish.end
    return not (too_late or too_early)


def _middle_within(program: SeasonProgram, cell: GroupPeriod, wish: Wish) -> bool:
    period = program.periods[cell.period]
    middle = period.start + timedelta(days=period.days // 2)
    begun = wish.start is None or middle >= wish.start
    return begun and (wish.end is None or middle < wish.end)
