"""Which TDN to count for a lot, and the net energy that goes with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from rickyard.farm import Assumption, Forage
from rickyard.forage.energy.energy import NEG_ZERO_AT_TDN_PCT, neg_from_tdn, nem_from_tdn
from rickyard.forage.energy.tdn import TdnMethod
from rickyard.forage.energy.tdn_compare import REGRESSIONS, tdn_by_method
from rickyard.forage.values import book_value

NRC_SOURCE: Final = "NRC 2001, Nutrient Requirements of Dairy Cattle, ch. 2 (from memory)"
#: A laboratory's net energy is told when it lies further than this from the computed one; labs
#: discount in ways they do not print. Judgement, no published source.
NET_ENERGY_TOLERANCE_PCT: Final = 15.0
#: Acid detergent fiber for which the regressions are meant. [% DM]
REGRESSION_ADF_RANGE_PCT: Final = (18.0, 55.0)

#: The regression that fits each class. A legume-grass mixture takes the alfalfa equation, which
#: reads up to 6 points below the Midwest one and so errs on the side of the animal. Straw takes
#: the grass equation, beyond the forages it was fitted to.
REGRESSION_OF: Final[dict[Forage, TdnMethod]] = {
    Forage.ALFALFA: TdnMethod.WESTERN_ALFALFA_100,
    Forage.CLOVER: TdnMethod.WESTERN_ALFALFA_100,
    Forage.LEGUME_GRASS: TdnMethod.WESTERN_ALFALFA_100,
    Forage.COOL_GRASS: TdnMethod.PENN_STATE_GRASS,
    Forage.ANNUAL_RYEGRASS: TdnMethod.PENN_STATE_GRASS,
    Forage.SMALL_GRAIN: TdnMethod.PENN_STATE_GRASS,
    Forage.STRAW: TdnMethod.PENN_STATE_GRASS,
    Forage.WARM_GRASS: TdnMethod.SOUTHEAST_WARM_GRASS,
    Forage.SUMMER_ANNUAL: TdnMethod.SOUTHEAST_WARM_GRASS,
    Forage.PRAIRIE: TdnMethod.SOUTHEAST_WARM_GRASS,
    Forage.CORN_SILAGE: TdnMethod.MIDWEST_CORN_SILAGE,
}


@dataclass(frozen=True, slots=True)
class LotEnergy:
    """The TDN and net energy counted for a lot, with where they come from."""

    tdn_pct: float
    method: TdnMethod
    label: str
    origin: str
    source: str
    nem_mcal_per_kg: float
    neg_mcal_per_kg: float
    assumptions: tuple[Assumption, ...]


def lot_energy(
    name: str, forage: Forage, values: Mapping[str, float], printed_method: str = ""
) -> LotEnergy:
    """Choose the TDN of a lot and compute its net energy.

    Parameters
    ----------
    name : str
        What the lot is called, for the sentences.
    forage : Forage
        What it is made of.
    values : mapping
        Usable laboratory values by name. [% DM; Mcal/kg DM]
    printed_method : str
        How the laboratory says that it computed TDN.

    Returns
    -------
    LotEnergy
        The laboratory's TDN where printed, else the sum of digestible parts, else the
        regression that fits the forage, else the book value. Net energy always follows from the
        TDN by the 82 % route. [% DM; Mcal/kg DM]

    Examples
    --------
    >>> energy = lot_energy("Barn hay", Forage.COOL_GRASS, {"adf": 36.0})
    >>> round(energy.tdn_pct, 1), energy.label
    (61.5, 'from ADF by the Penn State grass equation')
    """
    tdn, method, source = _choose(forage, values)
    label, origin = method.label, "computed"
    if method is TdnMethod.AS_PRINTED:
        label += f" ({printed_method})" if printed_method else ""
        origin = "lab"
    elif method is TdnMethod.BOOK:
        origin = "book"
    nem, neg = float(nem_from_tdn(tdn)), float(neg_from_tdn(tdn))
    assumptions = [
        *_computed(name, forage, values, tdn, method, source),
        *_printed_net_energy(name, values, {"nem": nem, "neg": neg}),
        *_without_gain(name, tdn),
    ]
    return LotEnergy(tdn, method, label, origin, source, nem, neg, tuple(assumptions))


def _choose(forage: Forage, values: Mapping[str, float]) -> tuple[float, TdnMethod, str]:
    if "tdn" in values:
        return values["tdn"], TdnMethod.AS_PRINTED, "Laboratory report"
    # Fiber that no forage holds would give less than nothing: the next way stands in.
    by = {method: tdn for method, tdn in tdn_by_method(forage, values).items() if tdn > 0.0}
    if TdnMethod.NRC_2001 in by:
        return by[TdnMethod.NRC_2001], TdnMethod.NRC_2001, NRC_SOURCE
    method = REGRESSION_OF[forage]
    if method in by:
        return by[method], method, REGRESSIONS[method].source
    book = book_value(forage, "tdn_pct")
    return book.value, TdnMethod.BOOK, book.source


def _computed(
    name: str,
    forage: Forage,
    values: Mapping[str, float],
    tdn: float,
    method: TdnMethod,
    source: str,
) -> list[Assumption]:
    if method in (TdnMethod.AS_PRINTED, TdnMethod.BOOK):
        return []
    sentence = (
        f"The report on {name} prints no TDN; {tdn:.1f}% in the dry matter is {method.label}."
    )
    low, high = REGRESSION_ADF_RANGE_PCT
    if method is not TdnMethod.NRC_2001 and not low <= values["adf"] <= high:
        sentence += f" Its ADF of {values['adf']:.1f}% is outside {low:g}-{high:g}%: extrapolated."
    if forage is Forage.STRAW and method is not TdnMethod.NRC_2001:
        sentence += " The equation was not made for straw or stalks: extrapolated."
    return [Assumption(sentence, source)]


def _printed_net_energy(
    name: str, values: Mapping[str, float], computed: Mapping[str, float]
) -> list[Assumption]:
    notes = []
    for key, word in (("nem", "maintenance"), ("neg", "gain")):
        if key not in values or computed[key] <= 0.0:
            continue
        off = 100.0 * (values[key] / computed[key] - 1.0)
        if abs(off) > NET_ENERGY_TOLERANCE_PCT:
            notes.append(
                Assumption(
                    f"The lab prints net energy for {word} of {values[key]:.2f} Mcal/kg dry "
                    f"matter for {name}, {abs(off):.0f}% {'above' if off > 0 else 'below'} the "
                    f"{computed[key]:.2f} Mcal/kg that its TDN gives; the latter is counted.",
                    "NRC 1996 (82% of digestible energy) and Garrett's equations",
                )
            )
    return notes


def _without_gain(name: str, tdn: float) -> list[Assumption]:
    if tdn >= NEG_ZERO_AT_TDN_PCT:
        return []
    return [
        Assumption(
            f"With {tdn:.1f}% TDN in the dry matter, {name} is counted as holding no net energy "
            f"for gain; the equation turns negative below {NEG_ZERO_AT_TDN_PCT}%.",
            "Garrett's equations, NRC Nutrient Requirements of Beef Cattle",
        )
    ]
