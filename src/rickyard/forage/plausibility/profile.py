"""A lot as it is counted: every value the season program needs, each with its origin."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property, lru_cache
from typing import Final

from rickyard.farm import Assumption, Lot, Report
from rickyard.forage.energy import NOT_FOR_RFV, lot_energy, relative_feed_value
from rickyard.forage.plausibility.plausibility import Finding, findings_of_lots
from rickyard.forage.plausibility.rule_tests import WET_HAY_BELOW_DM_PCT
from rickyard.forage.values import (
    DRIED_SAMPLE_ABOVE_DM_PCT,
    FORAGE_WORDS,
    NITRATE_FORMS,
    SPREAD_SOURCE,
    BookValue,
    SampleValues,
    Screens,
    adjusted_cp_pct,
    book_dm,
    book_value,
    is_wet,
    sample_values,
)

#: A lot counts as tested when its report holds one of these.
COMPOSITION_NAMES: Final = ("tdn", "cp", "adf", "ndf")
#: Stated and tested dry matter further apart than this are told. Judgement: beyond the
#: spread between laboratories (1 point) and what a bag gains on its way.
DM_DIFFERENCE_TOLD_PCT: Final = 3.0

#: So many lots are remembered as they are counted: every part of a program asks for them.
REMEMBERED: Final = 1024

_PLAIN: Final = {
    "dm_pct": "dry matter",
    "tdn_pct": "TDN",
    "cp_pct": "protein",
    "ndf_pct": "fiber (NDF)",
    "ca_pct": "calcium",
    "p_pct": "phosphorus",
}


@dataclass(frozen=True, slots=True)
class LotProfile:
    """One lot as the season program counts it; percent and Mcal/kg of dry matter.

    ``cp_pct`` is adjusted for heat damage, as the lab printed it or by the three-step rule, where
    either can be; ``crude_cp_pct`` is not. ``tested`` says whether a
    report tells its composition. ``origins`` holds ``lab``, ``computed``, ``stated`` or
    ``book`` for each value, ``sources`` where it comes from in words. The values after
    ``assumptions`` decide cautions only; ``nitrate_unstated_ppm`` is nitrate whose form the
    report does not give, which is never classified; ``measured`` holds every usable value by
    name, each from the newest report that gives it.
    """

    lot_id: str
    dm_pct: float
    tdn_pct: float
    tdn_method: str
    nem_mcal_per_kg: float
    neg_mcal_per_kg: float
    cp_pct: float
    crude_cp_pct: float
    adf_pct: float | None
    ndf_pct: float
    ca_pct: float
    p_pct: float
    rfv: float | None
    nitrate_no3n_ppm: float | None
    tested: bool
    report_id: str
    origins: dict[str, str]
    sources: dict[str, str]
    assumptions: tuple[Assumption, ...]
    adicp_pct: float | None = None
    ph: float | None = None
    hcn_ppm: float | None = None
    nitrate_unstated_ppm: float | None = None
    findings: tuple[Finding, ...] = ()
    measured: Mapping[str, float] = field(default_factory=dict)


def lot_profile(lot: Lot, reports: Sequence[Report], screens: Screens | None = None) -> LotProfile:
    """Gather what is known of a lot into the values that are counted.

    Composition comes whole from the newest report that holds any; nitrate, prussic acid and pH
    each from the newest report that holds them, so that a nitrate test alone does not undo an
    earlier full test. Dry matter stated for the lot goes before that of the sample, which is
    the dry matter of the bag that arrived.

    Parameters
    ----------
    lot : Lot
        The lot.
    reports : sequence of Report
        Reports in any order; those on other lots are passed over.
    screens : Screens, optional
        A district's own screening limits; those shipped when not given.

    Returns
    -------
    LotProfile
        The values with origin, source and what was assumed. [% DM; Mcal/kg DM; ppm DM]

    Examples
    --------
    >>> from rickyard.farm import Forage, Package, Storage
    >>> lot = Lot("L1", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN,
    ...           40, date(2026, 6, 1), date(2026, 10, 1))
    >>> profile = lot_profile(lot, ())
    >>> profile.tested, profile.cp_pct, profile.origins["cp_pct"]
    (False, 9.2, 'book')
    """
    mine = tuple(_newest_first(lot, reports))
    together = _Together(((lot, mine),), screens)
    if screens is None:
        return _usual_profile(lot, mine, together)
    return _Gathering(lot, mine, together).profile()


def lot_profiles(lots: Sequence[Lot], reports: Sequence[Report]) -> dict[str, LotProfile]:
    """Gather what is known of many lots, each as `lot_profile` does.

    Their reports are held to the rules at once, which takes no longer than one does.

    Parameters
    ----------
    lots : sequence of Lot
        The lots.
    reports : sequence of Report
        Reports in any order; those on other lots are passed over.

    Returns
    -------
    dict of str to LotProfile
        By the short name of the lot. [% DM; Mcal/kg DM; ppm DM]

    Examples
    --------
    >>> from rickyard.farm import Forage, Package, Storage
    >>> lot = Lot("L1", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN,
    ...           40, date(2026, 6, 1), date(2026, 10, 1))
    >>> lot_profiles([lot], ())["L1"] == lot_profile(lot, ())
    True
    """
    of: dict[str, list[Report]] = {lot.lot_id: [] for lot in lots}
    for report in reports:
        of.get(report.lot_id, []).append(report)
    mine = tuple((lot, tuple(_newest_first(lot, of[lot.lot_id]))) for lot in lots)
    together = _Together(mine, None)
    return {lot.lot_id: _usual_profile(lot, theirs, together) for lot, theirs in mine}


@dataclass(frozen=True)
class _Together:
    """What the rules say of the reports of many lots, asked once, when the first asks.

    One is like another: what is remembered of a lot does not hang on which lots were asked about
    beside it.
    """

    lots: tuple[tuple[Lot, tuple[Report, ...]], ...] = field(compare=False)
    screens: Screens | None = field(compare=False)

    @cached_property
    def findings(self) -> dict[str, list[tuple[Finding, ...]]]:
        found = findings_of_lots(self.lots, self.screens)
        return {lot.lot_id: one for (lot, _), one in zip(self.lots, found, strict=True)}


@lru_cache(maxsize=REMEMBERED)
def _usual_profile(lot: Lot, reports: tuple[Report, ...], together: _Together) -> LotProfile:
    return _Gathering(lot, reports, together).profile()


def forget_profiles() -> None:
    """Drop what is remembered of lots: a farm may have asked that nothing of it stays."""
    _usual_profile.cache_clear()


def _newest_first(lot: Lot, reports: Sequence[Report]) -> list[Report]:
    mine = [report for report in reports if report.lot_id == lot.lot_id]
    return sorted(mine, key=lambda one: one.reported_on or one.sampled_on or date.min, reverse=True)


@dataclass
class _Gathering:
    """The work of gathering one profile; lives for one call."""

    lot: Lot
    reports: tuple[Report, ...]
    together: _Together
    origins: dict[str, str] = field(default_factory=dict)
    sources: dict[str, str] = field(default_factory=dict)
    assumptions: list[Assumption] = field(default_factory=list)
    from_book: dict[str, BookValue] = field(default_factory=dict)

    def profile(self) -> LotProfile:
        lot = self.lot
        fallback = book_dm(lot.forage, lot.package).value if lot.dm_pct is None else lot.dm_pct
        samples = [sample_values(report, fallback) for report in self.reports]
        findings = self.together.findings[lot.lot_id]
        place = next((i for i, one in enumerate(samples) if _has_composition(one)), None)
        values: dict[str, float] = {}
        report_id, printed_method, sample_dm = "", "", None
        if place is not None:
            report, sample = self.reports[place], samples[place]
            values = _trusted(sample, findings[place])
            report_id, printed_method = report.report_id, report.tdn_method
            sample_dm = sample.dm_pct
            self._tell_unused(sample, fallback)
        dm_pct = self._dry_matter(sample_dm, report_id)
        energy = lot_energy(lot.name, lot.forage, values, printed_method)
        self._note("tdn_pct", energy.origin, self._lab(energy.origin, energy.source, report_id))
        if energy.origin == "book":
            self.from_book["tdn_pct"] = book_value(lot.forage, "tdn_pct")
        for name in ("nem_mcal_per_kg", "neg_mcal_per_kg"):
            origin = "book" if energy.origin == "book" else "computed"
            self._note(name, origin, "From TDN: NRC 1996 (82% route) and Garrett's equations")
        crude = self._value("cp", "crude_cp_pct", values, report_id)
        bound = values.get("adicp")
        cp = self._protein(crude, values, report_id)
        ndf = self._value("ndf", "ndf_pct", values, report_id)
        ca = self._value("ca", "ca_pct", values, report_id)
        phosphorus = self._value("p", "p_pct", values, report_id)
        adf = values.get("adf")
        if adf is not None:
            self._note("adf_pct", "lab", self._lab("lab", "", report_id))
        nitrate, unstated = self._nitrate(samples)
        rfv = self._rfv(values, report_id)
        self._tell_book(tested=place is not None)
        return LotProfile(
            lot_id=lot.lot_id,
            dm_pct=dm_pct,
            tdn_pct=energy.tdn_pct,
            tdn_method=energy.label,
            nem_mcal_per_kg=energy.nem_mcal_per_kg,
            neg_mcal_per_kg=energy.neg_mcal_per_kg,
            cp_pct=cp,
            crude_cp_pct=crude,
            adf_pct=adf,
            ndf_pct=ndf,
            ca_pct=ca,
            p_pct=phosphorus,
            rfv=rfv,
            nitrate_no3n_ppm=nitrate,
            tested=place is not None,
            report_id=report_id,
            origins=self.origins,
            sources=self.sources,
            assumptions=(*self.assumptions, *energy.assumptions),
            adicp_pct=bound,
            ph=_newest(samples, "ph"),
            hcn_ppm=_newest(samples, "hcn"),
            nitrate_unstated_ppm=unstated,
            findings=_standing(findings, place, _nitrate_place(samples), unstated is not None),
            measured=_measured(samples, findings),
        )

    def _note(self, name: str, origin: str, source: str) -> None:
        self.origins[name] = origin
        self.sources[name] = source

    def _lab(self, origin: str, source: str, report_id: str) -> str:
        return f"Laboratory report {report_id}" if origin == "lab" else source

    def _value(self, name: str, field_name: str, values: dict[str, float], report_id: str) -> float:
        if name in values:
            self._note(field_name, "lab", self._lab("lab", "", report_id))
            return values[name]
        key = "cp_pct" if name == "cp" else field_name
        book = book_value(self.lot.forage, key)
        self.from_book[key] = book
        self._note(field_name, "book", book.source)
        return book.value

    def _dry_matter(self, sample_dm: float | None, report_id: str) -> float:
        lot = self.lot
        usable = sample_dm if sample_dm is not None and _stores(lot, sample_dm) else None
        if lot.dm_pct is not None:
            self._note("dm_pct", "stated", "Stated for the lot")
            if usable is not None and abs(usable - lot.dm_pct) > DM_DIFFERENCE_TOLD_PCT:
                self.assumptions.append(
                    Assumption(
                        f"{lot.name} is counted at its stated {lot.dm_pct:.1f}% dry matter; the "
                        f"bag at the lab had {usable:.1f}%.",
                        "Severe & Young 2017: half of bagged hay samples arrived wetter than sent",
                    )
                )
            return lot.dm_pct
        if usable is not None:
            self._note("dm_pct", "lab", self._lab("lab", "", report_id))
            return usable
        book = book_dm(lot.forage, lot.package)
        self.from_book["dm_pct"] = book
        self._note("dm_pct", "book", book.source)
        return book.value

    def _protein(self, crude: float, values: Mapping[str, float], report_id: str) -> float:
        bound, printed = values.get("adicp"), values.get("adjusted_cp")
        if "cp" in values and printed is not None and printed <= crude:
            self._note("cp_pct", "lab", f"Adjusted protein of laboratory report {report_id}")
            return printed
        if "cp" in values and bound is not None:
            self._note("cp_pct", "computed", "Adjusted for heat damage (three-step lab rule)")
            return float(adjusted_cp_pct(crude, bound))
        self._note("cp_pct", self.origins["crude_cp_pct"], self.sources["crude_cp_pct"])
        return crude

    def _rfv(self, values: dict[str, float], report_id: str) -> float | None:
        if "rfv" in values:
            self._note("rfv", "lab", self._lab("lab", "", report_id))
            return values["rfv"]
        adf, ndf = values.get("adf"), values.get("ndf")
        if self.lot.forage in NOT_FOR_RFV or adf is None or not ndf:
            return None
        self._note("rfv", "computed", "From ADF and NDF: Rohweder, Barnes & Jorgensen 1978")
        return float(relative_feed_value(adf, ndf))

    def _nitrate(self, samples: list[SampleValues]) -> tuple[float | None, float | None]:
        for sample in samples:
            known = _no3n_ppm(sample)
            if known is not None:
                source = f"Laboratory report {sample.report_id}"
                self._note("nitrate_no3n_ppm", "lab", source)
                return known, None
            if "nitrate" in sample.values:
                return None, sample.values["nitrate"]
        return None, None

    def _tell_unused(self, sample: SampleValues, fallback_dm: float) -> None:
        source = f"Laboratory report {sample.report_id}"
        for one in sample.unused:
            self.assumptions.append(
                Assumption(
                    f"{one.name.upper()} of {self.lot.name}, printed as "
                    f"{one.printed or 'nothing'}, is not used: {one.reason}.",
                    source,
                )
            )
        if sample.dm_assumed:
            self.assumptions.append(
                Assumption(
                    f"The report on {self.lot.name} gives values as received without a dry "
                    f"matter; {fallback_dm:.0f}% was taken.",
                    source,
                )
            )

    def _tell_book(self, tested: bool) -> None:
        if not self.from_book:
            return
        values = ", ".join(
            f"{_PLAIN[name]} {self.from_book[name].value:g}%"
            for name in _PLAIN
            if name in self.from_book
        )
        lead = (
            f"The report on {self.lot.name} leaves values open"
            if tested
            else f"No test tells the composition of {self.lot.name}"
        )
        only_dm = set(self.from_book) == {"dm_pct"}
        kind = "common practice" if only_dm else f"book values for {FORAGE_WORDS[self.lot.forage]}"
        sources = dict.fromkeys(book.source for book in self.from_book.values())
        if not only_dm:
            sources[SPREAD_SOURCE] = None
        self.assumptions.append(
            Assumption(
                f"{lead}: {values} are {kind}; a test would replace them.", "; ".join(sources)
            )
        )


def _has_composition(sample: SampleValues) -> bool:
    return any(name in sample.values for name in COMPOSITION_NAMES)


def _standing(
    findings: Sequence[tuple[Finding, ...]],
    place: int | None,
    nitrate_place: int | None,
    form_unknown: bool,
) -> tuple[Finding, ...]:
    """Return the findings on what is counted; a superseded report is left in peace."""
    counted = range(len(findings)) if place is None else (place,)
    composition = [one for i in counted for one in findings[i] if one.rule != "U10"]
    forms = () if nitrate_place is None else findings[nitrate_place]
    # A number without form is not told where another of the same report states one.
    nitrate = [
        one for one in forms if one.rule == "U10" and (form_unknown or one.about != ("nitrate",))
    ]
    return (*composition, *nitrate)


def _nitrate_place(samples: Sequence[SampleValues]) -> int | None:
    """Return the place of the newest report that tells of nitrate in any form."""
    return next(
        (
            place
            for place, sample in enumerate(samples)
            if "nitrate" in sample.values or _no3n_ppm(sample) is not None
        ),
        None,
    )


def _trusted(sample: SampleValues, findings: Sequence[Finding]) -> dict[str, float]:
    """Return the values less those that an error finding says are not to be used."""
    wrong = {name for one in findings for name in one.drops}
    return {name: value for name, value in sample.values.items() if name not in wrong}


def _measured(
    samples: Sequence[SampleValues], findings: Sequence[tuple[Finding, ...]]
) -> dict[str, float]:
    """Return every value that was measured, from the newest report that holds it."""
    values: dict[str, float] = {}
    for sample, found in zip(samples, findings, strict=True):
        for name, value in _trusted(sample, found).items():
            values.setdefault(name, value)
    return values


def _stores(lot: Lot, dm_pct: float) -> bool:
    """Say whether a sample's dry matter can be that of the lot as it stands."""
    if is_wet(lot):
        return dm_pct <= DRIED_SAMPLE_ABOVE_DM_PCT
    return WET_HAY_BELOW_DM_PCT <= dm_pct <= DRIED_SAMPLE_ABOVE_DM_PCT


def _newest(samples: Sequence[SampleValues], name: str) -> float | None:
    return next((one.values[name] for one in samples if name in one.values), None)


def _no3n_ppm(sample: SampleValues) -> float | None:
    """Return the nitrate-nitrogen; the highest where several forms are given, to be safe."""
    given = [
        float(turn(sample.values[name]))
        for name, turn in NITRATE_FORMS.items()
        if name in sample.values
    ]
    return max(given, default=None)
