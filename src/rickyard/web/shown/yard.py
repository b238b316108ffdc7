"""The yard's page: does it last, what is dangerous, what stands."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Final
from urllib.parse import quote

from rickyard.display import (
    Display,
    clean,
    count_text,
    display_for,
    listed,
    localized,
    money_text,
)
from rickyard.farm import Farm, Lot, Storage
from rickyard.forage.reading import LotReading
from rickyard.hay.storage import EXPOSED
from rickyard.hay.yard import Outlook, YardLine, YardPage
from rickyard.program.result import SeasonProgram
from rickyard.quantities import KG_PER_TONNE
from rickyard.service import Planned
from rickyard.sheets.charts import wall_parts as season_wall
from rickyard.sheets.wording import answer_of, outlook_sentence, stands_sentence
from rickyard.web.drawn import (
    Part,
    cost_bar,
    flag,
    flags_of,
    key_mark,
    mark,
    per_mark,
    wall,
    whole_marks,
)
from rickyard.web.shown.bales import bales_drawn, marks_of_bales
from rickyard.web.shown.care import VERDICTS, Care, care_of
from rickyard.web.shown.words import STANDS, bales_text, without_aside

_SURER: Final = "the season's program"
_WALL_ROWS: Final = (7, 14)
#: Kind of mark and words of each part of a season's hay, by its name on the season's sheet.
_OF_SEASON: Final = {
    "sold": ("sold", "sold"),
    "eaten": ("rolled", "eaten over the season"),
    "lost": ("lost", "lost to weather and feeders"),
    "danger": ("danger", "left, with a danger"),
    "left": ("free", "left at the end"),
    "missing": ("missing", "more to buy"),
}


@dataclass(frozen=True, slots=True)
class Key:
    """What a mark of the wall means, and how many tons of it there are."""

    mark: str
    tons: str
    words: str


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall of hay where there is room and on a phone, and what its marks mean."""

    wide: str
    narrow: str
    key: tuple[Key, ...]
    scale: str


@dataclass(frozen=True, slots=True)
class LotRow:
    """A lot that stands, or stood, in the yard."""

    address: str
    name: str
    flag: str
    stands: str
    drawing: str
    bales: str
    tons: str
    state: str
    mark: str
    left: str


@dataclass(frozen=True, slots=True)
class YardShown:
    """All that stands on the page of a yard."""

    answer: str
    verdict: str
    lede: str
    stands: str
    wall: Wall
    care: Care
    lots: tuple[LotRow, ...]
    bales_scale: str
    day: str
    assumptions: tuple[str, ...]


def yard_shown(
    farm: Farm, page: YardPage, readings: Sequence[LotReading], planned: Planned | None = None
) -> YardShown:
    """Return what stands on the page of a yard.

    Parameters
    ----------
    farm : Farm
        The farm.
    page : YardPage
        Its yard on a day.
    readings : sequence of LotReading
        Every lot read.
    planned : Planned, optional
        The season's program, which says more surely than a rough count whether there is enough.

    Returns
    -------
    YardShown
        Words and drawings.
    """
    display = display_for(farm.units)
    page = localized(page, display)
    if planned is None:
        answer, verdict = rough_answer(page.outlook, display)
        parts = wall_parts(page, display)
        lede = "" if page.outlook is None else outlook_sentence(page.outlook, display, _SURER)
    else:
        told = answer_of(planned.program, planned.farm, display)
        answer, aside = without_aside(display.local(told.sentence))
        verdict = VERDICTS.get(told.kind, "")
        parts = _program_parts(planned.program)
        lede = f"By the season's program: {display.local(told.detail)} {aside}".rstrip()
    drawn = _wall(parts, display)
    cautions = [*page.cautions, *(one for lot in readings for one in lot.cautions)]
    scale = marks_of_bales((line, farm.lot(line.lot_id)) for line in page.lines)
    left = {} if planned is None else _left(planned.program)
    return YardShown(
        answer,
        mark(verdict) if verdict else "",
        lede,
        stands_sentence(page, display),
        drawn,
        care_of(cautions, farm),
        _rows(farm, page, readings, display, scale.marks, left),
        scale.words,
        f"{display.weekday_text(page.day)}, {page.day.year}",
        tuple(dict.fromkeys(page.assumptions)),
    )


