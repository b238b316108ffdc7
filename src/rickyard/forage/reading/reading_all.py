"""Every value of a lot's report and everything computed from it, each with its range."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from rickyard.farm import Lot, Report
from rickyard.forage.energy import DERIVED, DerivedValue, derived_values
from rickyard.forage.plausibility import LotProfile, lot_profile
from rickyard.forage.reading.reading import ReadNumber
from rickyard.forage.uncertainty import (
    Labs,
    Measured,
    lot_measured,
    measured_derived,
    report_measured,
    unit_words,
    with_defaults,
)
from rickyard.forage.values import kind_of, word_of
from rickyard.quantities import OutOfRange

_ONE_DECIMAL_FROM: Final = 5.0  # judgement of display
#: What the reading itself shows already, by the name on a report.
_SHOWN: Final = frozenset(
    {"cp", "adf", "ndf", "ca", "p", "tdn", "rfv", "nitrate_no3n", "adjusted_cp"}
)
_SHOWN_DERIVED: Final = frozenset({"rfv", "adjusted_cp", "nem", "neg"})
_INDEX_DECIMALS: Final = {"rfq": 0, "dcad": 0}
_EXTRAPOLATED: Final = "; outside what the equation was made for"


def every_number(
    lot: Lot, reports: Sequence[Report], labs: Labs = Labs.ANY
) -> tuple[ReadNumber, ...]:
    """Return what a reading leaves out: other values of the report, and all that is computed.

    Parameters
    ----------
    lot : Lot
        The lot.
    reports : sequence of Report
        Reports in any order; those on other lots are passed over.
    labs : Labs
        Error to count with.

    Returns
    -------
    tuple of ReadNumber
        First what the laboratory printed, then what is computed from it, each labelled with its
        method. Values outside the range of their equation say so.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Analyte, Basis, Forage, Package, Storage
    >>> lot = Lot("L1", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN,
    ...           40, date(2026, 6, 1), date(2026, 10, 1))
    >>> values = (Analyte(name, value, "pct", Basis.DRY_MATTER)
    ...           for name, value in (("k", 2.0), ("ca", 0.4), ("mg", 0.2)))
    >>> found = every_number(lot, (Report("R1", "L1", (Analyte("cp", 11.0, "pct",
    ...                            Basis.DRY_MATTER), *values)),))
    >>> [one.name for one in found if one.origin == "lab"], "tetany" in {one.name for one in found}
    (['k', 'mg'], True)
    """
    profile = lot_profile(lot, reports)
    printed = report_measured(lot, reports, profile, labs)
    tdn = lot_measured(lot, reports, profile, labs)["tdn_pct"]
    values = {name: one.value for name, one in printed.items()}
    inputs = {**with_defaults(printed), "tdn": tdn}
    return (
        *_printed(profile, printed),
        *(
            _computed(one, inputs)
            for one in derived_values(lot.forage, values, profile.tdn_pct)
            if one.name not in _SHOWN_DERIVED
        ),
    )


def _printed(profile: LotProfile, printed: Mapping[str, Measured]) -> Iterator[ReadNumber]:
    source = f"Laboratory report {profile.report_id}"
    for name, one in printed.items():
        if name in _SHOWN:
            continue
        known = kind_of(name).measure != "none"  # the error of an index is that of its inputs
        yield ReadNumber(
            name,
            word_of(name),
            one.value,
            unit_words(name),
            _decimals(one.value),
            "lab",
            source,
            one.low if known else None,
            one.high if known else None,
            one.reason if known else "",
        )


def _computed(one: DerivedValue, inputs: Mapping[str, Measured]) -> ReadNumber:
    found = _error(one, inputs)
    # The printed inputs are those of the value: only the width of the range is taken over.
    low = None if found is None else found.low - found.value + one.value
    high = None if found is None else found.high - found.value + one.value
    return ReadNumber(
        one.name,
        f"{one.words}, {one.method}",
        one.value,
        one.unit,
        _INDEX_DECIMALS.get(one.name, _decimals(one.value)),
        "computed",
        one.source + (_EXTRAPOLATED if one.extrapolated else ""),
        low,
        high,
        "" if found is None else found.reason,
    )


def _error(one: DerivedValue, inputs: Mapping[str, Measured]) -> Measured | None:
    derived = DERIVED[one.key]
    if any(key not in inputs for key in derived.inputs):
        return None
    try:
        return measured_derived(derived, inputs)
    except OutOfRange:  # draws in which the parts of a sample do not belong together
        return None


def _decimals(value: float) -> int:
    return 0 if abs(value) >= 100.0 else 1 if abs(value) >= _ONE_DECIMAL_FROM else 2
