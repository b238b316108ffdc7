"""Every number that is computed from a report, with the slopes of its equation."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np

from rickyard.forage.energy import (
    DDM_PER_ADF,
    DE_PER_TDN_PCT,
    FULL_BLOOM_ALFALFA,
    HORSE_DE_PER_TDN_PCT,
    ME_PER_DE,
    NEG_CUBIC,
    NEG_ZERO_AT_TDN_PCT,
    NEL_PER_TDN_PCT,
    NEM_CUBIC,
    NEM_ZERO_AT_TDN_PCT,
    SOUTHEAST_PER_ADF,
    SOUTHEAST_PER_CP,
    SOUTHEAST_PER_NDF,
    ca_to_p_ratio,
    de_from_tdn,
    de_nrc2001,
    digestible_dry_matter_pct,
    dry_matter_intake_pct_bw,
    fiber_digestibility_nasem2021,
    horse_de_from_tdn,
    horse_de_nrc,
    horse_de_pagan,
    me_from_tdn,
    me_hales2019,
    me_hales2022,
    me_nrc2001,
    neg_from_tdn,
    nel_from_tdn,
    nel_nrc2001,
    nem_from_tdn,
    nfc_pct,
    nsc_pct,
    relative_feed_value,
    relative_forage_quality_grass,
    relative_forage_quality_legume,
    residual_organic_matter_pct,
    tdn_midwest,
    tdn_midwest_corn_silage,
    tdn_nrc2001,
    tdn_oklahoma,
    tdn_penn_state_corn_silage,
    tdn_penn_state_grass,
    tdn_penn_state_legume,
    tdn_rfq_grass,
    tdn_rfq_legume,
    tdn_southeast_warm_grass,
    tdn_western_alfalfa_90,
    tdn_western_alfalfa_100,
)
from rickyard.forage.values import (
    AIR_DRY_DM_PCT,
    MEQ_PER_KG_PER_PCT,
    adjusted_cp_pct,
    available_cp_pct,
    bound_share_pct_of_cp,
    dcad_meq_per_kg,
    tetany_ratio,
)
from rickyard.quantities import Numeric

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


def _constant(*slopes: float) -> Slopes:
    def fixed(*_: Numeric) -> tuple[Numeric, ...]:
        return slopes

    return fixed


def rfv_slopes(adf: Numeric, ndf: Numeric) -> tuple[Numeric, ...]:
    """Return the change of relative feed value for a point of ADF and of NDF.

    Parameters
    ----------
    adf, ndf : float or array
        Acid and neutral detergent fiber. [% DM]

    Returns
    -------
    tuple of float or array
        ``-0.779 DMI / 1.29`` and ``-RFV / NDF``. [1/% DM]

    Examples
    --------
    >>> [round(float(slope), 2) for slope in rfv_slopes(30.0, 40.0)]
    [-1.81, -3.81]
    """
    intake = dry_matter_intake_pct_bw(ndf)
    per_adf = -DDM_PER_ADF * np.asarray(intake) / FULL_BLOOM_ALFALFA
    return per_adf, -np.asarray(relative_feed_value(adf, ndf)) / ndf


def _ratio_slopes(top: Numeric, bottom: Numeric) -> tuple[Numeric, ...]:
    return 1.0 / np.asarray(bottom), -np.asarray(top) / np.square(bottom)


def _intake_slopes(ndf: Numeric) -> tuple[Numeric, ...]:
    return (-np.asarray(dry_matter_intake_pct_bw(ndf)) / ndf,)


def _share_slopes(part: Numeric, whole: Numeric) -> tuple[Numeric, ...]:
    per_part = 100.0 / np.asarray(whole)
    return per_part, -per_part * np.asarray(part) / whole


def _bound_share_slopes(cp: Numeric, adicp: Numeric) -> tuple[Numeric, ...]:
    per_adicp, per_cp = _share_slopes(adicp, cp)
    return per_cp, per_adicp


def _me_hales2022(tdn: Numeric) -> Numeric:
    return me_hales2022(de_from_tdn(tdn))


def _me_hales2019(tdn: Numeric) -> Numeric:
    return me_hales2019(de_from_tdn(tdn))


def _nel_of_parts(*parts: Numeric) -> Numeric:
    """Return net energy for lactation at maintenance intake, by the dairy route of 2001."""
    fat = parts[_PARTS.index("ee")]
    return nel_nrc2001(me_nrc2001(de_nrc2001(*parts), fat), fat)


def _net_energy_slopes(cubic: tuple[float, ...], zero_at_tdn: float) -> Slopes:
    def at(tdn: Numeric) -> tuple[Numeric, ...]:
        me = np.asarray(me_from_tdn(tdn))
        rising = cubic[1] + me * (2.0 * cubic[2] + me * _SLOPE_OF_CUBE * cubic[3])
        return (np.where(np.asarray(tdn) > zero_at_tdn, rising * ME_PER_DE * DE_PER_TDN_PCT, 0.0),)

    return at


def _tetany_slopes(k: Numeric, ca: Numeric, mg: Numeric) -> tuple[Numeric, ...]:
    per = MEQ_PER_KG_PER_PCT
    below = per["ca"] * np.asarray(ca) + per["mg"] * np.asarray(mg)
    ratio = per["k"] * np.asarray(k) / below
    return per["k"] / below, -ratio * per["ca"] / below, -ratio * per["mg"] / below


_SLOPE_OF_CUBE: Final = 3.0  # by definition
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
    Derived("rfv", "relative feed value", "", ("adf", "ndf"), relative_feed_value, rfv_slopes),
    Derived("rfq_legume", "relative forage quality", "", _LEGUME, relative_forage_quality_legume),
    Derived("rfq_grass", "relative forage quality", "", _GRASS, relative_forage_quality_grass),
    Derived("tdn_western_alfalfa_100", "TDN", _DM, _ADF, tdn_western_alfalfa_100,
            _constant(tdn_western_alfalfa_100.slope)),
    Derived("tdn_midwest", "TDN", _DM, _ADF, tdn_midwest, _constant(tdn_midwest.slope)),
    Derived("tdn_midwest_corn_silage", "TDN", _DM, _ADF, tdn_midwest_corn_silage,
            _constant(tdn_midwest_corn_silage.slope)),
    Derived("tdn_oklahoma", "TDN", _DM, _ADF, tdn_oklahoma, _constant(tdn_oklahoma.slope)),
    Derived("tdn_penn_state_legume", "TDN", _DM, _ADF, tdn_penn_state_legume,
            _constant(tdn_penn_state_legume.slope)),
    Derived("tdn_penn_state_grass", "TDN", _DM, _ADF, tdn_penn_state_grass,
            _constant(tdn_penn_state_grass.slope)),
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
    Derived("tdn_western_alfalfa_90", "TDN", "% of hay at 90 % dry matter", _ADF,
            tdn_western_alfalfa_90,
            _constant(tdn_western_alfalfa_100.slope * AIR_DRY_DM_PCT / 100.0)),
    Derived("tdn_penn_state_corn_silage", "TDN", _DM, _ADF, tdn_penn_state_corn_silage,
            _constant(tdn_penn_state_corn_silage.slope)),
    Derived("bound_share_pct_of_cp", "bound share of the protein", "% of protein",
            ("cp", "adicp"), bound_share_pct_of_cp, _bound_share_slopes),
    Derived("me_hales2022_mcal_per_kg", "metabolizable energy (Hales 2022)", _MCAL, _TDN,
            _me_hales2022, _constant(DE_PER_TDN_PCT)),
    Derived("me_hales2019_mcal_per_kg", "metabolizable energy (Hales 2019)", _MCAL, _TDN,
            _me_hales2019),
    Derived("nel_nrc_2001_mcal_per_kg", "net energy for lactation (NRC 2001, maintenance)", _MCAL,
            _PARTS, _nel_of_parts),
    Derived("horse_de_from_tdn_mcal_per_kg", "digestible energy for horses", _MCAL, _TDN,
            horse_de_from_tdn, _constant(HORSE_DE_PER_TDN_PCT)),
    Derived("rom_pct", "residual organic matter (NASEM 2021)", _DM,
            ("ash", "ndf", "starch", "tfa", "cp"), residual_organic_matter_pct,
            _constant(-1.0, -1.0, -1.0, -1.0, -1.0)),
    Derived("fiber_digestibility_nasem2021", "base digestibility of the fiber (NASEM 2021)",
            "fraction of NDF", ("ndf", "lignin"), fiber_digestibility_nasem2021),
)  # fmt: skip
#: Every derived number by name. A number whose name begins with ``tdn_`` is one method of TDN.
DERIVED: Final[dict[str, Derived]] = {one.name: one for one in _ALL}
