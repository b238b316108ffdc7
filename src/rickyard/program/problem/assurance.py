"""How surely a need is to be met, and how well the protein and energy of each source are known.

A lot is known from one composite of cores and one laboratory; a bought feed from its tag or a
table. A mix is counted on for its mean less ``z`` standard deviations, ``z`` chosen by the chance
that is promised. ``assured`` turns that into rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

import numpy as np

from rickyard.farm import Assumption, Farm, Group, Season
from rickyard.forage.energy import DERIVED
from rickyard.forage.plausibility import lot_profile
from rickyard.forage.uncertainty import Measured, lot_measured, measured_derived
from rickyard.program.inputs import assumed
from rickyard.program.result import SourceValues
from rickyard.quantities import OutOfRange, is_some
from rickyard.types import FloatArray

#: Spread of an untested lot or a bought feed, of its book value: half of the published range of
#: 15 % for protein and 10 % for energy (Preston, Beef magazine, feed composition).
UNTESTED_CP_FRAC: Final = 0.075
UNTESTED_TDN_FRAC: Final = 0.05

#: An even chance is what the means give; nothing made by people is certain. [%]
EVEN_CHANCE_PCT: Final = 50.0
CERTAIN_PCT: Final = 100.0

#: A promise counts as kept where the chance misses it by no more than so many points. No report
#: tells its own error that well. Judgement.
MISSED_POINTS: Final = 0.5


@dataclass(frozen=True, slots=True)
class Assurance:
    """What is promised to each group, and how far off each source may be.

    ``chance_pct`` is by group, NaN where the means are counted on. ``sd`` holds by nutrient
    (``cp``, ``tdn``, ``nem``, ``neg``) the standard deviation of what one kilogram of dry matter
    of each source supplies, in the unit of the nutrient.
    """

    chance_pct: FloatArray
    sd: dict[str, FloatArray]

    @property
    def z(self) -> FloatArray:
        """Return by group how many standard deviations below its mean a mix is counted on."""
        return np.array([standard_deviations(one) for one in self.chance_pct.tolist()])

    def for_everybody(self, chance_pct: float) -> Assurance:
        """Return the same spreads with one chance for every group."""
        return Assurance(np.full(len(self.chance_pct), chance_pct), self.sd)


def standard_deviations(chance_pct: float) -> float:
    """Return how many standard deviations a mean must lie above a need.

    Parameters
    ----------
    chance_pct : float
        The chance that the need is met; NaN counts on means. [%]

    Returns
    -------
    float
        Standard deviations, 0 for an even chance. [-]

    Raises
    ------
    OutOfRange
        If it is less than an even chance, or certainty.

    Examples
    --------
    >>> round(standard_deviations(95.0), 3), standard_deviations(float("nan"))
    (1.645, 0.0)
    """
    if np.isnan(chance_pct):
        return 0.0
    if not EVEN_CHANCE_PCT <= chance_pct < CERTAIN_PCT:
        raise OutOfRange(
            f"An assurance of {chance_pct:g}% cannot be planned for: write a number from "
            "50, which counts on the means, to under 100 in assurance_pct."
        )
    return NormalDist().inv_cdf(chance_pct / 100.0)


def points_below(assurance: Assurance, points: float) -> FloatArray:
    """Return by group by how many standard deviations a chance some points lower lies lower.

    Parameters
    ----------
    assurance : Assurance
        The chances promised.
    points : float
        How many points of a chance lower. [%]

    Returns
    -------
    array, shape (groups,)
        Standard deviations, at least 0. [-]

    Examples
    --------
    >>> everybody = Assurance(np.array([95.0]), {})
    >>> points_below(everybody, 0.5).round(3).tolist()
    [0.047]
    """
    return np.array(
        [
            z - max(0.0, standard_deviations(max(chance - points, EVEN_CHANCE_PCT)))
            for z, chance in zip(assurance.z, assurance.chance_pct.tolist(), strict=True)
        ]
    )


def asked_pct(group: Group, season: Season) -> float | None:
    """Return the chance promised to a group, ``None`` where its means are counted on. [%].

    Parameters
    ----------
    group : Group
        The group.
    season : Season
        The season.

    Returns
    -------
    float or None
        The chance; the group's own goes before the season's. [%]
    """
    return season.assurance_pct if group.assurance_pct is None else group.assurance_pct


def assurance_of(farm: Farm, values: Sequence[SourceValues]) -> Assurance | None:
    """Return what a farm asks for, or ``None`` where every group counts on means.

    Raises
    ------
    OutOfRange
        If an assurance is no chance that can be promised.
    """
    asked = [asked_pct(group, farm.season) for group in farm.groups]
    if all(one is None for one in asked):
        return None
    chance = np.array([np.nan if one is None else one for one in asked])
    found = Assurance(chance, spreads(farm, values))
    if not np.any(is_some(found.z)):
        return None
    return found


def spreads(farm: Farm, values: Sequence[SourceValues]) -> dict[str, FloatArray]:
    """Return the standard deviation of each source by nutrient, per kilogram of dry matter.

    Parameters
    ----------
    farm : Farm
        The farm.
    values : sequence of SourceValues
        The sources as the program counts them.

    Returns
    -------
    dict of str to array, shape (sources,)
        Protein as a fraction and energy in Mcal, both by nutrient; zero where a value is
        taken as exact.
    """
    cp = np.array([UNTESTED_CP_FRAC * value.cp_pct for value in values])
    tdn = np.array([UNTESTED_TDN_FRAC * value.tdn_pct for value in values])
    for i, lot in enumerate(farm.lots):
        reports = farm.reports_of(lot.lot_id)
        profile = lot_profile(lot, reports)
        measured = lot_measured(lot, reports, profile)
        tested = {name for name, origin in profile.origins.items() if origin != "book"}
        if "cp_pct" in tested:
            cp[i] = measured["cp_pct"].sd
        if "tdn_pct" in tested:
            tdn[i] = measured["tdn_pct"].sd
    means = [value.tdn_pct for value in values]
    return {
        "cp": cp / 100.0,
        "tdn": tdn / 100.0,
        "nem": _energy("nem_mcal_per_kg", means, tdn),
        "neg": _energy("neg_mcal_per_kg", means, tdn),
    }


def promises(farm: Farm) -> tuple[Assumption, ...]:
    """Say in words what is promised to whom, and what the promise leaves out.

    Parameters
    ----------
    farm : Farm
        The farm.

    Returns
    -------
    tuple of Assumption
        Empty where nothing is promised.
    """
    chances = {asked_pct(group, farm.season) for group in farm.groups} - {None}
    if not chances:
        return ()
    said = []
    for chance in sorted(one for one in chances if one is not None):
        names = [one.name for one in farm.groups if asked_pct(one, farm.season) == chance]
        who = "every group" if len(names) == len(farm.groups) else ", ".join(names)
        said.append(assumed("assured", groups=who, chance=chance))
    said.append(assumed("independent_errors"))
    return tuple(said)


def _energy(name: str, tdn_pct: Sequence[float], sd: FloatArray) -> FloatArray:
    """Return the spread of an energy that is computed from TDN, by the slope of its equation."""
    found = np.zeros(len(sd))
    for i, mean in enumerate(tdn_pct):
        if is_some(mean):
            tdn = Measured.normal(mean, float(sd[i]), "% of dry matter", "")
            found[i] = measured_derived(DERIVED[name], {"tdn": tdn}).sd
    return found
