"""Cautions about how bales are put out: bales that last too long, and too few animals at one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from rickyard.animals import CLASSES, HORSES, Stock
from rickyard.display import listed
from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Caution, Farm, Group, Package
from rickyard.program.feedout.bale_stock import BaleStock
from rickyard.program.feedout.day_amounts import GroupDays, hay_ids
from rickyard.program.feedout.held_rules import only_mixed
from rickyard.program.inputs import cautioned
from rickyard.program.result import SeasonProgram
from rickyard.quantities import is_some

#: A bale for horses, or of baleage, is eaten within so many days; by sheep and goats, which
#: listeria kills sooner, in fewer. Common practice.
WARM_DAYS: Final = 3.0
SMALL_STOCK_WARM_DAYS: Final = 2.0
COLD_DAYS: Final = 7.0

#: Fewer head than this waste and spoil a large bale. Common practice.
FEW_HEAD: Final = 8


def delivery_cautions(
    program: SeasonProgram, farm: Farm, everybody: list[GroupDays], stocks: dict[str, BaleStock]
) -> Iterator[Caution]:
    """Yield what to watch for when bales are put out."""
    names = {one.source_id: one.name for one in program.sources}
    package = {lot.lot_id: lot.package for lot in farm.lots}
    hays = hay_ids(farm)
    to_weigh: dict[tuple[str, ...], list[str]] = {}
    for value in program.sources:
        one = value.source_id
        fed = tuple(
            days.group.name
            for days in everybody
            if one in days.asked and one in only_mixed(program, days.group.group_id)
        )
        if fed and one in hays:
            to_weigh.setdefault(fed, []).append(one)
    for fed, lots in to_weigh.items():
        about = lots[0] if len(lots) == 1 else ""
        hay = listed([names[one] for one in lots])
        yield cautioned("weigh_nitrate", about, hay=hay, fed=listed(fed))
    for days in everybody:
        large = []
        for source_id in days.asked:
            if source_id not in hays or source_id not in days.by_bale(stocks):
                continue
            kind = package.get(source_id)
            if kind is Package.SMALL_SQUARE:
                continue
            large.append(names[source_id])
            if days.group.animal_class in HORSES or kind is Package.BALEAGE:
                lasts = _days_a_bale_lasts(days, source_id, stocks[source_id])
                yield from _too_long(days.group, names[source_id], kind, lasts)
        if large and days.group.head < FEW_HEAD:
            yield cautioned(
                "few_head", days.group.group_id, group=days.group.name, head=days.group.head
            )


def _days_a_bale_lasts(days: GroupDays, source_id: str, stock: BaleStock) -> float:
    """Return how many of the days on which it is fed one bale lasts, on the mean."""
    asked = days.asked[source_id]
    bales = float((asked / stock.kg[days.period]).sum())
    return float(np.count_nonzero(asked)) / bales if is_some(bales) else 0.0


def _too_long(group: Group, name: str, kind: Package | None, lasts: float) -> Iterator[Caution]:
    small = CLASSES[group.animal_class].stock in (Stock.SHEEP, Stock.GOATS)
    warm = SMALL_STOCK_WARM_DAYS if small else WARM_DAYS
    if lasts <= warm:
        return
    figures = f"{lasts:.0f}" if lasts >= 10.0 else f"{lasts:.1f}"
    what = "opened baleage spoils" if kind is Package.BALEAGE else "a bale that lies long spoils"
    harm = " and can kill" if group.animal_class in HORSES or kind is Package.BALEAGE else ""
    when = "in any weather" if lasts > COLD_DAYS else f"once it is warm ({warm:.0f} days)"
    yield Caution(
        "warning" if lasts > COLD_DAYS else "note",
        group.group_id,
        f"A bale of {name} lasts {group.name} about {figures} days, too long {when}: {what}"
        f"{harm}. Give it to more animals at once, or throw away what is left after "
        f"{COLD_DAYS:.0f} days in the cold and {warm:.0f} in the warm.",
        COMMON_PRACTICE,
    )
