"""Hay that a group may eat only as part of a mix, and so gets weighed out every day.

A lot with nitrate may be a third of what is eaten in a week and still kill, where a whole bale of
it lies alone in the feeder for two days. What has a limit to its share is never put out by the
bale.
"""

from __future__ import annotations

from rickyard.animals import CLASSES
from rickyard.farm import AnimalClass
from rickyard.forage.values import nitrate_share_limit
from rickyard.program.result import SeasonProgram


def only_in_a_mix(nitrate_no3n_ppm: float | None, kind: AnimalClass) -> bool:
    """Return whether a class of animals may eat a hay only as a share of the ration.

    Examples
    --------
    >>> only_in_a_mix(1200.0, AnimalClass.COW), only_in_a_mix(1200.0, AnimalClass.STOCKER)
    (True, False)
    >>> only_in_a_mix(None, AnimalClass.COW)
    False
    """
    if nitrate_no3n_ppm is None:
        return False
    return float(nitrate_share_limit(nitrate_no3n_ppm, pregnant=CLASSES[kind].in_calf)) < 1.0


def weighed_out(program: SeasonProgram, kind: AnimalClass) -> frozenset[str]:
    """Return the ids of what a class of animals gets weighed out and mixed every day.

    Parameters
    ----------
    program : SeasonProgram
        The season program.
    kind : AnimalClass
        The class of animals.

    Returns
    -------
    frozenset of str
        Ids of lots and feeds.
    """
    return frozenset(
        one.source_id for one in program.sources if only_in_a_mix(one.nitrate_no3n_ppm, kind)
    )
