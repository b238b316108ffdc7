"""TDN of a sample by every method that fits it, and lots compared by one method only.

The methods differ by several points on one sample: a lot ranked above another by TDNs of two
methods may lie below it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np

from rickyard.farm import Forage
from rickyard.forage.energy.summative import (
    paf_of,
    tdn_nrc2001,
    tdn_rfq_grass,
    tdn_rfq_legume,
)
from rickyard.forage.energy.tdn import (
    SOUTHEAST_SOURCE,
    FiberLine,
    TdnMethod,
    tdn_midwest,
    tdn_midwest_corn_silage,
    tdn_oklahoma,
    tdn_penn_state_corn_silage,
    tdn_penn_state_grass,
    tdn_penn_state_legume,
    tdn_southeast_warm_grass,
    tdn_western_alfalfa_90,
    tdn_western_alfalfa_100,
)
from rickyard.quantities import Numeric, OutOfRange

LEGUMES: Final = frozenset({Forage.ALFALFA, Forage.CLOVER, Forage.LEGUME_GRASS})
WARM_GRASSES: Final = frozenset({Forage.WARM_GRASS, Forage.SUMMER_ANNUAL, Forage.PRAIRIE})
CORN: Final = frozenset({Forage.CORN_SILAGE})
#: An alfalfa equation is not used on warm-season grass; judgement, no published
#: source.
COOL_GRASSES: Final = frozenset(Forage) - LEGUMES - WARM_GRASSES - CORN
_SUM: Final = ("cp", "ndf", "lignin", "ash")
_RFQ: Final = ("cp", "ndf", "ndfd48", "ash")


class Regression(NamedTuple):
    """A TDN by regression on fiber: the forages it is meant for, its inputs and who prints it."""

    forages: frozenset[Forage]
    needs: tuple[str, ...]
    equation: Callable[..., Numeric]
    source: str


def _on_fiber(forages: frozenset[Forage], line: FiberLine) -> Regression:
    return Regression(forages, ("adf",), line, line.source)


REGRESSIONS: Final[dict[TdnMethod, Regression]] = {
    TdnMethod.WESTERN_ALFALFA_100: _on_fiber(LEGUMES, tdn_western_alfalfa_100),
    TdnMethod.WESTERN_ALFALFA_90: Regression(
        LEGUMES, ("adf",), tdn_western_alfalfa_90, tdn_western_alfalfa_100.source
    ),
    TdnMethod.MIDWEST: _on_fiber(LEGUMES | COOL_GRASSES, tdn_midwest),
    TdnMethod.OKLAHOMA: _on_fiber(LEGUMES, tdn_oklahoma),
    TdnMethod.PENN_STATE_LEGUME: _on_fiber(LEGUMES, tdn_penn_state_legume),
    TdnMethod.PENN_STATE_GRASS: _on_fiber(COOL_GRASSES, tdn_penn_state_grass),
    TdnMethod.SOUTHEAST_WARM_GRASS: Regression(
        WARM_GRASSES, ("cp", "adf", "ndf"), tdn_southeast_warm_grass, SOUTHEAST_SOURCE
    ),
    TdnMethod.MIDWEST_CORN_SILAGE: _on_fiber(CORN, tdn_midwest_corn_silage),
    TdnMethod.PENN_STATE_CORN_SILAGE: _on_fiber(CORN, tdn_penn_state_corn_silage),
}
#: What lots are compared by, best first. The 90 % line is the western one restated.
PREFERRED: Final = (
    TdnMethod.NRC_2001,
    TdnMethod.RFQ_LEGUME,
    TdnMethod.RFQ_GRASS,
    TdnMethod.MIDWEST,
    TdnMethod.WESTERN_ALFALFA_100,
    TdnMethod.PENN_STATE_LEGUME,
    TdnMethod.PENN_STATE_GRASS,
    TdnMethod.SOUTHEAST_WARM_GRASS,
    TdnMethod.MIDWEST_CORN_SILAGE,
    TdnMethod.OKLAHOMA,
    TdnMethod.PENN_STATE_CORN_SILAGE,
)


@dataclass(frozen=True, slots=True)
class TdnComparison:
    """Lots ranked by TDN of one method, richest first; empty where no method fits all.

    ``sentence`` says by which method, or why they cannot be compared.
    """

    method: TdnMethod | None
    ranked: tuple[tuple[str, float], ...]
    sentence: str


def tdn_by_method(forage: Forage, values: Mapping[str, float]) -> dict[TdnMethod, float]:
    """Compute the TDN of a sample by every method that is meant for its forage.

    A method whose inputs are not given is left out. [% DM; the western line at 90 % dry matter:
    % of hay at 90 % dry matter]

    >>> by = tdn_by_method(Forage.ALFALFA, {"adf": 30.0})
    >>> round(by[TdnMethod.WESTERN_ALFALFA_100], 1), round(by[TdnMethod.MIDWEST], 1)
    (59.8, 65.5)
    """
    found: dict[TdnMethod, float] = {}
    parts = summative_parts(values)
    if parts is not None:
        with suppress(OutOfRange):  # parts that cannot belong together: the method is left out
            found[TdnMethod.NRC_2001] = float(tdn_nrc2001(*parts, paf_of(forage)))
    if all(name in values for name in _RFQ) and forage not in CORN:
        legume = forage in LEGUMES
        equation = tdn_rfq_legume if legume else tdn_rfq_grass
        method = TdnMethod.RFQ_LEGUME if legume else TdnMethod.RFQ_GRASS
        rfq_parts = [values.get(name) for name in (*_RFQ, "ee", "ndicp")]
        found[method] = float(equation(*rfq_parts))
    for method, one in REGRESSIONS.items():
        if forage in one.forages and all(name in values for name in one.needs):
            found[method] = float(one.equation(*(values[name] for name in one.needs)))
    return {method: tdn for method, tdn in found.items() if np.isfinite(tdn)}


def summative_parts(
    values: Mapping[str, float],
) -> tuple[float, float, float, float, float | None, float | None, float | None] | None:
    """Return the inputs of the NRC 2001 sum in its order, or ``None`` where one is not given.

    >>> summative_parts({"cp": 20.0, "ndf": 42.0, "lignin": 7.0, "ash": 10.0})
    (20.0, 42.0, 7.0, 10.0, None, None, None)
    """
    if any(name not in values for name in _SUM):
        return None
    cp, ndf, lignin, ash = (values[name] for name in _SUM)
    return cp, ndf, lignin, ash, values.get("ee"), values.get("ndicp"), values.get("adicp")


def rank_by_tdn(
    lots: Sequence[tuple[str, Forage, Mapping[str, float]]],
) -> tuple[TdnComparison, ...]:
    """Rank lots by TDN in as few groups as share one method; none is set against another's.

    Parameters
    ----------
    lots : sequence of (str, Forage, mapping)
        Name, forage and values of each lot. [% DM]

    Returns
    -------
    tuple of TdnComparison
        Groups of two and more, the largest first. A lot that shares its method with no other
        is in none. [% DM]

    Examples
    --------
    >>> lots = [("Barn", Forage.ALFALFA, {"adf": 30.0}),
    ...         ("Creek", Forage.COOL_GRASS, {"adf": 38.0}),
    ...         ("Flat", Forage.WARM_GRASS, {"adf": 36.0, "cp": 10.0, "ndf": 70.0})]
    >>> [[name for name, _ in group.ranked] for group in rank_by_tdn(lots)]
    [['Barn', 'Creek']]
    """
    left = [(lot, set(tdn_by_method(lot[1], lot[2]))) for lot in lots]
    groups = []
    while left:
        method = max(PREFERRED, key=lambda one: sum(one in found for _, found in left))
        mine = [lot for lot, found in left if method in found]
        if len(mine) < 2:
            break
        ranked = sorted(
            ((name, tdn_by_method(forage, values)[method]) for name, forage, values in mine),
            key=lambda one: -one[1],
        )
        ranks = "; ".join(f"{name} {tdn:.1f}" for name, tdn in ranked)
        groups.append(
            TdnComparison(
                method,
                tuple(ranked),
                f"TDN {method.label}, % of dry matter, highest first: {ranks}.",
            )
        )
        left = [(lot, found) for lot, found in left if method not in found]
    return tuple(groups)
