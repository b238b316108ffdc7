"""The hay of a farm lot by lot: what stands, what it is worth, and who gets none or a part."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from rickyard.display import listed
from rickyard.farm import Caution, Farm, Lot, Package, Storage
from rickyard.forage.reading import LotReading
from rickyard.hay.sampling import Options, SamplePlan, lot_code
from rickyard.hay.yard import YardLine
from rickyard.match import lot_worth
from rickyard.safety import Binding, bindings
from rickyard.service import read_lots, sampling_plan, still, understood, yard_on

#: How hay that is put up may stand: baleage under its film, all other hay without one.
_DRY: Final = tuple(one for one in Storage if one is not Storage.WRAPPED)


@dataclass(frozen=True, slots=True)
class HayLine:
    """A lot that stands or stood: its yard, its reading, what it brings and to whom it may go.

    ``worth_usd_per_kg`` is as fed by energy and protein at the prices of the farm's feeds, ``None``
    where those do not give both; ``kept_from`` names the groups that rules of safety keep from it
    or let have a part, empty where no rule does.
    """

    lot: Lot
    yard: YardLine
    reading: LotReading
    worth_usd_per_kg: float | None
    kept_from: str
    is_tested: bool

    @property
    def is_dangerous(self) -> bool:
        """Return whether a danger is to be read before any of it is fed."""
        return any(one.level == "danger" for one in self.reading.cautions)

    @property
    def stands(self) -> bool:
        """Return whether any of it is there."""
        return self.yard.standing.bales > 0.0


@dataclass(frozen=True, slots=True)
class PutUp:
    """What is to be known of a lot before it is put up.

    ``losses`` is the share of dry matter that each way to stand takes to the end of the season;
    ``cores`` says when to core it, and ``cautions`` are what its history and the yard say of it.
    """

    losses: Mapping[Storage, float]
    cores: SamplePlan | None
    cautions: tuple[Caution, ...]


def hay_list(farm: Farm, day: date) -> tuple[HayLine, ...]:
    """Return every lot of a farm on a day, in the order of the farm.

    ``day``: whose evening the bales are counted for. Raises ``NotUnderstood`` if the day or the
    book does not allow it.
    """
    read = read_lots(farm)
    lines = {one.lot_id: one for one in yard_on(farm, day).lines}
    kept = kept_from(farm, bindings(still(farm)))
    return tuple(
        HayLine(
            farm.lot(one.lot_id),
            lines[one.lot_id],
            one,
            None if read.prices is None else lot_worth(one.measured, read.prices).value,
            kept.get(one.lot_id, ""),
            bool(farm.reports_of(one.lot_id)),
        )
        for one in read.readings
    )


def kept_from(farm: Farm, bound: Sequence[Binding]) -> dict[str, str]:
    """Return in words which groups get none or only a part of a lot, by lot."""
    lots = {lot.lot_id for lot in farm.lots}
    names = {one.group_id: one.name for one in farm.groups}
    least: dict[str, dict[str, tuple[float, bool]]] = {}
    for one in bound:
        share = one.rule.most_share
        if one.source_id in lots and (one.bars or one.rule.demand == "share"):
            mine = least.setdefault(one.source_id, {})
            mine[one.group_id] = min(mine.get(one.group_id, (1.0, False)), (share, one.rule.mixed))
    return {lot_id: _kept_words(mine, names) for lot_id, mine in least.items()}


def _kept_words(shares: Mapping[str, tuple[float, bool]], names: Mapping[str, str]) -> str:
    told: dict[str, list[str]] = {}
    for group_id, (share, mixed) in sorted(shares.items(), key=lambda one: one[1][0]):
        part = "none" if share == 0.0 else f"at most {100.0 * share:g}% of the dry matter"
        words = f"{part}, weighed and mixed," if share and mixed else part
        told.setdefault(words, []).append(names[group_id])
    return "; ".join(f"{words} to {listed(who)}" for words, who in told.items())


def by_worth(lines: Collection[HayLine]) -> tuple[HayLine, ...]:
    """Return lots by what a ton is worth, the best first; what is not known comes last."""
    return tuple(sorted(lines, key=lambda one: -(one.worth_usd_per_kg or 0.0)))


def lot_with_code(farm: Farm, lot: Lot) -> Lot:
    """Return a lot that is put up with a short name that no lot of the farm has.

    Raises ``NotUnderstood`` if all names of its field and year are used.
    """
    with understood("No short name is left"):
        code = lot_code(
            lot.baled_on.year, lot.field_name, lot.cutting, [one.lot_id for one in farm.lots]
        )
    return replace(lot, lot_id=code)


def before_put_up(farm: Farm, lot: Lot, day: date) -> PutUp:
    """Return what each way to stand would take of a new lot, and when to core it.

    ``lot``: as it would be put up; it is not in the farm. ``day``: the day on the farm. Raises
    ``NotUnderstood`` if its weight is not known, or the day does not allow it.
    """
    storages = (Storage.WRAPPED,) if lot.package is Package.BALEAGE else _DRY
    losses = {}
    for storage in storages:
        alone = replace(
            farm, lots=(replace(lot, storage=storage),), reports=(), moves=(), fed=(), wishes=()
        )
        losses[storage] = yard_on(alone, day).lines[0].will_lose_pct
    grown = replace(farm, lots=(*farm.lots, lot))
    plans = sampling_plan(grown, day, Options(), (lot.lot_id,))
    reading = read_lots(grown, lot_ids=[lot.lot_id]).readings[0]
    yard = [one for one in yard_on(grown, day).cautions if one.about == lot.lot_id]
    return PutUp(losses, plans[0] if plans else None, (*reading.cautions, *yard))
