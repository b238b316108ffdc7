"""Which bales to core: a choice that chance makes and that anyone can repeat.

The generator is the Mersenne Twister MT19937 of Matsumoto & Nishimura (1998), as Python's
standard library has it: for one seed its draws are the same on every machine and version.
"""

from __future__ import annotations

import hashlib
import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from rickyard.hay.common import require_between
from rickyard.quantities import OutOfRange

GENERATOR: Final = "MT19937"
How = Literal["random", "systematic"]

#: When more bales than this cannot be reached, the sample does not speak for the lot; common
#: practice, no published source.
MOST_UNREACHED: Final = 0.20

_SEED_BYTES: Final = 4


@dataclass(frozen=True, slots=True)
class BaleChoice:
    """Bales to core, in stack order, and what takes the place of one that is too hard to core.

    ``spares`` are used in their order, never the neighbour of the hard bale. ``coverage`` is the
    share of the lot that could have been drawn.
    """

    bales: tuple[int, ...]
    spares: tuple[int, ...]
    how: How
    seed: int
    coverage: float
    generator: str = GENERATOR

    @property
    def remark(self) -> str | None:
        """Return what to say when too much of the lot is out of reach."""
        if 1.0 - self.coverage <= MOST_UNREACHED:
            return None
        return (
            f"Only {100.0 * self.coverage:.0f}% of the bales can be reached: the sample is for "
            "those only. Sample while the hay is being stacked or when the stack is opened."
        )


def seed_for(*parts: str) -> int:
    """Return a seed that names make, so that a sheet printed again names the same bales.

    Examples
    --------
    >>> seed_for("Hill farm", "A1") == seed_for("Hill farm", "A1") != seed_for("Hill farm", "B2")
    True
    """
    digest = hashlib.sha256("\x1f".join(parts).encode()).digest()
    return int.from_bytes(digest[:_SEED_BYTES], "big")


def choose_bales(
    bales_in_lot: int,
    wanted: int,
    seed: int,
    *,
    how: How = "random",
    unreachable: Sequence[int] = (),
) -> BaleChoice:
    """Draw the bales to core: in stack order, and spares in the order of use.

    Bales are numbered from 1 along the stack in the order in which they can be reached; those that
    no probe can reach are not drawn, and where fewer than wanted can be, all of them are taken.
    Write the seed down with the sample. Systematic, every so many from a random start, is good
    where the stack was built in the order of the field. Do not choose by colour, leaf or weeds.
    From Teutsch (Univ. Kentucky), Hay sampling 101.

    Examples
    --------
    >>> choice = choose_bales(60, 5, seed=7)
    >>> len(choice.bales), len(set(choice.bales) & set(choice.spares))
    (5, 0)
    """
    require_between("bales in the lot", bales_in_lot, 1, math.inf, "")
    require_between("bales to core", wanted, 1, math.inf, "")
    closed = set(unreachable)
    there = [number for number in range(1, bales_in_lot + 1) if number not in closed]
    if not there:
        raise OutOfRange("no bale of the lot can be reached.")
    draws = random.Random(seed)
    count = min(wanted, len(there))
    if how == "systematic":
        # Whole steps of floor(N/n) would never reach the end of a stack of 39 for 20 bales.
        start = int(draws.random() * len(there))
        taken = [there[(start + place * len(there)) // count] for place in range(count)]
    else:
        taken = _shuffled(there, draws)[:count]
    chosen = set(taken)
    spares = _shuffled([number for number in there if number not in chosen], draws)
    return BaleChoice(
        bales=tuple(sorted(chosen)),
        spares=tuple(spares[:count]),
        how=how,
        seed=seed,
        coverage=len(there) / bales_in_lot,
    )


def _shuffled(numbers: Sequence[int], draws: random.Random) -> list[int]:
    """Order numbers by a draw for each: only ``random()`` is promised never to change."""
    keyed = [(draws.random(), number) for number in numbers]
    return [number for _, number in sorted(keyed)]
