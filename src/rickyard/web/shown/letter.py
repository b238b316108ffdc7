"""A letter to a farm: what its own book says of it, in one page, danger first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from urllib.parse import quote

from rickyard.display import Display, clean, count_text, display_for, listed
from rickyard.farm import Farm
from rickyard.hay.yard import YardPage
from rickyard.service import Planned
from rickyard.service.sections import FarmTests
from rickyard.sheets.wording import answer_of, outlook_sentence
from rickyard.web.shown.care import Care, care_of

#: So many remedies fit on the page; all of them stand with the season.
_MOST_HELP = 6

#: What a rough count names as surer.
_SURER = "a season program"


@dataclass(frozen=True, slots=True)
class LetterShown:
    """All that stands in a letter. ``cores`` are the lots whose sheets go with it."""

    answer: str
    subject: str
    begins: str
    care: Care
    stands: tuple[str, ...]
    short: tuple[str, ...]
    helps: tuple[str, ...]
    next: tuple[str, ...]
    ends: str
    cores: tuple[tuple[str, str], ...]
    has_program: bool
    day: str

    @property
    def text(self) -> str:
        """Return the letter as plain text, to be changed and sent."""
        dangers = [f"{one.title}. {one.sentence}" for one in self.care.dangers]
        parts: list[tuple[str, Sequence[str]]] = [
            ("", [self.begins]),
            ("DANGER, before anyone feeds:" if dangers else "", dangers),
            ("", self.stands),
            ("What is short:" if self.short else "", self.short),
            ("What would help:" if self.helps else "", self.helps),
            ("What to do next:" if self.next else "", self.next),
            ("", [self.ends]),
        ]
        told = ("\n".join(filter(None, [head, *lines])) for head, lines in parts)
        return "\n\n".join(filter(None, told))


def letter_shown(
    farm: Farm, page: YardPage, planned: Planned | None, tests: FarmTests
) -> LetterShown:
    """Return what stands in a letter to a farm.

    Parameters
    ----------
    farm : Farm
        The farm as its book has it.
    page : YardPage
        Its yard on the day of the letter.
    planned : Planned, optional
        The newest program; without one a rough count stands in its place, and is said to.
    tests : FarmTests
        What is to be cored, and what is under way.

    Returns
    -------
    LetterShown
        Words. Nothing of another farm stands in them.
    """
    display, name = display_for(farm.units), clean(farm.name)
    day = display.day_year_text(page.day)
    program = None if planned is None else planned.program
    cautions = [*page.cautions, *(() if program is None else program.cautions)]
    care = care_of(cautions, farm)
    stands: list[str] = []
    short: tuple[str, ...] = ()
    helps: tuple[str, ...] = ()
    if planned is not None:
        told = answer_of(planned.program, planned.farm, display)
        stands = [display.local(told.sentence), display.local(told.detail)]
        short = _once(display, [one.sentence for one in planned.program.shortages])
        helps = _once(display, [one.sentence for one in planned.program.remedies])[:_MOST_HELP]
    elif page.outlook is not None:
        stands = [display.local(outlook_sentence(page.outlook, display, _SURER))]
    return LetterShown(
        f"{name}: what to say, in one page.",
        _subject(name, care, short, stands),
        f"Dear {name}, this is what your own book says on {day}.",
        care,
        tuple(one for one in stands if one),
        short,
        helps,
        _next(tests, display, page.day, has_program=program is not None),
        "Ask your veterinarian or this office before you feed by any of it. Where your book is "
        "wrong, put it right there first: the letter only repeats it.",
        tuple((quote(one.lot_id, safe=""), clean(one.name)) for one in tests.now),
        program is not None,
        day,
    )


def _once(display: Display, sentences: Sequence[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(display.local(one) for one in sentences))


def _subject(name: str, care: Care, short: Sequence[str], stands: Sequence[str]) -> str:
    """Return what the letter is about: danger before all else."""
    if care.dangers:
        return f"{name}: {count_text(len(care.dangers), 'danger')} to read before anyone feeds"
    if short:
        return f"{name}: what runs short this season, and what would help"
    return f"{name}: {stands[0]}" if stands else f"{name}: what stands and what is due"


def _next(tests: FarmTests, display: Display, day: date, *, has_program: bool) -> tuple[str, ...]:
    """Return what is to be done next: late results, cores, and a program where there is none."""
    late = [one for one in tests.under_way if one.is_late]
    found = [f"Call the lab: the result of {clean(one.lot.name)} is late." for one in late]
    if tests.now:
        names = listed([clean(one.name) for one in tests.now])
        found.append(f"Core {names} now; the sheets say which bales, and how deep.")
    if tests.later:
        one = tests.later[0]
        found.append(f"Core {clean(one.name)} by {display.day_text(max(one.due_on, day))}.")
    if not has_program:
        found.append("Work out the season's program: until then the count above is rough.")
    return tuple(found)
