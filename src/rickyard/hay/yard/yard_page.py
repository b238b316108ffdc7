"""The yard on one page: what stands of every lot, what storage took and will take, what is odd."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from rickyard.display import Display
from rickyard.farm import Caution, Farm, FedRow, Lot, MoveKind, Package
from rickyard.hay.sampling import MOST_DAYS_APART, UNKNOWN_RAIN_MM, is_silage, lot_size_cautions
from rickyard.hay.storage import (
    DAYS_PER_MONTH,
    Account,
    Advice,
    Line,
    LotBook,
    LotOnHand,
    Watch,
    account,
    baleage_cautions,
    bales_to_weigh,
    book_of,
    lot_watch,
    site_advice,
    standing_on,
)
from rickyard.hay.yard.outlook import Outlook, SellOrKeep, outlook, sell_or_keep
from rickyard.quantities import OutOfRange
from rickyard.tables import Tabular, counted

#: Days of sentences, which are localized with them.
_DATES: Final = Display()
_BOOK: Final = "moves.csv and fed.csv of the farm folder"
#: Bales that were moved weigh the same in both books within this share (judgement).
MOVED_WITHIN: Final = 0.01


@dataclass(frozen=True, slots=True)
class YardLine:
    """One lot on a day. Losses are shares of dry matter; ``account`` is from its baling on.

    ``lost_pct`` is what storage took since baling, ``will_lose_pct`` what it takes to the end of
    the season, ``will_lose_usd`` that at the value of the hay; ``weigh`` is how many bales to
    weigh where too few were.
    """

    lot_id: str
    name: str
    standing: LotOnHand
    lost_pct: float
    will_lose_pct: float
    will_lose_usd: float | None
    account: Account
    watch: Watch
    advice: tuple[Advice, ...]
    sell: SellOrKeep | None
    book: tuple[Line, ...]
    weigh: int | None


@dataclass(frozen=True, slots=True, repr=False)
class YardPage(Tabular):
    """The whole yard on a day, with standard errors as in `LotOnHand`."""

    day: date
    lines: tuple[YardLine, ...]
    bales: float
    as_fed_kg: float
    dry_kg: float
    dry_se_kg: float
    outlook: Outlook | None
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return (
            ("day", f"{self.day}"),
            ("", counted(len(self.lines), "lot")),
            ("bales", f"{self.bales:,.0f}"),
            ("dry matter", f"{self.dry_kg:,.0f} kg"),
            ("", counted(len(self.cautions), "caution")),
        )


def yard_page(
    farm: Farm, day: date, dm_pct: Mapping[str, float], *, drought_often: bool = False
) -> YardPage:
    """Make the page of the yard on a day.

    Parameters
    ----------
    farm : Farm
        Lots, book, feeding log, groups and season are read. A bale whose weight and size are not
        known raises ``OutOfRange``.
    day : date
        The day; stock is that of its evening.
    dm_pct : mapping of str to float
        Dry matter of each lot as fed. [%]
    drought_often : bool
        Whether drought is frequent, which makes the reserve a quarter.

    Returns
    -------
    YardPage
        The page. Errors of lots are taken as independent of each other.
    """
    rain = farm.season.rainfall_mm_per_year
    notes = []
    if rain is None:
        notes.append(
            "No yearly rainfall is given: hay stored outside loses what it would under 40 inches "
            "(1,016 mm) a year."
        )
    fed: dict[str, list[FedRow]] = {}
    for row in farm.fed:
        fed.setdefault(row.source_id, []).append(row)
    lines, cautions, books = [], [], {}
    for lot in farm.lots:
        moisture = dm_pct[lot.lot_id]
        book = book_of(
            lot,
            farm.moves,
            fed.get(lot.lot_id, ()),
            moisture,
            UNKNOWN_RAIN_MM if rain is None else rain,
        )
        books[lot.lot_id] = book
        line = _line(lot, book, day, moisture, farm)
        lines.append(line)
        cautions.extend(book_cautions(lot, book, day))
        cautions.extend(lot_size_cautions(lot, line.standing.as_fed_kg))
        if line.standing.bales:
            cautions.extend(_watch_cautions(lot, line.watch))
        cautions.extend(_lot_cautions(lot, farm, day, moisture))
    cautions.extend(_move_cautions(farm, books, day))
    dry = math.fsum(line.standing.dry_kg for line in lines)
    page_outlook = None
    if farm.groups and day < farm.season.end:
        loss = (
            math.fsum(line.standing.dry_kg * line.will_lose_pct / 2.0 for line in lines) / dry
            if dry
            else 0.0
        )
        page_outlook = outlook(
            farm.groups,
            farm.season,
            day,
            dry,
            loss,
            drought_often=drought_often,
            package=_most_of(farm, lines),
        )
        notes.append(
            "The need is rough: 2.5% of body weight in dry matter a day (Iowa State 2019), half of "
            "the season's storage loss, and the waste of each feeder; grain, other bought feed and "
            "grazing are not counted. rickyard plan works out the need exactly."
        )
    if any(is_silage(lot) and lot.package is Package.LOOSE for lot in farm.lots):
        notes.append(
            "Silage losses come from the table for hay under the same cover, which is too low: "
            "bunkers lose 13 to 20% in half a year (Ruppel 1992)."
        )
    notes.append(
        "Give or take covers bale weight and dry matter only, not the count or storage loss."
    )
    return YardPage(
        day=day,
        lines=tuple(lines),
        bales=math.fsum(line.standing.bales for line in lines),
        as_fed_kg=math.fsum(line.standing.as_fed_kg for line in lines),
        dry_kg=dry,
        dry_se_kg=math.sqrt(math.fsum(line.standing.dry_se_kg**2 for line in lines)),
        outlook=page_outlook,
        cautions=tuple(cautions),
        assumptions=tuple(notes),
    )


def _most_of(farm: Farm, lines: Sequence[YardLine]) -> Package:
    """Return the package that holds most of the dry matter, large bales where nothing stands."""
    held: dict[Package, float] = {Package.ROUND: 0.0}
    for lot, line in zip(farm.lots, lines, strict=True):
        held[lot.package] = held.get(lot.package, 0.0) + line.standing.dry_kg
    return max(held, key=lambda package: held[package])


def _line(lot: Lot, book: LotBook, day: date, dm_pct: float, farm: Farm) -> YardLine:
    end = max(day, farm.season.end)
    per_bale = [book.dry_per_bale(when) for when in (lot.baled_on, max(day, lot.baled_on), end)]
    lost = 100.0 * (1.0 - per_bale[1] / per_bale[0])
    will = 100.0 * (1.0 - per_bale[2] / per_bale[1])
    standing = standing_on(book, day, dm_pct)
    value = lot.value_usd_per_kg
    months = (end - day).days / DAYS_PER_MONTH
    return YardLine(
        lot_id=lot.lot_id,
        name=lot.name,
        standing=standing,
        lost_pct=lost,
        will_lose_pct=will,
        will_lose_usd=None if value is None else value * standing.as_fed_kg * will / 100.0,
        account=account(book, _before(lot, book), max(day, _before(lot, book))),
        watch=lot_watch(lot, day),
        advice=site_advice(lot.storage, lot.package, 100.0 - dm_pct, silage=is_silage(lot)),
        sell=None if value is None else sell_or_keep(value, will, months=months),
        book=tuple(one for one in book.lines if one.day <= day),
        weigh=_weigh(lot),
    )


def _weigh(lot: Lot) -> int | None:
    """Return how many bales to weigh, nothing where enough were or the lot has none."""
    if lot.bales < 1.0:
        return None
    enough = bales_to_weigh(lot)
    weighed = (lot.bale_weight_kg is not None and lot.bales_weighed) or 0
    return enough if weighed < enough else None


def _before(lot: Lot, book: LotBook) -> date:
    """Return the evening before the book of a lot begins."""
    first = min([lot.baled_on, *(line.day for line in book.lines)])
    if first == date.min:
        raise OutOfRange(f"the book of {lot.lot_id} begins before there were days.")
    return date.fromordinal(first.toordinal() - 1)


def book_cautions(lot: Lot, book: LotBook, day: date) -> list[Caution]:
    """Say what the book of a lot cannot explain up to a day, a sentence for each line.

    Parameters
    ----------
    lot : Lot
        Gives its name.
    book : LotBook
        Its book.
    day : date
        The last day that is looked at.

    Returns
    -------
    list of Caution
        Warnings, in the order of the book.
    """
    found = []
    for line in book.unexplained:
        if line.day > day:
            continue
        count = f"{abs(line.bales):,.4g} bale{'' if abs(line.bales) == 1.0 else 's'}"
        if line.kind == "missing":
            says = (
                f"{lot.name}: on {_DATES.day_year_text(line.day)} the book takes {count} that were "
                "not there. Count the bales and enter a correction with your name."
            )
        else:
            more = "more" if line.bales > 0.0 else "fewer"
            says = (
                f"{lot.name}: the count of {_DATES.day_year_text(line.day)} found {count} {more} "
                "than the book. Enter what became of them, or a correction with your name."
            )
        found.append(Caution("warning", lot.lot_id, says, _BOOK))
    return found


def _move_cautions(farm: Farm, books: Mapping[str, LotBook], day: date) -> list[Caution]:
    """Say where bales weigh more or less in the lot they were moved into: hay came from nowhere."""
    found = []
    for row in farm.moves:
        if row.kind is not MoveKind.MOVED or row.bales is None or row.day > day:
            continue
        out, into = (books[one].dry_per_bale(row.day) for one in (row.lot_id, row.to_lot_id))
        change = into / out - 1.0
        if abs(change) <= MOVED_WITHIN:
            continue
        here, there = farm.lot(row.lot_id).name, farm.lot(row.to_lot_id).name
        differs = f"{100.0 * abs(change):.1f}% {'more' if change > 0.0 else 'less'}"
        says = (
            f"{there}: bales moved from {here} on {_DATES.day_year_text(row.day)} hold {differs} "
            "dry matter each in the new lot than in the old. In lots.csv enter the bale weight on "
            "that day, and that day as counted_on."
        )
        found.append(Caution("warning", row.to_lot_id, says, _BOOK))
    return found


def _lot_cautions(lot: Lot, farm: Farm, day: date, dm_pct: float) -> list[Caution]:
    """Say when a lot was put up over too many days, and what threatens baleage."""
    found: list[Caution] = []
    put_up = [
        row.day for row in farm.moves if row.lot_id == lot.lot_id and row.kind is MoveKind.PUT_UP
    ]
    days = [lot.baled_on, *put_up]
    if (max(days) - min(days)).days > MOST_DAYS_APART:
        says = (
            f"{lot.name} was put up from {_DATES.day_year_text(min(days))} to "
            f"{_DATES.day_year_text(max(days))}: hay baled more than 48 hours apart is two lots. "
            "Split it and test each."
        )
        found.append(Caution("warning", lot.lot_id, says, "Putnam & Orloff; Nebraska G331"))
    if lot.package is Package.BALEAGE:
        moisture = 100.0 - dm_pct if lot.baled_moisture_pct is None else lot.baled_moisture_pct
        age = max(0, (day - lot.baled_on).days) / DAYS_PER_MONTH
        found.extend(baleage_cautions(lot.lot_id, moisture, months=age))
    return found


def _watch_cautions(lot: Lot, watch: Watch) -> list[Caution]:
    if not watch.due:
        return []
    says = (
        f"{lot.name}: {watch.sentence} Hot hay burns barns down: at 150 °F (66 °C) call the fire "
        "department."
    )
    source = "Purdue; Univ. Missouri; Penn State; Cornell"
    return [Caution("danger" if watch.alarm else "warning", lot.lot_id, says, source)]
