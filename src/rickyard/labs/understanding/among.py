"""Values of a sample held against one another: doubles, other bases, open bases, unfit numbers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rickyard.labs.common import Question, Sample, Value
from rickyard.labs.understanding.asks import in_figures, named, unfit
from rickyard.labs.vocabulary import Comma, fits, printed

HIDDEN: Final = "it stands in a hidden column"
NO_BASIS: Final = "its basis is not printed"
RANGE: Final = "two numbers are printed, as a range"
DOUBLE: Final = "it is printed twice with two numbers"
UNFIT: Final = "no forage has such a number in that unit"
#: Shares of a part by their nature, with limits of their own.
_OF_PART: Final = ("ndfd24", "ndfd30", "ndfd48", "ndfd240", "rdp", "rup")
OTHER: Final = "its basis is neither dry matter nor as received"


def leave_other_bases(sample: Sample) -> None:
    """Leave out values on another basis, such as 90 % dry matter, that stand on a usual one too."""
    usual = {one.analyte for one in sample.values if one.basis in ("dm", "ar")}
    others = [one for one in sample.values if OTHER in one.reasons and one.analyte in usual]
    names = {f"basis other {one.analyte}" for one in others}
    sample.values = [one for one in sample.values if one not in others]
    sample.questions = [one for one in sample.questions if one.key not in names]


def _nearer(one: Value, other: Value) -> Value | None:
    """Return of one value in two units, within their rounding, the one that needed no turning.

    A range counts for nothing beside a number: "Protein: 8 to 11 %" on a line of advice.
    """
    if one.status == "sure" and RANGE in other.reasons:
        return one
    if one.value is None or other.value is None:
        return None
    if (one.op, one.unit) != (other.op, other.unit):
        return None
    if abs(one.value - other.value) > 0.55 * (one.step + other.step):
        return None
    turned = [not _as_printed(each) for each in (one, other)]
    if turned[0] == turned[1]:
        return None
    return other if turned[0] else one


def _as_printed(value: Value) -> bool:
    """Return whether a value is the number that was printed, in the unit it was printed in."""
    read = printed(value.printed, Comma.POINT).value
    return read is not None and read == value.value


def leave_doubles(sample: Sample) -> None:
    """Keep one of two equal values; ask where the same thing is printed with two numbers."""
    kept: dict[tuple[str, str], Value] = {}
    for value in sample.values:
        key = (value.analyte, value.basis)
        before = kept.get(key)
        if before is None:
            kept[key] = value
            continue
        if (HIDDEN in before.reasons) != (HIDDEN in value.reasons):
            if HIDDEN in before.reasons:
                kept[key] = value
            sample.questions = [
                one
                for one in sample.questions
                if one.key != "hidden columns" or value.analyte not in one.analytes
            ]
            continue
        same = before.value == value.value and before.op == value.op and before.unit == value.unit
        if same:
            if before.status != "sure" and value.status == "sure":
                kept[key] = value
            continue
        nearer = _nearer(before, value)
        if nearer is not None:
            kept[key] = nearer
            continue
        if before.status == "refused" or (before.value is None and value.value is not None):
            kept[key] = value
            continue
        for one in (before, value):
            one.doubt(DOUBLE)
        sample.questions.append(
            Question(
                f"{named(before)} is printed twice: {before.printed} ({before.place}) and "
                f"{value.printed} ({value.place}). Which one counts?",
                f"twice {value.analyte} {value.basis}",
                (value.analyte,),
                (before.printed, value.printed),
            )
        )
    sample.values = list(kept.values())


def basis_questions(samples: Sequence[Sample]) -> list[Question]:
    """Return one question for all values whose basis is not printed, with what each would be."""
    open_ones = [
        (sample, value)
        for sample in samples
        for value in sample.values
        if NO_BASIS in value.reasons
    ]
    if not open_ones:
        return []
    sample, value = open_ones[0]
    dm = sample.of("dm")
    moisture = sample.of("moisture")
    dry = (
        dm.value
        if dm and dm.value
        else 100.0 - moisture.value
        if moisture and moisture.value
        else None
    )
    why = ""
    if dry and 5.0 < dry <= 100.0 and value.value is not None:
        why = (
            f" Dry, it is {value.printed}; as received it would be "
            f"{in_figures(value.value * 100.0 / dry)} dry, at {dry:g} % dry matter."
        )
    analytes = tuple(dict.fromkeys(one.analyte for _, one in open_ones))
    held = f"{len(open_ones)} values" if len(open_ones) > 1 else "this value alone"
    return [
        Question(
            f"{named(value)}: dry or as received? The report does not say.{why} The answer holds "
            f"for {held}.",
            "basis",
            analytes,
            ("dm", "ar"),
        )
    ]


def doubt_unfit(sample: Sample) -> None:
    """Ask about numbers that no forage has in the unit printed with them."""
    dm = sample.of("dm")
    dry = (dm.value or 88.0) / 100.0 if dm and dm.value else 0.88
    for value in sample.values:
        if value.value is None or value.status == "refused":
            continue
        frac = dry if value.basis == "ar" and value.analyte not in ("dm", "moisture") else 1.0
        if value.basis == "ar" and sample.of(value.analyte, "dm") is not None:
            continue  # told by its dry-matter value, and by the two together
        part = value.basis not in ("dm", "ar", "") and value.analyte not in _OF_PART
        if part or fits(value.analyte, value.value, value.unit, frac, value.op):
            continue
        if value.status != "sure":
            continue
        value.doubt(UNFIT)
        sample.questions.append(unfit(value, frac))
