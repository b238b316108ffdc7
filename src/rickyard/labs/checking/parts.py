"""Parts that do not belong to their whole, and one thing printed in several forms."""

from __future__ import annotations

import itertools
from typing import Final

from rickyard.forage.values import word_of
from rickyard.labs.common import Question, Sample, Value
from rickyard.labs.vocabulary import in_canonical

#: Rounding of several figures together, in points. [% DM]
_ROUNDING: Final = 0.8
#: Fat and ash of forages together are not less than this; common practice. [% DM]
_LEAST_FAT_AND_ASH: Final = 4.0
#: Where bound protein is not printed, so much of it may be counted twice. [% DM]
_USUAL_NDICP: Final = 4.0
#: Grasses and legumes are apart in the two indices by no more than these factors.
_RFQ_OF_RFV: Final = (0.55, 1.75)
#: Parts by mass of nitrate nitrogen in the forms of nitrate, by their formula weights.
_NITROGEN: Final = {"nitrate_no3n": 1.0, "nitrate_no3": 0.2259, "nitrate_kno3": 0.13854}
_NITRATE_APART: Final = 1.12
#: Below this a form of nitrate is rounded too much to be compared. [ppm NO3-N]
_LEAST_NITRATE: Final = 20.0


def check_parts(sample: Sample) -> None:
    """Ask about parts that do not belong to their whole, and forms that contradict."""
    _carbohydrate(sample)
    _left_over(sample)
    _together(sample)
    _indices(sample)
    _nitrates(sample)


def _percent(sample: Sample, name: str) -> float | None:
    value = sample.of(name, "dm")
    if value is None or value.value is None or value.status != "sure" or value.op != "=":
        return None
    return in_canonical(name, value.value, value.unit)


def _ask(sample: Sample, text: str, names: tuple[str, ...]) -> None:
    known = tuple(name for name in names if sample.of(name))
    if any(set(one.analytes) & set(known) for one in sample.questions if one.level == "open"):
        return
    sample.questions.append(
        Question(
            f"{sample.name}: {text} Ask the laboratory.",
            f"parts {' '.join(known)} {sample.name}",
            known,
            ("as printed", "a number", "leave out"),
        )
    )


def _carbohydrate(sample: Sample) -> None:
    """Hold what is not structural against starch with sugar, and against what is no fiber."""
    nsc, nfc, starch = (_percent(sample, name) for name in ("nsc", "nfc", "starch"))
    sugars = [one for name in ("wsc", "esc") if (one := _percent(sample, name)) is not None]
    if nsc is not None and nfc is not None and nsc > nfc + _ROUNDING:
        _ask(sample, f"{nsc:g} % NSC is more than {nfc:g} % NFC, of which it is a part.",
             ("nsc", "nfc"))  # fmt: skip
    if nsc is None or starch is None or not sugars:
        return
    if all(abs(starch + sugar - nsc) > _ROUNDING for sugar in sugars):
        _ask(
            sample,
            f"{nsc:g} % NSC is not the sum of {starch:g} % starch and {sugars[0]:g} % sugar.",
            ("nsc", "starch", "wsc", "esc"),
        )


def _left_over(sample: Sample) -> None:
    """Hold carbohydrate that is no fiber against what protein and fiber leave for it."""
    nfc, protein, fiber = (_percent(sample, name) for name in ("nfc", "cp", "ndf"))
    if nfc is None or protein is None or fiber is None:
        return
    bound = _percent(sample, "ndicp")
    fat, ash = _percent(sample, "ee"), _percent(sample, "ash")
    rest = _LEAST_FAT_AND_ASH if fat is None or ash is None else fat + ash
    most = 100.0 - protein - fiber - rest + (_USUAL_NDICP if bound is None else bound)
    if nfc > most + _ROUNDING:
        _ask(
            sample,
            f"{nfc:g} % NFC is more than protein, NDF, fat and ash leave ({most:.1f} %).",
            ("nfc", "cp", "ndf"),
        )


def _together(sample: Sample) -> None:
    """Hold protein, fiber, fat and ash against the whole, of which each is another part."""
    names = ("cp", "ndf", "ee", "ash")
    parts = [_percent(sample, name) for name in names]
    known = [one for one in parts if one is not None]
    if len(known) == len(parts) and sum(known) > 100.0 + _ROUNDING:
        _ask(
            sample,
            f"protein, NDF, fat and ash are {sum(known):.1f} % together, which is more than all.",
            names,
        )


def _indices(sample: Sample) -> None:
    rfv, rfq = sample.of("rfv"), sample.of("rfq")
    if rfv is None or rfq is None or not rfv.value or not rfq.value:
        return
    if not _RFQ_OF_RFV[0] <= rfq.value / rfv.value <= _RFQ_OF_RFV[1]:
        _ask(
            sample,
            f"an RFQ of {rfq.printed} does not belong to an RFV of {rfv.printed}.",
            ("rfq", "rfv"),
        )


def _nitrates(sample: Sample) -> None:
    """Hold the forms of nitrate against one another by what nitrogen each of them holds."""
    told: list[tuple[Value, float]] = []
    for name, part in _NITROGEN.items():
        for value in sample.values:
            if value.analyte != name or value.value is None or value.op != "=":
                continue
            number = in_canonical(name, value.value, value.unit)
            if number is not None and value.basis == "dm":
                told.append((value, number * part))
    for (one, first), (other, second) in itertools.pairwise(told):
        low, high = sorted((first, second))
        if low >= _LEAST_NITRATE and high / low > _NITRATE_APART:
            _ask(
                sample,
                f"{one.printed} {word_of(one.analyte)} and {other.printed} "
                f"{word_of(other.analyte)} are not the same nitrate: a figure or a form of the two "
                "is wrong. Until the laboratory has answered, feed the lot to no pregnant stock.",
                (one.analyte, other.analyte),
            )
