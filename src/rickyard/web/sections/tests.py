"""The tests of a farm on a page: what to core, what is under way, what a report says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final
from urllib.parse import quote
from uuid import UUID

from rickyard.book.services import FileKept
from rickyard.display import Display, clean, count_text, display_for, listed, money_text
from rickyard.farm import Farm, Report
from rickyard.hay.sampling import CAUTIONS, SamplePlan
from rickyard.labs.common import Question, Sample, Value
from rickyard.labs.intake import Intake
from rickyard.labs.matching import Match
from rickyard.service.sections import FarmTests, UnderWay
from rickyard.sheets.wording import plain_test
from rickyard.web.drawn import flag, flags_of, mark

_OPS: Final = {"=": "", "<": "under ", ">": "over ", "nd": "not found", "tntc": "too many to count"}
_UNITS: Final = {"pct": "%", "g_per_kg": "g/kg", "mcal_per_lb": "Mcal/lb", "mcal_per_kg": "Mcal/kg"}
#: What may kill is asked about before all else.
_GRAVE: Final = ("nitrate", "hcn", "ergo")
#: Words for choices that are names of the folder's.
_CHOICES: Final = {
    "dm": "of dry matter",
    "ar": "as received, as fed",
    "nitrate_no3n": "nitrate-nitrogen, NO3-N",
    "nitrate_no3": "nitrate, NO3",
    "nitrate_kno3": "potassium nitrate, KNO3",
}
_BASES: Final = {"dm": "of dry matter", "ar": "as received"}


@dataclass(frozen=True, slots=True)
class DueRow:
    """A lot that is to be cored: how many bales, by when, what to order and why."""

    address: str
    name: str
    flag: str
    core: str
    when: str
    mark: str
    order: str
    price: str
    why: str


@dataclass(frozen=True, slots=True)
class AwayRow:
    """A sample that is under way; ``now`` is what is next, ``mark`` that of a late result.

    ``lab`` is where it is to go; ``is_sent`` whether somebody has written that it went.
    """

    address: str
    name: str
    flag: str
    sample: str
    cored: str
    now: str
    is_sent: bool
    lab: str
    lot: str
    expected: str
    mark: str


@dataclass(frozen=True, slots=True)
class CameRow:
    """A report in use."""

    report: str
    address: str
    name: str
    flag: str
    day: str
    lab: str


@dataclass(frozen=True, slots=True)
class WaitingRow:
    """A file that came and waits for a word: where it is looked at, its name, and its day."""

    id: UUID
    name: str
    came: str


@dataclass(frozen=True, slots=True)
class TestsShown:
    """All that stands on the page of tests."""

    answer: str
    lede: str
    now: tuple[DueRow, ...]
    later: tuple[DueRow, ...]
    good: str
    under_way: tuple[AwayRow, ...]
    came: tuple[CameRow, ...]
    waiting: tuple[WaitingRow, ...]
    cautions: tuple[str, ...]
    day: str


def tests_shown(farm: Farm, tests: FarmTests, waiting: Sequence[FileKept], day: date) -> TestsShown:
    """Return what stands on the page of tests.

    Parameters
    ----------
    farm : Farm
        The farm.
    tests : FarmTests
        How its tests stand.
    waiting : sequence of FileKept
        Files that came and are not used yet.
    day : date
        The day on the farm.

    Returns
    -------
    TestsShown
        Words and drawings.
    """
    display = display_for(farm.units)
    flags = {key: flag(one) for key, one in flags_of(farm.lots).items()}
    names = {one.lot_id: clean(one.name) for one in farm.lots}
    return TestsShown(
        _answer(tests, display),
        _lede(tests, waiting),
        tuple(_due(one, flags, display, late=True) for one in tests.now),
        tuple(_due(one, flags, display, late=False) for one in tests.later),
        listed([clean(one.name) for one in tests.good]),
        tuple(_away(one, flags[one.lot.lot_id], display) for one in tests.under_way),
        tuple(_came(one, names, flags, display) for one in tests.reports),
        tuple(
            WaitingRow(one.id, one.name, display.day_year_text(one.came_at.date()))
            for one in waiting
        ),
        tuple(display.local(one) for one in CAUTIONS),
        f"{display.weekday_text(day)}, {day.year}",
    )


def _away(one: UnderWay, drawn: str, display: Display) -> AwayRow:
    ship, sent, expected = one.plan.dates.ship_on, one.sent, one.expected_on
    if sent is not None:
        now = f"sent {display.day_text(sent.sent_on)} to {clean(sent.lab)}"
    else:
        now = "" if ship is None else f"ship {display.day_text(ship)}"
    late = "late since" if one.is_late else "about"
    return AwayRow(
        quote(one.lot.lot_id, safe=""),
        clean(one.lot.name),
        drawn,
        one.sample_id,
        display.day_text(one.cored_on),
        now,
        sent is not None,
        "" if one.plan.order is None else clean(one.plan.order.lab),
        one.lot.lot_id,
        "" if expected is None else f"{late} {display.day_text(expected)}",
        mark("warning") if one.is_late else "",
    )


def _answer(tests: FarmTests, display: Display) -> str:
    if tests.now:
        return f"Core {listed([clean(one.name) for one in tests.now])} now."
    if tests.later:
        one = tests.later[0]
        return f"Next to core: {clean(one.name)}, {display.day_text(one.due_on)}."
    if tests.good or tests.under_way:
        return "Nothing is to be cored."
    return "The farm has no hay to core."


def _lede(tests: FarmTests, waiting: Sequence[FileKept]) -> str:
    late = sum(one.is_late for one in tests.under_way)
    parts = []
    if waiting:
        noun = count_text(len(waiting), "file")
        parts.append(f"{noun} that came {'waits' if len(waiting) == 1 else 'wait'} for your word.")
    if late:
        parts.append(f"{count_text(late, 'result')} late: call the lab.")
    return " ".join(parts)


def _due(one: SamplePlan, flags: Mapping[str, str], display: Display, *, late: bool) -> DueRow:
    when = "" if one.dates.sample_on is None else display.day_text(one.dates.sample_on)
    if late:
        last = one.dates.latest
        when = "now" if last is None else f"now: late since {display.day_text(last)}"
    tests = listed([plain_test(test.test) for test in one.wanted])
    price = "" if one.order is None else money_text(one.order.price_usd)
    return DueRow(
        quote(one.lot_id, safe=""),
        clean(one.name),
        flags[one.lot_id],
        cores_text(one),
        when,
        mark("warning") if late else "",
        tests,
        price,
        display.local("; ".join(one.dates.reasons)),
    )


def cores_text(plan: SamplePlan) -> str:
    """Return how many bales are cored, how often each.

    Parameters
    ----------
    plan : SamplePlan
        How to core the lot.

    Returns
    -------
    str
        As "20 bales, one core each".
    """
    way = plan.protocols[0]
    if plan.choice is None:
        return f"{way.cores} {plan.probing.taken}s"
    each = "one core each" if way.cores_a_bale == 1 else f"{way.cores_a_bale} cores each"
    return f"{count_text(way.bales, 'bale')}, {each}"


def _came(
    one: Report, names: Mapping[str, str], flags: Mapping[str, str], display: Display
) -> CameRow:
    day = one.reported_on or one.sampled_on
    return CameRow(
        clean(one.report_id),
        quote(one.lot_id, safe=""),
        names[one.lot_id],
        flags[one.lot_id],
        "" if day is None else display.day_year_text(day),
        clean(one.lab),
    )


@dataclass(frozen=True, slots=True)
class Doubt:
    """A question about a report: nothing is chosen before a person chooses."""

    key: str
    text: str
    printed: tuple[str, ...]
    choices: tuple[tuple[str, str], ...]
    takes_number: bool


@dataclass(frozen=True, slots=True)
class PlainValue:
    """A value that needs no word: as it is printed, and as it is read."""

    name: str
    printed: str
    read: str
    place: str


@dataclass(frozen=True, slots=True)
class SampleShown:
    """A sample of a report, the lot it is of, and what is plain in it."""

    name: str
    lot: str
    flag: str
    beside: str
    values: tuple[PlainValue, ...]
    state: str


@dataclass(frozen=True, slots=True)
class ReportShown:
    """All that stands on the page of a file that came."""

    answer: str
    lede: str
    refused: str
    lab: str
    doubts: tuple[Doubt, ...]
    samples: tuple[SampleShown, ...]
    notes: tuple[str, ...]
    file: UUID
    name: str
    usable: int


def report_shown(farm: Farm, intake: Intake, file: UUID, ready: Sequence[Match]) -> ReportShown:
    """Return what stands on the page of a file that came.

    Parameters
    ----------
    farm : Farm
        The farm whose lots its samples are of.
    intake : Intake
        What was read, with the answers given so far.
    file : UUID
        The file in the book.
    ready : sequence of Match
        The samples about which nothing is open.

    Returns
    -------
    ReportShown
        Words.
    """
    reading = intake.reading
    refused = reading.refused or (
        "The file is a price list of a laboratory, and no report of a test. Bring it in with "
        "rickyard intake."
        if intake.packages
        else ""
    )
    doubts = _doubts(farm, intake)
    values = sum(len(one.values) for one in reading.samples)
    flags = {key: flag(one) for key, one in flags_of(farm.lots).items()}
    return ReportShown(
        _report_answer(refused, len(doubts), values, len(reading.samples)),
        ""
        if refused or not doubts
        else "Nothing of a sample is used until you have answered "
        "what is open about it. Ask the lab where you are not sure: do not guess.",
        refused,
        clean(reading.lab),
        doubts,
        tuple(_sample(one, flags, one in ready) for one in intake.matches),
        tuple(clean(one) for one in reading.notes),
        file,
        clean(reading.file),
        len(ready),
    )


def _report_answer(refused: str, doubts: int, values: int, samples: int) -> str:
    if refused:
        return "This file is not read."
    many = f"{count_text(samples, 'sample')}, {count_text(values, 'value')}"
    if not doubts:
        return f"{many}. Nothing is in doubt."
    return f"{many}. {count_text(doubts, 'thing')} {'needs' if doubts == 1 else 'need'} your word."


def _doubts(farm: Farm, intake: Intake) -> tuple[Doubt, ...]:
    lots = tuple((one.lot_id, f"{clean(one.name)} ({one.lot_id})") for one in farm.lots)
    found = [_doubt(one, [], lots) for one in intake.reading.questions if one.level == "open"]
    for match in intake.matches:
        asked = [*match.questions, *match.sample.questions]
        found += [_doubt(one, match.sample.values, lots) for one in asked if one.level == "open"]
        if match.lot is None and not match.questions:
            words = f"{clean(match.sample.name)}: {match.note}. Of which lot is it?"
            found.append(Doubt(f"lot {match.sample.name}", words, (), lots, takes_number=False))
    once = {one.key: one for one in found}.values()
    return tuple(sorted(once, key=lambda one: not any(word in one.key for word in _GRAVE)))


def _doubt(one: Question, values: Sequence[Value], lots: tuple[tuple[str, str], ...]) -> Doubt:
    about = [value for value in values if value.analyte in one.analytes]
    names = dict(lots)
    words = {**_CHOICES, **names}
    choices = tuple((choice, words.get(choice, choice)) for choice in one.choices)
    return Doubt(
        one.key,
        clean(one.text),
        tuple(f"{plain_test(value.analyte)}: {clean(value.printed)}" for value in about),
        choices,
        takes_number=len(about) == 1 and "leave out" in one.choices,
    )


def _sample(match: Match, flags: Mapping[str, str], is_ready: bool) -> SampleShown:
    sample, lot = match.sample, match.lot
    sure = tuple(_plain_value(one) for one in sample.values if one.status == "sure")
    already = match.how == "waits" and lot is not None
    state = "ready to be used" if is_ready else match.note if already else "waits for your word"
    return SampleShown(
        clean(sample.name),
        "" if lot is None else clean(lot.name),
        "" if lot is None else flags[lot.lot_id],
        _beside(sample),
        sure,
        state,
    )


def _beside(sample: Sample) -> str:
    days = [
        f"{word} {day.isoformat()}"
        for word, day in (("sampled", sample.sampled_on), ("reported", sample.reported_on))
        if day is not None
    ]
    number = f"number {clean(sample.lab_no)}" if sample.lab_no else ""
    return ", ".join(one for one in (number, *days, clean(sample.method)) if one)


def _plain_value(one: Value) -> PlainValue:
    number = "" if one.value is None else f"{one.value:.10g}"
    unit = _UNITS.get(one.unit, one.unit.replace("_", " "))
    figures = f"{_OPS.get(one.op, '')}{number}{'' if unit == '%' else ' '}{unit}"
    basis = _BASES.get(one.basis, "")
    name = plain_test(one.analyte)
    return PlainValue(
        f"{name[:1].upper()}{name[1:]}", clean(one.printed), f"{figures} {basis}".strip(), one.place
    )
