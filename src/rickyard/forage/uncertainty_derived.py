"""How far a number computed from a report may lie off, because its inputs do.

Two ways: by the slopes of the equation where they are simple, and by drawing the inputs many
times where they are not. They agree where both apply. Errors of different analytes are taken as
independent, and the equation itself as true: what two equations differ by is not in here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from rickyard.forage.energy import (
    DE_PER_TDN_PCT,
    ME_PER_DE,
    NEG_CUBIC,
    NEG_ZERO_AT_TDN_PCT,
    NEL_PER_TDN_PCT,
    NEM_CUBIC,
    NEM_ZERO_AT_TDN_PCT,
    de_from_tdn,
    me_from_tdn,
    neg_from_tdn,
    nel_from_tdn,
    nem_from_tdn,
)
from rickyard.forage.horse_energy import horse_de_nrc, horse_de_pagan
from rickyard.forage.indices import (
    DDM_PER_ADF,
    FULL_BLOOM_ALFALFA,
    ca_to_p_ratio,
    digestible_dry_matter_pct,
    dry_matter_intake_pct_bw,
    nfc_pct,
    nsc_pct,
    relative_feed_value,
    relative_forage_quality_grass,
    relative_forage_quality_legume,
)
from rickyard.forage.minerals import MEQ_PER_KG_PER_PCT, dcad_meq_per_kg, tetany_ratio
from rickyard.forage.protein import adjusted_cp_pct, available_cp_pct
from rickyard.forage.summative import de_nrc2001, tdn_nrc2001, tdn_rfq_grass, tdn_rfq_legume
from rickyard.forage.tdn import (
    MIDWEST_CORN_SILAGE_PER_ADF,
    MIDWEST_PER_ADF,
    OKLAHOMA_PER_ADF,
    PENN_GRASS_PER_ADF,
    PENN_LEGUME_PER_ADF,
    PENN_TDN_PER_NEL,
    SOUTHEAST_PER_ADF,
    SOUTHEAST_PER_CP,
    SOUTHEAST_PER_NDF,
    WESTERN_PER_ADF,
    tdn_midwest,
    tdn_midwest_corn_silage,
    tdn_oklahoma,
    tdn_penn_state_grass,
    tdn_penn_state_legume,
    tdn_southeast_warm_grass,
    tdn_western_alfalfa_100,
)
from rickyard.forage.uncertainty import Measured
from rickyard.quantities import Numeric, OutOfRange, as_given

#: Draws of each input; strata make 4,096 as good as many times that number at random.
DRAWS: Final = 4096
SEED: Final = 20_260_601  # any number: the same report reads the same on every day

Slopes: TypeAlias = Callable[..., tuple[Numeric, ...]]


@dataclass(frozen=True, slots=True)
class Derived:
    """A number computed from a report, and the slope of its equation in each input.

    ``slopes`` is ``None`` where the equation bends or steps too much for slopes: then the inputs
    are drawn.
    """

    name: str
    words: str
    unit: str
    inputs: tuple[str, ...]
    equation: Callable[..., Numeric]
    slopes: Slopes | None = None


def first_order_sd(slopes: Sequence[Numeric], sds: Sequence[Numeric]) -> Numeric:
    """Add the errors of independent inputs, each by the slope of the equation in it.

    Parameters
    ----------
    slopes : sequence of float or array
        Change of the result for one unit of each input. [result/input]
    sds : sequence of float or array
        Standard deviation of each input. [input]

    Returns
    -------
    float or array
        Standard deviation of the result. [result]

    Notes
    -----
    First order of the Taylor series; exact for a sum of inputs.

    Examples
    --------
    >>> first_order_sd((3.0, 4.0), (1.0, 1.0))
    5.0
    """
    parts = [np.square(np.multiply(slope, sd)) for slope, sd in zip(slopes, sds, strict=True)]
    return as_given(np.sqrt(sum(parts)), *slopes, *sds)


def rfv_sd_independent(
    adf_pct: Numeric, ndf_pct: Numeric, adf_sd: Numeric, ndf_sd: Numeric
) -> Numeric:
    """Return the error of relative feed value from that of its two fibers.

    Parameters
    ----------
    adf_pct, ndf_pct : float or array
        Acid and neutral detergent fiber. [% DM]
    adf_sd, ndf_sd : float or array
        Their standard deviations, errors independent. [% DM]

    Returns
    -------
    float or array
        Standard deviation of relative feed value. [-]

    Notes
    -----
    Slopes ``-0.779 DMI / 1.29`` and ``-RFV / NDF``.

    Examples
    --------
    >>> round(rfv_sd_independent(30.0, 40.0, 1.0, 1.4), 2)
    5.63
    """
    return first_order_sd(_rfv_slopes(adf_pct, ndf_pct), (adf_sd, ndf_sd))


def by_slopes(derived: Derived, values: Mapping[str, Measured]) -> Measured:
    """Compute a number and its error by the slopes of its equation.

    Parameters
    ----------
    derived : Derived
        What to compute; it must have slopes.
    values : mapping of str to Measured
        The inputs by name.

    Returns
    -------
    Measured
        The number with an interval even on both sides.

    Raises
    ------
    OutOfRange
        If its equation has no slopes.

    Examples
    --------
    >>> fiber = {"adf": Measured.normal(30.0, 1.0, "%", ""),
    ...          "ndf": Measured.normal(40.0, 1.4, "%", "")}
    >>> round(by_slopes(DERIVED["rfv"], fiber).sd, 2)
    5.63
    """
    if derived.slopes is None:
        raise OutOfRange(f"The error of {derived.words} is found by drawing, not by slopes.")
    inputs = [values[name] for name in derived.inputs]
    center = [one.value for one in inputs]
    sd = float(first_order_sd(derived.slopes(*center), [one.sd for one in inputs]))
    value = float(derived.equation(*center))
    return Measured.normal(value, sd, derived.unit, _reason(inputs, "slopes of the equation"))


def by_draws(derived: Derived, values: Mapping[str, Measured], draws: int = DRAWS) -> Measured:
    """Compute a number and its error by drawing its inputs.

    Parameters
    ----------
    derived : Derived
        What to compute.
    values : mapping of str to Measured
        The inputs by name.
    draws : int
        How often each is drawn, once from each of as many equally likely strata.

    Returns
    -------
    Measured
        The number at the reported inputs, with the interval that holds nine draws of ten.

    Notes
    -----
    Latin hypercube of normal errors with a fixed seed, so that one report always reads the same.
    Draws that a forage cannot have (fiber below 0) and results that are not computable are left
    out.

    Examples
    --------
    >>> protein = {"cp": Measured.normal(18.0, 0.5, "%", ""),
    ...            "adicp": Measured.normal(2.4, 0.3, "%", "")}
    >>> damaged = by_draws(DERIVED["adjusted_cp_pct"], protein)
    >>> round(damaged.value, 1), damaged.high - damaged.value < damaged.value - damaged.low
    (18.0, True)
    """
    inputs = [values[name] for name in derived.inputs]
    results = np.asarray(derived.equation(*drawn(inputs, draws)), dtype=np.float64)
    results = results[np.isfinite(results)]
    value = float(derived.equation(*(one.value for one in inputs)))
    if not results.size:
        raise OutOfRange(f"{derived.words} cannot be computed from these values.")
    low, high = (float(one) for one in np.quantile(results, (0.05, 0.95)))
    sd = float(results.std())
    return Measured(value, sd, low, high, derived.unit, _reason(inputs, f"{draws:,} draws"))


def measured_derived(derived: Derived, values: Mapping[str, Measured]) -> Measured:
    """Compute a number and its error, by slopes where it has them, else by drawing.

    Examples
    --------
    >>> tdn = {"tdn": Measured.normal(55.0, 1.0, "%", "")}
    >>> round(measured_derived(DERIVED["nem_mcal_per_kg"], tdn).sd, 3)
    0.034
    """
    return by_draws(derived, values) if derived.slopes is None else by_slopes(derived, values)


def computable(values: Mapping[str, object]) -> tuple[Derived, ...]:
    """Return the numbers whose inputs are all there, in the order of the table.

    Examples
    --------
    >>> [one.name for one in computable({"ca": 0.4, "p": 0.2})]
    ['ca_to_p_ratio']
    """
    return tuple(one for one in DERIVED.values() if all(name in values for name in one.inputs))


def drawn(inputs: Sequence[Measured], draws: int = DRAWS) -> list[NDArray[np.float64]]:
    """Draw inputs jointly, each stratum of each once; draws below 0 are set aside together.

    Examples
    --------
    >>> cp, ndf = drawn([Measured.normal(12.0, 1.0, "", ""), Measured.normal(60.0, 2.0, "", "")])
    >>> round(float(cp.mean()), 6), round(float(ndf.std()), 2)
    (12.0, 2.0)
    """
    rng = np.random.default_rng(SEED)
    normal = _normal_strata(draws)
    columns = [one.value + one.sd * rng.permutation(normal) for one in inputs]
    possible = np.all([column > 0.0 for column in columns], axis=0)
    return [column[possible] for column in columns]


@cache
def _normal_strata(draws: int) -> NDArray[np.float64]:
    standard = NormalDist()
    return np.array([standard.inv_cdf((i + 0.5) / draws) for i in range(draws)])


def _reason(inputs: Sequence[Measured], way: str) -> str:
    reasons = dict.fromkeys(one.reason for one in inputs if one.reason)
    return "; ".join((*reasons, way))


def _constant(*slopes: float) -> Slopes:
    def fixed(*_: Numeric) -> tuple[Numeric, ...]:
        return slopes

    return fixed


def _rfv_slopes(adf: Numeric, ndf: Numeric) -> tuple[Numeric, ...]:
    intake = dry_matter_intake_pct_bw(ndf)
    per_adf = -DDM_PER_ADF * np.asarray(intake) / FULL_BLOOM_ALFALFA
    return per_adf, -np.asarray(relative_feed_value(adf, ndf)) / ndf


def _ratio_slopes(top: Numeric, bottom: Numeric) -> tuple[Numeric, ...]:
    return 1.0 / np.asarray(bottom), -np.asarray(top) / np.square(bottom)


def _intake_slopes(ndf: Numeric) -> tuple[Numeric, ...]:
    return (-np.asarray(dry_matter_intake_pct_bw(ndf)) / ndf,)


def _net_energy_slopes(cubic: tuple[float, ...], zero_at_tdn: float) -> Slopes:
    def at(tdn: Numeric) -> tuple[Numeric, ...]:
        me = np.asarray(me_from_tdn(tdn))
        rising = cubic[1] + me * (2.0 * cubic[2] + me * 3.0 * cubic[3])
        return (np.where(np.asarray(tdn) > zero_at_tdn, rising * ME_PER_DE * DE_PER_TDN_PCT, 0.0),)

    return at


def _tetany_slopes(k: Numeric, ca: Numeric, mg: Numeric) -> tuple[Numeric, ...]:
    per = MEQ_PER_KG_PER_PCT
    below = per["ca"] * np.asarray(ca) + per["mg"] * np.asarray(mg)
    ratio = per["k"] * np.asarray(k) / below
    return per["k"] / below, -ratio * per["ca"] / below, -ratio * per["mg"] / below


_DM: Final = "% of dry matter"
_MCAL: Final = "Mcal/kg dry matter"
_PARTS: Final = ("cp", "ndf", "lignin", "ash", "ee", "ndicp", "adicp")
_LEGUME: Final = ("cp", "ndf", "ndfd48", "ash", "ee", "ndicp")
_GRASS: Final = ("cp", "adf", "ndf", "ndfd48", "ash", "ee", "ndicp")
_ADF: Final = ("adf",)
_TDN: Final = ("tdn",)

_ALL: Final = (
    Derived(
        "ddm_pct", "digestible dry matter", _DM, _ADF, digestible_dry_matter_pct,
        _constant(-DDM_PER_ADF),
    ),
    Derived("dmi_pct_bw", "intake by NDF", "% of body weight", ("ndf",), dry_matter_intake_pct_bw,
            _intake_slopes),
    Derived("rfv", "relative feed value", "", ("adf", "ndf"), relative_feed_value, _rfv_slopes),
    Derived("rfq_legume", "relative forage quality", "", _LEGUME, relative_forage_quality_legume),
    Derived("rfq_grass", "relative forage quality", "", _GRASS, relative_forage_quality_grass),
    Derived("tdn_western_alfalfa_100", "TDN", _DM, _ADF, tdn_western_alfalfa_100,
            _constant(-WESTERN_PER_ADF)),
    Derived("tdn_midwest", "TDN", _DM, _ADF, tdn_midwest, _constant(-MIDWEST_PER_ADF)),
    Derived("tdn_midwest_corn_silage", "TDN", _DM, _ADF, tdn_midwest_corn_silage,
            _constant(-MIDWEST_CORN_SILAGE_PER_ADF)),
    Derived("tdn_oklahoma", "TDN", _DM, _ADF, tdn_oklahoma, _constant(-OKLAHOMA_PER_ADF)),
    Derived("tdn_penn_state_legume", "TDN", _DM, _ADF, tdn_penn_state_legume,
            _constant(-PENN_TDN_PER_NEL * PENN_LEGUME_PER_ADF)),
    Derived("tdn_penn_state_grass", "TDN", _DM, _ADF, tdn_penn_state_grass,
            _constant(-PENN_TDN_PER_NEL * PENN_GRASS_PER_ADF)),
    Derived("tdn_southeast_warm_grass", "TDN", _DM, ("cp", "adf", "ndf"), tdn_southeast_warm_grass,
            _constant(SOUTHEAST_PER_CP, SOUTHEAST_PER_ADF, SOUTHEAST_PER_NDF)),
    Derived("tdn_nrc_2001", "TDN", _DM, _PARTS, tdn_nrc2001),
    Derived("de_nrc_2001", "digestible energy", _MCAL, _PARTS, de_nrc2001),
    Derived("tdn_rfq_legume", "TDN", _DM, _LEGUME, tdn_rfq_legume),
    Derived("tdn_rfq_grass", "TDN", _DM, _LEGUME, tdn_rfq_grass),
    Derived("nfc_pct", "non-fiber carbohydrate", _DM, ("cp", "ndf", "ee", "ash", "ndicp"), nfc_pct,
            _constant(-1.0, -1.0, -1.0, -1.0, 1.0)),
    Derived("nsc_pct", "non-structural carbohydrate", _DM, ("starch", "wsc"), nsc_pct,
            _constant(1.0, 1.0)),
    Derived("available_cp_pct", "available protein", _DM, ("cp", "adicp"), available_cp_pct,
            _constant(1.0, -1.0)),
    Derived("adjusted_cp_pct", "protein adjusted for heat damage", _DM, ("cp", "adicp"),
            adjusted_cp_pct),
    Derived("ca_to_p_ratio", "calcium to phosphorus", "to 1", ("ca", "p"), ca_to_p_ratio,
            _ratio_slopes),
    Derived("dcad_meq_per_kg", "cation-anion difference", "meq/kg dry matter",
            ("na", "k", "cl", "s"), dcad_meq_per_kg,
            _constant(MEQ_PER_KG_PER_PCT["na"], MEQ_PER_KG_PER_PCT["k"],
                      -MEQ_PER_KG_PER_PCT["cl"], -MEQ_PER_KG_PER_PCT["s"])),
    Derived("tetany_ratio", "grass tetany ratio", "charges", ("k", "ca", "mg"), tetany_ratio,
            _tetany_slopes),
    Derived("horse_de_pagan_mcal_per_kg", "digestible energy for horses", _MCAL,
            ("cp", "adf", "ndf", "ee", "ash"), horse_de_pagan),
    Derived("horse_de_nrc_mcal_per_kg", "digestible energy for horses", _MCAL, ("adf", "cp"),
            horse_de_nrc),
    Derived("de_mcal_per_kg", "digestible energy", _MCAL, _TDN, de_from_tdn,
            _constant(DE_PER_TDN_PCT)),
    Derived("me_mcal_per_kg", "metabolizable energy", _MCAL, _TDN, me_from_tdn,
            _constant(DE_PER_TDN_PCT * ME_PER_DE)),
    Derived("nem_mcal_per_kg", "net energy for maintenance", _MCAL, _TDN, nem_from_tdn,
            _net_energy_slopes(NEM_CUBIC, NEM_ZERO_AT_TDN_PCT)),
    Derived("neg_mcal_per_kg", "net energy for gain", _MCAL, _TDN, neg_from_tdn,
            _net_energy_slopes(NEG_CUBIC, NEG_ZERO_AT_TDN_PCT)),
    Derived("nel_mcal_per_kg", "net energy for lactation", _MCAL, _TDN, nel_from_tdn,
            _constant(NEL_PER_TDN_PCT)),
)  # fmt: skip
#: Every derived number by name. A number whose name begins with ``tdn_`` is one method of TDN.
DERIVED: Final[dict[str, Derived]] = {one.name: one for one in _ALL}
