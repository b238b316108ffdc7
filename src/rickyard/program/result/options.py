"""What a person may ask of a season program beside what the farm folder says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from math import inf
from typing import Final, Literal

#: How much work to spend on a better program when nobody says, in units of which one takes about a
#: second of one processor: with all the rest a plain answer then comes within ten seconds.
USUAL_EFFORT: Final = 5.0

#: Two parts of a season are searched at once. What is searched never depends on how many
#: processors a machine has, so that two machines find the same program.
USUAL_THREADS: Final = 2

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
class HayUse:
    """What a group eats of a source over some days, per head and day in kilograms of dry matter."""

    group_id: str
    source_id: str
    start: date
    days: int
    kg_dm_per_head_day: float


@dataclass(frozen=True, slots=True)
class PlanOptions:
    """How to make a program.

    ``effort`` is how much work is spent on a better one when the first is there: the same effort
    and ``seed`` give the same program. ``seconds`` ends the search by the clock all the same,
    ``stop`` is asked now and then whether to end sooner, and ``threads`` is how many processors
    to use. ``from_on`` plans the season from that day on, with what is in the yard then.
    ``begin_from`` is a program whose hays in use are tried first, where they are any good. So many
    of the first wishes as ``planned_without`` says are priced by planning without each of them.
    A program is one of rations; ``weekly`` makes one of amounts that may change every week.
    """

    effort: float = USUAL_EFFORT
    seconds: float = inf
    threads: int = USUAL_THREADS
    seed: int = 1
    stop: Callable[[], bool] | None = None
    wishes: tuple[Wish, ...] = ()
    from_on: date | None = None
    begin_from: tuple[HayUse, ...] = ()
    planned_without: int = 0
    weekly: bool = False


@dataclass(frozen=True, slots=True)
class FileDigest:
    """One file that a program was made from, and the SHA-256 of its bytes in hexadecimal."""

    file: str
    sha256: str


@dataclass(frozen=True, slots=True)
class MadeWith:
    """What was asked beside the farm folder.

    ``effort`` is in units of work, ``seconds`` the outer stop by the clock, where there was one.
    ``assure_pct`` and ``winter`` are ``None`` where the folder's own were kept; ``from_date`` is
    the day from which the rest of the season was planned, ``pins_sha256`` the digest of a file
    with further wishes. ``rations`` says whether it is a program of rations.
    """

    effort: float
    seed: int
    seconds: float | None = None
    assure_pct: float | None = None
    winter: str | None = None
    from_date: date | None = None
    pins_sha256: str | None = None
    rations: bool = True


@dataclass(frozen=True, slots=True)
class Made:
    """How a program was made; two programs made alike are the same program.

    ``farm_sha256`` is one digest of every file of the farm folder that was read, and ``files``
    says which they were. The time it took is no part of it.
    """

    version: str
    farm_sha256: str
    files: tuple[FileDigest, ...]
    options: MadeWith
