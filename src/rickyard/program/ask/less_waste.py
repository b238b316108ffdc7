"""Hay that need not be fed: what another feeder wastes less, and what stock eat beyond their need.

Stock at a ring eat what fills them. Where they are given what they need and no more, the hay that
is left feeds others or is not bought. That is an option for the farm to take, never taken for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import ceil, pi
from typing import Final

import numpy as np

from rickyard.animals import CLASSES, Stock
from rickyard.display import money_text
from rickyard.farm import AnimalClass, Farm, Group
from rickyard.hay.feeding import usual_feeder
from rickyard.kinds import Feeder, Package
from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.inputs import feeding_losses
from rickyard.program.problem import Problem
from rickyard.program.result import Remedy
from rickyard.quantities import M_PER_FT
from rickyard.stock.fill import LEAST_SCORE, room_words
from rickyard.types import FloatArray

#: Feeders that keep more of the hay, of those from which stock eat all they like, by kind of stock.
#: A rack for small stock, a ring with a cone for large bales.
SAVING: Final = {
    Stock.BEEF: Feeder.CONE_RING,
    Stock.DAIRY: Feeder.CONE_RING,
    Stock.HORSES: Feeder.CRADLE,
    Stock.SHEEP: Feeder.CRADLE,
    Stock.GOATS: Feeder.CRADLE,
    Stock.CAMELIDS: Feeder.CRADLE,
}

#: Less than this is not worth another feeder. [points of loss, share of what is short]
LEAST_POINTS: Final = 2.0
LEAST_REMOVED: Final = 0.05

#: Room of a cow at a ring that has hay all day. Buskirk et al. (2003), J. Anim. Sci. 81:109. [m]
PLACE_M: Final = 0.371

#: Limiting is proposed where it saves so much of what a season costs, or removes so much of what is
#: short. Judgement, no published source. [-]
LEAST_SAVED: Final = 0.01

#: A common ring is eight feet across. Common practice, no published source. [m]
RING_M: Final = 8.0 * M_PER_FT


@dataclass(frozen=True, slots=True)
class OtherFeeder:
    """A feeder that wastes less than what a group has.

    ``now_pct`` and ``then_pct`` are the most that it loses of a hay. ``rings`` is how many there
    would have to be, 0 where nobody says. ``loss_frac`` is what is lost of each source, (i,).
    """

    now: Feeder
    then: Feeder
    now_pct: float
    then_pct: float
    rings: int
    loss_frac: FloatArray

    @property
    def words(self) -> tuple[str, str]:
        """Return the feeder then and that of now, as a sentence names them."""
        then, now = (one.value.replace("_", " ") for one in (self.then, self.now))
        return then, "the bare ground" if self.now is Feeder.NONE else f"the {now}"


def other_feeders(farm: Farm) -> Mapping[str, OtherFeeder]:
    """Return the feeder that would waste less, by group; none for those whose loss is told.

    A group that is given its hay by the day, at a bunk, mixed or unrolled, keeps what it has.

    Parameters
    ----------
    farm : Farm
        Its groups and lots are read.

    Returns
    -------
    Mapping of str to OtherFeeder
        By the id of the group.
    """
    changed = [replace(one, feeder=_saving(one)) for one in farm.groups]
    now = feeding_losses(farm)[0]
    then = np.minimum(now, feeding_losses(replace(farm, groups=tuple(changed)))[0])
    found = {}
    for g, (group, other) in enumerate(zip(farm.groups, changed, strict=True)):
        saved = now[g] - then[g]
        at = int(np.argmax(saved)) if len(saved) else 0
        if other.feeder is None or not len(saved) or 100.0 * saved[at] < LEAST_POINTS:
            continue
        ring = other.feeder is Feeder.CONE_RING
        found[group.group_id] = OtherFeeder(
            _feeder_of(group),
            other.feeder,
            100.0 * float(now[g, at]),
            100.0 * float(then[g, at]),
            ceil(group.head * PLACE_M / (pi * RING_M)) if ring else 0,
            then[g],
        )
    return found


def _feeder_of(group: Group) -> Feeder:
    return group.feeder or usual_feeder(group.animal_class, Package.ROUND)


def _saving(group: Group) -> Feeder:
    now = _feeder_of(group)
    by_the_day = now in (Feeder.BUNK, Feeder.MIXED_RATION, Feeder.UNROLLED_DAILY)
    return now if by_the_day else SAVING[CLASSES[group.animal_class].stock]


def with_feeder(problem: Problem, group: int, other: OtherFeeder) -> Problem:
    """Return a season in which a group loses what it would from another feeder."""
    loss = problem.sources.feeding_loss_frac.copy()
    loss[group] = np.minimum(loss[group], other.loss_frac)
    return replace(problem, sources=replace(problem.sources, feeding_loss_frac=loss))


def removed_by(
    inquiry: Inquiry, group_id: str, other: OtherFeeder, short_usd: float
) -> tuple[float, float] | None:
    """Return the share of what a group is short of that another feeder removes, and what it costs.

    ``inquiry``: the solved season; the hays that it may feed are kept. ``short_usd``: what the
    group is short of now, at its price. The cost is that of the season, in US dollars more (less,
    as a rule, and so negative), without the feeder itself; ``None`` where it removes next to
    nothing.
    """
    group = next(
        g for g, one in enumerate(inquiry.problem.needs.groups) if one.group_id == group_id
    )
    with inquiry.other_seasons() as ask:
        answer = ask(with_feeder(inquiry.problem, group, other))
    removed = (inquiry.base.short_usd - answer.short_usd) / max(short_usd, 1e-9)
    if removed < LEAST_REMOVED:
        return None
    return min(1.0, removed), round(answer.usd - inquiry.base.usd, 2) + 0.0


def limited(problem: Problem, group: int) -> Problem | None:
    """Return a season in which a group gets what is cheapest for it, and no more.

    ``None`` where it has no free access as it is.
    """
    fill = problem.fill
    if fill is None or not fill.free[group].any():
        return None
    free = fill.free.copy()
    free[group] = False
    return replace(problem, fill=replace(fill, free=free))


def limiting(inquiry: Inquiry, farm: Farm) -> Iterator[Remedy]:
    """Say what limiting the hay of each group of grown cows would save, and how it is done safely.

    ``inquiry``: the solved season; the hays that it may feed are kept. Only cows are asked about,
    and none that are told to be thin: trials of limiting were made with grown cows in condition.
    """
    problem, base = inquiry.problem, inquiry.base
    at = {one.group_id: g for g, one in enumerate(problem.needs.groups)}
    days = (farm.season.start, farm.season.end)
    for group in farm.groups:
        less = limited(problem, at[group.group_id]) if may_be_limited(group) else None
        if less is None:
            continue
        answer = inquiry.like(less).base
        usd = round(answer.usd - base.usd, 2) + 0.0
        removed = (base.short_usd - answer.short_usd) / base.short_usd if base.short_usd else 0.0
        if removed < LEAST_REMOVED and (
            answer.is_shorter_than(base) or -usd < LEAST_SAVED * abs(base.usd)
        ):
            continue
        sentence = _limiting_words(group, usd, removed, us=farm.units == "us")
        yield Remedy(group.group_id, *days, "", "limit_hay", "", None, None, usd, sentence)


def may_be_limited(group: Group) -> bool:
    """Return whether limiting may be spoken of: of grown cows alone, and of none that are thin.

    Parameters
    ----------
    group : Group
        Its class and condition are read.

    Returns
    -------
    bool
        Whether it may.
    """
    score = group.condition_score
    return group.animal_class is AnimalClass.COW and (score is None or score >= LEAST_SCORE)


def _limiting_words(group: Group, usd: float, removed: float, *, us: bool) -> str:
    costs = f"{money_text(abs(usd))} {'less' if usd <= 0.0 else 'more'}"
    gone = f" and {removed:.0%} of what is short would be gone" if removed >= LEAST_REMOVED else ""
    return (
        f"{group.name}, with all the hay they want now: fed what they need and no more, the season "
        f"costs {costs}{gone}. It is done at a bunk, unrolled a day's hay at a time, or for some "
        f"hours a day at the ring. {room_words(group, us=us)} Timid, young, "
        "old and thin cows eat last and get least: feed them apart. Not with hay that holds "
        "nitrate or with grain for hungry cows, and not in bad cold. Ask your extension office, "
        'then write "limited" as offered in groups.csv.'
    )
