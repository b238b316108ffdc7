"""One group's amounts, moved within its periods until each day is as the rules of safety want it.

Within a period a feed that is raised climbs, a hay with nitrate begins low, and the other hay makes
up for both. Hay that is over makes up for the rest, first what is fed and then what stands in.
"""

from __future__ import annotations

from collections.abc import Collection, Set
from dataclasses import dataclass, field
from datetime import date
from typing import Final

import numpy as np

from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.days.bale_stock import hay_ids
from rickyard.program.days.making_up import (
    DUST_KG,
    LEAST_OF_HAY,
    carried_on,
    day_kg_dm,
    filled_up,
    made_up,
    may_go_on,
    parts_kept,
    shares_of_day,
    stood_in,
)
from rickyard.program.days.step_up import (
    Pace,
    begun_parts,
    held_back,
    paces_of,
    raised_slowly,
    waiting,
)
from rickyard.program.inputs import LOOK_BACK_DAYS, daily_before_kg
from rickyard.program.problem import NitrateByDay
from rickyard.quantities import is_some
from rickyard.safety import Binding, amount_of
from rickyard.types import BoolArray, FloatArray, IntArray


@dataclass(frozen=True, slots=True)
class SafeDays:
    """Moves what a group is put out within its periods, so that each day is as the rules want.

    ``room`` is the dry matter of each hay that the program leaves, taken from as it makes up for
    what is held back. [kg] ``counted``: whether the program counts with most of that itself.
    ``nitrate`` is what counts for the limit of the whole diet, where hay with nitrate begins.
    ``bare`` is added to: the periods in which hay with nitrate begins and too little other is over;
    and ``lean``: those in which the group gets less than its fill so that its nitrate is no more;
    and ``short``: those in which it gets less while a feed is raised. ``others`` are the days on
    which other hay may stand in. ``grazed`` is which part is eaten of grass that stands.
    """

    farm: Farm
    group: Group
    first: date
    period: IntArray
    weight_kg: FloatArray
    rules: list[Binding]
    room: dict[str, float]
    counted: bool
    nitrate: NitrateByDay | None = None
    others: dict[str, BoolArray] = field(default_factory=dict)
    grazed: dict[str, float] = field(default_factory=dict)
    bare: list[int] = field(default_factory=list)
    lean: list[int] = field(default_factory=list)
    short: list[int] = field(default_factory=list)

    def amounts(
        self, asked: dict[str, FloatArray], fill: frozenset[str], dry: dict[str, float]
    ) -> tuple[dict[str, FloatArray], frozenset[str]]:
        """Return the amounts by day, and which feeds climb; ``fill`` is the hay that makes up."""
        moved = dict(asked)
        waits = {} if self.room is None else waiting(asked, self.rules, self._known())
        open_now = {one: np.where(days, 0.0, asked[one]) for one, days in waits.items()}
        for source_id, pace in paces_of(self.rules, asked).items():
            if source_id in asked:
                wanted = open_now.get(source_id, asked[source_id])
                moved[source_id] = self._climbing(source_id, wanted, pace)
        for one in self.rules:
            if one.rule.demand == "begin" and one.source_id in asked:
                wanted = open_now.get(one.source_id, asked[one.source_id])
                moved[one.source_id] = self._begun(one.source_id, wanted)
        cut = np.zeros(len(self.period), dtype=bool)
        goes_on: dict[str, FloatArray] = {}
        if not self.counted:
            known = may_go_on(self.farm, self.rules, asked, self.first)
            goes_on = carried_on(asked, moved, known, dry, self.room)
            moved |= goes_on
        else:
            moved |= self._beside_safe(asked, moved, fill, dry)
            cut = self._within_limit(asked, moved, fill, dry)
        held = sum(
            ((asked[one] - moved[one]) * dry[one] for one in asked if moved[one] is not asked[one]),
            np.zeros(len(self.period)),
        )
        raised = frozenset(paces_of(self.rules, asked)) & frozenset(asked)
        if not (held.any() or goes_on):
            return moved, raised
        given = self._filled(moved, held, fill, dry)
        # Nitrate is cut of what is put out with all the safe hay that there is, as what is drunk
        # is more of a small ration; and what is cut is stood in for too.
        most = amount_of("forage-fall") / 100.0 * day_kg_dm(asked, dry)
        self._stand_in(given, self._lack(asked, given, dry), most, dry)
        cut |= self._kept_within(asked, given, fill & asked.keys(), most, dry)
        # Of what is put out too, as stock may clean up what is mixed.
        eaten = {} if self.nitrate is None else self.nitrate.eaten
        for each in ({one: dry[one] * eaten.get(one, 1.0) for one in given}, dry):
            cut |= self._kept_to_shares(asked, given, fill & asked.keys(), each, dry)
        # What took the place of hay that gave way may hold more nitrate than it did.
        packs = {one.source_id for one in self.rules if one.rule.demand == "mix"}
        cut |= self._kept_within(asked, given, fill & asked.keys() - packs, most, dry)
        self._stand_in(given, self._lack(asked, given, dry), most, dry)
        self._note_lean(asked, given, cut, dry)
        return given, raised

    def _lack(
        self, asked: dict[str, FloatArray], given: dict[str, FloatArray], dry: dict[str, float]
    ) -> FloatArray:
        """Return what is missing on days that lack more than a little of their ration. [kg DM]."""
        wanted, there = (day_kg_dm(each, self._fills(dry)) for each in (asked, given))
        return np.asarray(np.where(there < (1.0 - SHORT) * wanted, wanted - there, 0.0))

    def _fills(self, dry: dict[str, float]) -> dict[str, float]:
        """Return the dry matter that fills, of a kilogram: of grass what is eaten of it."""
        return dry | {one: dry[one] * part for one, part in self.grazed.items()}

    def _stand_in(
        self,
        given: dict[str, FloatArray],
        lack_kg_dm: FloatArray,
        most_kg_dm: FloatArray,
        dry: dict[str, float],
    ) -> None:
        """Put out other hay for what nothing that is fed makes up for, and take it off the most."""
        more = stood_in(lack_kg_dm, most_kg_dm, self.others, dry, self.room)
        for one, kg in more.items():
            given[one] = given[one] + kg if one in given else kg
            most_kg_dm -= kg * dry[one]

    def _stand_for(
        self, hay_kg_dm: dict[str, FloatArray], most_kg_dm: FloatArray
    ) -> dict[str, FloatArray]:
        """Return the hay that would make up for what is cut on each day, by its parts of it.

        The hay that is fed, as far as it is over; else the first that may stand in.
        """
        found = {one: kg for one, kg in hay_kg_dm.items() if self.room[one] > DUST_KG}
        bare = (most_kg_dm > DUST_KG) & ~is_some(sum(found.values(), np.zeros(len(most_kg_dm))))
        for one, on in self.others.items():
            if self.room[one] > DUST_KG:
                found[one] = np.asarray(found.get(one, 0.0) + (bare & on))
                bare &= ~on
        return found

    def _filled(
        self,
        moved: dict[str, FloatArray],
        held: FloatArray,
        fill: frozenset[str],
        dry: dict[str, float],
    ) -> dict[str, FloatArray]:
        """Return the amounts with hay that makes up by day for what is held back. [kg]."""
        hay = {one: kg for one, kg in moved.items() if one in fill}
        if self.counted:
            given = filled_up(self.period, hay, held, dry)
            held = held - sum(
                ((given[one] - kg) * dry[one] for one, kg in hay.items()), np.zeros(len(held))
            )
            hay = given
        return moved | made_up(hay, held, dry, self.room)

    def _kept_within(
        self,
        asked: dict[str, FloatArray],
        given: dict[str, FloatArray],
        fill: Set[str],
        most_kg_dm: FloatArray,
        dry: dict[str, float],
    ) -> BoolArray:
        """Take hay with nitrate off days that would be above the limit of the diet; return them.

        Where feed is held back and no hay makes up for it, the same hay is more of what is eaten.
        """
        if self.nitrate is None:
            return np.zeros(len(self.period), dtype=bool)
        mean = {one: kg * dry[one] for one, kg in asked.items()}
        high = self.nitrate.high(given)
        cut = np.zeros(len(self.period), dtype=bool)
        # First with the hay that stands in for it, then with as much as there was of that.
        for counting in (True, False):
            now = {one: kg * dry[one] for one, kg in given.items()}
            hay = {one: kg for one, kg in given.items() if one in fill and one not in high}
            hay_kg_dm = {one: now[one] for one in hay}
            stand = self._stand_for(hay_kg_dm, most_kg_dm) if counting else {}
            part = self.nitrate.part_kept(now, mean, stand)
            held = (1.0 - part) * sum((now[one] for one in high), np.zeros(len(part)))
            if is_some(held).any():
                given |= {one: given[one] * part for one in high}
                full = made_up(hay, held, dry, self.room)
                given |= full
                if counting:
                    lack = held - sum((full[one] * dry[one] - kg for one, kg in hay_kg_dm.items()),
                                      np.zeros(len(part)))  # fmt: skip
                    self._stand_in(given, lack, most_kg_dm, dry)
                cut |= is_some(held)
        return cut

    def _kept_to_shares(
        self,
        asked: dict[str, FloatArray],
        given: dict[str, FloatArray],
        fill: Set[str],
        each: dict[str, float],
        dry: dict[str, float],
    ) -> BoolArray:
        """Take hay with a limit to its share off those days that hold less than their mean.

        Where feed is held back and no hay makes up for it, the same hay is more of what is eaten.
        ``each`` is the dry matter that counts of a kilogram of each source. Return the days on
        which less is put out of what is limited for a poison; what packs the gut or the like is
        told where a feed is raised.
        """
        mean = day_kg_dm(asked, each)
        most = self._most_parts(asked, given, each, mean)
        cut = np.zeros(len(mean), dtype=bool)
        if not most:
            return cut
        dangers = {one.source_id for one in self.rules if one.rule.demand in ("share", "begin")}
        poison = {one: part for one, part in most.items() if one in dangers}
        # First with the hay that stands in for it, then with as much as there was of that. What
        # packs the gut or the like gives way so too, but leaves nobody hungry: it is never less
        # than is asked for.
        left = _cut_to(given, most, asked.keys() - poison.keys(), asked, each, counting=True)
        there = {one: kg for one, kg in given.items() if one in fill and one not in most}
        given |= made_up(there, day_kg_dm(left, dry), dry, self.room)
        cut |= is_some(day_kg_dm({one: left[one] for one in poison}, dry)) if poison else cut
        packs = {one: part for one, part in most.items() if one not in poison}
        for _ in range(ROUNDS):
            more = _cut_to(given, packs, packs.keys(), asked, each, counting=False)
            left = _cut_to(given, poison, (), asked, each, counting=False)
            cut |= is_some(day_kg_dm(left, dry)) if poison else cut
            if not any(is_some(kg).any() for kg in (*more.values(), *left.values())):
                break
        return cut

    def _most_parts(
        self,
        asked: dict[str, FloatArray],
        given: dict[str, FloatArray],
        each: dict[str, float],
        mean: FloatArray,
    ) -> dict[str, FloatArray]:
        """Return the largest part of each day that hay with a limit to its share may be.

        Of hay that is begun low it is less on its first days. What the program itself asks for
        above its share is told elsewhere.
        """
        found: dict[str, FloatArray] = {}
        begun = {one.source_id for one in self.rules if one.rule.demand == "begin"}
        grazed = {one.feed_id for one in self.farm.feeds if one.kind is FeedKind.GRAZING}
        shares = shares_of_day(given, self.rules, each, hay_ids(self.farm) | grazed)
        for source_id in sorted((begun | shares.keys()) & given.keys()):
            kg = asked.get(source_id, np.zeros(len(mean))) * each[source_id]
            part = np.divide(kg, mean, out=np.zeros(len(mean)), where=is_some(mean))
            most = np.maximum(shares.get(source_id, 1.0), part)
            if source_id in begun:
                known = source_id in self._known()
                most = begun_parts(given[source_id], known=known) * most
            found[source_id] = most
        return found

    def _note_lean(
        self,
        asked: dict[str, FloatArray],
        given: dict[str, FloatArray],
        cut: BoolArray,
        dry: dict[str, float],
    ) -> None:
        """Note the periods in which less is there as nitrate was cut or a feed climbs."""
        wanted, there = (day_kg_dm(each, self._fills(dry)) for each in (asked, given))
        hungry = there < (1.0 - UNTOLD) * wanted
        short = there < (1.0 - SHORT) * wanted
        for number in np.unique(self.period).tolist():
            days = self.period == number
            if number in self.bare:
                continue
            if cut[days].any() and hungry[days].any():
                self.lean.append(number)
            elif short[days].any():
                self.short.append(number)

    def _known(self) -> frozenset[str]:
        """Return what the group was fed within the days before the season that stock know."""
        start = self.farm.season.start
        return frozenset(
            row.source_id
            for row in self.farm.fed
            if row.group_id == self.group.group_id and 0 < (start - row.day).days <= LOOK_BACK_DAYS
        )

    def _climbing(self, source_id: str, asked: FloatArray, pace: Pace) -> FloatArray:
        head = max(self.group.head, 1)
        known = daily_before_kg(self.farm, self.group, source_id)
        wanted = asked / head
        if not self.counted:
            return held_back(wanted, self.weight_kg, pace, known) * head
        return raised_slowly(wanted, self.weight_kg, self.period, pace, known) * head

    def _begun(self, source_id: str, asked: FloatArray) -> FloatArray:
        """Return a hay with nitrate that begins by thirds wherever it was not fed before."""
        part = begun_parts(asked, known=source_id in self._known())
        if self.counted:
            for number in np.unique(self.period).tolist():
                days = self.period == number
                part[days] /= part[days].mean()
        return asked * part

    def _beside_safe(
        self,
        asked: dict[str, FloatArray],
        moved: dict[str, FloatArray],
        fill: frozenset[str],
        dry: dict[str, float],
    ) -> dict[str, FloatArray]:
        """Return hay with nitrate that on no day is more of the forage than is safe beside other.

        What begins low ends its week above its mean; there it takes no more than two thirds, as
        far as other hay that is over makes up for what is so left out.
        """
        mixed = sorted({one.source_id for one in self.rules if one.rule.mixed} & asked.keys())
        zero = np.zeros(len(self.period))
        mean, now = (sum((by[one] * dry[one] for one in mixed), zero) for by in (asked, moved))
        safe = sum((kg * dry[one] for one, kg in asked.items() if one in fill), zero)
        most = np.maximum(mean, (1.0 - amount_of("nitrate-beside") / 100.0) * (mean + safe))
        whole = sum((kg * dry[one] for one, kg in asked.items()), zero)
        most = most + self._not_made_up(now - most, now < mean, whole, asked.keys() & fill, asked)
        part = np.divide(
            most - mean, now - mean, out=np.ones(len(zero)), where=now > most + DUST_KG
        )
        begun = [one for one in mixed if moved[one] is not asked[one]]
        return {one: asked[one] + (moved[one] - asked[one]) * part for one in begun}

    def _within_limit(
        self,
        asked: dict[str, FloatArray],
        moved: dict[str, FloatArray],
        fill: frozenset[str],
        dry: dict[str, float],
    ) -> BoolArray:
        """Let hay with nitrate rise no further above the mean of its period than the limit allows.

        What begins low ends its week above its mean, which alone the program holds to the limit.
        Return the days on which less of it is moved.
        """
        mine = [one.source_id for one in self.rules if one.rule.demand == "begin"]
        begun = [one for one in dict.fromkeys(mine) if one in asked]
        if self.nitrate is None or not begun:
            return np.zeros(len(self.period), dtype=bool)
        mean, now = ({one: kg * dry[one] for one, kg in by.items()} for by in (asked, moved))
        way = sorted(asked.keys() & fill)
        part = self.nitrate.part_of_rise(mean, now, begun, way, 1.0 - LEAST_OF_HAY)
        moved |= {one: asked[one] + (moved[one] - asked[one]) * part for one in begun}
        return np.asarray(part < 1.0)

    def _not_made_up(
        self,
        above: FloatArray,
        low: BoolArray,
        whole_kg_dm: FloatArray,
        fill: Set[str],
        asked: dict[str, FloatArray],
    ) -> FloatArray:
        """Return by how much hay with nitrate stays above its limit on each day. [kg DM].

        On the days on which it begins a tenth of the ration may be missing; what else is left out
        of a period must be over in hay that is fed in it or stands in, of the first period first.
        """
        stays, spent = np.zeros(len(above)), 0.0
        for number in np.unique(self.period).tolist():
            days = self.period == number
            left_out = np.sort(np.maximum(0.0, above[days]))[::-1]
            stand = {one for one in fill if asked[one][days].any()}
            stand |= {one for one, on in self.others.items() if on[days].all()}
            over = sum(self.room[one] for one in stand) - spent
            lacks = np.cumsum(left_out)
            if not is_some(float(lacks[-1])):
                continue
            if lacks[-1] > over + DUST_KG:
                self.bare.append(number)
            may_lack = over + MAY_LACK * whole_kg_dm[days & low].sum()
            each = (lacks - may_lack) / np.arange(1.0, len(lacks) + 1.0)
            stays[days] = max(0.0, float(each.max()))
            spent += min(over, float(lacks[-1]))
        return stays


#: So much of a ration may be missing on a day without a word. Judgement. [-]
UNTOLD: Final = 0.02

#: So much may be missing while a feed is raised before other hay stands in. Judgement. [-]
SHORT: Final = 0.05

#: So much of a ration may be missing on the first days of hay with nitrate, where no hay without
#: it is over to make up: less harms more than the rest of a third. Judgement. [-]
MAY_LACK: Final = 0.1


#: Parts of a day are cut anew so often at most: each cut leaves less of which they are parts.
ROUNDS: Final = 20


def _cut_to(
    given: dict[str, FloatArray],
    most: dict[str, FloatArray],
    kept: Collection[str],
    asked: dict[str, FloatArray],
    each: dict[str, float],
    *,
    counting: bool,
) -> dict[str, FloatArray]:
    """Cut, in place, hay to its largest part of each day; return what is left out, by hay. [kg].

    What is ``kept`` is cut no further than to what is asked for.
    """
    parts = parts_kept(given, most, each, counting=counting)
    left = {}
    for one, part in parts.items():
        stays = given[one] * part
        if one in kept:
            stays = np.maximum(stays, np.minimum(given[one], asked.get(one, 0.0)))
        left[one] = given[one] - stays
        given[one] = stays
    return left
