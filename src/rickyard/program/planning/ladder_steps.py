"""What an adviser would try where hay is lacking: each a farm with one thing done, and how."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any, Final

from rickyard.display import Display, listed
from rickyard.farm import AnimalClass, Farm, Group, Offered
from rickyard.program.ask import OtherFeeder, may_be_limited, other_feeders
from rickyard.program.rations import offered_to
from rickyard.program.result import RemedyKind
from rickyard.stock.fill import room_words

#: Time to sell, to wean or to find grass. Common practice, no published source. [days]
SOON_DAYS: Final = 14

#: Weaning so much earlier is worth the trouble. Common practice, no published source. [days]
EARLIER_DAYS: Final = 21

#: The age from which calves are weaned early here. They can be from about 40 days, as Oklahoma
#: State University Extension has it; the margin is common practice. [days]
WEANED_AT_DAYS: Final = 100

#: A spell on grass that may be found. Common practice, no published source. [days]
GRASS_DAYS: Final = 30

#: Of ten cows about one is open, old or unsound. Common practice, no published source. [-]
CULLED_FRAC: Final = 0.1

#: So many groups are tried for each thing to do, the heaviest in all first.
MOST_GROUPS: Final = 3

#: So many names are told, and how many more there are.
_NAMED: Final = 3

_MILKED: Final = (AnimalClass.COW, AnimalClass.FIRST_CALF_HEIFER)
_CULLED: Final = (AnimalClass.COW, AnimalClass.EWE, AnimalClass.DOE)
_SOLD: Final = (AnimalClass.STOCKER, AnimalClass.FEEDER_LAMB, AnimalClass.KID)
_GRAZES: Final = (*_CULLED, AnimalClass.BRED_HEIFER, AnimalClass.STOCKER)


@dataclass(frozen=True, slots=True)
class Step:
    """Something to do where hay is lacking.

    ``title`` names it in a few words and ``told`` says how it is done. ``changes`` is what it
    changes of its group or its feed. ``apart`` is what its money does not count, empty where it
    counts all.
    """

    kind: RemedyKind
    title: str
    told: str
    changes: Mapping[str, Any]
    group_id: str = ""
    source_id: str = ""
    amount_kg: float | None = None
    head: int | None = None
    on: date | None = None
    apart: str = ""

    def done(self, farm: Farm) -> Farm:
        """Return a farm with it done."""
        groups = tuple(
            replace(one, **self.changes) if one.group_id == self.group_id else one
            for one in farm.groups
        )
        feeds = tuple(
            replace(one, **self.changes) if one.feed_id == self.source_id else one
            for one in farm.feeds
        )
        return replace(farm, groups=groups, feeds=feeds)


def weighing_words(farm: Farm) -> tuple[str, str] | None:
    """Return the name of weighing and testing first, and why; ``None`` where all is known.

    Parameters
    ----------
    farm : Farm
        Its lots and reports are read.

    Returns
    -------
    tuple of str, or None
        What to do in a few words, and a sentence.
    """
    tested = {one.lot_id for one in farm.reports}
    bare = [one.name for one in farm.lots if one.lot_id not in tested]
    guessed = [one.name for one in farm.lots if one.bale_weight_kg is None]
    parts = [f"weigh some bales of {_named(guessed)}"] if guessed else []
    parts += [f"core and test {_named(bare)}"] if bare else []
    if not parts:
        return None
    title = f"First {' and '.join(parts)}"
    told = (
        f"{title}: what is not weighed or tested is reckoned from usual values. The lack may be "
        "smaller or larger, and untested hay may hold what stock must not eat."
    )
    return title, told


def wasting_less(farm: Farm) -> Iterator[Step]:
    """Yield for each group the feeder that wastes less.

    Parameters
    ----------
    farm : Farm
        Its groups are read.

    Yields
    ------
    Step
        The heaviest group in all first.
    """
    found = other_feeders(farm)
    for group in _heaviest(farm):
        other = found.get(group.group_id)
        if other is None:
            continue
        title, told = _feeder_words(group, other)
        changes, apart = {"feeder": other.then}, ", without the price of the feeders"
        yield Step("other_feeder", title, told, changes, group.group_id, apart=apart)


def weaning_early(farm: Farm, display: Display) -> Iterator[Step]:
    """Yield for each group in milk the day on which its calves can be weaned early.

    Parameters
    ----------
    farm : Farm
        Its groups are read.
    display : Display
        Units and days of the words.

    Yields
    ------
    Step
        For a group in milk whose calves are, or will be, old enough well before they are weaned.
    """
    soon = farm.season.start + timedelta(days=SOON_DAYS)
    for group in _heaviest(farm, *_MILKED):
        if group.weaning_on is None or group.calving_on is None:
            continue
        on = max(soon, group.calving_on + timedelta(days=WEANED_AT_DAYS))
        if group.weaning_on - on < timedelta(days=EARLIER_DAYS):
            continue
        told = (
            f"{group.name}: calves weaned on {display.day_text(on)} in place of "
            f"{display.day_text(group.weaning_on)}. A dry cow needs much less than one in milk. "
            "The calves need feed of their own; ask your veterinarian and your extension office "
            "about calves that are weaned young."
        )
        title = f"Wean the calves of {group.name} by {display.day_text(on)}"
        changes, apart = {"weaning_on": on}, ", without the feed of the calves"
        yield Step("wean_early", title, told, changes, group.group_id, on=on, apart=apart)


def limiting_hay(farm: Farm, display: Display) -> Iterator[Step]:
    """Yield each group of grown cows in condition that could be given its hay by the day.

    Parameters
    ----------
    farm : Farm
        Its groups are read.
    display : Display
        Units and days of the words.

    Yields
    ------
    Step
        For cows that are not thin and have all the hay they want.
    """
    for group in _heaviest(farm):
        if not may_be_limited(group) or offered_to(group) is not Offered.FREE_CHOICE:
            continue
        told = (
            f"{group.name}: what they need and no more, at a bunk, unrolled a day's hay at a time, "
            f"or some hours a day at the ring. {room_words(group, us=display.system == 'us')} "
            "Timid, young, old and thin cows eat last and get least: feed them apart. Not with hay "
            "that holds nitrate or with grain for hungry cows, and not in bad cold. Ask your "
            "extension office first."
        )
        title = f"Give {group.name} their hay by the day"
        yield Step("limit_hay", title, told, {"offered": Offered.LIMITED}, group.group_id)


def fewer_mothers(farm: Farm) -> Iterator[Step]:
    """Yield for each group of grown mothers a tenth of its head fewer: the open and the old.

    Parameters
    ----------
    farm : Farm
        Its groups are read.

    Yields
    ------
    Step
        For a group of ten head or so and more.
    """
    for group in _heaviest(farm, *_CULLED):
        fewer = round(CULLED_FRAC * group.head)
        if fewer < 1:
            continue
        title = f"Sell {fewer:,} of the {group.head:,} {group.name}"
        told = (
            f"{group.name}: {fewer:,} head fewer, {group.head - fewer:,} instead of "
            f"{group.head:,}. Have them checked for pregnancy: the open, the old and the unsound "
            "go first, and early, while they are in condition."
        )
        changes, apart = {"head": group.head - fewer}, ", without what they fetch"
        yield Step("fewer_head", title, told, changes, group.group_id, head=fewer, apart=apart)


def grass_elsewhere(farm: Farm, display: Display) -> Iterator[Step]:
    """Yield for each group that grazes a spell on grass before its time here ends.

    Parameters
    ----------
    farm : Farm
        Its groups are read.
    display : Display
        Units and days of the words.

    Yields
    ------
    Step
        With the caution about nitrate and prussic acid.
    """
    for group in _heaviest(farm, *_GRAZES):
        last = group.to_on or farm.season.end
        on = last - timedelta(days=GRASS_DAYS)
        if on <= max(farm.season.start, group.from_on or farm.season.start):
            continue
        title = f"Find {GRASS_DAYS} days of grass for {group.name}"
        told = (
            f"{group.name}: {GRASS_DAYS} days on grass, stalks or leased pasture, as from "
            f"{display.day_text(on)}; as many days before that spare about as much. Have grass and "
            "stalks that dried out or froze tested for nitrate, and ask your extension office "
            "about prussic acid, before stock go in."
        )
        changes, apart = {"to_on": on}, ", without the lease and the haul"
        yield Step("leave_earlier", title, told, changes, group.group_id, on=on, apart=apart)


def selling_a_class(farm: Farm, display: Display) -> Iterator[Step]:
    """Yield each group of stock for sale, sold soon: last, and before it loses weight.

    Parameters
    ----------
    farm : Farm
        Its groups are read.
    display : Display
        Units and days of the words.

    Yields
    ------
    Step
        The heaviest group in all first.
    """
    on = farm.season.start + timedelta(days=SOON_DAYS)
    for group in _heaviest(farm, *_SOLD):
        if on >= (group.to_on or farm.season.end):
            continue
        title = f"Sell the {group.name} by {display.day_text(on)}"
        told = (
            f"{group.name}: sold by {display.day_text(on)}, before they lose weight. What they "
            "would gain to the end is gone with them: set today's price against that of then."
        )
        changes, apart = {"to_on": on}, ", without what they fetch"
        yield Step("leave_earlier", title, told, changes, group.group_id, on=on, apart=apart)


def _heaviest(farm: Farm, *classes: AnimalClass) -> list[Group]:
    """Return the groups of some classes or of all, those that weigh most in all first."""
    mine = [one for one in farm.groups if not classes or one.animal_class in classes]
    return sorted(mine, key=lambda one: -one.head * one.weight_kg)[:MOST_GROUPS]


def _feeder_words(group: Group, other: OtherFeeder) -> tuple[str, str]:
    then, now = other.words
    many = f"{other.rings} {then}s" if other.rings > 1 else f"a {then}"
    title = f"Stop waste: {many} for {group.name}"
    room = f" All of them have room at {other.rings} of 8 feet." if other.rings else ""
    told = (
        f"{group.name}: a {then} in place of {now} wastes about {other.then_pct:.0f}% in place of "
        f"{other.now_pct:.0f}%.{room}"
    )
    return title, told


def _named(names: list[str]) -> str:
    more = len(names) - _NAMED
    return listed(names) if more <= 0 else f"{', '.join(names[:_NAMED])} and {more} more"
