"""What looking back found, in words: an answer, a line for each source and each lot."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from rickyard.book.looking.appetite_words import appetite_told, eaten_told
from rickyard.book.looking.cost_words import CostsTold, costs_told
from rickyard.book.looking.hay import HayOfLot
from rickyard.book.looking.looking import LookBack
from rickyard.book.looking.moisture import LearnedDryMatter
from rickyard.book.looking.weights import LearnedWeight
from rickyard.display import Display, clean, count_text, display_for, listed, number_text
from rickyard.farm import Caution, Package
from rickyard.hay.yard import book_cautions
from rickyard.program.compare import NOTHING_KG, TWICE, FedAgainst

#: A count is of whole bales, and weights make parts of them: less than this is no difference.
HALF_A_BALE: Final = 0.5

_CAME: Final = ("opening", "put_up", "bought", "moved_in")
_OTHER: Final = ("lost", "moved_out", "correction")
_ODD: Final = ("count", "missing")
_KNOWN: Final = {
    "written": "that was written before",
    "size": "that its size gives",
    "package": "in the middle of what such bales usually weigh",
}


@dataclass(frozen=True, slots=True)
class FedTold:
    """What a group was to get of one source and what is noted."""

    group: str
    what: str
    planned: str
    fed: str
    differs: str
    planned_kg: float = 0.0
    fed_kg: float | None = None


@dataclass(frozen=True, slots=True)
class HayTold:
    """What became of the bales of a lot; ``storage`` is dry matter."""

    lot: str
    came: str
    fed: str
    sold: str
    other: str
    odd: str
    left: str
    storage: str


@dataclass(frozen=True, slots=True)
class Told:
    """All that is said of a season looked back at."""

    answer: str
    lede: str
    fed: tuple[FedTold, ...]
    groups: tuple[str, ...]
    hay: tuple[HayTold, ...]
    odd: tuple[str, ...]
    weights: tuple[str, ...]
    dry_matter: tuple[str, ...]
    ate: tuple[str, ...]
    appetite: tuple[str, ...]
    costs: CostsTold | None


def told_of_look(look: LookBack) -> Told:
    """Return what looking back found, in words.

    Parameters
    ----------
    look : LookBack
        What was found.

    Returns
    -------
    Told
        Words in the units of the farm.
    """
    display = display_for(look.farm.units)
    answer, lede = _answer(look, display)
    odd = [one.sentence for hay in look.hay for one in _odd(hay, look)]
    return Told(
        display.local(answer),
        display.local(lede),
        () if look.against is None else _fed(look, look.against, display),
        () if look.against is None else _groups(look, look.against, display),
        tuple(_hay(one, display) for one in look.hay),
        tuple(display.local(clean(one)) for one in odd),
        tuple(display.local(_weight(one, display)) for one in look.weights),
        tuple(display.local(_dry_matter(one)) for one in look.dry_matter),
        tuple(display.local(eaten_told(one, display)) for one in look.ate),
        tuple(display.local(one) for one in appetite_told(look.appetite)),
        None if look.costs is None else costs_told(look.costs, look.farm, display),
    )


def _answer(look: LookBack, display: Display) -> tuple[str, str]:
    """Return the answer and what it hides."""
    found, program = look.against, look.program
    if found is None:
        if program is not None and any(row.day <= look.day for row in look.farm.fed):
            began = display.day_text(program.start)
            return f"No feeding is noted since {began}.", "On that day the program begins."
        return "No feeding is noted yet.", "What was fed is not known until somebody notes it."
    span = display.during_text(found.start, found.end)
    lots = {lot.lot_id for lot in look.farm.lots}
    mine = [one for one in found.lines if one.source_id in lots and one.group_id in look.noted]
    fed = sum(one.fed_kg or 0.0 for one in mine)
    unweighed = sum(one.unweighed for one in mine)
    if program is None:
        lede = "No program is fed by, so there is nothing to set it against."
        lede += _not_weighed(unweighed)
        return f"{display.amount_text(fed)} of hay were fed {span}.", lede
    planned = sum(one.planned_kg or 0.0 for one in mine)
    names = _names(look)
    missing = {one.group_id for one in found.lines} - set(look.noted)
    lede = (
        f"{display.amount_text(fed)} of hay are noted {span}, where {display.amount_text(planned)} "
        "were planned. What nobody noted is not in it."
    )
    if missing:
        whom = listed(sorted(names.get(one, one) for one in missing))
        lede += f" Nothing is noted for {whom}: what they were fed is not known."
    lede += _not_weighed(unweighed)
    if unweighed:
        return f"How much hay was fed {span} is not known.", lede
    return f"{_differs_words(fed, planned)} {span}.", lede


def _not_weighed(lines: int) -> str:
    if not lines:
        return ""
    told = count_text(lines, "line")
    return f" {told} of hay {'has' if lines == 1 else 'have'} no weight: what they tell of is more."


def _differs_words(fed: float, planned: float) -> str:
    if planned <= NOTHING_KG:
        return "Hay was fed where none was planned" if fed > NOTHING_KG else "No hay was fed"
    pct = 100.0 * (fed / planned - 1.0)
    if abs(pct) < 0.5:
        return "Fed as much hay as planned"
    return f"Fed {abs(pct):.0f}% {'more' if pct > 0.0 else 'less'} hay than planned"


def _names(look: LookBack) -> Mapping[str, str]:
    farm = look.farm
    named = {one.lot_id: one.name for one in farm.lots}
    named |= {one.feed_id: one.name for one in farm.feeds}
    named |= {one.group_id: one.name for one in farm.groups}
    return {key: clean(name) for key, name in named.items()}


def _fed(look: LookBack, found: FedAgainst, display: Display) -> tuple[FedTold, ...]:
    names, told = _names(look), []
    for one in found.lines:
        planned, fed = one.planned_kg, one.fed_kg
        if not one.unweighed and max(fed or 0.0, planned or 0.0) <= NOTHING_KG:
            continue
        is_known = one.group_id in look.noted and fed is not None
        amount = display.amount_text(fed) if fed else "none noted"
        if one.unweighed and fed:
            amount += f" and {count_text(one.unweighed, 'line')} without a weight"
        told.append(
            FedTold(
                names.get(one.group_id, one.group_id),
                names.get(one.source_id, one.source_id),
                "no program" if planned is None else display.amount_text(planned),
                amount if is_known else "not known",
                "" if not is_known or one.unweighed else _differs(planned, fed or 0.0, display),
                planned or 0.0,
                fed if is_known and not one.unweighed else None,
            )
        )
    return tuple(told)


def _differs(planned: float | None, fed: float, display: Display) -> str:
    if planned is None:
        return ""
    if planned <= NOTHING_KG:
        return "not planned"
    if fed > TWICE * planned:
        return f"{number_text(fed / planned)} times as much"
    pct = 100.0 * (fed / planned - 1.0)
    if abs(pct) < 0.5:
        return "as planned"
    return f"{display.percent_text(abs(pct), 0)} {'more' if pct > 0.0 else 'less'}"


def _groups(look: LookBack, found: FedAgainst, display: Display) -> tuple[str, ...]:
    """Say on how many days something is noted for each group, and what differs from the program."""
    days, names = (found.end - found.start).days, _names(look)
    noted = [
        f"{names.get(group, group)}: something is noted on {look.noted[group]} of "
        f"{count_text(days, 'day')}."
        for group in dict.fromkeys(one.group_id for one in found.lines)
        if group in look.noted
    ]
    return tuple(display.local(clean(one)) for one in (*noted, *found.sentences))


def _odd(hay: HayOfLot, look: LookBack) -> list[Caution]:
    """Return what the book of a lot cannot explain; parts of a bale come of weights."""
    lines = tuple(
        one for one in hay.book.lines if one.kind != "count" or abs(one.bales) >= HALF_A_BALE
    )
    return book_cautions(hay.lot, replace(hay.book, lines=lines), look.day)


def _hay(hay: HayOfLot, display: Display) -> HayTold:
    bales = hay.account.bales
    loads = hay.lot.package is Package.LOOSE
    came, other, odd = (sum(bales.get(kind, 0.0) for kind in of) for of in (_CAME, _OTHER, _ODD))
    left = hay.account.closing_bales
    return HayTold(
        clean(hay.lot.name),
        number_text(came),
        number_text(-bales.get("fed", 0.0)) if "fed" in bales else "none noted",
        number_text(-bales.get("sold", 0.0)) if "sold" in bales else "",
        _signed(other),
        _signed(odd),
        count_text(left, "load" if loads else "bale"),
        display.amount_text(hay.account.storage_loss_kg),
    )


def _weight(one: LearnedWeight, display: Display) -> str:
    """Return what weigh tickets say of a bale, and what to do where the book says otherwise."""
    mass = display.mass_text
    told = (
        f"{clean(one.lot.name)}: a bale weighs {mass(one.kg)} (90% range {mass(one.low_kg)} to "
        f"{mass(one.high_kg)}), by {count_text(one.bales, 'bale')} on weigh tickets at "
        f"{mass(one.ticket_kg)}"
    )
    if one.known_kg is not None:
        known = f"the {mass(one.known_kg)}"
        told += f" and {known} {_KNOWN[one.origin]}"
    told += "."
    if one.origin != "written" and one.lot.bale_weight_kg is not None:
        told += (
            f" The {mass(one.said_kg)} that is written may come from a ticket, so it does not "
            "count again."
        )
    if one.differs:
        told += " What the book says lies outside: weigh some more, then write its weight anew."
    return told


def _dry_matter(one: LearnedDryMatter) -> str:
    """Return what repeat tests say of a lot's dry matter."""
    told = (
        f"{clean(one.lot.name)}: {one.pct:.1f}% dry matter (90% range {one.low_pct:.1f} to "
        f"{one.high_pct:.1f}%), by {one.tests} tests at {one.seen_pct:.1f}% and the "
        f"{one.usual_pct:.1f}% that such hay usually has. It is counted at {one.counted_pct:.1f}%."
    )
    if one.differs:
        told += " That lies outside: take another sample, or write its moisture anew."
    return told


def _signed(bales: float) -> str:
    """Return bales with their sign, nothing where there are none."""
    if not bales:
        return ""
    return f"{'+' if bales > 0.0 else '-'}{number_text(abs(bales))}"