def rough_answer(told: Outlook | None, display: Display) -> tuple[str, str]:
    """Return whether hay lasts by a rough count, and the mark of that.

    Parameters
    ----------
    told : Outlook or None
        What stands against what is needed; ``None`` where that cannot be said.
    display : Display
        The reader's style of dates.

    Returns
    -------
    tuple of (str, str)
        A sentence, and the name of its mark, empty for none.
    """
    if told is None:
        return "What stands in the yard.", ""
    day = display.day_text(told.until)
    if told.over_kg >= 0.0:
        return f"Hay to {day}, by a rough count.", "enough"
    if told.out_on is not None:
        return f"Short of hay from {display.day_text(told.out_on)}, by a rough count.", "short"
    return f"Short of hay before {day}, by a rough count.", "short"


def wall_parts(page: YardPage, display: Display) -> list[tuple[str, str, float]]:
    """Return the parts of the wall.

    Parameters
    ----------
    page : YardPage
        The yard on a day.
    display : Display
        The reader's units.

    Returns
    -------
    list of (str, str, float)
        Kind of mark, words, and dry matter of each part. [t]
    """
    told = page.outlook
    if told is None:
        return [("rolled", "stand here", page.dry_kg / KG_PER_TONNE)]
    stands = max(0.0, told.standing_kg)
    needed = min(stands, told.need_kg)
    reserve = min(stands - needed, told.reserve_kg)
    parts = [
        ("rolled", _share(needed, told.need_kg, display, "needed to the end"), needed),
        ("reserve", _share(reserve, told.reserve_kg, display, "to be kept in reserve"), reserve),
        ("free", "over both", max(0.0, told.over_kg)),
        ("missing", "more to buy", told.buy_kg),
    ]
    return [(kind, words, kg / KG_PER_TONNE) for kind, words, kg in parts if kg > 0.0]


def _share(there_kg: float, wanted_kg: float, display: Display, words: str) -> str:
    """Return what a part of the wall is; of how much, where that is not all there."""
    wanted = display.tons_text(wanted_kg / KG_PER_TONNE)
    return words if display.tons_text(there_kg / KG_PER_TONNE) == wanted else f"of {wanted} {words}"


def _program_parts(program: SeasonProgram) -> list[tuple[str, str, float]]:
    """Return where the dry matter of the season goes by its program, as its sheet draws it. [t]."""
    return [(*_OF_SEASON[one.mark], one.tonnes) for one in season_wall(program)]


def program_wall(program: SeasonProgram, display: Display) -> Wall:
    """Return where the hay of a season goes, and what of it is not there.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    display : Display
        The reader's units.

    Returns
    -------
    Wall
        Drawings and words.
    """
    return _wall(_program_parts(program), display)


def _wall(parts: Sequence[tuple[str, str, float]], display: Display) -> Wall:
    per = per_mark(sum(tons for _, _, tons in parts), 400)
    counts = whole_marks([display.tons(tons) for _, _, tons in parts], per)
    marks = [Part(kind, count) for (kind, _, _), count in zip(parts, counts, strict=True)]
    label = wall_label(parts, display)
    wide, narrow = (
        wall(marks, rows, label, f"wall{rows}") if sum(counts) else "" for rows in _WALL_ROWS
    )
    key = tuple(Key(key_mark(kind), display.tons_text(t), words) for kind, words, t in parts)
    return Wall(wide, narrow, key, _scale(per, display))


def wall_label(parts: Sequence[tuple[str, str, float]], display: Display) -> str:
    """Return what a wall shows in words and figures.

    Parameters
    ----------
    parts : sequence of (str, str, float)
        Its parts, with their dry matter. [t]
    display : Display
        The reader's units.

    Returns
    -------
    str
        A sentence.
    """
    told = ", ".join(f"{display.tons_text(tons)} {words}" for _, words, tons in parts)
    return f"Dry matter, one mark for each ton: {told}."


def _scale(per: int, display: Display) -> str:
    many = "one ton" if per == 1 else f"{per} tons"
    kind = "short tons (2,000 lb)" if display.system == "us" else "tonnes (1,000 kg)"
    return f"Each mark is {many} of dry matter: hay with its water taken out. Tons are {kind}."


def _left(program: SeasonProgram) -> dict[str, float]:
    """Return the bales of each lot that its season leaves, where they can be counted."""
    return {
        one.lot_id: one.start_bales * (1.0 - one.sold_t / one.start_t) - one.fed_bales
        for one in program.lots
        if one.start_bales and one.fed_bales is not None and one.start_t > 0.0
    }


