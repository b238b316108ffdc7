"""How many bales to core: the published protocol and the common practice, side by side."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from rickyard.hay.common import require_between, require_not_negative
from rickyard.hay.precision import (
    Spread,
    composite_variance,
    core_sd,
    critical_difference,
    samples_required,
    two_sided_z,
)
from rickyard.hay.sampling.cores import (
    PRACTICE_CORES,
    PROTOCOL_CORES,
    cores_for_patches,
    cores_per_bale,
)

#: Share of the variance from core to core that lies within bales. Judgement: the two
#: published studies differ (California: more within one-ton bales; Sheaffer 2000: no pattern).
WITHIN_SHARE: Final = 0.5
#: Confidence at which precision is told.
CONFIDENCE: Final = 0.90

#: What coring costs: common practice, no published source.
MINUTES_PER_CORE: Final = 3.0
USD_PER_HOUR: Final = 20.0
#: Postage of one sample (Univ. Georgia price list).
POSTAGE_USD: Final = 4.0


@dataclass(frozen=True, slots=True)
class Effort:
    """What a sample costs beside the laboratory's fee."""

    minutes_per_core: float = MINUTES_PER_CORE
    usd_per_hour: float = USD_PER_HOUR
    postage_usd: float = POSTAGE_USD


@dataclass(frozen=True, slots=True)
class Protocol:
    """One way to sample a lot, how sure its protein result is, and what it costs.

    ``same_lab`` and ``any_lab`` are half the width of the 90 % interval, in percent of dry
    matter: to compare lots in one laboratory, and against the truth or another laboratory.
    """

    name: str
    source: str
    bales: int
    cores_a_bale: int
    same_lab: float
    any_lab: float
    price_usd: float

    @property
    def cores(self) -> int:
        """Return the cores of the whole sample."""
        return self.bales * self.cores_a_bale

    @property
    def act_on(self) -> tuple[float, float]:
        """Return the least difference between two such tests to act upon, 95 % confidence.

        For two lots tested in one laboratory, and for tests of two laboratories.
        """
        z = two_sided_z(CONFIDENCE)
        errors = ((half / z) ** 2 for half in (self.same_lab, self.any_lab))
        same, other = (float(critical_difference(one, one)) for one in errors)
        return same, other


def protocol(
    name: str,
    source: str,
    cores: int,
    bales_in_lot: int,
    spread: Spread,
    fee_usd: float = 0.0,
    effort: Effort | None = None,
) -> Protocol:
    """Work out one way to sample a lot: bales, cores, precision and price.

    The spread is of the analyte by which ways are compared, usually protein.

    Examples
    --------
    >>> from rickyard.hay.precision.farm_variance import spread_of
    >>> strict = protocol("protocol", "", 20, 200, spread_of("cp"), 16.0)
    >>> strict.bales, round(strict.same_lab, 2), strict.price_usd
    (20, 0.87, 40.0)
    """
    require_between("bales", bales_in_lot, 1, math.inf, "")
    require_not_negative("fee", fee_usd, "$")
    cost = effort or Effort()
    each = cores_per_bale(bales_in_lot, cores)
    bales = min(cores, bales_in_lot)
    core = core_sd(spread.observed, spread.repeat)
    between, within = core * math.sqrt(1.0 - WITHIN_SHARE), core * math.sqrt(WITHIN_SHARE)
    z = two_sided_z(CONFIDENCE)

    def half_width(bias: float) -> float:
        variance = composite_variance(
            between, within, spread.one_lab, bales,
            cores_a_bale=each, bales_in_lot=bales_in_lot, lab_bias_sd=bias,
        )  # fmt: skip
        return float(z * math.sqrt(variance))

    hours = bales * each * cost.minutes_per_core / 60.0
    price = fee_usd + cost.postage_usd + hours * cost.usd_per_hour
    return Protocol(name, source, bales, each, half_width(0.0), half_width(spread.bias), price)


def protocols_for(
    bales_in_lot: int,
    spread: Spread,
    *,
    fee_usd: float = 0.0,
    effort: Effort | None = None,
    patchy: bool = False,
    within: float | None = None,
    composites: int = 1,
) -> tuple[Protocol, ...]:
    """Set the ways to sample a lot side by side, the one to follow first.

    Parameters
    ----------
    bales_in_lot : int
        Bales that can be cored. [-]
    spread : Spread
        Standard deviations of protein in the lot.
    fee_usd : float
        The laboratory's fee. [$]
    effort : Effort, optional
        What coring and mailing cost.
    patchy : bool
        Whether a hazard such as nitrate lies in patches: then a fifth of the bales at least.
    within : float, optional
        Half width of the 90 % interval that is wanted, from sampling alone, above zero.
        [% of dry matter]
    composites : int
        Samples among which the fifth of the bales is shared. [-]

    Returns
    -------
    tuple of Protocol
        Of each sample: what was asked for, if anything; the published protocol; the common
        practice.

    Examples
    --------
    >>> from rickyard.hay.precision.farm_variance import spread_of
    >>> [(one.name, one.cores) for one in protocols_for(128, spread_of("cp"))]
    [('published protocol', 20), ('common practice', 12)]
    >>> protocols_for(150, spread_of("cp"), patchy=True)[0].cores
    30
    """
    wanted: list[tuple[str, str, int]] = []
    if within is not None:
        core = float(core_sd(spread.observed, spread.repeat))
        count = samples_required(core, within, CONFIDENCE, bales_in_lot)
        wanted.append((f"within {within:g} points", "derived, see samples_required", count))
    if patchy:
        shared = math.ceil(cores_for_patches(bales_in_lot) / composites)
        count = max(PROTOCOL_CORES, shared)
        wanted.append(("patchy hazard", "Kansas State: at least 20% of the bales", count))
    wanted.append(
        (
            "published protocol",
            "Putnam & Orloff, National Forage Testing Association",
            PROTOCOL_CORES,
        )
    )
    wanted.append(
        ("common practice", "10 to 12 bales: Missouri (Ellis); horse hay", PRACTICE_CORES)
    )
    return tuple(
        protocol(name, source, cores, bales_in_lot, spread, fee_usd, effort)
        for name, source, cores in wanted
    )
