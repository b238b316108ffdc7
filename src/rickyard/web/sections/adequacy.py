"""Is it enough in every week: energy, protein and minerals of each group, drawn and said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.display import Display, clean, display_for
from rickyard.program.result import NeedRow, SeasonProgram
from rickyard.service import Planned, held_by_object
from rickyard.sheets.wording import group_name, group_order
from rickyard.web.drawn import Met, adequacy_strip, mark

#: The columns: their words, and the needs of which the one that is met least counts.
_PARTS: Final = (
    ("Energy", ("nem", "gain_energy", "tdn", "me", "de")),
    ("Protein", ("cp", "cp_floor")),
    ("Calcium and phosphorus", ("ca", "p")),
)

#: So near to the need is just met: a share.
_JUST: Final = 0.006


@dataclass(frozen=True, slots=True)
class PartMet:
    """A need of a group through the season."""

    word: str
    drawing: str
    words: str


@dataclass(frozen=True, slots=True)
class GroupMet:
    """A group: its mark, each need, and what a head eats."""

    mark: str
    name: str
    parts: tuple[PartMet, ...]
    eats: str


@held_by_object(64)
def adequacy_shown(planned: Planned) -> tuple[GroupMet, ...]:
    """Return whether it is enough in every week, group by group.

    Parameters
    ----------
    planned : Planned
        The program with its farm.

    Returns
    -------
    tuple of GroupMet
        In the order of the season's page.
    """
    program, display = planned.program, display_for(planned.farm.units)
    many = max((one.period for one in program.needs), default=-1) + 1
    found = []
    for group in group_order(program):
        rows = [one for one in program.needs if one.group_id == group and one.need > 0.0]
        parts = tuple(_part(word, names, rows, many, display) for word, names in _PARTS)
        if any(one.drawing for one in parts):
            short = any(one.shortage > 0.0 for one in rows)
            sign = mark("short", "Short") if short else mark("enough", "Enough")
            name = clean(group_name(planned.farm, group))
            found.append(GroupMet(sign, name, parts, _eats(program, group, display)))
    return tuple(found)


def _part(
    word: str, names: Sequence[str], rows: Sequence[NeedRow], many: int, display: Display
) -> PartMet:
    mine = [one for one in rows if one.nutrient in names and one.bound == "at_least"]
    if not mine:
        return PartMet(word, "", "")
    least: dict[int, NeedRow] = {}
    for one in mine:
        if one.period not in least or _over(one) < _over(least[one.period]):
            least[one.period] = one
    weeks = [Met(place, _over(one), one.shortage > 0.0) for place, one in sorted(least.items())]
    worst = min(least.values(), key=_over)
    words = _words(worst, display)
    return PartMet(word, adequacy_strip(weeks, many, f"{word} by week: {words}"), words)


def _over(one: NeedRow) -> float:
    return one.supplied / one.need - 1.0


def _words(worst: NeedRow, display: Display) -> str:
    share = display.percent_text(100.0 * abs(_over(worst)), 0)
    when = f"in the week of {display.day_text(worst.start)}"
    if worst.shortage > 0.0:
        return f"{share} short {when}"
    if _over(worst) < -_JUST:
        return f"{share} under {when}"
    if _over(worst) < 2.0 * _JUST:
        return "met in every week"
    return f"{share} to spare or more"


def _eats(program: SeasonProgram, group: str, display: Display) -> str:
    """Return how much dry matter a head eats, at least and at most, by week."""
    found = [
        display.mass(one.intake_kg_dm_per_head_day)
        for one in program.groups
        if one.group_id == group
    ]
    if not found:
        return ""
    least, most = f"{min(found):.0f}", f"{max(found):.0f}"
    amount = least if least == most else f"{least} to {most}"
    return f"{amount} {display.mass_unit} a day"
