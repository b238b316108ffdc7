"""From what was found to values that are sure, asked about or refused, each with its reasons."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rickyard.forage.values import word_of
from rickyard.labs.common import ANALYTE_SPECS, Question, Sample, Value
from rickyard.labs.tables import DraftSample, Found, Hint
from rickyard.labs.understanding.asks import (
    UNIT_WORDS,
    hidden_column,
    named,
    unfit,
    unreadable,
    which_analyte,
    which_decimals,
    which_nitrate,
    which_unit,
)
from rickyard.labs.understanding.legend import Legend
from rickyard.labs.vocabulary import (
    OTHER_BASIS,
    Op,
    fits,
    in_vocabulary,
    plain,
    settled_basis,
    units_that_fit,
    written_in,
)

_HIDDEN: Final = "it stands in a hidden column"
_OTHER: Final = "its basis is neither dry matter nor as received"
_NO_UNIT: Final = "no unit is printed"
#: So many values in percent tell that the others are too.
_LEAST_NEIGHBOURS: Final = 3
_SHARES: Final = ("pct", "g_per_kg")
#: Analytes that are always more than a hundredth of a forage, and so many that tell.
_LARGE: Final = frozenset(["dm", "moisture", "cp", "adf", "ndf", "tdn", "nfc"])
_LEAST_LARGE: Final = 3
_ENERGY: Final = frozenset(["nem", "neg", "nel", "me", "de"])


def settled_values(found: DraftSample, legend: Legend, sample: Sample) -> None:
    """Settle every value of a sample, and put its questions beside them."""
    told = [
        written_in(found.fields[name].text)
        for name in ("basis of the page", "unit of the page")
        if name in found.fields
    ]
    for one in found.found:
        one.bases.extend(Hint(known.basis, "the head of the page") for known in told)
        value = _value(one, legend, sample)
        if value is not None:
            sample.values.append(value)
    _fractions(sample)
    _units_of_neighbours(sample)
    _no_other_bases(sample)
    _no_doubles(sample)


def _fractions(sample: Sample) -> None:
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
        one.value, one.step, one.unit = _exact(one.value * 100.0), one.step * 100.0, "pct"
        one.status, one.score = "sure", 0.75
        one.reasons = ["no unit is printed; as parts of one all values of the sample fit"]
    keys = {f"unit {one.analyte}" for one in bare}
    sample.questions = [one for one in sample.questions if one.key not in keys]


def _units_of_neighbours(sample: Sample) -> None:
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


def _value(one: Found, legend: Legend, sample: Sample) -> Value | None:
    if not one.label.ours or one.printed.op is Op.ABSENT:
        return None
    analyte = _analyte(one, legend)
    value = Value(
        analyte,
        one.printed.value,
        "",
        "",
        _printed_text(one),
        one.cell.place,
        op=str(one.printed.op),
        step=one.printed.step,
        method=one.method,
        label=one.label_text,
    )
    unit, basis, method = _hints(one, legend, analyte)
    if basis == "dm" and _of_course(analyte, one.printed.value):
        return None
    if basis == OTHER_BASIS and analyte in ("dm", "moisture"):
        return None  # "90 % dry matter" over the column says it already
    value.method = value.method or method
    if one.printed.op is Op.UNREADABLE:
        value.value, value.op = None, "="
        value.unit, value.basis = unit, basis
        value.doubt(one.printed.doubt or f'"{value.printed}" is no number', "refused", 0.0)
        sample.questions.append(unreadable(value))
        return value
    if one.label.misspelled:
        value.score = 0.9
        value.reasons.append(f'"{one.label_text}" is read as {word_of(analyte)}')
    value.basis = settled_basis(analyte, basis)
    _take_unit(value, unit, legend, sample)
    _check_basis(value, legend, sample)
    if len(one.label.candidates) > 1 and f"analyte {plain(one.label_text)}" not in legend.answers:
        which_analyte(value, one, sample)
    if one.cell.hidden:
        value.doubt(_HIDDEN)
        sample.questions.append(hidden_column(value))
    if analyte == "nitrate":
        value.doubt("the form of nitrate is not printed")
        sample.questions.append(which_nitrate(value))
    if one.printed.doubt:
        value.doubt(one.printed.doubt)
        sample.questions.append(which_decimals(value, one))
    return value


def _analyte(one: Found, legend: Legend) -> str:
    """Return the analyte that a label names, or the one that a person said it names."""
    said = legend.answers.get(f"analyte {plain(one.label_text)}", "")
    analyte = said if said in one.label.candidates else one.label.candidates[0]
    form = legend.answers.get("nitrate form", "")
    return form if analyte == "nitrate" and form in ANALYTE_SPECS else analyte


def _of_course(analyte: str, number: float | None) -> bool:
    """Return whether a value says only that dry matter holds no water."""
    if number is None:
        return False
    return (analyte == "dm" and number in (100.0, 1000.0)) or (analyte == "moisture" and not number)


def _printed_text(one: Found) -> str:
    text = one.cell.text.strip()
    rest = one.printed.rest
    if rest and plain(text).endswith(rest) and one.printed.op is not Op.UNREADABLE:
        return text[: len(text) - len(rest)].strip() or text
    return text.strip("*†‡§¶^ ") or text


def _first(words: Sequence[str]) -> str:
    return next((word for word in words if word), "")


def _marks(one: Found, legend: Legend) -> list[tuple[str, str, str]]:
    found = [
        legend.marks[mark] for mark in (plain(one.marks), *plain(one.marks)) if mark in legend.marks
    ]
    last = plain(one.label_text).split()[-1:] if one.label_text else []
    if (
        last
        and len(last[0]) <= 2
        and last[0] in legend.marks
        and len(plain(one.label_text).split()) > 1
    ):
        found.append(legend.marks[last[0]])
    return found


def _hints(one: Found, legend: Legend, analyte: str) -> tuple[str, str, str]:
    """Return unit, basis and method of marks; the same for all values of one column."""
    key = (
        analyte,
        one.label_text,
        one.marks,
        tuple(hint.word for hint in one.units),
        tuple(hint.word for hint in one.bases),
    )
    if key not in legend.known:
        legend.known[key] = (
            _unit(one, legend, analyte),
            _basis(one, legend, analyte),
            _first([method for _, _, method in _marks(one, legend)]),
        )
    return legend.known[key]


def _unit(one: Found, legend: Legend, analyte: str) -> str:
    if not ANALYTE_SPECS[analyte].units:
        return ""
    return _first(
        [
            *(hint.word for hint in one.units),
            legend.unit_of.get(analyte, ""),
            *(unit for _, unit, _ in _marks(one, legend)),
        ]
    )


def _basis(one: Found, legend: Legend, analyte: str) -> str:
    return _first(
        [
            *(basis for basis, _, _ in _marks(one, legend)),
            *(hint.word for hint in one.bases),
            legend.basis_of.get(analyte, ""),
            legend.basis,
            legend.answers.get("basis", ""),
        ]
    )


def _take_unit(value: Value, unit: str, legend: Legend, sample: Sample) -> None:
    spec = ANALYTE_SPECS[value.analyte]
    if not spec.units:
        return
    said = legend.answers.get(f"unit {value.analyte}", "")
    if said in spec.units and (not unit or in_vocabulary(value.analyte, unit) is None):
        value.unit = said
        value.reasons.append("the unit was answered")
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
    if known[1] != 1.0:
        if value.value is not None:
            value.value = _exact(value.value * known[1])
        value.step *= known[1]
        value.reasons.append(f"converted from {unit.replace('_per_', '/')}, by definition")


def _exact(number: float) -> float:
    return float(f"{number:.12g}")


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
    if len(possible) == 1 and value.analyte not in _ENERGY and value.op == "=":
        value.unit = possible[0]
        value.score = min(value.score, 0.8)
        value.reasons.append(f"no unit is printed; only {UNIT_WORDS[possible[0]]} fits the number")
        return
    value.unit = (possible or spec.units)[0]
    value.doubt(_NO_UNIT)
    sample.questions.append(which_unit(value, "is printed without a unit", possible))


def _check_basis(value: Value, legend: Legend, sample: Sample) -> None:
    bases = ANALYTE_SPECS[value.analyte].bases
    if not bases or value.basis in bases:
        return
    if value.basis == OTHER_BASIS:
        value.doubt(_OTHER)
        value.basis = ""
        sample.questions.append(
            Question(
                f"{named(value)} is on another basis than dry matter or as received (such as "
                "90 % dry matter). Ask the laboratory for dry matter, or leave it out.",
                f"basis other {value.analyte}",
                (value.analyte,),
                ("dm", "ar", "leave out"),
            )
        )
        return
    if value.basis:
        share = value.basis
        value.doubt(f"it is a share of {share.upper()}, which the farm folder does not take for it")
        sample.questions.append(
            Question(
                f"{named(value)} is printed as a share of {share.upper()}. The farm folder takes "
                f"it only as {', '.join(bases)}.",
                f"share {value.analyte}",
                (value.analyte,),
                (*bases, "leave out"),
            )
        )
        return
    value.doubt("its basis is not printed")


def _no_other_bases(sample: Sample) -> None:
    """Leave out values on another basis, such as 90 % dry matter, that stand on a usual one too."""
    usual = {one.analyte for one in sample.values if one.basis in ("dm", "ar")}
    others = [one for one in sample.values if _OTHER in one.reasons and one.analyte in usual]
    names = {f"basis other {one.analyte}" for one in others}
    sample.values = [one for one in sample.values if one not in others]
    sample.questions = [one for one in sample.questions if one.key not in names]


def _no_doubles(sample: Sample) -> None:
    """Keep one of two equal values; ask where the same thing is printed with two numbers."""
    kept: dict[tuple[str, str], Value] = {}
    for value in sample.values:
        key = (value.analyte, value.basis)
        before = kept.get(key)
        if before is None:
            kept[key] = value
            continue
        if (_HIDDEN in before.reasons) != (_HIDDEN in value.reasons):
            if _HIDDEN in before.reasons:
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
        if before.status == "refused" or (before.value is None and value.value is not None):
            kept[key] = value
            continue
        for one in (before, value):
            one.doubt("it is printed twice with two numbers")
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
        if "its basis is not printed" in value.reasons
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
            f"{value.value * 100.0 / dry:.3g} dry, at {dry:g} % dry matter."
        )
    analytes = tuple(dict.fromkeys(one.analyte for _, one in open_ones))
    return [
        Question(
            f"{named(value)}: dry or as received? The report does not say.{why} The answer holds "
            f"for {len(open_ones)} values.",
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
        part = value.basis not in ("dm", "ar", "")
        if part or fits(value.analyte, value.value, value.unit, frac, value.op):
            continue
        if value.status != "sure":
            continue
        value.doubt("no forage has such a number in that unit")
        sample.questions.append(unfit(value, frac))
