"""What stock ate, and what is learned of it, in words."""

from __future__ import annotations

from rickyard.book.looking.appetite import LearnedAppetite
from rickyard.book.looking.eaten import Eaten
from rickyard.book.looking.weights import WITHIN_90
from rickyard.display import Display, clean, count_text, daily_text, listed
from rickyard.kinds import Offered
from rickyard.program.rations import offered_to


def eaten_told(one: Eaten, display: Display) -> str:
    """Return what a group ate, and of how many days that is known.

    Parameters
    ----------
    one : Eaten
        The group.
    display : Display
        The units of the farm.

    Returns
    -------
    str
        A sentence or two.
    """
    told = (
        f"{clean(one.group.name)} ate {_daily(one.eaten_kg, display)} of dry matter a head and "
        f"day, over {count_text(one.days, 'day')} on which hay was put out "
        f"{count_text(one.times, 'time')}"
    )
    if one.left_out:
        told += f"; {count_text(one.left_out, 'day')} between could not be told"
    if one.pct is not None and one.expected_kg is not None:
        error = ((one.sampling_pct or 0.0) ** 2 + (one.shared_pct or 0.0) ** 2) ** 0.5
        low, high = one.pct - WITHIN_90 * error, one.pct + WITHIN_90 * error
        return (
            f"{told}. The equation gives {_daily(one.expected_kg, display)}: they ate "
            f"{one.pct:.0f}% of it (90% range {low:.0f} to {high:.0f}%)."
        )
    if one.why:
        return f"{told}. What the equation gives is not known: {clean(one.why)}"
    if offered_to(one.group) is Offered.FREE_CHOICE:
        return f"{told}. No equation of appetite in this program fits them."
    return f"{told}. They get what is put out, so it does not tell what they would eat."


def appetite_told(found: LearnedAppetite | None) -> tuple[str, ...]:
    """Return what is learned of appetite, and what to do with it; nothing where nothing is.

    Parameters
    ----------
    found : LearnedAppetite or None
        What was learned.

    Returns
    -------
    tuple of str
        Sentences.
    """
    if found is None:
        return ()
    names = listed([clean(one.group.name) for one in found.groups])
    told = (
        f"Stock here eat {found.pct:.0f}% of what the equations give (90% range "
        f"{found.low_pct:.0f} to {found.high_pct:.0f}%), by {names} at {found.seen_pct:.0f}% and "
        f"by the equations, which may be off too. This season counts with {found.counted_pct:g}%."
    )
    if found.offered_pct is None:
        return (
            told,
            "That is too far off to be appetite alone: look at bale weights, head, and what was "
            "not noted or was fed to others. It is not offered.",
        )
    if not found.differs:
        return (told, "What is counted with lies in the range: nothing needs to change.")
    return (
        told,
        "What is counted with lies outside. Look at bale weights and head first, then take it: the "
        "next program counts with it, hay lasts accordingly, and it can be given back.",
    )


def _daily(kg: float, display: Display) -> str:
    return f"{daily_text(display.mass(kg))} {display.mass_unit}"
