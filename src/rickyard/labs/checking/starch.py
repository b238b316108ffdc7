"""Starch that is too low for what fiber, protein, fat and ash leave in a silage."""

from __future__ import annotations

from typing import Final

from rickyard.labs.common import Question, Sample

#: Grasses and legumes leave less than this, and grain silages hold most of it as starch. Common
#: practice, no published source. [% DM]
MUCH_LEFT: Final = 38.0
LEAST_SHARE_OF_STARCH: Final = 0.15
MOST_DRY_MATTER_OF_SILAGE: Final = 55.0
#: Where fat or ash are not printed, about so much is theirs; no published source. [% DM]
_USUAL: Final = {"ee": 2.5, "ash": 7.0}
_IN_PCT: Final = {"pct": 1.0, "g_per_kg": 0.1}


def check_starch(sample: Sample) -> None:
    """Ask about little starch in a silage that leaves much for carbohydrate other than fiber."""
    starch = sample.of("starch", "dm")
    wet = _percent(sample, "dm", "ar")
    if wet is None and (water := _percent(sample, "moisture", "ar")) is not None:
        wet = 100.0 - water
    fiber, protein = _percent(sample, "ndf", "dm"), _percent(sample, "cp", "dm")
    if starch is None or starch.status != "sure" or starch.value is None or starch.op != "=":
        return
    if wet is None or wet > MOST_DRY_MATTER_OF_SILAGE or fiber is None or protein is None:
        return
    others = sum(
        usual if (own := _percent(sample, name, "dm")) is None else own
        for name, usual in _USUAL.items()
    )
    left = 100.0 - fiber - protein - others
    dry = starch.value * _IN_PCT[starch.unit]
    if left < MUCH_LEFT or dry >= LEAST_SHARE_OF_STARCH * left:
        return
    starch.doubt("so little starch does not belong to what the other parts leave")
    sample.questions.append(
        Question(
            f"{sample.name}: {starch.printed} starch, where fiber, protein, fat and ash leave "
            f"{left:.0f} % of the dry matter. A silage with so much left is one of grain, and ten "
            "times the starch would fit. Ask the laboratory.",
            "low starch",
            ("starch",),
            ("as printed", "a number", "leave out"),
        )
    )


def _percent(sample: Sample, analyte: str, basis: str) -> float | None:
    value = sample.of(analyte, basis)
    if value is None or value.value is None or value.unit not in _IN_PCT:
        return None
    return value.value * _IN_PCT[value.unit]
