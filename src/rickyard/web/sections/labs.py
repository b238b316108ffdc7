"""What laboratories sell, at what price, and how long their results take, over many farms."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import median
from typing import Final
from urllib.parse import urlencode

from rickyard.book.pricing import LabsTold, PackageThere, Turn, package_key
from rickyard.display import clean, count_text, listed, money_text
from rickyard.farm import LabPackage
from rickyard.forage.values import word_of
from rickyard.hay.common import WorkCalendar, work_calendar

#: So many tests are named in a row; of more the rest is counted.
_MOST_NAMED: Final = 9


@dataclass(frozen=True, slots=True)
class PackageRow:
    """A package of tests; ``at`` leads to where it is written."""

    at: str
    package: str
    lab: str
    tests: str
    how: str
    price: str
    said: str
    farms: str


@dataclass(frozen=True, slots=True)
class TurnRow:
    """How long a laboratory's results took."""

    lab: str
    reports: str
    said: str
    taken: str
    longest: str


@dataclass(frozen=True, slots=True)
class LabsShown:
    """All that stands on the page of laboratories."""

    answer: str
    lede: str
    where: str
    rows: tuple[PackageRow, ...]
    turns: tuple[TurnRow, ...]


def labs_shown(told: LabsTold) -> LabsShown:
    """Return what stands on the page of laboratories.

    Parameters
    ----------
    told : LabsTold
        Price lists and results of many farms.

    Returns
    -------
    LabsShown
        Words.
    """
    packages: dict[tuple[str, str], list[PackageThere]] = defaultdict(list)
    for one in told.packages:
        packages[package_key(one.package)].append(one)
    calendar, taken = work_calendar(), defaultdict(list)
    for turn in told.turns:
        taken[_plain(turn.lab)].append(turn)
    order = sorted((key[0], _usual(every).price_usd, key) for key, every in packages.items())
    rows = tuple(_row(packages[key]) for _, _, key in order)
    turns = tuple(
        _turn_row(taken[lab], _days_said(told.packages, lab), calendar) for lab in sorted(taken)
    )
    slow = [one for one in turns if _slower(one)]
    lede = "A price written here goes into the price lists of the farms that you tick."
    if slow:
        late = slow[0]
        lede = f"{late.lab} says {late.said} working days and takes {late.taken}. {lede}"
    return LabsShown(
        _answer(told, taken, calendar),
        lede,
        f"Laboratories. {count_text(len(told.farms), 'farm')}",
        rows,
        turns,
    )


@dataclass(frozen=True, slots=True)
class FarmLab:
    """Whether a farm's list has a package. ``value`` is what the form sends for it."""

    value: str
    name: str
    price: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class PackagePage:
    """All that stands on the page of one package; ``package`` is ``None`` where it is new."""

    answer: str
    package: LabPackage | None
    price: str
    farms: tuple[FarmLab, ...]
    tests: tuple[tuple[str, str], ...]


def package_page(told: LabsTold, lab: str, package: str) -> PackagePage:
    """Return what stands on the page on which a package is written.

    Parameters
    ----------
    told : LabsTold
        The price lists.
    lab, package : str
        Which; empty for a new one.

    Returns
    -------
    PackagePage
        Words. Ticked are the farms whose list has it; where none has, every farm.
    """
    key = package_key(LabPackage(lab, package, 0.0, ""))
    found = [one for one in told.packages if package and package_key(one.package) == key]
    there = {one.there.season: one for one in found}
    farms = tuple(
        FarmLab(
            f"{one.season}.{there[one.season].line if one.season in there else ''}",
            clean(one.name),
            money_text(there[one.season].package.price_usd)
            if one.season in there
            else "not listed",
            one.season in there or not there,
        )
        for one in sorted(told.farms, key=lambda farm: farm.name.casefold())
    )
    usual = _usual(found) if found else None
    return PackagePage(
        "A new package of tests."
        if usual is None
        else f"{clean(usual.package)}: {money_text(usual.price_usd)} at {clean(usual.lab)}.",
        usual,
        "" if usual is None else f"{usual.price_usd:g}",
        farms,
        () if usual is None else tuple((one, word_of(one)) for one in usual.names),
    )


def _answer(told: LabsTold, taken: Mapping[str, Sequence[Turn]], calendar: WorkCalendar) -> str:
    if not told.packages:
        return "No laboratory's prices stand in this book."
    used = Counter({lab: len(turns) for lab, turns in taken.items()})
    listed_at = Counter(_plain(one.package.lab) for one in told.packages)
    lab = max(listed_at, key=lambda one: (used[one], listed_at[one], one))
    name = next(clean(one.package.lab) for one in told.packages if _plain(one.package.lab) == lab)
    cheapest = min(
        (one.package for one in told.packages if _plain(one.package.lab) == lab),
        key=lambda one: one.price_usd,
    )
    price = f"{clean(cheapest.package)} {money_text(cheapest.price_usd)}"
    days = median(_passed(one, calendar) for one in taken[lab]) if taken.get(lab) else None
    if days is not None:
        return f"{name}: {days:g} working days from core to report, {price}."
    said = _days_said(told.packages, lab)
    return f"{name}: {price}." if not said else f"{name}: {said} working days, {price}."


def _row(every: Sequence[PackageThere]) -> PackageRow:
    usual = _usual(every)
    least, most = min(_prices(every)), max(_prices(every))
    price = money_text(usual.price_usd)
    if most - least >= 0.005:
        price = f"{price}, {money_text(least)} to {money_text(most)}"
    words = [word_of(one) for one in usual.names]
    more = len(words) - _MOST_NAMED
    tests = listed(words) if more <= 0 else f"{', '.join(words[:_MOST_NAMED])} and {more} more"
    return PackageRow(
        urlencode({"lab": clean(usual.lab), "package": clean(usual.package)}),
        clean(usual.package),
        clean(usual.lab),
        tests,
        clean(usual.chemistry),
        price,
        "" if usual.working_days is None else f"{usual.working_days}",
        f"{len(every)}",
    )


def _prices(every: Sequence[PackageThere]) -> list[float]:
    return [one.package.price_usd for one in every]


def _usual(every: Sequence[PackageThere]) -> LabPackage:
    """Return the row that most price lists have."""
    return Counter(one.package for one in every).most_common(1)[0][0]


def _plain(lab: str) -> str:
    return " ".join(lab.casefold().split())


def _days_said(packages: Sequence[PackageThere], lab: str) -> str:
    """Return the working days that a laboratory says, of its packages."""
    days = {one.package.working_days for one in packages if _plain(one.package.lab) == lab}
    known = sorted(one for one in days if one is not None)
    if not known:
        return ""
    return f"{known[0]}" if known[0] == known[-1] else f"{known[0]} to {known[-1]}"


def _passed(turn: Turn, calendar: WorkCalendar) -> int:
    """Return the working days from sample to report."""
    first, last = turn.sampled_on.toordinal(), turn.reported_on.toordinal()
    return sum(calendar.works(date.fromordinal(day)) for day in range(first + 1, last + 1))


def _turn_row(turns: Sequence[Turn], said: str, calendar: WorkCalendar) -> TurnRow:
    days = [_passed(one, calendar) for one in turns]
    return TurnRow(clean(turns[0].lab), f"{len(turns)}", said, f"{median(days):g}", f"{max(days)}")


def _slower(one: TurnRow) -> bool:
    """Return whether a laboratory takes longer than it says."""
    return bool(one.said) and float(one.taken) > float(one.said.split()[-1])
