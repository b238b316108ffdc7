"""What-if questions of pages: worked out beside the pages, one at a time, and kept in memory.

A question is no fact of the book: what is answered can be dropped at any time and asked again.
"""

from __future__ import annotations

import tempfile
import threading
from collections import OrderedDict
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, TypeAlias
from uuid import UUID

from rickyard.book.acting import heard_of, held_or_read
from rickyard.book.folders import write_out
from rickyard.book.services import season_there
from rickyard.farm import Farm
from rickyard.program.planning import Change, WhatIfAnswer
from rickyard.program.result import SeasonProgram
from rickyard.service import (
    Asked,
    Held,
    OpenedFarm,
    PlanRequest,
    ServiceError,
    changes_of,
    open_farm,
    what_if,
)

#: So many answers are kept.
_KEPT: Final = 32

_Key: TypeAlias = tuple[UUID, str, Asked]
_Found: TypeAlias = tuple[SeasonProgram, WhatIfAnswer]


@dataclass(frozen=True, slots=True)
class Answered:
    """How far a question is: still worked on, answered, or why it cannot be.

    ``base`` is the program as it is, ``answer`` the same with what was asked; both ``None`` while
    it is worked on, or where ``fault`` says why not.
    """

    farm: Farm
    base: SeasonProgram | None = None
    answer: WhatIfAnswer | None = None
    fault: str = ""

    @property
    def is_under_way(self) -> bool:
        """Return whether it is still worked on."""
        return self.answer is None and not self.fault


class _Asking:
    """The questions under way and answered, of the process that shows the pages."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._kept: OrderedDict[_Key, Future[_Found]] = OrderedDict()
        self._one = ThreadPoolExecutor(max_workers=1, thread_name_prefix="what-if")

    def ask(self, key: _Key, opened: OpenedFarm, changes: list[Change]) -> Future[_Found]:
        """Return the answer to come, begun now unless it was asked before."""
        with self._lock:
            if key not in self._kept:
                self._kept[key] = self._one.submit(_found, opened, changes)
            self._kept.move_to_end(key)
            while len(self._kept) > _KEPT:
                self._kept.popitem(last=False)[1].cancel()
            return self._kept[key]


_asking: Final = _Asking()

#: Farms as they are asked, each by its season and the newest line of its trail.
_opened: Final = Held[tuple[UUID, UUID], OpenedFarm](16)


def ask_what_if(person: Any, season_id: UUID, asked: Asked, wait: float = 0.0) -> Answered:
    """Ask what something different would make of a season, or how far the answer is.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.
    asked : Asked
        What would be different, all of it together.
    wait : float
        How long to wait for the answer. [s]

    Returns
    -------
    Answered
        The answer, or that it is worked on: then ask again.
    """
    heard = heard_of("plan", person, season_id)
    # A page asks until the answer is there: the farm is written out and read for the first alone.
    opened = held_or_read(_opened, (season_id, heard.line), lambda: _read(person, season_id))
    try:
        changes = changes_of(opened.farm, asked)
        coming = _asking.ask((season_id, opened.sha256, asked), opened, changes)
        base, answer = coming.result(wait)
    except TimeoutError:
        return Answered(opened.farm)
    except ServiceError as problem:
        return Answered(opened.farm, fault=str(problem))
    return Answered(opened.farm, base, answer)


def _read(person: Any, season_id: UUID) -> OpenedFarm:
    with tempfile.TemporaryDirectory() as place:
        write_out(season_there(person, season_id), Path(place) / "farm")
        return open_farm(Path(place) / "farm")


def _found(opened: OpenedFarm, changes: list[Change]) -> _Found:
    base, answers = what_if(opened, changes, PlanRequest(), together=True)
    return base, answers[0]
