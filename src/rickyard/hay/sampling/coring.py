"""A sample that is taken, which bale is next and which steps in; and one that was sent."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Tried:
    """A bale that was tried: the probe brought a core, or would not go in."""

    bale: int
    went_in: bool


@dataclass(frozen=True, slots=True)
class Coring:
    """How far a sample is.

    ``bale`` is the bale to core now, ``None`` once all cores are taken or no bale is left that was
    drawn; ``instead`` the one that comes in its place where the probe will not go in, ``None``
    where no spare is left. ``taken`` of ``wanted`` cores are in the bucket. ``order`` has the bales
    to core, spares in the place of those that would not; ``done`` those that have all their cores
    and ``refused`` those that would not.
    """

    bale: int | None
    instead: int | None
    taken: int
    wanted: int
    order: tuple[int, ...]
    done: frozenset[int]
    refused: frozenset[int]

    @property
    def is_whole(self) -> bool:
        """Return whether all cores are taken."""
        return self.taken >= self.wanted


@dataclass(frozen=True, slots=True)
class Sent:
    """A sample that was sent: to which laboratory, for which tests, when the result is expected."""

    code: str
    lab: str
    tests: str
    sent_on: date
    expected_on: date | None


def coring(
    drawn: Sequence[int], spares: Sequence[int], cores_a_bale: int, tried: Sequence[Tried]
) -> Coring:
    """Say how far a sample is, and which bale is next.

    A bale that is too hard to core is replaced by the next spare that chance drew, never by its
    neighbor: hard bales may differ from soft ones, and whoever picks picks the easy ones
    (Undersander; Putnam & Orloff).

    Parameters
    ----------
    drawn : sequence of int
        The bales that chance drew, in the order in which they can be reached.
    spares : sequence of int
        More that chance drew, in the order in which they step in.
    cores_a_bale : int
        How many cores each bale gives, at least 1.
    tried : sequence of Tried
        What was tried so far; the order does not matter.

    Returns
    -------
    Coring
        What is done and what is next.

    Examples
    --------
    >>> so_far = [Tried(3, went_in=True), Tried(8, went_in=False)]
    >>> now = coring([3, 8, 15], [20, 6], 1, so_far)
    >>> now.bale, now.instead, f"{now.taken} of {now.wanted}", now.order
    (20, 6, '1 of 3', (3, 20, 15))
    """
    cores = Counter(one.bale for one in tried if one.went_in)
    refused = frozenset(one.bale for one in tried if not one.went_in)
    left = iter([one for one in spares if one not in refused])
    order = [one if one not in refused else next(left, None) for one in drawn]
    there = tuple(one for one in order if one is not None)
    taken, wanted = cores.total(), cores_a_bale * len(drawn)
    open_ = [one for one in there if cores[one] < cores_a_bale]
    bale = open_[0] if open_ and taken < wanted else None
    return Coring(
        bale,
        next(left, None) if bale is not None else None,
        taken,
        wanted,
        there,
        frozenset(one for one in there if cores[one] >= cores_a_bale),
        refused,
    )
