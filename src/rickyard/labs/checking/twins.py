"""Two samples of a file that are one: its values as received, and the same dry."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from statistics import median
from typing import Final

from rickyard.labs.common import Question, Sample, Value

#: So many values must be apart by one ratio, and none by another.
_LEAST: Final = 5
#: The two bases are apart by this at least, or rounding would tell nothing. [fraction, 0-1]
_APART: Final = 0.02
#: Beyond rounding, the ratios of one sample are alike to this. [fraction, 0-1]
_ALIKE: Final = 0.004
#: What tells nothing, being of the sample as received by its nature.
_WATER: Final = ("dm", "moisture")


def check_twins(samples: Sequence[Sample]) -> None:
    """Ask about samples side by side whose values are those of one another times one number.

    No two hays are so alike; the two bases of one are.

    Parameters
    ----------
    samples : sequence of Sample
        The samples of a file, in the order in which they stand.
    """
    for first, second in itertools.pairwise(samples):
        shared = _shared(first, second)
        ratio = _one_ratio(shared)
        if ratio is None:
            continue
        for value in (*first.values, *second.values):
            value.doubt("it may be the other basis of the sample beside it")
        second.questions.append(
            Question(
                f"The values of {second.name} are all {ratio:.3g} times those of {first.name}, as "
                "those of one sample are dry and as received. Are they two samples, or one on "
                "two bases?",
                f"one or two {first.name} {second.name}",
                tuple(dict.fromkeys(one.analyte for one, _ in shared)),
                ("as printed", "leave out"),
            )
        )


def _shared(first: Sample, second: Sample) -> list[tuple[Value, Value]]:
    """Return the values of the same analytes, where each sample has them on one basis."""
    of_second = {one.analyte: one for one in second.values if _tells(one)}
    return [
        (one, of_second[one.analyte])
        for one in first.values
        if _tells(one) and one.analyte in of_second and one.unit == of_second[one.analyte].unit
    ]


def _tells(value: Value) -> bool:
    """Return whether a value changes with the basis, and holds enough digits to tell."""
    return (
        value.basis in ("dm", "ar", "")
        and value.analyte not in _WATER
        and value.op == "="
        and bool(value.value)
        and value.value is not None
        and 0.0 < value.step <= 0.02 * value.value
    )


def _one_ratio(shared: Sequence[tuple[Value, Value]]) -> float | None:
    """Return by what all second values are larger than the first; ``None`` if by no one."""
    told = []
    for one, other in shared:
        assert one.value is not None
        assert other.value is not None
        room = 0.5 * one.step / one.value + 0.5 * other.step / other.value
        told.append((other.value / one.value, room))
    if len(told) < _LEAST:
        return None
    middle = median(ratio for ratio, _ in told)
    if abs(middle - 1.0) < _APART:
        return None
    alike = all(abs(ratio / middle - 1.0) <= room + _ALIKE for ratio, room in told)
    return middle if alike else None
