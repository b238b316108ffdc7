"""A lot's page: what it is good for and to whom it is barred, in one look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from rickyard.display import Display, clean, display_for, listed, localized, money_text
from rickyard.farm import Farm, Lot, Report
from rickyard.forage.reading import LotReading, ReadNumber
from rickyard.forage.values import CLASS_TABLES
from rickyard.hay.yard import YardLine, YardPage
from rickyard.quantities import KG_PER_TONNE
from rickyard.service.sections import ClassFit, LotFits
from rickyard.web.drawn import doubt, flag, flags_of, limit_band, mark, ten_dots
from rickyard.web.shown.bales import bales_drawn, marks_of_bales
from rickyard.web.shown.care import Care, care_of
from rickyard.web.shown.words import STANDS, bales_text, cutting_text, put_up_text

_PER_KG: Final = "Mcal/kg"

#: What stands beside the name of a lot whose values are known.
_TOLD: Final = (("tdn_pct", "TDN"), ("crude_cp_pct", "protein"))


@dataclass(frozen=True, slots=True)
class Fact:
    """A word and what is to be said of it."""

    word: str
    told: str


@dataclass(frozen=True, slots=True)
class Value:
    """A value of a lot as it is printed on the page; ``span`` is its 90% range, and drawn."""

    words: str
    figures: str
    span: str
    unit: str
    origin: str
    drawing: str


@dataclass(frozen=True, slots=True)
class FitShown:
    """A class of stock: its sign, whether it may have the lot, and how sure it is enough."""

    mark: str
    name: str
    may: str
    drawing: str
    sure: str


@dataclass(frozen=True, slots=True)
class LimitShown:
    """A value among published limits: its words, drawing, bands with what each allows, source."""

    told: str
    drawing: str
    bands: tuple[tuple[str, str, bool], ...]
    source: str


@dataclass(frozen=True, slots=True)
class LotShown:
    """All that stands on the page of a lot."""

    answer: str
    verdict: str
    lede: str
    care: Care
    flag: str
    facts: tuple[Fact, ...]
    groups: str
    fits: tuple[FitShown, ...]
    who: tuple[Fact, ...]
    drawing: str
    standing: tuple[Fact, ...]
    to_do: tuple[Fact, ...]
    more: tuple[Fact, ...]
    values: tuple[Value, ...]
    limit: LimitShown | None
    reports: tuple[str, ...]
    day: str

    @property
    def more_words(self) -> str:
        """Return what is told more of it, in the order in which it is told."""
        told = listed([one.word.lower() for one in self.more])
        return told[:1].upper() + told[1:]


def lot_shown(farm: Farm, lot: Lot, reading: LotReading, page: YardPage, fits: LotFits) -> LotShown:
    """Return what stands on the page of a lot.

    Parameters
    ----------
    farm : Farm
        The farm.
    lot : Lot
        The lot.
    reading : LotReading
        It read.
    page : YardPage
        The farm's yard on a day.
    fits : LotFits
        To whom it may go.

    Returns
    -------
    LotShown
        Words and drawings.
    """
    display = display_for(farm.units)
    line = next(one for one in localized(page, display).lines if one.lot_id == lot.lot_id)
    own = [one for one in page.cautions if one.about == lot.lot_id]
    care = care_of([*reading.cautions, *own], farm, of_lot=True)
    tested = farm.reports_of(lot.lot_id)
    its_flag = flags_of(farm.lots)[lot.lot_id]
    return LotShown(
        _answer(lot, reading, care, display, fits if tested else None),
        mark("danger" if care.dangers else "untested") if care.dangers or not tested else "",
        _lede(lot, reading),
        care,
        flag(its_flag, big=True),
        (Fact("Flag", its_flag.words.partition(",")[2].strip()), *_facts(lot, display)),
        fits.groups[:1].upper() + fits.groups[1:],
        tuple(_fit(one) for one in fits.classes),
        _said(
            ("May they?", reading.suits),
            ("Short of", reading.lacks),
            ("Sure?", reading.certainty),
            ("Other stock", reading.other_stock),
        ),
        bales_drawn(line, lot, marks_of_bales([(line, lot)]).marks, 0, barred=bool(care.dangers)),
        _standing(line, lot, reading, display),
        _to_do(line, lot, reading, care),
        _said(("Grade", reading.grade)),
        tuple(_value(one, display) for one in reading.numbers),
        _limit(reading),
        tuple(_report(one, display) for one in tested),
        f"{display.weekday_text(page.day)}, {page.day.year}",
    )


def _answer(
    lot: Lot, reading: LotReading, care: Care, display: Display, fits: LotFits | None
) -> str:
    name = clean(lot.name)
    if care.dangers and len(care.dangers) == 1 and fits is not None and fits.bars_pregnant:
        return f"{name}: none to stock in calf."
    if care.dangers:
        return f"{name}: read the danger first."
    if fits is None:
        return f"{name}: no test yet."
    there = {one.name: one for one in reading.numbers}
    told = ", ".join(f"{there[key].value:.1f}% {word}" for key, word in _TOLD if key in there)
    return display.local(f"{name}: {told}." if told else f"{name}.")


def _lede(lot: Lot, reading: LotReading) -> str:
    """Return the headline without the name, which stands over it."""
    said = clean(reading.headline)
    start = f"{clean(lot.name)}: "
    rest = said.removeprefix(start)
    return rest[:1].upper() + rest[1:]


def _facts(lot: Lot, display: Display) -> tuple[Fact, ...]:
    return _said(
        ("Field", clean(lot.field_name)),
        ("Cutting", cutting_text(lot, display)),
        ("Put up", put_up_text(lot, display)),
        ("Stands", STANDS[lot.storage]),
        ("Counted", f"{bales_text(lot.bales, lot)}, {display.day_year_text(lot.counted_on)}"),
        ("Note", clean(lot.note)),
    )


def _said(*rows: tuple[str, str]) -> tuple[Fact, ...]:
    return tuple(Fact(word, told) for word, told in rows if told)


#: What each answer to "may they?" says, where nothing is to be added.
_MAY: Final = {
    "none": "None: its nitrate",
    "wait": "None until what stands on this page is settled",
    "free": "Enough energy and protein by itself",
}


def _fit(one: ClassFit) -> FitShown:
    may = _MAY.get(one.may, f"At most {100.0 * one.share:.0f}% of what they eat")
    if one.may == "part":
        may += ", weighed and mixed"
    if one.lacks:
        lacks = f"hort of {one.lacks}"
        may = f"S{lacks}" if one.may == "free" else f"{may}; s{lacks}"
    sign = {"none": "danger", "wait": "warning", "part": "weigh"}.get(one.may, "")
    sign = sign or ("enough" if not one.lacks else "")
    sure = one.sure[:1].upper() + one.sure[1:]
    name = one.name[:1].upper() + one.name[1:]
    return FitShown(mark(sign) if sign else "", name, may, ten_dots(one.chance), sure)


def _to_do(line: YardLine, lot: Lot, reading: LotReading, care: Care) -> tuple[Fact, ...]:
    """Return what is to be done with a lot that stands, the danger first."""
    if not line.standing.bales > 0.0:
        return ()
    settle = ""
    if care.dangers:
        settle = "Settle it with your extension office or veterinarian before any stock eats it."
    weigh = "" if lot.bale_weight_kg else "Weigh three bales: no weight of a bale is written."
    return _said(
        ("The danger", settle),
        ("Test", reading.repeat),
        ("Weigh", weigh),
        ("To lose less", " ".join(one.sentence for one in line.advice)),
    )


def _standing(line: YardLine, lot: Lot, reading: LotReading, display: Display) -> tuple[Fact, ...]:
    now = line.standing
    as_fed = display.tons_text(now.as_fed_kg / KG_PER_TONNE)
    dry = display.tons_text(now.dry_kg / KG_PER_TONNE)
    loses = f"{display.percent_text(line.will_lose_pct)}, to the end of the season"
    if line.will_lose_usd is not None:
        loses += f". That is worth {money_text(line.will_lose_usd)}."
    return _said(
        ("Standing", f"{bales_text(now.bales, lot)}: {as_fed} as fed, {dry} dry"),
        ("A bale", f"{display.mass_text(now.bale_kg)}: {now.weight_is}"),
        ("Lost since baling", f"{display.percent_text(line.lost_pct)} of dry matter"),
        ("Will lose", loses),
        ("Worth", reading.value),
    )


def _value(one: ReadNumber, display: Display) -> Value:
    per_kg = one.unit.startswith(_PER_KG)
    unit = one.unit.replace("/kg", f"/{display.mass_unit}", 1) if per_kg else one.unit
    ends: Sequence[float] = [
        display.energy_density(value) if per_kg else value
        for value in (one.value, one.low, one.high)
        if value is not None
    ]
    figures, *span = (f"{end:,.{one.decimals}f}" for end in ends)
    words = f"{one.words[:1].upper()}{one.words[1:]}"
    told = " to ".join(span)
    known = one.low is not None and one.high is not None and one.value > 0.0
    drawing = doubt(one.value, one.low or 0.0, one.high or 0.0, told) if known else ""
    return Value(words, figures, told, unit, one.origin, drawing)


#: The labels of that table in plain words.
_ALLOWS: Final = {
    "safe all classes": "safe for all",
    "safe nonpregnant; pregnant max 50% of ration DM": (
        "safe where none is pregnant; pregnant stock at most half of what they eat"
    ),
    "max 50% of ration DM": "at most half of what they eat",
    "max 35-40% of ration DM; not for pregnant": (
        "at most 35 to 40% of what they eat; none to pregnant stock"
    ),
    "max 25% of ration DM; not for pregnant": (
        "at most a quarter of what they eat; none to pregnant stock"
    ),
    "do not feed": "feed to none",
}


def _limit(reading: LotReading) -> LimitShown | None:
    """Return where the nitrate of a lot stands among published limits, where it is known."""
    table, found = CLASS_TABLES["nitrate_clemson"], None
    for one in reading.numbers:
        if one.name == "nitrate_no3n_ppm" and one.low is not None and one.high is not None:
            found = (one.value, one.low, one.high)
    if found is None:
        return None
    value, low, high = found
    here = table.label(value)
    edges = [f"{one:,.0f}" for one in table.limits]
    spans = [
        f"up to {edges[0]}",
        *(f"{one} to {other}" for one, other in pairwise(edges)),
        f"over {edges[-1]}",
    ]
    told = f"{value:,.0f} ppm of dry matter"
    if high > low:
        told += f" (90% range {low:,.0f} to {high:,.0f})"
    bands = tuple(
        (span, _ALLOWS.get(label, label), label == here)
        for span, label in zip(spans, table.labels, strict=True)
    )
    return LimitShown(told, limit_band(table.limits, value, low, high, told), bands, table.source)


def _report(one: Report, display: Display) -> str:
    """Return which report it is, from whom and of when."""
    parts = [f"Report {clean(one.report_id)}"]
    if one.lab:
        parts.append(clean(one.lab))
    if one.sampled_on is not None:
        parts.append(f"sampled {display.day_year_text(one.sampled_on)}")
    if one.cores is not None:
        parts.append(f"{one.cores} cores")
    return ", ".join(parts) + "."
