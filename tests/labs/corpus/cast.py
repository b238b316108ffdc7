"""Names, numbers and dates for made-up samples."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random

from .forage import HAY, draw
from .truth import Sample

FIRST = (
    "North", "Lower", "Creek", "Silo", "Hill", "Gravel", "Willow", "Bottom", "Ditch", "East",
    "Orchard", "School", "Mule", "Turkey", "Long", "Stony",
)  # fmt: skip
SECOND = (
    "40", "meadow", "field", "patch", "bench", "strip", "pivot", "terrace", "piece", "corner",
    "flat", "block",
)  # fmt: skip
LAST = ("", " 1st", " 2nd cut", " #2", " (big rounds)", " barn B", ", stack 3", " sm. squares")


def names(rng: Random, count: int) -> list[str]:
    """Return so many different sample names as people write on bags."""
    found: dict[str, None] = {}
    while len(found) < count:
        found[f"{rng.choice(FIRST)} {rng.choice(SECOND)}{rng.choice(LAST)}"] = None
    return list(found)


def samples(
    rng: Random,
    count: int,
    lab_no: str = "{}",
    first: int | None = None,
    kinds: tuple[str, ...] = HAY,
    received: bool = False,
    reported: bool = False,
    sampled: bool = True,
    method: str | None = None,
    day: tuple[int, int] = (13, 20),
) -> list[Sample]:
    """Return samples with consecutive laboratory numbers and dates of one summer.

    ``lab_no`` is a pattern for the number; ``day`` the days of the month samples are taken on.
    """
    first = first or rng.randrange(1200, 8900)
    month = rng.randrange(5, 10)
    out = []
    for place, name in enumerate(names(rng, count)):
        taken = date(2025, month, rng.randint(*day))
        out.append(
            Sample(
                draw(rng, kinds[(first + place) % len(kinds)]),
                name,
                lab_no.format(first + place) if lab_no else None,
                taken if sampled else None,
                date(2025, month, 22) if received else None,
                date(2025, month, 22) + timedelta(days=5) if reported else None,
                method,
            )
        )
    return out


def us(day: date) -> str:
    return f"{day.month}/{day.day}/{day.year}"


def dotted(day: date) -> str:
    return f"{day:%d.%m.%Y}"


def worded(day: date) -> str:
    return f"{day:%b} {day.day}, {day.year}"


def dashed(day: date) -> str:
    return f"{day:%d-%b-%y}"
