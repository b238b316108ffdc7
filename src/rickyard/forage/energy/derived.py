"""Every index and energy that follows from one report, each labelled with its method.

What a laboratory printed and what is computed here stay two numbers: nothing here overwrites a
printed value. A value outside the range that its equation was made for is marked, not clipped.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Final

from rickyard.farm import Forage
from rickyard.forage.energy.dairy_energy import (
    fiber_digestibility_nasem2021,
    me_nrc2001,
    nel_nrc2001,
    residual_organic_matter_pct,
)
from rickyard.forage.energy.energy import (
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
    digestible_dry_matter_pct,
    dry_matter_intake_pct_bw,
    nfc_pct,
    nsc_pct,
    relative_feed_value,
    relative_forage_quality_grass,
    relative_forage_quality_legume,
)
from rickyard.forage.energy.summative import (
    PAF_CORN_SILAGE,
    de_nrc2001,
    tdn_nrc2001,
    tdn_rfq_grass,
    tdn_rfq_legume,
)
from rickyard.forage.energy.tdn import TdnMethod
from rickyard.forage.energy.tdn_compare import CORN, LEGUMES, REGRESSIONS, tdn_by_method
from rickyard.forage.values import (
    adjusted_cp_pct,
    available_cp_pct,
    bound_share_pct_of_cp,
    dcad_meq_per_kg,
    tetany_ratio,
)
from rickyard.quantities import Numeric, OutOfRange

# Ranges that the equations are meant for; judgement, no published source.
RFV_RANGES: Final = {"adf": (18.0, 55.0), "ndf": (25.0, 80.0)}
RFQ_RANGES: Final = {"ndfd48": (30.0, 75.0), "cp": (4.0, 26.0), "adf": (22.0, 50.0)}
ME_RANGE_MCAL_PER_KG: Final = (1.6, 3.4)


@dataclass(frozen=True, slots=True)
class DerivedValue:
    """One computed value: what it is, in which unit, by which method.

    ``extrapolated`` says that an input lies outside the range of the equation. ``key`` is its
    equation in ``DERIVED``.
    """

    name: str
    words: str
    value: float
    unit: str
    method: str
    source: str
    extrapolated: bool
    key: str


@dataclass(frozen=True, slots=True)
class Derived:
    """A number that is computed from a report, and what its equation takes.

    ``may_lack`` are inputs for which the equation has a default. ``smooth`` says that an error
    follows by the slopes of the equation; where it bends or steps too much, inputs are drawn.
    ``name`` is what the value is called where two equations serve, each for its ``forages``.
    Without a ``method`` it is not told in a reading.
    """

    key: str
    words: str
    unit: str
    inputs: tuple[str, ...]
    equation: Callable[..., Numeric]
    smooth: bool = False
    method: str = ""
    source: str = ""
    name: str = ""
    may_lack: tuple[str, ...] = ()
    ranges: Mapping[str, tuple[float, float]] | None = None
    forages: frozenset[Forage] = frozenset(Forage)


def _nel_of_parts(*parts: Numeric) -> Numeric:
    """Return net energy for lactation at maintenance intake, by the dairy route of 2001."""
    fat = parts[_PARTS.index("ee")]
    return nel_nrc2001(me_nrc2001(de_nrc2001(*parts), fat), fat)


_PCT: Final = "% of dry matter"
_MCAL: Final = "Mcal/kg dry matter"
_HORSES: Final = "digestible energy for horses"
_PARTS: Final = ("cp", "ndf", "lignin", "ash", "ee", "ndicp", "adicp")
_LEGUME: Final = ("cp", "ndf", "ndfd48", "ash", "ee", "ndicp")
_GRASS: Final = ("cp", "adf", "ndf", "ndfd48", "ash", "ee", "ndicp")
_TDN: Final = ("tdn",)
_ROHWEDER: Final = "Rohweder, Barnes & Jorgensen 1978"
_MOORE: Final = "Moore & Undersander 2002, University of Wisconsin Extension"
_BY_NRC: Final = "by the summative equation (NRC 2001)"
_NRC: Final = "NRC 2001, ch. 2, from memory"

_ALL: Final = (
    Derived("rfv", "relative feed value", "index", ("adf", "ndf"), relative_feed_value, True,
            "from ADF and NDF", _ROHWEDER, ranges=RFV_RANGES,
            forages=frozenset(Forage) - NOT_FOR_RFV),
    Derived("rfq_legume", "relative forage quality", "index", _LEGUME,
            relative_forage_quality_legume, False, "legume form, 48-hour digestibility", _MOORE,
            "rfq", ("ee", "ndicp"), RFQ_RANGES, LEGUMES),
    Derived("rfq_grass", "relative forage quality", "index", _GRASS,
            relative_forage_quality_grass, False, "grass form, 48-hour digestibility", _MOORE,
            "rfq", ("ee", "ndicp"), RFQ_RANGES, frozenset(Forage) - CORN - LEGUMES),
    Derived("nfc", "non-fiber carbohydrate", _PCT, ("cp", "ndf", "ee", "ash", "ndicp"), nfc_pct,
            True, "by difference, fiber-bound protein added back", "Convention of NRC 2001"),
    Derived("nfc_older", "non-fiber carbohydrate", _PCT, ("cp", "ndf", "ee", "ash"), nfc_pct, True,
            "by difference, fiber-bound protein not added back", "Older convention"),
    Derived("nsc", "non-structural carbohydrate", _PCT, ("starch", "wsc"), nsc_pct, True,
            "starch and water-soluble carbohydrate", "Convention of horse forage laboratories"),
    Derived("available_cp", "available protein", _PCT, ("cp", "adicp"), available_cp_pct, True,
            "protein less bound protein", "Definition"),
    Derived("adjusted_cp", "protein adjusted for heat damage", _PCT, ("cp", "adicp"),
            adjusted_cp_pct, False, "three-step rule from 14%",
            "Practice of forage laboratories, from memory"),
    Derived("dcad", "cation-anion difference", "meq/kg dry matter", ("na", "k", "cl", "s"),
            dcad_meq_per_kg, True, "Na + K - Cl - S", "Oetzel 1993"),
    Derived("tetany", "tetany ratio", "ratio of charges", ("k", "ca", "mg"), tetany_ratio, True,
            "K / (Ca + Mg)", "Oetzel 1993"),
    Derived("ca_p", "calcium to phosphorus", "ratio of masses", ("ca", "p"), ca_to_p_ratio, True,
            "Ca / P", "Definition"),
    Derived("horse_de", _HORSES, _MCAL, ("cp", "adf", "ndf", "ee", "ash"), horse_de_pagan, False,
            "from the whole composition", "Pagan 1998, from memory"),
    Derived("horse_de_nrc", _HORSES, _MCAL, ("adf", "cp"), horse_de_nrc, False,
            "from ADF and protein, ash ignored", "NRC horses 1989 and 2007, from memory"),
    *(
        Derived(f"tdn_{method.value}", "TDN",
                "% of hay at 90% dry matter" if method is TdnMethod.WESTERN_ALFALFA_90 else _PCT,
                one.needs, one.equation, True)
        for method, one in REGRESSIONS.items()
    ),
    Derived("tdn_nrc_2001", "TDN", _PCT, _PARTS, tdn_nrc2001),
    Derived("tdn_rfq_legume", "TDN", _PCT, _LEGUME, tdn_rfq_legume),
    Derived("tdn_rfq_grass", "TDN", _PCT, _LEGUME, tdn_rfq_grass),
    Derived("de_nrc2001", "digestible energy at maintenance", _MCAL, _PARTS, de_nrc2001, False,
            _BY_NRC, _NRC, may_lack=_PARTS[4:], forages=frozenset(Forage) - CORN),
    Derived("de_nrc2001_corn", "digestible energy at maintenance", _MCAL, _PARTS,
            partial(de_nrc2001, paf=PAF_CORN_SILAGE), False, _BY_NRC, _NRC, "de_nrc2001",
            _PARTS[4:], forages=CORN),
    Derived("de", "digestible energy", _MCAL, _TDN, de_from_tdn, True, "4.409 Mcal per kg of TDN"),
    Derived("me", "metabolizable energy", _MCAL, _TDN, me_from_tdn, True,
            "82% of digestible energy"),
    Derived("me_hales2022", "metabolizable energy", _MCAL, _TDN,
            lambda tdn: me_hales2022(de_from_tdn(tdn)), True, "less 0.39 (Hales 2022)"),
    Derived("me_hales2019", "metabolizable energy", _MCAL, _TDN,
            lambda tdn: me_hales2019(de_from_tdn(tdn)), False, "curve (Hales 2019)"),
    Derived("nem_mcal_per_kg", "net energy for maintenance", _MCAL, _TDN, nem_from_tdn, True,
            "82% route and Garrett's cubic", name="nem"),
    Derived("neg_mcal_per_kg", "net energy for gain", _MCAL, _TDN, neg_from_tdn, True,
            "82% route and Garrett's cubic", name="neg"),
    Derived("nel", "net energy for lactation", _MCAL, _TDN, nel_from_tdn, True,
            "0.0245 TDN - 0.12 (NRC 1989)"),
    Derived("horse_de_tdn", _HORSES, _MCAL, _TDN, horse_de_from_tdn, True, "0.044 per % TDN"),
    Derived("ddm_pct", "digestible dry matter", _PCT, ("adf",), digestible_dry_matter_pct, True),
    Derived("dmi_pct_bw", "intake by NDF", "% of body weight", ("ndf",), dry_matter_intake_pct_bw,
            True),
    Derived("bound_share_pct_of_cp", "bound share of the protein", "% of protein",
            ("cp", "adicp"), bound_share_pct_of_cp, True),
    Derived("nel_nrc2001", "net energy for lactation (NRC 2001, maintenance)", _MCAL, _PARTS,
            _nel_of_parts),
    Derived("rom_pct", "residual organic matter (NASEM 2021)", _PCT,
            ("ash", "ndf", "starch", "tfa", "cp"), residual_organic_matter_pct, True),
    Derived("fiber_digestibility_nasem2021", "base digestibility of the fiber (NASEM 2021)",
            "fraction of NDF", ("ndf", "lignin"), fiber_digestibility_nasem2021),
)  # fmt: skip
#: Every number computed from a report by its key. A key that begins with ``tdn_`` is one method
#: of TDN.
DERIVED: Final[dict[str, Derived]] = {one.key: one for one in _ALL}


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
    told = [one for one in _ALL if one.method and forage in one.forages]
    found = [
        *(_from_report(one, values) for one in told if one.inputs != _TDN),
        *_tdns(forage, values),
        *(_from_tdn(one, tdn_pct) for one in told if one.inputs == _TDN and tdn_pct is not None),
    ]
    return tuple(one for one in found if one is not None)


def _from_report(derived: Derived, values: Mapping[str, float]) -> DerivedValue | None:
    if any(name not in values and name not in derived.may_lack for name in derived.inputs):
        return None
    try:
        value = float(derived.equation(*(values.get(name) for name in derived.inputs)))
    except OutOfRange:
        return None  # a value that no forage has: a plausibility rule tells it
    if not math.isfinite(value):
        return None
    outside = _is_outside(values, derived.ranges or {})
    return _value(derived, value, derived.method, derived.source, outside)


def _from_tdn(derived: Derived, tdn_pct: float) -> DerivedValue:
    low, high = ME_RANGE_MCAL_PER_KG
    of_diets = derived.name in ("nem", "neg")
    outside = of_diets and not low <= float(me_from_tdn(tdn_pct)) <= high
    source = "NRC 1996 and the source named in the method"
    value = float(derived.equation(tdn_pct))
    return _value(derived, value, f"from TDN: {derived.method}", source, outside)


def _value(derived: Derived, value: float, method: str, source: str, outside: bool) -> DerivedValue:
    name = derived.name or derived.key
    return DerivedValue(
        name, derived.words, value, derived.unit, method, source, outside, derived.key
    )


def _tdns(forage: Forage, values: Mapping[str, float]) -> Iterator[DerivedValue]:
    outside = _is_outside(values, {"adf": RFV_RANGES["adf"]})
    for method, tdn in tdn_by_method(forage, values).items():
        words, source = "total digestible nutrients (TDN)", "Equation named in the method"
        key = f"tdn_{method.value}"
        yield DerivedValue(key, words, tdn, _PCT, method.label, source, outside, key)


def _is_outside(values: Mapping[str, float], ranges: Mapping[str, tuple[float, float]]) -> bool:
    return any(
        name in values and not low <= values[name] <= high for name, (low, high) in ranges.items()
    )
