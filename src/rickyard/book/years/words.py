"""Seasons side by side and what hay tested, in words: a row each."""

from __future__ import annotations

from dataclasses import dataclass

from rickyard.book.years.quality import HayTested
from rickyard.book.years.years import SeasonFacts, Years
from rickyard.display import Display, clean, count_text, display_for, money_text
from rickyard.forage.values import FORAGE_WORDS
from rickyard.quantities import KG_PER_TONNE

_NOT_KNOWN = "not known"


@dataclass(frozen=True, slots=True)
class SeasonTold:
    """A season in words; amounts of hay are as fed. ``is_open`` says whether it still runs."""

    season: str
    over: str
    put_up: str
    bought: str
    fed: str
    sold: str
    odd: str
    storage: str
    left: str
    feed: str
    cost: str
    a_ton: str
    protein: str
    tdn: str
    tested: str
    is_open: bool


@dataclass(frozen=True, slots=True)
class QualityTold:
    """What hay of one forage, field, cutting and year tested, in words; ``lots`` are those tested.

    What is not known of it is empty.
    """

    forage: str
    field: str
    cutting: str
    year: str
    lots: str
    dry: str
    protein: str
    tdn: str
    ndf: str


@dataclass(frozen=True, slots=True)
class YearsTold:
    """All that is said of the seasons of a farm."""

    answer: str
    lede: str
    seasons: tuple[SeasonTold, ...]
    quality: tuple[QualityTold, ...]
    has_costs: bool


def told_of_years(found: Years) -> YearsTold:
    """Return the seasons of a farm side by side, in words.

    Parameters
    ----------
    found : Years
        What was found.

    Returns
    -------
    YearsTold
        Words in the units of the farm.
    """
    display = display_for(found.farm.units)
    newest, *earlier = found.seasons
    ended = [one for one in earlier if one.hay.fed is not None]
    answer = f"{count_text(len(found.seasons), 'season')} in the book"
    if newest.hay.fed is None:
        answer += "; nothing is noted as fed in the newest yet."
    else:
        answer += f"; {display.amount_text(newest.hay.fed)} of hay fed in the newest so far."
    lede = "What nobody noted is not in it."
    if ended:
        lede = f"The last one before fed {display.amount_text(ended[0].hay.fed or 0.0)}. {lede}"
    return YearsTold(
        display.local(answer),
        display.local(lede),
        tuple(_season(one, display) for one in found.seasons),
        tuple(_quality(one, display) for one in found.quality),
        any(one.costs is not None for one in found.seasons),
    )


def _season(one: SeasonFacts, display: Display) -> SeasonTold:
    hay, costs = one.hay, one.costs
    years = f"{one.start.year}"
    if one.end.year != one.start.year:
        years += f"-{one.end.year % 100:02d}"
    cost, a_ton = "", ""
    if costs is not None:
        cost = money_text(costs.usd) + ("" if costs.is_whole else " and more")
        a_ton = (
            display.price_per_ton_text(costs.usd / costs.kg)
            if costs.is_whole and costs.kg
            else _NOT_KNOWN
        )
    return SeasonTold(
        years,
        display.amount_text(hay.over),
        display.amount_text(hay.put_up),
        display.amount_text(hay.bought),
        "none noted" if hay.fed is None else display.amount_text(hay.fed),
        display.amount_text(hay.sold),
        _signed(hay.odd, display),
        display.amount_text(hay.storage),
        display.amount_text(hay.left),
        display.amount_text(one.feed_kg),
        cost,
        a_ton,
        _pct(one.cp_pct, display),
        _pct(one.tdn_pct, display),
        "" if one.tested_pct is None else display.percent_text(one.tested_pct, 0),
        (one.end - one.until).days > 1,
    )


def _quality(one: HayTested, display: Display) -> QualityTold:
    return QualityTold(
        FORAGE_WORDS[one.forage].capitalize(),
        clean(one.field),
        "" if one.cutting is None else f"{one.cutting}",
        f"{one.year}",
        f"{one.tested} of {one.lots}",
        display.tons_text(one.dry_kg / KG_PER_TONNE),
        _pct(one.cp_pct, display),
        _pct(one.tdn_pct, display),
        _pct(one.ndf_pct, display),
    )


def _pct(value: float | None, display: Display) -> str:
    return "not tested" if value is None else display.percent_text(value)


def _signed(kg: float, display: Display) -> str:
    """Return an amount with its sign, nothing where it is none."""
    if abs(kg) < 1.0:
        return ""
    return f"{'+' if kg > 0.0 else '-'}{display.amount_text(abs(kg))}"
