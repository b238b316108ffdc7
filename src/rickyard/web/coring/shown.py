"""What stands on the sheet for coring a lot: the bale that is next, where, and into which bag."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from rickyard.book.coring import SampleBegun
from rickyard.display import Display, clean, count_text, display_for, listed, money_text
from rickyard.farm import Farm
from rickyard.hay.sampling import Coring, SamplePlan, coring
from rickyard.quantities import M_PER_IN
from rickyard.service.sections import drawn_for
from rickyard.sheets.wording import plain_test
from rickyard.web.coring.drawn import number_drawn, probe_drawn, stack_drawn
from rickyard.web.drawn import flag, flags_of
from rickyard.web.sections import cores_text


@dataclass(frozen=True, slots=True)
class Next:
    """The bale that is next: what it is called, and which comes where the probe will not go in."""

    bale: int
    says: str
    number: str
    instead: str


@dataclass(frozen=True, slots=True)
class Last:
    """The bale that was tried last, and the line by which that is taken back."""

    line: UUID
    says: str


@dataclass(frozen=True, slots=True)
class CoringShown:
    """All that stands on the sheet for coring a lot.

    ``stop`` says why nobody goes near it. ``next`` is ``None`` where no bale is to be cored:
    then ``is_whole`` says whether the bag can be closed, with the number of ``cored`` bales.
    """

    answer: str
    name: str
    flag: str
    sample: str
    stop: str
    cored_on: str
    next: Next | None
    last: Last | None
    is_whole: bool
    cored: int
    stack: str
    bales: tuple[int, ...]
    spares: tuple[int, ...]
    begun: str
    where: str
    probe: str
    when: str
    why: tuple[str, ...]
    bag: str
    tests: str
    order: str
    notes: tuple[str, ...]
    handling: tuple[str, ...]
    cautions: tuple[str, ...]


def coring_shown(
    farm: Farm, plan: SamplePlan, begun: SampleBegun | None, cored_on: date | None
) -> CoringShown:
    """Return what stands on the sheet for coring a lot.

    Parameters
    ----------
    farm : Farm
        The farm.
    plan : SamplePlan
        How to core it.
    begun : SampleBegun, optional
        How far the sample is; ``None`` where no core was taken.
    cored_on : date, optional
        When it was cored, where its result has not come yet.

    Returns
    -------
    CoringShown
        Words, numbers and drawings.
    """
    display = display_for(farm.units)
    probing, dates, name = plan.probing, plan.dates, clean(plan.name)
    drawn, spares, each = drawn_for(plan)
    so_far = coring(drawn, spares, each, ()) if begun is None else begun.so_far
    if begun is not None:
        spares = begun.spares
    stop = display.local(" ".join(dates.reasons)) if dates.status == "hot" else ""
    is_open = not stop and cored_on is None
    days = (("core", dates.sample_on), ("ship", dates.ship_on), ("result about", dates.result_on))
    remark = plan.choice.remark if plan.choice is not None else None
    depth = _depth(probing.depth_m, display)
    lot = farm.lot(plan.lot_id)
    return CoringShown(
        _answer(plan, so_far, stop, "" if cored_on is None else display.day_text(cored_on)),
        name,
        flag(flags_of(farm.lots)[plan.lot_id]),
        plan.sample_id,
        stop,
        "" if cored_on is None else display.day_text(cored_on),
        _next(plan, so_far) if is_open else None,
        _last(plan, begun) if is_open else None,
        is_open and so_far.is_whole,
        len({*so_far.done}) or plan.protocols[0].bales,
        ""
        if plan.choice is None or stop
        else stack_drawn(so_far, drawn, math.ceil(plan.bales_standing), name),
        () if plan.choice is None or stop else so_far.order,
        () if plan.choice is None or stop else _left(spares, so_far)[: len(drawn) // 2],
        "" if begun is None or not is_open else display.day_text(begun.begun_on),
        f"{probing.face[:1].upper()}{probing.face[1:]}, {probing.angle}"
        f"{f', {depth} deep' if depth else ''}.",
        "" if stop or probing.depth_m is None else probe_drawn(lot.package, depth),
        ", ".join(f"{word} {display.day_text(day)}" for word, day in days if day is not None),
        ()
        if stop
        else tuple(f"{display.local(one[:1].upper() + one[1:])}." for one in dates.reasons),
        f"{plan.bags[:1].upper()}{plan.bags[1:]}." if plan.bags else "",
        listed([plain_test(one.test) for one in plan.wanted]),
        "" if plan.order is None else f"{plan.order.lab}, {money_text(plan.order.price_usd)}",
        tuple(
            display.local(one)
            for one in (*probing.notes, *plan.remarks, *(() if remark is None else (remark,)))
        ),
        tuple(display.local(one) for one in plan.handling),
        tuple(display.local(one) for one in probing.cautions),
    )


def _answer(plan: SamplePlan, so_far: Coring, stop: str, cored_on: str) -> str:
    name = clean(plan.name)
    if stop:
        return f"{name}: do not touch."
    if cored_on:
        return f"{name} was cored on {cored_on}."
    if so_far.is_whole:
        many = count_text(so_far.taken, plan.probing.taken)
        return f"All {many} of {name} are in the bucket."
    if so_far.bale is None:
        return f"{name}: no bale is left that was drawn."
    return f"{name}: {cores_text(plan)}."


def _next(plan: SamplePlan, so_far: Coring) -> Next | None:
    if so_far.bale is None:
        return None
    noun = plan.probing.taken
    at = f"{noun.capitalize()} {so_far.taken + 1} of {so_far.wanted}"
    return Next(
        so_far.bale,
        at if plan.choice is None else f"{at}: bale",
        number_drawn(so_far.bale, so_far.taken),
        "" if so_far.instead is None else f"It won’t go in: take bale {so_far.instead}",
    )


def _last(plan: SamplePlan, begun: SampleBegun | None) -> Last | None:
    if begun is None or begun.last is None:
        return None
    line, tried = begun.last
    noun = "bale" if plan.choice is not None else plan.probing.taken
    return Last(line, f"Undo {noun} {tried.bale}")


def _left(spares: Sequence[int], so_far: Coring) -> tuple[int, ...]:
    """Return the spares that have not stepped in."""
    return tuple(one for one in spares if one not in so_far.order and one not in so_far.refused)


def _depth(depth_m: float | None, display: Display) -> str:
    if depth_m is None:
        return ""
    metric = display.system == "metric"
    return f"{depth_m * 100:.0f} cm" if metric else f"{depth_m / M_PER_IN:.0f} in"
