"""All that is delivered of each lot and feed, against what the program asks for."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from rickyard.program.days import WHOLE_WITHIN, BaleStock, GroupDays
from rickyard.program.result import Delivery, DeliveryTotal, LotBalance
from rickyard.types import FloatArray


def delivery_totals(
    everybody: Sequence[GroupDays],
    stocks: dict[str, BaleStock],
    deliveries: Sequence[Delivery],
) -> tuple[DeliveryTotal, ...]:
    """Return the totals by group and source, then by source for all groups together."""
    mine: dict[tuple[str, str], list[Delivery]] = defaultdict(list)
    for one in deliveries:
        mine[one.group_id, one.source_id].append(one)
    found = [
        _total(
            days,
            source_id,
            days.by_bale(stocks).get(source_id),
            mine[days.group.group_id, source_id],
        )
        for days in everybody
        for source_id in days.asked
    ]
    return (*found, *_of_all(found))


def lots_in_bales(
    lots: Sequence[LotBalance],
    everybody: Sequence[GroupDays],
    stocks: dict[str, BaleStock],
    totals: Sequence[DeliveryTotal],
) -> tuple[LotBalance, ...]:
    """Return the lots with the bales that are counted in the yard and put out by the deliveries.

    Hay that is weighed out comes from bales too: those that are opened for it count as fed.

    Parameters
    ----------
    lots : sequence of LotBalance
        Bales worked out from dry matter, which lacks what storage took of each bale.
    everybody : sequence of GroupDays
        What each group is to get, and what of it is weighed.
    stocks : dict
        The bales, by id of lot or feed.
    totals : sequence of DeliveryTotal
        What is put out of each source.
    """
    fed = {one.source_id: one.bales for one in totals if not one.group_id}
    counted = {key: one.counted for key, one in stocks.items() if one.counted is not None}
    return tuple(
        replace(
            lot,
            start_bales=max(0.0, counted[lot.lot_id]),
            fed_bales=float(
                (fed.get(lot.lot_id) or 0)
                + _opened(everybody, lot.lot_id, stocks[lot.lot_id], counted[lot.lot_id])
            ),
        )
        if lot.lot_id in counted
        else lot
        for lot in lots
    )


def _opened(everybody: Sequence[GroupDays], lot_id: str, stock: BaleStock, counted: float) -> float:
    """Return the bales that what is weighed out of a lot is taken from, the last one begun."""
    weighed = sum(
        float((days.asked[lot_id] / stock.kg[days.period]).sum())
        for days in everybody
        if lot_id in days.asked and lot_id in (days.weighed | days.forked)
    )
    return min(counted, math.ceil(weighed - WHOLE_WITHIN))


def _total(
    days: GroupDays, source_id: str, stock: BaleStock | None, mine: Sequence[Delivery]
) -> DeliveryTotal:
    asked = days.asked[source_id]
    bales = planned = deviation = None
    if stock is not None:
        bales = sum(one.bales or 0 for one in mine)
        wanted = np.cumsum(asked / stock.kg[days.period])
        planned = float(wanted[-1])
        deviation = _greatest_deviation(days, wanted, mine)
    return DeliveryTotal(
        group_id=days.group.group_id,
        source_id=source_id,
        bales=bales,
        mass_kg=sum(one.mass_kg for one in mine),
        planned_bales=planned,
        planned_kg=float(asked.sum()),
        greatest_deviation_bales=deviation,
    )


def _greatest_deviation(days: GroupDays, wanted: FloatArray, mine: Sequence[Delivery]) -> float:
    """Return how far bales put out were ever from those wanted through the same delivery."""
    given, most = 0, 0.0
    for one in mine:
        given += one.bales or 0
        through = min((one.day - days.first).days + one.for_days, days.count) - 1
        most = max(most, abs(given - float(wanted[through])))
    return max(most, abs(given - float(wanted[-1])))


def _of_all(found: Sequence[DeliveryTotal]) -> Iterator[DeliveryTotal]:
    by_source: dict[str, list[DeliveryTotal]] = defaultdict(list)
    for one in found:
        by_source[one.source_id].append(one)
    for source_id, rows in by_source.items():
        bales = [one.bales for one in rows if one.bales is not None]
        planned = [one.planned_bales for one in rows if one.planned_bales is not None]
        worst = [one.greatest_deviation_bales or 0.0 for one in rows]
        yield DeliveryTotal(
            group_id="",
            source_id=source_id,
            bales=sum(bales) if bales else None,
            mass_kg=sum(one.mass_kg for one in rows),
            planned_bales=sum(planned) if planned else None,
            planned_kg=sum(one.planned_kg for one in rows),
            greatest_deviation_bales=max(worst) if bales else None,
        )
