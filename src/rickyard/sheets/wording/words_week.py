"""The words of the weekly list."""

from __future__ import annotations

from typing import Final

from rickyard.display import listed

TITLE: Final = "What to put out this week"
FED_COLUMN: Final = "actually fed, total"
SHARE_IN_PROGRAM: Final = "share of the day's hay"
SHARE_BY_HAND: Final = "share of the day's hay, mixed by hand"
DANGER: Final = "DANGER: read the note on it first"
NOTHING: Final = "Nothing to put out for them this week."
SEEN_ABOVE: Final = "▲ and ◆ beside a name: read the note on it where it is first listed."
WRITE_NOTE: Final = (
    "Figures are for the whole group, as fed. An empty day means nothing is put out. Write what "
    "was actually fed below each figure: it goes into fed.csv, and a new plan starts from it."
)
FOR_ALL: Final = "For the whole farm"


def title(first: str, last: str) -> str:
    """Name the week."""
    return f"{TITLE}: {first} to {last}"


def by_bale(weight: str) -> str:
    """Say that figures are bales, and what one weighs."""
    return f"bales, about {weight} each"


def weighed(unit: str) -> str:
    """Say that figures are weighed out and mixed into other feed."""
    return f"{unit}, weighed and mixed in"


def by_mass(unit: str, days: int) -> str:
    """Say that figures are a mass, and how long one that comes once is for."""
    return f"{unit}, for {days} days" if days > 1 else unit


def grazing(names: list[str]) -> str:
    """Say that a group is on grass."""
    return f"They are on {listed(names)}."


def outside(day: str, first: str, last: str) -> str:
    """Say that a day is not in the season."""
    return (
        f"{day} is not in the season, which runs from {first} to {last}.\n"
        "  Give a day of the season with --date."
    )
