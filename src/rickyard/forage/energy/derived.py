"""Every index and energy that follows from one report, each labelled with its method.

What a laboratory printed and what is computed here stay two numbers: nothing here overwrites a
printed value. A value outside the range that its equation was made for is marked, not clipped.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from rickyard.farm import Forage
from rickyard.forage.energy.energy import (
    NEG_ZERO_AT_TDN_PCT,
    NEM_ZERO_AT_TDN_PCT,
    de_from_tdn,
    me_from_tdn,
    me_hales2019,
    me_hales2022,
    neg_from_tdn,
    nel_from_tdn,
    nem_from_tdn,
)
from rickyard.forage.energy.horse_energy import horse_de_from_tdn, horse_de_nrc, horse_de_pagan
from rickyard.forage.energy.indices import (
    NOT_FOR_RFV,
    ca_to_p_ratio,
    nfc_pct,
    nsc_pct,
    relative_feed_value,
    relative_forage_quality_grass,
    relative_forage_quality_legume,
)
from rickyard.forage.energy.summative import PAF_CORN_SILAGE, PAF_HAY, de_nrc2001
from rickyard.forage.energy.tdn_compare import LEGUMES, summative_parts, tdn_by_method
from rickyard.forage.values import adjusted_cp_pct, available_cp_pct, dcad_meq_per_kg, tetany_ratio
from rickyard.quantities import OutOfRange

# Ranges that the equations are meant for; judgement, no published source.
RFV_RANGES: Final = {"adf": (18.0, 55.0), "ndf": (25.0, 80.0)}
RFQ_RANGES: Final = {"ndfd48": (30.0, 75.0), "cp": (4.0, 26.0), "adf": (22.0, 50.0)}
ME_RANGE_MCAL_PER_KG: Final = (1.6, 3.4)


@dataclass(frozen=True, slots=True)
class DerivedValue:
    """One computed value: what it is, in which unit, by which method.

    ``extrapolated`` says that an input lies outside the range of the equation.
    """

    name: str
    words: str
    value: float
    unit: str
    method: str
    source: str
    extrapolated: bool = False


@dataclass(frozen=True, slots=True)
class _Recipe:
    name: str
    words: str
    unit: str
    method: str
    source: str
    needs: tuple[str, ...]
    compute: Callable[..., float]
    wishes: tuple[str, ...] = ()
    ranges: Mapping[str, tuple[float, float]] | None = None
    forages: frozenset[Forage] = frozenset(Forage)


_PCT: Final = "% of dry matter"
_ENERGY: Final = "Mcal/kg dry matter"
_BY_DIFFERENCE: Final = ("cp", "ndf", "ee", "ash")
_ROHWEDER: Final = "Rohweder, Barnes & Jorgensen 1978"
_MOORE: Final = "Moore & Undersander 2002, University of Wisconsin Extension"
_NOT_CORN: Final = frozenset(Forage) - {Forage.CORN_SILAGE}

_RECIPES: Final = (
    _Recipe(
        "rfv", "relative feed value", "index", "from ADF and NDF", _ROHWEDER,
        ("adf", "ndf"), relative_feed_value,
        ranges=RFV_RANGES, forages=frozenset(Forage) - NOT_FOR_RFV,
    ),
    _Recipe(
        "rfq", "relative forage quality", "index", "legume form, 48-hour digestibility", _MOORE,
        ("cp", "ndf", "ndfd48", "ash"), relative_forage_quality_legume,
        ("ee", "ndicp"), RFQ_RANGES, LEGUMES,
    ),
    _Recipe(
        "rfq", "relative forage quality", "index", "grass form, 48-hour digestibility", _MOORE,
        ("cp", "adf", "ndf", "ndfd48", "ash"), relative_forage_quality_grass,
        ("ee", "ndicp"), RFQ_RANGES, _NOT_CORN - LEGUMES,
    ),
    _Recipe(
        "nfc", "non-fiber carbohydrate", _PCT, "by difference, fiber-bound protein added back",
        "Convention of NRC 2001", (*_BY_DIFFERENCE, "ndicp"), nfc_pct,
    ),
    _Recipe(
        "nfc_older", "non-fiber carbohydrate", _PCT,
        "by difference, fiber-bound protein not added back",
        "Older convention", _BY_DIFFERENCE, nfc_pct,
    ),
    _Recipe(
        "nsc", "non-structural carbohydrate", _PCT, "starch and water-soluble carbohydrate",
        "Convention of horse forage laboratories", ("starch", "wsc"), nsc_pct,
    ),
    _Recipe(
        "available_cp", "available protein", _PCT, "protein less bound protein",
        "Definition", ("cp", "adicp"), available_cp_pct,
    ),
    _Recipe(
        "adjusted_cp", "protein adjusted for heat damage", _PCT, "three-step rule from 14%",
        "Practice of forage laboratories, from memory", ("cp", "adicp"), adjusted_cp_pct,
    ),
    _Recipe(
        "dcad", "cation-anion difference", "meq/kg dry matter", "Na + K - Cl - S",
        "Oetzel 1993", ("na", "k", "cl", "s"), dcad_meq_per_kg,
    ),
    _Recipe(
        "tetany", "tetany ratio", "ratio of charges", "K / (Ca + Mg)",
        "Oetzel 1993", ("k", "ca", "mg"), tetany_ratio,
    ),
    _Recipe(
        "ca_p", "calcium to phosphorus", "ratio of masses", "Ca / P",
        "Definition", ("ca", "p"), ca_to_p_ratio,
    ),
    _Recipe(
        "horse_de", "digestible energy for horses", _ENERGY, "from the whole composition",
        "Pagan 1998, from memory", ("cp", "adf", "ndf", "ee", "ash"), horse_de_pagan,
    ),
    _Recipe(
        "horse_de_nrc", "digestible energy for horses", _ENERGY,
        "from ADF and protein, ash ignored",
        "NRC horses 1989 and 2007, from memory", ("adf", "cp"), horse_de_nrc,
    ),
)  # fmt: skip


def _de(tdn_pct: float) -> float:
    return float(de_from_tdn(tdn_pct))


def _me_2022(tdn_pct: float) -> float:
    return float(me_hales2022(_de(tdn_pct)))


def _me_2019(tdn_pct: float) -> float:
    return float(me_hales2019(_de(tdn_pct)))


_BY_TDN: Final = (
    ("de", "digestible energy", "4.409 Mcal per kg of TDN", de_from_tdn),
    ("me", "metabolizable energy", "82% of digestible energy", me_from_tdn),
    ("me_hales2022", "metabolizable energy", "less 0.39 (Hales 2022)", _me_2022),
    ("me_hales2019", "metabolizable energy", "curve (Hales 2019)", _me_2019),
    ("nem", "net energy for maintenance", "82% route and Garrett's cubic", nem_from_tdn),
    ("neg", "net energy for gain", "82% route and Garrett's cubic", neg_from_tdn),
    ("nel", "net energy for lactation", "0.0245 TDN - 0.12 (NRC 1989)", nel_from_tdn),
    ("horse_de_tdn", "digestible energy for horses", "0.044 per % TDN", horse_de_from_tdn),
)


def derived_values(
    forage: Forage, values: Mapping[str, float], tdn_pct: float | None = None
) -> tuple[DerivedValue, ...]:
    """Compute every index and energy that the values of a report allow.

    Parameters
    ----------
    forage : Forage
        What the sample is made of; it decides which equations are meant for it.
    values : mapping of str to float
        Usable values by name. [% DM; ppm DM]
    tdn_pct : float, optional
        TDN that the energies follow from: the printed one, or that chosen for the lot. [% DM]

    Returns
    -------
    tuple of DerivedValue
        Indices, then TDN by every method that fits, then the energies of ``tdn_pct``. What
        cannot be computed is left out: relative forage quality without ash or 48-hour
        digestibility, for example, and never by a default.

    Examples
    --------
    >>> found = derived_values(Forage.ALFALFA, {"adf": 30.0, "ndf": 40.0}, 60.0)
    >>> [(one.name, round(one.value, 2)) for one in found if one.name in ("rfv", "nem")]
    [('rfv', 152.4), ('nem', 1.31)]
    """
    return (
        *_indices(forage, values),
        *_tdns(forage, values),
        *_summative_energy(forage, values),
        *(() if tdn_pct is None else _energies(tdn_pct)),
    )


def _indices(forage: Forage, values: Mapping[str, float]) -> Iterator[DerivedValue]:
    for recipe in _RECIPES:
        if forage not in recipe.forages or any(name not in values for name in recipe.needs):
            continue
        inputs = [values[name] for name in recipe.needs]
        wished = [values.get(name) for name in recipe.wishes]
        try:
            value = float(recipe.compute(*inputs, *wished))
        except OutOfRange:
            continue  # a value that no forage has: a plausibility rule tells it
        if math.isfinite(value):
            yield DerivedValue(
                recipe.name,
                recipe.words,
                value,
                recipe.unit,
                recipe.method,
                recipe.source,
                _is_outside(values, recipe.ranges or {}),
            )


def _is_outside(values: Mapping[str, float], ranges: Mapping[str, tuple[float, float]]) -> bool:
    return any(
        name in values and not low <= values[name] <= high for name, (low, high) in ranges.items()
    )


def _tdns(forage: Forage, values: Mapping[str, float]) -> Iterator[DerivedValue]:
    for method, tdn in tdn_by_method(forage, values).items():
        yield DerivedValue(
            f"tdn_{method.value}",
            "total digestible nutrients (TDN)",
            tdn,
            _PCT,
            method.label,
            "Equation named in the method",
            _is_outside(values, {"adf": RFV_RANGES["adf"]}),
        )


def _summative_energy(forage: Forage, values: Mapping[str, float]) -> Iterator[DerivedValue]:
    parts = summative_parts(values)
    if parts is None:
        return
    paf = PAF_CORN_SILAGE if forage is Forage.CORN_SILAGE else PAF_HAY
    try:
        energy = float(de_nrc2001(*parts, paf))
    except OutOfRange:
        return
    yield DerivedValue(
        "de_nrc2001",
        "digestible energy at maintenance",
        energy,
        _ENERGY,
        "by the summative equation (NRC 2001)",
        "NRC 2001, ch. 2, from memory",
    )


def _energies(tdn_pct: float) -> Iterator[DerivedValue]:
    me = float(me_from_tdn(tdn_pct))
    low, high = ME_RANGE_MCAL_PER_KG
    for name, words, method, compute in _BY_TDN:
        zero = {"nem": NEM_ZERO_AT_TDN_PCT, "neg": NEG_ZERO_AT_TDN_PCT}.get(name, 0.0)
        cubic = name in ("nem", "neg")
        outside = cubic and not low <= me <= high
        yield DerivedValue(
            name,
            words,
            float(compute(tdn_pct)),
            _ENERGY,
            f"from TDN: {method}",
            "NRC 1996 and the source named in the method",
            outside or tdn_pct < zero,
        )
