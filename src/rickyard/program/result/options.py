"""What a person may ask of a season program beside what the farm folder says."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

#: How long to look for a better program when nobody says, in seconds: with all the rest a plain
#: answer then comes within ten.
USUAL_SECONDS: Final = 5.0

#: A search uses two processors where there are two.
USUAL_THREADS: Final = min(2, os.cpu_count() or 1)

WishKind = Literal["feed", "keep_off", "amount"]


@dataclass(frozen=True, slots=True)
class Wish:
    """What a person wants of the program, whatever it costs.

    ``feed``: the group is fed some of the source all the time from ``start`` until the day before
    ``end``. ``keep_off``: it gets none. ``amount``: it gets ``kg_dm_per_head_day``, no more and no
    less. A date that is ``None`` means the season's own; ``group_id`` that is empty, every group.
    """

    kind: WishKind
    source_id: str
    group_id: str = ""
    start: date | None = None
    end: date | None = None
    kg_dm_per_head_day: float | None = None


@dataclass(frozen=True, slots=True)
class PlanOptions:
    """How to make a program.

    ``seconds`` is how long a better one is looked for when the first is there, ``stop`` is asked
    now and then whether to end sooner, and ``threads`` is how many processors to use. The same
    ``seed`` gives the same program where time does not cut the search short. ``from_on`` plans
    the season from that day on, with what is in the yard then.
    """

    seconds: float = USUAL_SECONDS
    threads: int = USUAL_THREADS
    seed: int = 1
    stop: Callable[[], bool] | None = None
    wishes: tuple[Wish, ...] = ()
    from_on: date | None = None
