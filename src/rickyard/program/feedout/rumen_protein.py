"""Whether the protein of a whole diet that rumen microbes can use is enough for its energy."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Final

import numpy as np

from rickyard.animals import CLASSES, Stock
from rickyard.display import Display
from rickyard.farm import Caution
from rickyard.program.inputs import cautioned
from rickyard.program.problem import Problem
from rickyard.quantities import is_some
from rickyard.stock.equations import microbial_cp_g, rdp_balance_g
from rickyard.types import FloatArray

#: Less than this share of what the microbes want is within what tests of it are worth: common
#: practice, no published source.
WORTH_SAYING: Final = 0.05


def rumen_protein_cautions(
    problem: Problem, eaten: FloatArray, display: Display
) -> Iterator[Caution]:
    """Yield the groups of cattle whose diet lacks degradable protein, where all of it is known.

    Parameters
    ----------
    problem : Problem
        The season.
    eaten : array, shape (groups, sources, periods)
        What is eaten. [kg DM per head and day]
    display : Display
        Writes amounts in the farm's units.

    Yields
    ------
    Caution
        One for a group that is short by more than a twentieth in any period in which the
        degradable protein of everything that brings it protein is known.
    """
    values, periods = problem.sources.values, problem.needs.periods
    protein = np.array([one.cp_pct / 100.0 for one in values])
    share = np.array(
        [np.nan if one.rdp_pct_of_cp is None else one.rdp_pct_of_cp / 100.0 for one in values]
    )
    tdn = np.array([one.tdn_pct / 100.0 for one in values])
    for g, group in enumerate(problem.needs.groups):
        if CLASSES[group.animal_class].stock is not Stock.BEEF:
            continue
        diet = eaten[g]
        # What brings no protein brings none that is degradable, whatever is known of it.
        fed = is_some(diet * protein[:, None])
        degradable = np.where(fed, diet * (protein * share)[:, None], 0.0).sum(axis=0) * 1000.0
        tdn_g = (diet * tdn[:, None]).sum(axis=0) * 1000.0
        wanted = microbial_cp_g(np.where(is_some(tdn_g), tdn_g, np.nan))
        balance = np.asarray(rdp_balance_g(degradable, wanted))
        short = np.flatnonzero(is_some(-balance - WORTH_SAYING * np.asarray(wanted)))
        if not len(short):
            continue
        last = periods[int(short[-1])]
        start, end = periods[int(short[0])].start, last.start + timedelta(days=last.days)
        yield cautioned(
            "rumen_protein",
            group.group_id,
            group=group.name,
            most=display.mass_text(float(-balance[short].min()) / 1000.0),
            when=display.during_text(start, end),
            start=start,
            end=end,
        )
