"""The values counted for one lot, each with its error and where the error comes from."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from functools import partial
from typing import Final

from rickyard.analysis_error import OUTSIDE_DM_FACTOR, UNEVEN_LOT_FACTOR
from rickyard.farm import Forage, Lot, Report, Storage
from rickyard.forage.energy import (
    ADICP_PER_CP,
    DERIVED,
    EE_DEFAULT_PCT,
    NDICP_PER_NDF,
    PAF_CORN_SILAGE,
    Derived,
    TdnMethod,
    tdn_nrc2001,
)
from rickyard.forage.plausibility import LotProfile
from rickyard.forage.uncertainty.derived_error import measured_derived
from rickyard.forage.uncertainty.typical import book_measured
from rickyard.forage.uncertainty.uncertainty import CORES_WHEN_UNKNOWN, Labs, Measured, analyte_sd
from rickyard.forage.values import (
    NITRATE_FORMS,
    ORGANIC_SPREAD_PCT,
    is_wet,
    kind_of,
    sample_values,
)
from rickyard.quantities import OutOfRange

#: Dry hay without a moisture test: common practice counts on 88 %, and stored hay keeps at about
#: 82-94 %. Baleage is put up at 40-60 % dry matter. Judgement: both read as 90 % intervals.
BOOK_DM_SD_HAY: Final = 3.6
BOOK_DM_SD_BALEAGE: Final = 6.0
_SAME_PPM: Final = 1e-9  # covers the rounding of binary numbers
_OUTSIDE: Final = frozenset({Storage.EXPOSED_GROUND, Storage.EXPOSED_ELEVATED})
_DM: Final = "% of dry matter"
_PLAIN: Final = (
    ("adf", "adf_pct"),
    ("ndf", "ndf_pct"),
    ("cp", "crude_cp_pct"),
    ("ca", "ca_pct"),
    ("p", "p_pct"),
)


def lot_measured(
    lot: Lot, reports: Sequence[Report], profile: LotProfile, labs: Labs = Labs.ANY
) -> dict[str, Measured]:
    """Give every value counted for a lot its standard deviation, interval and reason.

    What is computed from a report carries the error of its inputs, not that of the equation:
    methods of TDN differ by several points on one sample.

    Parameters
    ----------
    lot : Lot
        The lot; its bales, cutting, rain and storage decide how uneven it is.
    reports : sequence of Report
        The reports that the profile was made from.
    profile : LotProfile
        The values counted for the lot.
    labs : Labs
        ``ANY`` against a need, a limit or the truth; ``ONE`` to compare lots of one laboratory.

    Returns
    -------
    dict of str to Measured
        By the name of the field of the profile. Values that nobody measured carry the wide
        interval of a book value. [% DM; Mcal/kg DM; ppm DM; index]

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Analyte, Basis, Package
    >>> from rickyard.forage.plausibility.profile import lot_profile
    >>> lot = Lot("L1", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN,
    ...           40, date(2026, 6, 1), date(2026, 10, 1), cutting=2)
    >>> report = Report("R1", "L1", (Analyte("cp", 9.4, "pct", Basis.DRY_MATTER),), cores=20)
    >>> found = lot_measured(lot, (report,), lot_profile(lot, (report,)))
    >>> print(found["cp_pct"].words())
    90% range 7.7-11.1% of dry matter
    >>> found["tdn_pct"].reason[:10]
    'book value'
    """
    return _Work(lot, reports, profile, labs).measured()


def report_measured(
    lot: Lot, reports: Sequence[Report], profile: LotProfile, labs: Labs = Labs.ANY
) -> dict[str, Measured]:
    """Give every usable value of the report that is counted for a lot its error.

    Parameters
    ----------
    lot, reports, profile, labs
        As in ``lot_measured``.

    Returns
    -------
    dict of str to Measured
        By the name of the analyte; empty without a report. Values of 0 are left out: their
        error is not known. [% DM; ppm DM; Mcal/kg DM]

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Analyte, Basis, Package
    >>> from rickyard.forage.plausibility.profile import lot_profile
    >>> lot = Lot("L1", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN,
    ...           40, date(2026, 6, 1), date(2026, 10, 1))
    >>> report = Report("R1", "L1", (Analyte("cp", 9.4, "pct", Basis.DRY_MATTER),
    ...                              Analyte("k", 1.8, "pct", Basis.DRY_MATTER)), cores=20)
    >>> sorted(report_measured(lot, (report,), lot_profile(lot, (report,))))
    ['cp', 'k']
    """
    return _Work(lot, reports, profile, labs).report()


def unit_words(name: str) -> str:
    """Return the unit and basis in which a value of a report is counted.

    Parameters
    ----------
    name : str
        The analyte, as in the columns of reports.csv.

    Returns
    -------
    str
        Unit and basis in words.

    Examples
    --------
    >>> unit_words("cp"), unit_words("cu"), unit_words("ndfd48"), unit_words("rfv")
    ('% of dry matter', 'ppm of dry matter', '% of NDF', 'index')
    """
    kind = kind_of(name)
    if kind.as_share:
        return {"cp": "% of protein", "ndf": "% of NDF"}[kind.part]
    if name == "ph":
        return "pH"
    return {
        "percent": _DM,
        "ppm": "ppm of dry matter",
        "energy_density": "Mcal/kg dry matter",
        "count": "per gram as received",
        "none": "index",
    }[kind.measure]


def with_defaults(values: Mapping[str, Measured]) -> dict[str, Measured]:
    """Fill fat and bound protein that a report leaves out as the summed energy does.

    The filled values carry the spread of a book value. Without protein and fiber nothing is
    filled.

    Parameters
    ----------
    values : mapping of str to Measured
        Values of a report with their errors. [% DM]

    Returns
    -------
    dict of str to Measured
        The given values, and those filled. [% DM]

    Examples
    --------
    >>> known = {name: Measured.normal(one, 1.0, "", "") for name, one in (("cp", 10), ("ndf", 60))}
    >>> {name: round(one.value, 1) for name, one in with_defaults(known).items()}
    {'ee': 2.0, 'ndicp': 4.2, 'adicp': 0.6, 'cp': 10, 'ndf': 60}
    """
    if "cp" not in values or "ndf" not in values:
        return dict(values)
    made = {
        "ee": EE_DEFAULT_PCT,
        "ndicp": NDICP_PER_NDF * values["ndf"].value,
        "adicp": ADICP_PER_CP * values["cp"].value,
    }
    assumed = {
        name: Measured.normal(value, value * ORGANIC_SPREAD_PCT / 100.0, _DM, "")
        for name, value in made.items()
    }
    return {**assumed, **values}


@dataclasses.dataclass
class _Work:
    """The work on one lot; lives for one call."""

    lot: Lot
    reports: Sequence[Report]
    profile: LotProfile
    labs: Labs

    def measured(self) -> dict[str, Measured]:
        profile = self.profile
        found = {"dm_pct": self._dry_matter()}
        for name, field in _PLAIN:
            value = getattr(profile, field)
            if value is not None:
                book = profile.origins[field] == "book"
                found[field] = book_measured(value, name) if book else self._lab(name, value)
        found["cp_pct"] = self._protein(found["crude_cp_pct"])
        found["tdn_pct"] = self._tdn()
        tdn = {"tdn": found["tdn_pct"]}
        for field in ("nem_mcal_per_kg", "neg_mcal_per_kg"):
            found[field] = measured_derived(DERIVED[field], tdn)
        if profile.rfv is not None and "adf_pct" in found and profile.origins["ndf_pct"] == "lab":
            fiber = {"adf": found["adf_pct"], "ndf": found["ndf_pct"]}
            sd = measured_derived(DERIVED["rfv"], fiber)
            found["rfv"] = Measured.normal(profile.rfv, sd.sd, "", sd.reason)
        if profile.nitrate_no3n_ppm is not None:
            found["nitrate_no3n_ppm"] = self._nitrate(profile.nitrate_no3n_ppm)
        return found

    def _lab(self, name: str, value: float, report: Report | None = None) -> Measured:
        report = report or self._counted()
        cores = CORES_WHEN_UNKNOWN if report is None or not report.cores else report.cores
        bales = self.lot.bales if self.lot.bales >= 1.0 else None
        uneven = self.lot.cutting == 1 or bool(self.lot.rained_on)
        factor = UNEVEN_LOT_FACTOR if uneven else 1.0
        if name == "dm" and self.lot.storage in _OUTSIDE:
            factor = OUTSIDE_DM_FACTOR
        sd = float(analyte_sd(name, value, cores, bales, self.labs, factor))
        unit = "% as fed" if name == "dm" else unit_words(name)
        return Measured.normal(value, sd, unit, self._reason(report, cores))

    def _reason(self, report: Report | None, cores: int) -> str:
        known = report is not None and bool(report.cores)
        drawn = f"{cores} cores" if known else f"number of cores not given, {cores} assumed"
        against = "one laboratory" if self.labs is Labs.ONE else "between laboratories"
        return f"sampling error of {drawn} and error {against}"

    def _counted(self) -> Report | None:
        wanted = self.profile.report_id
        return next((one for one in self.reports if one.report_id == wanted), None)

    def report(self) -> dict[str, Measured]:
        report = self._counted()
        if report is None:
            return {}
        values = sample_values(report, self.profile.dm_pct).values
        return {name: self._lab(name, one, report) for name, one in values.items() if one > 0.0}

    def _dry_matter(self) -> Measured:
        value = self.profile.dm_pct
        if self.profile.origins["dm_pct"] != "book":
            return self._lab("dm", value)
        sd = BOOK_DM_SD_BALEAGE if is_wet(self.lot) else BOOK_DM_SD_HAY
        return Measured.normal(value, sd, "% as fed", "no moisture test; range of stored hay")

    def _protein(self, crude: Measured) -> Measured:
        profile = self.profile
        if profile.origins["cp_pct"] == "lab" and profile.cp_pct != profile.crude_cp_pct:
            return self._lab("cp", profile.cp_pct)
        bound = profile.adicp_pct
        if bound is None or profile.origins["cp_pct"] != "computed" or bound <= 0.0:
            return crude
        values = {"cp": crude, "adicp": self._lab("adicp", bound)}
        return measured_derived(DERIVED["adjusted_cp"], values)

    def _tdn(self) -> Measured:
        value, origin = self.profile.tdn_pct, self.profile.origins["tdn_pct"]
        if origin == "book":
            return book_measured(value, "tdn")
        if origin == "lab":
            return self._lab("tdn", value)
        return self._tdn_computed(value)

    def _tdn_computed(self, value: float) -> Measured:
        method = next(one for one in TdnMethod if one.label == self.profile.tdn_method)
        derived = DERIVED[f"tdn_{method.value}"]
        values = self.report()
        if method is TdnMethod.NRC_2001:
            values = with_defaults(values)
            derived = self._with_paf(derived)
        try:
            found = measured_derived(derived, values)
        except OutOfRange:  # draws where parts no longer belong together
            return book_measured(value, "tdn")
        return dataclasses.replace(found, value=value)

    def _with_paf(self, derived: Derived) -> Derived:
        if self.lot.forage is not Forage.CORN_SILAGE:
            return derived
        return dataclasses.replace(derived, equation=partial(tdn_nrc2001, paf=PAF_CORN_SILAGE))

    def _nitrate(self, no3n_ppm: float) -> Measured:
        for report in self.reports:
            values = sample_values(report, self.profile.dm_pct).values
            for name, turn in NITRATE_FORMS.items():
                if name in values and abs(float(turn(values[name])) - no3n_ppm) < _SAME_PPM:
                    return self._lab("nitrate_no3n", no3n_ppm, report)
        return self._lab("nitrate_no3n", no3n_ppm)
