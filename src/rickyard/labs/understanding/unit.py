"""Units of values: as printed, as their neighbours have them, or as only one fits the number."""

from __future__ import annotations

import math
from typing import Final

from rickyard.labs.common import Sample, Value
from rickyard.labs.legends import ENERGIES, Legend
from rickyard.labs.science import ANALYTE_SPECS
from rickyard.labs.understanding.asks import UNIT_WORDS, which_unit
from rickyard.labs.vocabulary import fits, in_vocabulary, units_that_fit

_NO_UNIT: Final = "no unit is printed"
#: How the reason begins where only the number tells the unit.
INFERRED: Final = "no unit is printed; only"
#: So many values in percent tell that the others are too.
_LEAST_NEIGHBOURS: Final = 3
_SHARES: Final = ("pct", "g_per_kg")
#: Analytes that are always more than a hundredth of a forage, and so many that tell.
_LARGE: Final = frozenset(["dm", "moisture", "cp", "adf", "ndf", "tdn", "nfc"])
_LEAST_LARGE: Final = 3
_ENERGY: Final = frozenset(["nem", "neg", "nel", "me", "de"])


def take_fractions(sample: Sample) -> None:
    """Take values without a unit for parts of one where only so all of them fit.

    A workbook stores 11.9 % as 0.119; no forage has 0.119 % protein with 0.6 % fiber.
    """
    bare = [
        one
        for one in sample.values
        if len(one.reasons) == 1
        and one.reasons[0].startswith(_NO_UNIT)
        and one.value is not None
        and one.unit in _SHARES
    ]
    known = {one.analyte for one in bare}
    if len(bare) < _LEAST_NEIGHBOURS or len(known & _LARGE) < _LEAST_LARGE:
        return
    if not all(
        one.value is not None and one.value < 1.0 and fits(one.analyte, one.value * 100.0, "pct")
        for one in bare
    ):
        return
    for one in bare:
        assert one.value is not None
        one.step, one.unit = one.step * 100.0, "pct"
        one.value = _exact(one.value * 100.0, one.step)
        one.status, one.score = "sure", 0.75
        one.reasons = ["no unit is printed; as parts of one all values of the sample fit"]
    keys = {f"unit {one.analyte}" for one in bare}
    sample.questions = [one for one in sample.questions if one.key not in keys]


def take_units_of_neighbours(sample: Sample) -> None:
    """Take percent for values without a unit where all their neighbours are in percent.

    A number alone may fit percent and g/kg; a report does not print its values in both.
    """
    shares = [one for one in sample.values if one.unit in ("pct", "g_per_kg")]
    told = [one for one in shares if _NO_UNIT not in one.reasons]
    if len(told) < _LEAST_NEIGHBOURS or any(one.unit != "pct" for one in told):
        return
    settled = set()
    for value in shares:
        if _NO_UNIT not in value.reasons or value.status != "ask" or value.value is None:
            continue
        if value.reasons == [_NO_UNIT] and fits(value.analyte, value.value, "pct"):
            value.unit, value.status, value.score = "pct", "sure", 0.75
            value.reasons = ["no unit is printed; its neighbours are in %"]
            settled.add(f"unit {value.analyte}")
    sample.questions = [one for one in sample.questions if one.key not in settled]


#: What is a share of the hay, of which no laboratory tells a few parts in a million. Judgement,
#: no published source.
_IN_SHARES: Final = frozenset(
    ("dm", "moisture", "cp", "adf", "ndf", "ndfom", "lignin", "ash", "ee", "starch", "tdn", "nfc")
)
_LEAST_PPM: Final = 500.0


def take_unit(value: Value, unit: str, legend: Legend, sample: Sample) -> None:
    """Give a value its unit: the printed one, an answer, or what its number tells."""
    spec = ANALYTE_SPECS[value.analyte]
    if not spec.units:
        return
    said = legend.answers.get(f"unit {value.analyte}", "")
    if said in spec.units and (not unit or in_vocabulary(value.analyte, unit) is None):
        value.unit = said
        value.reasons.append("the unit was answered")
        return
    if not unit and legend.by_the_pound and value.analyte not in ENERGIES:
        # grams in a pound look like grams in a kilogram, and are more than twice as much
        value.unit = spec.units[0]
        value.doubt("no unit stands with it, on a report that prints grams in a pound")
        sample.questions.append(which_unit(value, "is printed without a unit of its own"))
        return
    if not unit:
        _infer_unit(value, legend, sample)
        return
    known = in_vocabulary(value.analyte, unit)
    if known is None:
        value.unit = spec.units[0]
        value.doubt(
            f"the unit printed with it ({unit.replace('_', ' ')}) is not one of this analyte"
        )
        sample.questions.append(
            which_unit(value, f"is printed in {unit.replace('_per_', '/').replace('_', ' ')}")
        )
        return
    value.unit = known[0]
    if unit == "ppm" and value.analyte in _IN_SHARES and (value.value or _LEAST_PPM) < _LEAST_PPM:
        value.doubt("nobody tells so little of it, nor in ppm")
        sample.questions.append(which_unit(value, "is printed beside ppm"))
        return
    if known[1] != 1.0:
        if value.value is not None:
            value.value = _exact(value.value * known[1], value.step * known[1])
        value.step *= known[1]
        value.reasons.append(f"converted from {unit.replace('_per_', '/')}, by definition")


def _exact(number: float, step: float) -> float:
    """Return a number without the noise of binary digits, or digits that nobody measured.

    One place more is kept than the printed number had.
    """
    exact = float(f"{number:.12g}")
    places = 1 - math.floor(math.log10(step)) if step > 0.0 else 12
    return round(exact, max(places, 0))


def _infer_unit(value: Value, legend: Legend, sample: Sample) -> None:
    spec = ANALYTE_SPECS[value.analyte]
    if len(spec.units) == 1:
        value.unit = spec.units[0]
        value.score = min(value.score, 0.85)
        value.reasons.append("no unit is printed; it has only one")
        return
    if legend.unit in spec.units and (
        value.value is None or fits(value.analyte, value.value, legend.unit)
    ):
        value.unit = legend.unit
        return
    if value.value is None:
        value.unit = spec.units[0]
        return
    possible = units_that_fit(value.analyte, value.value)
    if value.analyte.startswith("nitrate"):
        # too much is at stake to tell it by the number
        value.unit = (possible or spec.units)[0]
        value.doubt(_NO_UNIT)
        sample.questions.append(which_unit(value, "is printed without a unit", spec.units))
        return
    if len(possible) == 1 and value.analyte not in _ENERGY and value.op == "=":
        value.unit = possible[0]
        value.score = min(value.score, 0.8)
        value.reasons.append(f"{INFERRED} {UNIT_WORDS[possible[0]]} fits the number")
        return
    value.unit = (possible or spec.units)[0]
    value.doubt(_NO_UNIT)
    sample.questions.append(which_unit(value, "is printed without a unit", possible))
