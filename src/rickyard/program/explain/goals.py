"""Goals of a group: what its farm wants or what is advised for its class, and if it is met."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from rickyard.display import Display
from rickyard.farm import AnimalClass, Group
from rickyard.program.result import GoalState, OutcomeGoal, OutcomePoint
from rickyard.stock.equations import target_weight_kg

#: Condition advised at calving, 1 to 9: one score more for heifers with their first calf.
CALVING_SCORE: Final = {
    AnimalClass.COW: 5.0,
    AnimalClass.FIRST_CALF_HEIFER: 6.0,
}
CALVING_SOURCE: Final = "South Dakota State University Extension; Texas A&M AgriLife Extension"

#: Weight advised at breeding is a share of the mature weight, see ``target_weight_kg``.
BREEDING_SOURCE: Final = "University of Arkansas Extension (2018)"

#: So much condition over a goal is more than cows need. Common practice, no published source.
#: [score]
SPARE_SCORE: Final = 1.0

#: A goal is met where no more than this is lacking. [score; share of the weight]
NEAR_SCORE: Final = 0.05
NEAR_FRAC: Final = 0.005


def goal_days(group: Group) -> Iterator[tuple[date, float | None, float | None, str]]:
    """Yield the goals of a group: those of its farm, else what is published for its class.

    Parameters
    ----------
    group : Group
        Its class, days and targets are read.

    Yields
    ------
    tuple
        The day, the score or ``None``, the full weight or ``None`` [kg], and the source, which is
        empty where the farm itself wants it.
    """
    own = group.target_condition_score is not None or group.target_weight_kg is not None
    on = group.target_on or (group.calving_on if group.target_condition_score else None)
    if own and on is not None:
        yield on, group.target_condition_score, group.target_weight_kg, ""
    elif group.animal_class in CALVING_SCORE and group.calving_on is not None:
        yield group.calving_on, CALVING_SCORE[group.animal_class], None, CALVING_SOURCE
    elif (
        group.animal_class is AnimalClass.REPLACEMENT_HEIFER
        and group.breeding_on is not None
        and group.mature_weight_kg is not None
    ):
        weight = float(target_weight_kg(group.mature_weight_kg))
        yield group.breeding_on, None, weight, BREEDING_SOURCE


def goal_met(
    on: date,
    goal: tuple[float | None, float | None],
    point: OutcomePoint,
    source: str,
    display: Display,
) -> OutcomeGoal:
    """Return whether a goal is met where a group then stands.

    Parameters
    ----------
    on : date
        The day of the goal.
    goal : tuple
        The condition wanted, 1 to 9, or the full weight [kg]; the other is ``None``.
    point : OutcomePoint
        Where the group stands that morning.
    source : str
        Who advises it; empty where the farm itself wants it.
    display : Display
        The reader's units.

    Returns
    -------
    OutcomeGoal
        With a sentence that stands alone.
    """
    score, weight_kg = goal
    day = display.day_text(on)
    if score is not None:
        under, most = score - (point.score or 0.0), point.high_score or 0.0
        named, lack = f"condition {score:g} on {day}", f"{under:.1f}"
        near, wanted = NEAR_SCORE, score
    else:
        wanted = weight_kg or 0.0
        under, most, near = wanted - point.weight_kg, point.weight_high_kg, NEAR_FRAC * wanted
        named, lack = f"{display.mass_text(wanted)} on {day}", display.mass_text(under)
    whose = "The goal of" if not source else "What is advised,"
    if under <= near:
        state: GoalState = "met"
        said = f"{whose} {named}, is met" if source else f"{whose} {named} is met"
        fatter = score is not None and -under > SPARE_SCORE
        said += f", with {-under:.1f} to spare: fatter than they need be." if fatter else "."
    elif most >= wanted - near:
        state, said = "unsure", f"{whose} {named}: {lack} under it as planned, it may still be met."
    else:
        state, said = "missed", f"{whose} {named}: missed by {lack}."
    return OutcomeGoal(on, score, weight_kg, state, said, source)
