"""What one laboratory computes from another figure, held against its other samples."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final

from rickyard.forage.values import word_of
from rickyard.labs.common import Question, Sample
from rickyard.labs.vocabulary import in_canonical

#: So many samples must tell how a laboratory computes before another is held against them.
_LEAST: Final = 5
#: What is computed, from what, and how far it may be off beyond the others: a slip is larger.
#: [% DM], [Mcal/kg]
_COMPUTED: Final = (
    ("nem", "tdn", 0.09),
    ("neg", "tdn", 0.10),
    ("nel", "tdn", 0.08),
    ("me", "tdn", 0.15),
    ("de", "tdn", 0.15),
    ("nel", "adf", 0.08),
    ("tdn", "adf", 3.5),
)
#: The others are apart from their line by this part of the room at most, or they tell nothing.
_STEADY: Final = 0.34


@dataclass(frozen=True, slots=True)
class _Point:
    sample: Sample
    given: float
    computed: float


def check_alike(samples: Sequence[Sample]) -> None:
    """Ask about values that one laboratory computes in another way than for all its others.

    Parameters
    ----------
    samples : sequence of Sample
        The samples of a file; what does not lie on the line of the others is asked about.
    """
    for name, source, room in _COMPUTED:
        points = [one for sample in samples if (one := _point(sample, name, source)) is not None]
        if len(points) < _LEAST:
            continue
        slope, level = _line(points)
        off = [abs(one.computed - level - slope * one.given) for one in points]
        if median(off) > _STEADY * room:
            continue
        usual = sorted(off)[: max(len(off) - max(len(off) // 5, 1), 1)]
        if usual[-1] > room:
            continue
        for one, far in zip(points, off, strict=True):
            if far > room + 2.0 * usual[-1]:
                _ask(one.sample, name, source, level + slope * one.given)


def _point(sample: Sample, name: str, source: str) -> _Point | None:
    found = []
    for each in (source, name):
        value = sample.of(each, "dm")
        if value is None or value.value is None or value.status == "refused" or value.op != "=":
            return None
        number = in_canonical(each, value.value, value.unit)
        if number is None:
            return None
        found.append(number)
    return _Point(sample, found[0], found[1])


def _line(points: Sequence[_Point]) -> tuple[float, float]:
    """Return slope and level of a line that a few odd points do not move."""
    some = sorted(points, key=lambda one: one.given)
    half = len(some) // 2
    slopes = [
        (other.computed - one.computed) / (other.given - one.given)
        for n, one in enumerate(some[: len(some) - half])
        if (other := some[n + half]).given - one.given > 1e-9
    ]
    slope = median(slopes) if slopes else 0.0
    return slope, median(one.computed - slope * one.given for one in some)


def _ask(sample: Sample, name: str, source: str, usual: float) -> None:
    if any(name in one.analytes for one in sample.questions if one.level == "open"):
        return
    value, given = sample.of(name, "dm"), sample.of(source, "dm")
    assert value is not None
    assert given is not None
    sample.questions.append(
        Question(
            f"{sample.name}: {value.printed} {word_of(name)} does not belong to {given.printed} "
            f"{word_of(source)} as in the other samples of the report, where it would be about "
            f"{usual:.3g}{'' if name == 'tdn' else ' Mcal/kg'}. Which of the two is wrong? Ask the "
            "laboratory.",
            f"alike {name} {source} {sample.name}",
            (name, source),
            ("as printed", "a number", "leave out"),
        )
    )
