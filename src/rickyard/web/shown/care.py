"""Cautions as a page shows them: dangers open and first, warnings next, notes last."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from rickyard.book.services import danger_key
from rickyard.display import clean, count_text, display_for, listed, localized
from rickyard.farm import Caution, Farm
from rickyard.sheets.wording import about_name, said_once
from rickyard.web.drawn import mark


@dataclass(frozen=True, slots=True)
class CareBox:
    """One caution. ``css`` names its form, ``title`` begins with its word, ``key`` is ticked."""

    css: str
    mark: str
    title: str
    sentence: str
    source: str
    key: str

    @property
    def begins(self) -> str:
        """Return its first sentence where the rest may be folded, else nothing.

        Only a warning folds: a danger stands whole, and a note folds with its fellows.
        """
        first, _, rest = self.sentence.partition(". ")
        return f"{first}." if rest and self.css == _FORMS["warning"] else ""

    @property
    def calls(self) -> bool:
        """Return whether it sends to a veterinarian or the fire department.

        Such a warning folds on a phone alone, where its first sentence says what may happen: on a
        wide window and on paper it stands whole.
        """
        return any(one in self.sentence for one in _CALLED)

    @property
    def shares(self) -> str:
        """Return what boxes have in common that are drawn as one.

        That is the title of warnings, or of notes, about something named: a danger stands alone.
        """
        alone = self.css == _FORMS["danger"] or ": " not in self.title
        return self.key if alone else self.title

    @property
    def goes_on(self) -> str:
        """Return what follows its first sentence."""
        return self.sentence.partition(". ")[2]


@dataclass(frozen=True, slots=True)
class Care:
    """All cautions of a page by their gravity."""

    dangers: tuple[CareBox, ...]
    warnings: tuple[CareBox, ...]
    notes: tuple[CareBox, ...]

    @property
    def danger_words(self) -> str:
        """Return how many dangers there are."""
        return count_text(len(self.dangers), "danger")

    @property
    def rest_words(self) -> str:
        """Return how many stand behind the dangers, empty where there are none."""
        counts = ((len(self.warnings), "warning"), (len(self.notes), "note"))
        return listed([count_text(count, noun) for count, noun in counts if count])


#: The mark beside the answer of a season, by what it says.
VERDICTS: Final = {"enough": "enough", "hay_short": "short", "need_short": "short"}

_WORDS = {"danger": "Danger", "warning": "Warning", "note": "Note"}
#: Who is called where something can hurt.
_CALLED: Final = ("veterinarian", "fire department")
_FORMS = {"danger": "care", "warning": "care warn", "note": "care note"}


def care_of(cautions: Iterable[Caution], farm: Farm, *, of_lot: bool = False) -> Care:
    """Return cautions as boxes.

    Parameters
    ----------
    cautions : iterable of Caution
        In any order; one that is said twice is shown once.
    farm : Farm
        Gives lots, feeds and groups their names.
    of_lot : bool
        Whether the page is of the lot that they are about, so that its name need not be said.

    Returns
    -------
    Care
        The boxes.
    """
    said = said_once(tuple(dict.fromkeys(cautions)), farm)
    told = localized(said, display_for(farm.units))
    boxes: dict[str, list[CareBox]] = {"danger": [], "warning": [], "note": []}
    for plain, one in zip(said, told, strict=True):
        name = "" if of_lot else clean(about_name(farm, one.about))
        title = f"{_WORDS[one.level]}: {name}" if name else _WORDS[one.level]
        boxes[one.level].append(
            CareBox(
                _FORMS[one.level],
                mark(one.level),
                title,
                clean(one.sentence),
                one.source,
                danger_key(plain),
            )
        )
    return Care(tuple(boxes["danger"]), tuple(boxes["warning"]), tuple(boxes["note"]))
