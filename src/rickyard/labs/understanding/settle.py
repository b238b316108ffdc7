"""From what was found to values that are sure, asked about or refused, each with its reasons."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rickyard.forage.values import word_of
from rickyard.labs.common import Question, Sample, Value
from rickyard.labs.legends import Legend, legend_of, units_listed
from rickyard.labs.science import ANALYTE_SPECS
from rickyard.labs.tables import DraftSample, Found, Hint
from rickyard.labs.understanding.among import (
    HIDDEN,
    NO_BASIS,
    OTHER,
    leave_doubles,
    leave_other_bases,
)
from rickyard.labs.understanding.asks import (
    UNIT_WORDS,
    hidden_column,
    named,
    unreadable,
    where_it_stands,
    which_analyte,
    which_decimals,
    which_form,
    which_nitrate,
)
from rickyard.labs.understanding.unit import (
    take_fractions,
    take_unit,
    take_units_of_neighbours,
)
from rickyard.labs.vocabulary import (
    FOOTNOTE_MARKS,
    OTHER_BASIS,
    Label,
    Op,
    in_vocabulary,
    is_only_unit,
    label_of,
    plain,
    settled_basis,
    written_in,
)


def settled_values(found: DraftSample, legend: Legend, sample: Sample) -> None:
    """Settle every value of a sample, and put its questions beside them."""
    told = [
        _stated(found.fields[name].text)
        for name in ("basis of the page", "unit of the page")
        if name in found.fields
        if not units_listed(found.fields[name].text)  # "CP, dry matter in %" is of each its own
    ]
    abroad = any(plain(one.label_text).strip(" :.") in _ABROAD for one in found.found)
    for one in found.found:
        if abroad and plain(one.label_text).strip(" :.") == "pb":
            one.label = Label(("cp",))  # protein in Spanish and French, beside "FDN"
        one.bases.extend(Hint(basis, "the head of the page") for basis in told)
        value = _value(one, legend, sample)
        if value is not None:
            sample.values.append(value)
    take_fractions(sample)
    take_units_of_neighbours(sample)
    leave_other_bases(sample)
    leave_doubles(sample)


def _stated(text: str) -> str:
    """Return the basis that a field of the page tells: "dry matter (moisture, DM: as is)"."""
    basis = written_in(text).basis
    if is_only_unit(text):
        return basis
    return legend_of([f"Basis: {text}"]).basis or basis


def _value(one: Found, legend: Legend, sample: Sample) -> Value | None:
    if not one.label.ours:
        _as_share(one)
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
    take_unit(value, unit, legend, sample)
    _check_basis(value, legend, sample)
    _doubt(value, one, legend, sample)
    return value


#: Ends of what is said of a value beside which two things are printed.
APART: Final = ("; both are printed", " are printed beside it")


def _contradicts(one: Found, analyte: str) -> str:
    """Return what tells a basis and what tells the other one, both near the value."""
    if len({hint.word for hint in one.bases} - {""}) < 2:
        return ""
    near: dict[str, str] = {}
    for hint in one.bases:
        if hint.word in ("dm", "ar") and (hint.where not in _FAR or hint.where == _FAR[-1]):
            near.setdefault(hint.word, hint.where)
    if len(near) < 2 or analyte in ("dm", "moisture"):
        return ""
    words = {"dm": "dry matter", "ar": "as received"}
    return " and ".join(f"{near[basis]} says {words[basis]}" for basis in near) + APART[0]


def _doubt(value: Value, one: Found, legend: Legend, sample: Sample) -> None:
    """Ask about what a value leaves open beside its unit and basis."""
    apart = _contradicts(one, value.analyte)
    if apart and not legend.answers.get("basis", ""):
        value.doubt(apart)
        sample.questions.append(
            Question(
                f"{sample.name}: of {named(value)} {apart}. Which is right? Ask the laboratory.",
                f"basis apart {value.analyte}",
                (value.analyte,),
                ("dm", "ar", "leave out"),
            )
        )
    if len(one.label.candidates) > 1 and f"analyte {plain(one.label_text)}" not in legend.answers:
        which_analyte(value, one, sample)
    if one.cell.hidden:
        value.doubt(HIDDEN)
        sample.questions.append(hidden_column(value))
    if value.analyte == "nitrate":
        value.doubt("the form of nitrate is not printed")
        sample.questions.append(which_nitrate(value))
    units = _units_apart(one, value.analyte)
    if units:
        one.doubt = one.doubt or f"{units}{APART[1]}"
    if one.doubt:
        value.doubt(one.doubt)
        sample.questions.append(where_it_stands(value, one.doubt))
    if one.printed.doubt:
        value.doubt(one.printed.doubt)
        sample.questions.append(which_decimals(value, one))
    if one.label.unclear and not legend.answers.get("basis", ""):
        value.basis = ""  # what stands behind its unit may be a basis in other words
        value.doubt(NO_BASIS)
    if one.label.form:
        value.doubt(f"it is printed as {one.label.form}")
        sample.questions.append(which_form(value, one.label.form))


def _as_share(one: Found) -> None:
    """Take a label that names an analyte only with the share that is printed beside it."""
    if plain(one.label_text).strip(" :.") == "pb" and any(
        hint.word in ("pct", "g_per_kg") for hint in one.units
    ):
        one.label = Label(("cp",))  # protein in French; lead is told in parts of a million
    if any(hint.word == "n" for hint in one.bases):
        label = label_of(f"{one.label_text}, % of N")
        if label is not None and label.ours:
            one.label = label
            one.bases = [Hint(label.basis, "the cell beside it")]


def _analyte(one: Found, legend: Legend) -> str:
    """Return the analyte that a label names, or the one that a person said it names."""
    said = legend.answers.get(f"analyte {plain(one.label_text)}", "")
    analyte = said if said in one.label.candidates else one.label.candidates[0]
    form = legend.answers.get("nitrate form", "")
    if analyte != "nitrate":
        return analyte
    told = one.marks + "".join(sign for sign in one.label_text if sign in FOOTNOTE_MARKS)
    noted = {legend.forms[mark] for mark in (plain(told), *plain(told)) if mark in legend.forms}
    if len(noted) == 1:
        return noted.pop()
    if form not in ANALYTE_SPECS and len(legend.forms_told) == 1:
        return next(iter(legend.forms_told))
    return form if form in ANALYTE_SPECS else analyte


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
    told = [
        *(hint.word for hint in one.units),
        legend.unit_of.get(analyte, ""),
        *(unit for _, unit, _ in _marks(one, legend)),
    ]
    return _first([unit for unit in told if unit and in_vocabulary(analyte, unit)]) or _first(told)


def _units_apart(one: Found, analyte: str) -> str:
    """Return the two units that are printed near a value and both fit the analyte, if they are."""
    if len(one.units) < 2:
        return ""
    near = (hint.word for hint in one.units if hint.word and hint.where not in _FAR)
    told = list(dict.fromkeys(unit for unit in near if in_vocabulary(analyte, unit)))
    return " and ".join(UNIT_WORDS.get(unit, unit) for unit in told) if len(told) > 1 else ""


#: Short names that only reports in Spanish and French have.
_ABROAD: Final = ("fdn", "fda", "fnd", "fad", "ms")
#: What stands far from a value, and speaks of all beside it.
_FAR: Final = ("the title", "the section", "the head of the page", "the column of the basis")


def _basis(one: Found, legend: Legend, analyte: str) -> str:
    bases = ANALYTE_SPECS[analyte].bases
    if len(bases) == 1 and bases[0] not in ("dm", "ar"):
        # what is a share of fiber by its nature is so under a title of dry matter too
        near = [hint.word for hint in one.bases if hint.word and hint.where not in _FAR]
        told = [basis for basis, _, _ in _marks(one, legend) if basis]
        return _first([*told, *(word for word in near if word in bases), *near, bases[0]])
    return _first(
        [
            *(basis for basis, _, _ in _marks(one, legend)),
            *(hint.word for hint in one.bases),
            legend.basis_of.get(analyte, ""),
            legend.basis,
            legend.answers.get("basis", ""),
        ]
    )


def _check_basis(value: Value, legend: Legend, sample: Sample) -> None:
    bases = ANALYTE_SPECS[value.analyte].bases
    if not bases or value.basis in bases:
        return
    if value.basis == OTHER_BASIS:
        value.doubt(OTHER)
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
    value.doubt(NO_BASIS)