def _rows(
    farm: Farm,
    page: YardPage,
    readings: Sequence[LotReading],
    display: Display,
    per: int,
    left: Mapping[str, float],
) -> tuple[LotRow, ...]:
    flags, read = flags_of(farm.lots), {one.lot_id: one for one in readings}
    rows = []
    for number, line in enumerate(page.lines):
        lot = farm.lot(line.lot_id)
        levels = {one.level for one in read[line.lot_id].cautions} if line.lot_id in read else set()
        tested = bool(farm.reports_of(line.lot_id))
        state, sign = _state(levels, tested=tested)
        standing, barred = line.standing.bales, "danger" in levels
        over = max(0.0, min(standing, left.get(line.lot_id, 0.0)))
        rows.append(
            LotRow(
                quote(line.lot_id, safe=""),
                clean(line.name),
                flag(flags[line.lot_id]),
                STANDS[lot.storage],
                bales_drawn(line, lot, per, number, barred=barred, left=0.0 if barred else over),
                bales_text(standing, lot),
                display.tons_text(line.standing.as_fed_kg / KG_PER_TONNE),
                state,
                sign,
                _kept(over, lot) if line.lot_id in left and standing > 0.0 else "",
            )
        )
    return tuple(rows)


def _kept(bales: float, lot: Lot) -> str:
    """Return what the season's program leaves of a lot."""
    return f"{bales_text(bales, lot)} left at the end" if round(bales) else "none left at the end"


def _state(levels: Collection[str], *, tested: bool) -> tuple[str, str]:
    """Return what is to be known of a lot before it is fed, and its mark."""
    if "danger" in levels:
        return "danger: read it first", mark("danger")
    if not tested:
        return "no test", mark("untested")
    if "warning" in levels:
        return "tested, with a warning", mark("warning")
    return "tested", ""


@dataclass(frozen=True, slots=True)
class PlaceRow:
    """A lot where it stands: what storage takes of it, and whether to weigh some of it.

    ``bar`` is what it will lose, drawn on one scale for the page.
    """

    address: str
    name: str
    flag: str
    stands: str
    bales: str
    lost: str
    loses: str
    worth: str
    bar: str
    weigh: str


@dataclass(frozen=True, slots=True)
class Place:
    """A way in which lots stand, which these are, and what would cut their loss there."""

    name: str
    lots: str
    advice: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlacesShown:
    """All that stands on the page of places."""

    answer: str
    rows: tuple[PlaceRow, ...]
    places: tuple[Place, ...]
    day: str
    until: str


def places_shown(farm: Farm, page: YardPage) -> PlacesShown:
    """Return where hay stands and what it loses there.

    Parameters
    ----------
    farm : Farm
        The farm.
    page : YardPage
        Its yard on a day.

    Returns
    -------
    PlacesShown
        Words and drawings, the lot and the place that lose most first.
    """
    display = display_for(farm.units)
    page = localized(page, display)
    flags = {key: flag(one) for key, one in flags_of(farm.lots).items()}
    standing = sorted(
        (one for one in page.lines if one.standing.bales > 0.0),
        key=lambda one: -(one.will_lose_usd or 0.0),
    )
    most = max((one.will_lose_usd or 0.0 for one in standing), default=0.0)
    by_place: dict[Storage, list[YardLine]] = {}
    for one in standing:
        by_place.setdefault(farm.lot(one.lot_id).storage, []).append(one)
    exposed = sum(
        one.will_lose_usd or 0.0 for one in standing if farm.lot(one.lot_id).storage in EXPOSED
    )
    stands = sum(farm.lot(one.lot_id).storage in EXPOSED for one in standing)
    answer = "No hay stands in the open."
    if stands:
        answer = (
            f"{count_text(stands, 'lot')} in the open will lose hay worth {money_text(exposed)}."
        )
    return PlacesShown(
        answer,
        tuple(_place_row(one, farm, flags, display, most) for one in standing),
        tuple(
            Place(
                f"{STANDS[storage][:1].upper()}{STANDS[storage][1:]}",
                listed([clean(one.name) for one in lines]),
                advice,
            )
            for storage, lines in by_place.items()
            if (advice := tuple(dict.fromkeys(tip.sentence for one in lines for tip in one.advice)))
        ),
        f"{display.weekday_text(page.day)}, {page.day.year}",
        display.day_year_text(farm.season.end),
    )


def _place_row(
    one: YardLine, farm: Farm, flags: Mapping[str, str], display: Display, most_usd: float
) -> PlaceRow:
    lot = farm.lot(one.lot_id)
    return PlaceRow(
        quote(one.lot_id, safe=""),
        clean(one.name),
        flags[one.lot_id],
        STANDS[lot.storage],
        bales_text(one.standing.bales, lot),
        display.percent_text(one.lost_pct),
        display.percent_text(one.will_lose_pct),
        "" if one.will_lose_usd is None else money_text(one.will_lose_usd),
        cost_bar(one.will_lose_usd, most_usd) if one.will_lose_usd and most_usd > 0.0 else "",
        "" if one.weigh is None else f"weigh {bales_text(one.weigh, lot)}",
    )
