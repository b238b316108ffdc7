"""The two bases of a report held against its dry matter, allowing for honest rounding."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rickyard.forage.values import word_of
from rickyard.labs.common import Question, Sample, Value

#: Beyond rounding, so much is allowed for values that were computed before they were rounded.
SLACK_FRAC: Final = 0.004
#: So many pairs must say the same before all are explained at once.
LEAST_TOGETHER: Final = 3
_MOSTLY: Final = 0.6
_SUM_SLACK: Final = 0.11
_ALIKE: Final = 0.012


@dataclass(slots=True)
class _Pair:
    received: Value
    dry: Value
    ratio: float
    room: float


def dry_matter_frac(sample: Sample) -> tuple[float, float] | None:
    """Return the dry matter of a sample as a fraction and its last place, or ``None``.

    Parameters
    ----------
    sample : Sample
        A sample with dry matter or moisture.

    Returns
    -------
    tuple of float, or None
        Dry matter and the last place it was printed to; ``None`` where neither was. [fraction, 0-1]
    """
    dm, moisture = sample.of("dm"), sample.of("moisture")
    if dm is not None and dm.value is not None:
        return dm.value / 100.0, dm.step / 100.0
    if moisture is not None and moisture.value is not None:
        return 1.0 - moisture.value / 100.0, moisture.step / 100.0
    return None


def _pairs(sample: Sample) -> list[_Pair]:
    pairs = []
    for dry in sample.values:
        if dry.basis != "dm" or not dry.value or dry.op != "=":
            continue
        received = sample.of(dry.analyte, "ar")
        if received is None or received.value is None or received.op != "=":
            continue
        if received.unit != dry.unit or received.value <= 0.0:
            continue
        room = (0.5 * received.step + 0.5 * dry.step * received.value / dry.value) / dry.value
        pairs.append(_Pair(received, dry, received.value / dry.value, room))
    return pairs


def check_bases(sample: Sample) -> bool:
    """Hold values on both bases against the dry matter; return whether the dry matter is in doubt.

    One cause that explains all is told once: columns under each other's heading, dry matter and
    moisture exchanged, or the dry matter of another sample.
    """
    pairs = _pairs(sample)
    dry = dry_matter_frac(sample)
    likely = _likely_of_two(sample, pairs)
    doubted = _check_sum(sample, likely)
    if likely == "moisture":
        moisture = sample.of("moisture")
        assert moisture is not None
        assert moisture.value is not None
        dry = 1.0 - moisture.value / 100.0, moisture.step / 100.0
    if not pairs:
        return doubted
    above = [pair for pair in pairs if pair.ratio > 1.0 + pair.room + SLACK_FRAC]
    if len(above) >= min(LEAST_TOGETHER, len(pairs)) and len(above) > _MOSTLY * len(pairs):
        _swapped(sample, pairs)
        return doubted
    if dry is None:
        for pair in above:
            _above(sample, pair)
        return doubted
    off = [pair for pair in pairs if not _agrees(pair, dry)]
    copied = [pair for pair in off if pair.received.value == pair.dry.value]
    if len(copied) >= LEAST_TOGETHER and len(copied) > _MOSTLY * len(pairs):
        _copied(sample, copied, dry[0])
        off = [pair for pair in off if pair not in copied]
    elif len(off) >= LEAST_TOGETHER and len(off) > _MOSTLY * len(pairs) and _one_ratio(off):
        _other_dry_matter(sample, off, dry[0])
        return True
    for pair in off:
        _apart(sample, pair, dry[0])
    return doubted


def _agrees(pair: _Pair, dry: tuple[float, float]) -> bool:
    return abs(pair.ratio - dry[0]) <= pair.room + 0.5 * dry[1] + SLACK_FRAC


def _one_ratio(pairs: list[_Pair]) -> bool:
    """Return whether pairs agree with one another on some other dry matter."""
    telling = sorted(pairs, key=lambda pair: pair.room)[: max(3, len(pairs) // 2)]
    middle = sorted(pair.ratio for pair in telling)[len(telling) // 2]
    alike = [p for p in pairs if abs(p.ratio - middle) <= p.room + _ALIKE]
    return len(alike) > _MOSTLY * len(pairs) and middle <= 1.0


def _likely_of_two(sample: Sample, pairs: list[_Pair]) -> str:
    """Return which of dry matter and moisture the two bases belong to, where they tell."""
    dm, moisture = sample.of("dm"), sample.of("moisture")
    if dm is None or moisture is None or dm.value is None or moisture.value is None:
        return ""
    fits = {
        "dm": sum(_agrees(pair, (dm.value / 100.0, dm.step / 100.0)) for pair in pairs),
        "moisture": sum(
            _agrees(pair, (1.0 - moisture.value / 100.0, moisture.step / 100.0)) for pair in pairs
        ),
    }
    best = max(fits, key=lambda name: fits[name])
    enough = fits[best] >= LEAST_TOGETHER and fits[best] > _MOSTLY * len(pairs)
    return best if enough and len(set(fits.values())) > 1 else ""


def _check_sum(sample: Sample, likely: str) -> bool:
    dm, moisture = sample.of("dm"), sample.of("moisture")
    if dm is None or moisture is None or dm.value is None or moisture.value is None:
        return False
    if abs(dm.value + moisture.value - 100.0) <= _SUM_SLACK + 0.5 * (dm.step + moisture.step):
        return False
    for value in (dm, moisture):
        value.doubt("dry matter and moisture do not add up to 100 %")
    sample.questions.append(
        Question(
            f"{sample.name}: {dm.printed} % dry matter and {moisture.printed} % moisture do not "
            "add up to 100. Which of the two is right? Every as-received value hangs on it.",
            "dm and moisture",
            ("dm", "moisture"),
            ("dm", "moisture"),
            likely,
        )
    )
    return True


def _swapped(sample: Sample, pairs: list[_Pair]) -> None:
    for pair in pairs:
        pair.received.doubt("as received it is more than in the dry matter")
        pair.dry.doubt("in the dry matter it is less than as received")
    first, others = pairs[0], len(pairs) - 1
    more = f", and {others} more are so" if others > 1 else ", and one more is so" if others else ""
    sample.questions.append(
        Question(
            f"{sample.name}: {first.received.printed} {word_of(first.dry.analyte)} as received is "
            f"more than {first.dry.printed} in the dry matter{more}. "
            "Water only makes the as-received value smaller: do the two headings stand over each "
            "other's columns?",
            "columns swapped",
            tuple(dict.fromkeys(pair.dry.analyte for pair in pairs)),
            ("as printed", "exchange the two"),
            "exchange the two",
        )
    )


def _above(sample: Sample, pair: _Pair) -> None:
    pair.received.doubt("as received it is more than in the dry matter")
    pair.dry.doubt("in the dry matter it is less than as received")
    sample.questions.append(
        Question(
            f"{sample.name}: {word_of(pair.dry.analyte)} is {pair.received.printed} as received "
            f"and {pair.dry.printed} in the dry matter. Water only makes the as-received value "
            "smaller: which one is right?",
            f"two bases {pair.dry.analyte}",
            (pair.dry.analyte,),
            ("dm", "ar", "leave out"),
        )
    )


def _copied(sample: Sample, pairs: list[_Pair], dry: float) -> None:
    for pair in pairs:
        pair.received.doubt("it is the same in both columns")
        pair.dry.doubt("it is the same in both columns")
    sample.questions.append(
        Question(
            f"{sample.name}: {len(pairs)} values are the same as received and in the dry matter, "
            f"which cannot be at {100.0 * dry:.1f} % dry matter: one column was copied into the "
            "other. On which basis are they?",
            "columns copied",
            tuple(dict.fromkeys(pair.dry.analyte for pair in pairs)),
            ("dm", "ar", "leave out"),
        )
    )


def _other_dry_matter(sample: Sample, off: list[_Pair], dry: float) -> None:
    telling = min(off, key=lambda pair: pair.room)
    told = 100.0 * telling.ratio
    mirrored = abs(telling.ratio - (1.0 - dry)) <= telling.room + _ALIKE
    why = (
        "dry matter and moisture are probably exchanged"
        if mirrored
        else "the dry matter is probably mistyped or another sample's"
    )
    for name in ("dm", "moisture"):
        value = sample.of(name)
        if value is not None:
            value.doubt("the two bases do not belong to it")
    sample.questions.append(
        Question(
            f"{sample.name}: {100.0 * dry:.1f} % dry matter does not fit its two columns, which "
            f"belong to about {told:.0f} %; {why}. What is the dry matter?",
            "dm of the columns",
            ("dm", "moisture"),
            ("as printed", "exchange the two", "a number"),
            "exchange the two" if mirrored else "",
        )
    )


def _apart(sample: Sample, pair: _Pair, dry: float) -> None:
    for value in (pair.received, pair.dry):
        value.doubt("the two bases of it do not belong together")
    assert pair.dry.value is not None
    assert pair.received.value is not None
    sample.questions.append(
        Question(
            f"{sample.name}: {word_of(pair.dry.analyte)} is {pair.received.printed} as received "
            f"and {pair.dry.printed} in the dry matter; at {100.0 * dry:.1f} % dry matter "
            f"{pair.dry.printed} dry is {pair.dry.value * dry:.4g} as received, and "
            f"{pair.received.printed} as received is {pair.received.value / dry:.4g} dry. Which "
            "one is right?",
            f"two bases {pair.dry.analyte}",
            (pair.dry.analyte,),
            ("dm", "ar", "leave out"),
        )
    )
