"""Every index of many reports of one forage, each by a named method."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from rickyard.farm import Forage
from rickyard.forage.energy import (
    ADICP_PER_CP,
    DERIVED,
    EE_DEFAULT_PCT,
    LEGUMES,
    NDICP_PER_NDF,
    NOT_FOR_RFV,
    REGRESSION_OF,
    REGRESSIONS,
    RFQ_EE_DEFAULT_PCT,
    TdnMethod,
    de_from_tdn,
    de_of_parts,
    digestible_parts_nrc2001,
    me_from_de,
    neg_from_me,
    nel_from_tdn,
    nem_from_me,
    paf_of,
    tdn_of_parts,
)
from rickyard.forage.hazards import SHEEP_MO_BELOW_PPM, external_ash_pct, internal_ash_pct
from rickyard.forage.values import NITRATE_FORMS, ReportColumns
from rickyard.quantities import positive
from rickyard.types import FloatArray

#: Codes of the method that the counted TDN is by, in the column ``tdn_method``.
TDN_METHODS: Final = tuple(TdnMethod)
#: Values that a forage cannot be without: one that is not above 0 is taken as not given here,
#: and told by the rules.
_ABOVE_ZERO: Final = frozenset({"cp", "adf", "ndf", "tdn", "ca", "p"})
#: Indices that are one equation on the columns, by its key in ``DERIVED``.
_PLAIN: Final = {
    "ddm_pct": "ddm_pct",
    "dmi_pct_bw": "dmi_pct_bw",
    "rfv": "rfv",
    "nsc_pct": "nsc",
    "nfc_without_ndicp_pct": "nfc_older",
    "nfc_with_ndicp_pct": "nfc",
    "available_cp_pct": "available_cp",
    "adjusted_cp_pct": "adjusted_cp",
    "bound_share_pct_of_cp": "bound_share_pct_of_cp",
    "dcad_meq_per_kg": "dcad",
    "tetany_ratio": "tetany",
    "ca_to_p_ratio": "ca_p",
    "horse_de_pagan_mcal_per_kg": "horse_de",
    "horse_de_nrc_mcal_per_kg": "horse_de_nrc",
}


def batch_indices(forage: Forage, block: ReportColumns) -> dict[str, FloatArray]:
    """Compute every index that the columns of a forage's reports allow, by name.

    NaN where a report lacks an input; indices whose columns are not there at all are left out.
    ``tdn_pct`` is the TDN counted: as printed, else summed from digestible parts, else by the
    regression of the forage; ``tdn_method`` tells which, as a place in ``TDN_METHODS``.

    >>> from rickyard.forage.values.columns import plain_columns
    >>> fiber = {"adf": np.array([28.0, np.nan]), "ndf": np.array([35.0, 41.0])}
    >>> found = batch_indices(Forage.ALFALFA, plain_columns(Forage.ALFALFA, fiber))
    >>> found["rfv"].round(1).tolist(), found["tdn_pct"].round(1).tolist()
    ([178.3, nan], [61.3, nan])
    """
    work = _Block(forage, block)
    ways = (work.plain, work.tdn, work.quality, work.copper, work.soil_and_water, work.nitrate)
    return dict(pair for way in ways for pair in way())


class _Block:
    """The columns of one forage, each cleaned once."""

    def __init__(self, forage: Forage, block: ReportColumns) -> None:
        self.forage = forage
        self.block = block
        self.cleaned: dict[str, FloatArray] = {}

    def has(self, *names: str) -> bool:
        return self.block.has(*names)

    def __getitem__(self, name: str) -> FloatArray:
        if name not in _ABOVE_ZERO:
            return self.block[name]
        if name not in self.cleaned:
            self.cleaned[name] = positive(self.block[name])
        return self.cleaned[name]

    def or_else(self, name: str, usual: FloatArray | float) -> FloatArray | float:
        if not self.has(name):
            return usual
        column = self[name]
        return np.where(np.isnan(column), usual, column)

    def plain(self) -> Iterator[tuple[str, FloatArray]]:
        for name, key in _PLAIN.items():
            one = DERIVED[key]
            if self.forage in one.forages and self.has(*one.inputs):
                yield name, one.equation(*(self[column] for column in one.inputs))

    def tdn(self) -> Iterator[tuple[str, FloatArray]]:
        counted = np.full(len(next(iter(self.block.values.values()))), np.nan)
        method = np.full(len(counted), np.nan)
        for name, values, by in self._tdn_ways():
            yield name, values
            better = np.isfinite(values)
            counted = np.where(better, values, counted)
            method = np.where(better, float(TDN_METHODS.index(by)), method)
        if not np.isfinite(counted).any():
            return
        yield "tdn_pct", counted
        yield "tdn_method", method
        digestible = de_from_tdn(counted)
        metabolizable = me_from_de(digestible)
        yield "de_mcal_per_kg", digestible
        yield "me_mcal_per_kg", metabolizable
        yield "nem_mcal_per_kg", np.maximum(0.0, nem_from_me(metabolizable))
        yield "neg_mcal_per_kg", np.maximum(0.0, neg_from_me(metabolizable))
        yield "nel_mcal_per_kg", nel_from_tdn(counted)

    def _tdn_ways(self) -> Iterator[tuple[str, FloatArray, TdnMethod]]:
        """Yield TDN by every way there is, the one to prefer last."""
        by = REGRESSION_OF[self.forage]
        regression = REGRESSIONS[by]
        if self.has(*regression.needs):
            line = regression.equation(*(self[name] for name in regression.needs))
            yield "tdn_regression_pct", np.maximum(line, 0.0), by
        yield from self._summed()
        if self.has("tdn"):
            yield "tdn_printed_pct", self["tdn"], TdnMethod.AS_PRINTED

    def _summed(self) -> Iterator[tuple[str, FloatArray, TdnMethod]]:
        if not self.has("cp", "ndf", "lignin", "ash"):
            return
        cp, ndf = self["cp"], self["ndf"]
        bound = self.or_else("ndicp", NDICP_PER_NDF * ndf)
        lignin = np.where(self["lignin"] <= ndf - bound, self["lignin"], np.nan)
        parts = digestible_parts_nrc2001(
            cp,
            np.where(ndf > bound, ndf, np.nan),
            lignin,
            self["ash"],
            self.or_else("ee", EE_DEFAULT_PCT),
            bound,
            self.or_else("adicp", ADICP_PER_CP * cp),
            paf_of(self.forage),
        )
        tdn = tdn_of_parts(parts)
        yield "tdn_nrc2001_pct", np.where(tdn >= 0.0, tdn, np.nan), TdnMethod.NRC_2001
        self.de_summed = de_of_parts(parts)

    def quality(self) -> Iterator[tuple[str, FloatArray]]:
        if hasattr(self, "de_summed"):
            yield "de_nrc2001_mcal_per_kg", self.de_summed
        one = DERIVED["rfq_legume" if self.forage in LEGUMES else "rfq_grass"]
        needs = [name for name in one.inputs if name not in one.may_lack]
        if self.forage in NOT_FOR_RFV or not self.has(*needs):
            return
        ee = self.or_else("ee", RFQ_EE_DEFAULT_PCT)
        ndicp = self.or_else("ndicp", NDICP_PER_NDF * self["ndf"])
        yield "rfq", one.equation(*(self[name] for name in needs), ee, ndicp)

    def copper(self) -> Iterator[tuple[str, FloatArray]]:
        if self.has("cu", "mo"):
            yield "cu_to_mo_ratio", self["cu"] / positive(self["mo"])
            little = self["mo"] < SHEEP_MO_BELOW_PPM
            yield "cu_with_little_mo_ppm", np.where(little, self["cu"], np.nan)

    def soil_and_water(self) -> Iterator[tuple[str, FloatArray]]:
        if self.has("ash"):
            yield "external_ash_pct", external_ash_pct(self["ash"], internal_ash_pct(self.forage))
        if self.has("dm"):
            yield "moisture_pct", 100.0 - self["dm"]

    def nitrate(self) -> Iterator[tuple[str, FloatArray]]:
        found: FloatArray | None = None
        for name, turn in reversed(NITRATE_FORMS.items()):
            if self.has(name):
                values = turn(self[name])
                found = values if found is None else np.where(np.isnan(values), found, values)
        if found is not None:
            yield "nitrate_no3n_ppm", np.where(found >= 0.0, found, np.nan)
