"""What of a file contradicts the way in which it was read: then it is asked, and not taken."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from rickyard.forage.values import word_of
from rickyard.labs.common import Question, Sample, Value
from rickyard.labs.legends import Legend
from rickyard.labs.letters import labels_in
from rickyard.labs.tables import NUMBER_ALONE, VALUE_IN_NAME, Draft, DraftSample
from rickyard.labs.understanding.asks import UNIT_WORDS, named, which_unit
from rickyard.labs.understanding.unit import INFERRED
from rickyard.labs.vocabulary import (
    field_of,
    is_only_unit,
    label_of,
    may_be_called,
    phrases,
    plain,
)

_SHARES: Final = ("pct", "g_per_kg")
_ODD_UNIT: Final = "its number fits only another unit than that of its neighbours"
_LONGEST_ID: Final = 60
#: What stands in no name of a sample: "DM = 88.1 %", "CP: 12".
_NO_ID: Final = re.compile(
    r"[=:]\s*[<>]?\d|\s=\s|\d\s*(?:%|m?g/kg\b|ppm\b)|^[\W_]+$|[^\W\d_]{3}\.\s+[A-Z]\S*\s+\S+\s+\S|"
    r"^\S+\s+\S+\s+\S.*[^\W\d_]{3}\.$"
)
#: Words that name every sample and so none.
_GENERIC: Final = frozenset(
    phrases(
        "your|our|the|this|that|a|of|for|on|from|sample|samples|hay|forage|feed|report|result|"
        "results|test|tests|analysis|unknown|name|no|number|none|value|values|as|received|above"
    )
)
#: "Hay A": a letter in place of a number.
_LETTERED: Final = re.compile(r"(?:hay|sample|forage|feed|test|no\.?) [A-Z]", re.IGNORECASE)
_A_METHOD: Final = re.compile(r"nirs?|near infrared|wet chem(?:istry)?|icp|xrf|oven|kjeldahl|dumas")
#: "SAMPLE HOLLOW 2ND": the label and a name with letters in one text.
_LABELLED: Final = re.compile(r"^SAMPLE(?: ID)?\s+(?=.*[A-Z]{3})")
_OF_TABLES: Final = frozenset(["result", "unit", "basis", "analyte", "method"])


def leave_names(samples: Iterable[Sample]) -> None:
    """Take no label, unit or line of values for the name of a sample.

    Parameters
    ----------
    samples : iterable of Sample
        The samples of a file.
    """
    for sample in samples:
        text = sample.id = _LABELLED.sub("", sample.id, count=1)
        if not text or (any(sign.isdigit() for sign in text) and not _NO_ID.search(text)):
            continue
        label = label_of(text)
        lettered = bool(_LETTERED.fullmatch(text)) and text[-1].isupper()
        taken = label is not None and label.ours and not label.misspelled and len(text) > 2
        if (
            taken
            or _NO_ID.search(text)
            or is_only_unit(text)
            or field_of(text) in _OF_TABLES
            or _A_METHOD.fullmatch(plain(text))
            or len(text) > _LONGEST_ID
            or (len(text) > 1 and not set(plain(text).split()) - _GENERIC and not lettered)
        ):
            sample.id = ""


#: A number on a bag is shorter, most often, than the number that a laboratory gives.
_LEAST_OF_LAB: Final = 4


def doubt_numbers(samples: Iterable[Sample], said: str = "") -> None:
    """Ask once whether names that are numbers of a laboratory's kind are those on the bags.

    Parameters
    ----------
    samples : iterable of Sample
        The samples of a file; a lot that has the very name settles it.
    said : str
        What a person answered: that they are each the ``name`` or the ``number``.
    """
    samples = list(samples)
    _doubt_series(samples, said)
    open_ones = [
        one
        for one in samples
        if one.id and not one.lab_no and len(one.id) >= _LEAST_OF_LAB
        if NUMBER_ALONE.fullmatch(one.id)
    ]
    for one in open_ones:
        if said == "number":
            one.id, one.lab_no = "", one.id
        elif not said:
            one.asked.add("id")
    if open_ones and not said:
        first = open_ones[0]
        first.questions.append(
            Question(
                f'"{first.id}" was read as the name on the bag of {len(open_ones)} samples, and '
                "looks like a number that the laboratory gave. Which is it? A lot of that name "
                "settles it.",
                "name or number",
                (),
                ("name", "number"),
                "name",
                "note",
            )
        )


#: "EL48 North eighty": a number of a series before every name.
_SERIES: Final = re.compile(
    r"(?P<number>(?P<letters>[A-Z]{1,4})[-/ ]?\d{1,5}(?:[-/]\d{2,4})?|\d{2,5}[a-z])\s+"
    r"(?P<name>[^\W\d_].{1,44}|\d.{0,44})"
)


#: "K-46", "TZ/21": a number alone of its kind that a laboratory may have given.
_LIKE_OF_LAB: Final = re.compile(r"[A-Z]{1,4}[-/]\d{2,}")


def _doubt_series(samples: Sequence[Sample], said: str) -> None:
    """Ask once whether the numbers of a series that begin all names stand on the bags."""
    told = [_SERIES.fullmatch(one.id) for one in samples if one.id and not one.lab_no]
    parts = [one for one in told if one is not None]
    apart = {one["number"] for one in parts}
    one_house = len({one["letters"] for one in parts}) == 1
    if not parts or len(parts) < len(samples) or len(apart) < len(parts) or not one_house:
        return
    if len(parts) == 1 and not _LIKE_OF_LAB.fullmatch(parts[0]["number"]):
        return
    for sample, part in zip(samples, parts, strict=True):
        if said == "number":
            sample.id, sample.lab_no = part["name"], part["number"]
        elif not said:
            sample.asked.add("id")
    if not said:
        first = parts[0]
        samples[0].questions.append(
            Question(
                f'"{samples[0].id}": does {first["number"]} stand on the bag as part of its name, '
                f"or did the laboratory give it as a number? The answer holds for {len(parts)} "
                "samples. A lot of that name settles it.",
                "name or number",
                (),
                ("name", "number"),
                "name",
                "note",
            )
        )


def doubt_odd_units(samples: Sequence[Sample]) -> None:
    """Ask about values whose unit was told by the number alone, against all others of the file.

    A report prints no analyte in percent for one sample and in g/kg for another, nor protein in
    g/kg between fibers in percent: the point stands in the wrong place.

    Parameters
    ----------
    samples : sequence of Sample
        The samples of a file.
    """
    usual: dict[str, Counter[str]] = defaultdict(Counter)
    for sample in samples:
        for value in sample.values:
            if value.status == "sure" and value.value is not None:
                usual[value.analyte][value.unit] += 1
    for sample in samples:
        shares = Counter(
            one.unit for one in sample.values if one.unit in _SHARES and one.status == "sure"
        )
        for value in sample.values:
            if value.status != "sure" or not any(r.startswith(INFERRED) for r in value.reasons):
                continue
            others = usual[value.analyte]
            most = max(others, key=lambda unit: others[unit])
            odd = most != value.unit and others[most] > others[value.unit]
            if value.unit in _SHARES and not odd:
                most = max(shares, key=lambda unit: shares[unit])
                odd = most != value.unit and shares[most] > 2 * shares[value.unit]
            if odd:
                _ask_unit(sample, value, most)


#: "n.d.", which says in English that nothing was found, and elsewhere that nothing was sought.
_ND: Final = re.compile(r"n\W{0,2}d\W{0,2}", re.IGNORECASE)
_ND_MEANS: Final = re.compile(
    r"\bn\.?\s?/?d\b\.?\s*[=:(–-]+\s*(?:es |significa |means |stands for )?"
    r"(?P<means>[^,;)\n]{3,40})",
    re.IGNORECASE,
)
_SOUGHT: Final = re.compile(
    r"d[eé]t(?:e[ck]?t|ett)|d[eé]cel|rilev|aantoon|nachw|p[aå]vis|wykry|below|under|limit", re.I
)
_NOT_SOUGHT: Final = re.compile(
    r"det[eé]rmin|bestim|bepaald|bestemt|bestämd|oznacz|anali[sz]|analys|dat[oa]\b|dispon|done|data|"
    r"request|solicit|richiest|tested|demand|measured",
    re.I,
)
#: Words of reports in Spanish, French, Italian and Portuguese, where both begin alike.
_ROMANCE: Final = re.compile(
    r"\b(?:foraggio|prelievo|tal quale|identificazione|laboratorio|forragem|colheita|forraje|"
    r"fourrage|pr[eé]l[eè]vement|laboratoire|muestra|materia seca|prote[ií]na|humedad|cenizas|"
    r"ceniza|resultados?|an[aá]lisis|"
    r"[eé]chantillon|mati[eè]re|prot[eé]ines?|cendres|humidit[eé]|r[eé]sultats?|analyse de|"
    r"campione|sostanza|proteine|ceneri|umidit[aà]|risultat[oi]|amostra|mat[eé]ria|umidade|"
    r"humidade|cinzas?|"
    r"an[aá]lise|nitratos?|nitrati|f[oó]sforo|calcio|c[aá]lcio|potas[sio]+|fosforo)\b",
    re.IGNORECASE,
)
_LEAST_ROMANCE: Final = 3


def settle_nd(samples: Iterable[Sample], texts: Sequence[str]) -> None:
    """Read "n.d." as a report explains it; ask where it may mean that nothing was sought.

    Parameters
    ----------
    samples : iterable of Sample
        The samples of a file; their values are doubted, or taken out where nothing was measured.
    texts : sequence of str
        The texts of the report.
    """
    told = [one["means"] for text in texts for one in _ND_MEANS.finditer(text)]
    sought = any(map(_SOUGHT.search, told))
    unsought = any(map(_NOT_SOUGHT.search, told))
    words = {one[0].casefold() for text in texts for one in _ROMANCE.finditer(text)}
    if sought and not unsought:
        return
    for sample in samples:
        for value in [one for one in sample.values if one.op == "nd"]:
            if not _ND.fullmatch(value.printed.split()[0]):
                continue
            if unsought and not sought:
                sample.values.remove(value)
            elif sought or len(words) >= _LEAST_ROMANCE:
                value.doubt('"n.d." may mean not detected, or not determined')
                sample.questions.append(
                    Question(
                        f'{sample.name}: "{value.printed}" {word_of(value.analyte)} may mean that '
                        "none was detected, or that it was not determined at all. Ask the "
                        "laboratory; until then count it as not tested.",
                        f"nd {value.analyte}",
                        (value.analyte,),
                        ("as printed", "leave out"),
                    )
                )


#: So many printed units of a sample tell that its report prints them.
_LEAST_PRINTED: Final = 3


def doubt_unprinted(samples: Iterable[Sample]) -> None:
    """Ask for a unit that is not printed where others are, and its number is no percentage.

    Parameters
    ----------
    samples : iterable of Sample
        The samples of a file.
    """
    for sample in samples:
        inferred = [
            one
            for one in sample.values
            if one.status == "sure" and any(r.startswith(INFERRED) for r in one.reasons)
        ]
        told = [one for one in sample.values if one.unit and not one.reasons]
        for value in inferred if len(told) >= _LEAST_PRINTED else ():
            if value.unit != "pct":
                value.doubt("no unit is printed with it, as with the others")
                sample.questions.append(which_unit(value, "is printed without a unit"))


#: "02": a whole number that begins with nothing, as codes and months do.
_LIKE_CODE: Final = re.compile(r"0\d{1,3}")


def doubt_codes(samples: Iterable[Sample]) -> None:
    """Ask about numbers that are written as codes are, and as no laboratory writes a result.

    Parameters
    ----------
    samples : iterable of Sample
        The samples of a file.
    """
    for sample in samples:
        for value in sample.values:
            if value.status == "sure" and _LIKE_CODE.fullmatch(value.printed.strip()):
                value.doubt("it is written as a code is")
                sample.questions.append(
                    Question(
                        f"{sample.name}: {word_of(value.analyte)} is printed {value.printed} "
                        f"({value.place}), as a code is and no result. What is the number?",
                        f"number {value.place}",
                        (value.analyte,),
                        ("a number", "leave out"),
                    )
                )


#: A unit in which traces are told, wherever it stands on a report.
_OF_TRACES: Final = re.compile(
    r"\bpp[mb]\b|\bp\.p\.m|parts per|\b[mµμu]c?g\b|\b\d\s?mg", re.IGNORECASE
)


def doubt_traces(samples: Iterable[Sample], texts: Iterable[str]) -> None:
    """Ask for the unit of traces on a report that prints none for them anywhere.

    What only the number tells of them is no more than a habit of laboratories.

    Parameters
    ----------
    samples : iterable of Sample
        The samples of a file.
    texts : iterable of str
        All texts of it.
    """
    bare = [
        (sample, value)
        for sample in samples
        for value in sample.values
        if value.unit in ("ppm", "ppb") and value.status == "sure"
        if any(reason.startswith(INFERRED) for reason in value.reasons)
    ]
    if not bare or any(map(_OF_TRACES.search, texts)):
        return
    for sample, value in bare:
        value.doubt("no unit of traces is printed anywhere")
        sample.questions.append(which_unit(value, "is printed without a unit"))


_OTHER: Final = {"dm": "ar", "ar": "dm"}
_BASIS_WORDS: Final = {"dm": "dry", "ar": "as received"}


def doubt_contradicted(
    samples: Sequence[Sample], stated: Sequence[str], said: str
) -> list[Question]:
    """Ask for the basis where a report states one of all its values, and all are on the other.

    Parameters
    ----------
    samples : sequence of Sample
        The samples of a file.
    stated : sequence of str
        The bases that its sentences state of all values.
    said : str
        The basis that a person answered; empty where none did.
    """
    values = [
        one
        for sample in samples
        for one in sample.values
        if one.basis in _OTHER and one.analyte not in ("dm", "moisture")
    ]
    bases = {one.basis for one in values}
    if len(bases) != 1:
        return []
    basis = bases.pop()
    if _OTHER[basis] not in stated:
        return []
    for value in values:
        if said:
            value.basis = said
        else:
            value.doubt("the report states both bases for it")
    if said:
        return []
    return [
        Question(
            f"{named(values[0])}: the report prints it {_BASIS_WORDS[basis]}, and states elsewhere "
            f"that all results are {_BASIS_WORDS[_OTHER[basis]]}. Which is right for "
            f"{f'the {len(values)} values' if len(values) > 1 else 'it'}? Ask the laboratory.",
            "basis",
            tuple(dict.fromkeys(one.analyte for one in values)),
            ("dm", "ar"),
        )
    ]


def doubt_against_sentences(
    samples: Sequence[Sample], legends: Mapping[str, Legend], said: str
) -> None:
    """Ask for the basis of values of which a sentence beside them tells the other one.

    Parameters
    ----------
    samples : sequence of Sample
        The samples of a file.
    legends : mapping of str to Legend
        What the sentences of each page say, by the beginning of the places on it.
    said : str
        The basis that a person answered; empty where none did.
    """
    for sample in samples:
        bases: dict[str, set[str]] = defaultdict(set)
        for value in sample.values:
            bases[value.analyte].add(value.basis)
        doubted = []
        for value in sample.values:
            own = legends.get(page_of(value.place)) or legends.get("")
            other = own is not None and _OTHER.get(value.basis) in _told_of(own, value.analyte)
            other &= len(bases[value.analyte]) == 1
            if not other or value.analyte in ("dm", "moisture") or value.status != "sure":
                continue
            value.basis = said or value.basis
            if not said:
                value.doubt("a sentence of the report tells the other basis for it")
                doubted.append(value)
        if doubted:
            first = doubted[0]
            sample.questions.append(
                Question(
                    f"{sample.name}: {named(first)} stands under a heading that says "
                    f"{_BASIS_WORDS[first.basis]}, and a sentence of the report says "
                    f"{_BASIS_WORDS[_OTHER[first.basis]]}. Which is right for "
                    f"{f'the {len(doubted)} values' if len(doubted) > 1 else 'it'}? Ask the "
                    "laboratory.",
                    "basis",
                    tuple(dict.fromkeys(one.analyte for one in doubted)),
                    ("dm", "ar"),
                )
            )


def _told_of(legend: Legend, analyte: str) -> set[str]:
    """Return the one basis that sentences tell of an analyte, and the first told near it."""
    said = legend.said_of.get(analyte, set())
    return (said if len(said) == 1 else set()) | ({legend.basis_of.get(analyte, "")} - {""})


#: "sheet Results, cell B4", "page 2, 50 across".
_PAGE: Final = re.compile(r"(?P<page>sheet .*(?=, cell [A-Z]+\d+$)|page \d+(?=,))")


def page_of(place: str) -> str:
    """Return the sheet or the page of a place; empty for a line of a text.

    Examples
    --------
    >>> page_of("sheet Results, cell B4"), page_of("line 4, column 2")
    ('sheet Results', '')
    """
    told = _PAGE.match(place)
    return told["page"] if told else ""


def _ask_unit(sample: Sample, value: Value, usual: str) -> None:
    value.doubt(_ODD_UNIT)
    sample.questions.append(
        Question(
            f"{sample.name}: {value.printed} {word_of(value.analyte)} is more or less than any "
            f"forage has in {UNIT_WORDS[usual]}, as the other values of the file are. Is a point "
            f"in the wrong place, or is it in {UNIT_WORDS[value.unit]}? Ask the laboratory.",
            f"unfit {value.analyte}",
            (value.analyte,),
            ("a number", value.unit, "leave out"),
        )
    )


def doubt_shifted(found: DraftSample, sample: Sample) -> None:
    """Ask about a row that holds more numbers than its table has headings.

    Parameters
    ----------
    found : DraftSample
        The sample as found, with what contradicts its reading.
    sample : Sample
        The sample; its values are doubted.
    """
    if not found.doubts or not sample.values:
        return
    if sample.id:
        sample.asked.add("id")  # its end may be the number too many
    for value in sample.values:
        value.doubt(found.doubts[0])
    if VALUE_IN_NAME in found.doubts:
        sample.asked.add("id")
    first = sample.values[0]
    sample.questions.append(
        Question(
            f"{sample.name}: {found.doubts[0]} ({found.place}), so that its values may stand "
            f"under headings that are not theirs, such as {named(first)}. Is the row as printed?",
            f"row {found.place}",
            tuple(dict.fromkeys(value.analyte for value in sample.values)),
            ("as printed", "leave out"),
        )
    )


def ask_unread(found: DraftSample, sample: Sample) -> None:
    """Ask about lines of a sample whose label is not understood but names an analyte within.

    Parameters
    ----------
    found : DraftSample
        The sample as found, with the lines that were not understood.
    sample : Sample
        The sample; questions are added to it.
    """
    for label, number in found.unread:
        analytes = analytes_in(label)
        if not analytes or all(sample.of(name) for name in analytes):
            continue
        sample.questions.append(
            Question(
                f'{sample.name}: the line "{label}" with {number} was not understood. What is it? '
                "Ask the laboratory, or leave it out.",
                f"line {label}",
                analytes,
                ("leave out",),
            )
        )


def analytes_in(text: str) -> tuple[str, ...]:
    """Return the analytes that a longer text names somewhere.

    Examples
    --------
    >>> analytes_in("Lab protein of this bale"), analytes_in("Price of it")
    (('cp',), ())
    """
    found = [one for _, _, label in labels_in(text) for one in label.candidates]
    return tuple(dict.fromkeys(found))


def questions_of_columns(draft: Draft) -> list[Question]:
    """Return a question for each column that was not understood but names an analyte within."""
    asked = []
    for heading in dict.fromkeys(draft.unread):
        analytes = analytes_in(heading)
        if analytes:
            asked.append(
                Question(
                    f'The column "{heading}" was not understood and not read. What does it hold? '
                    "Ask the laboratory, or leave it out.",
                    f"column {heading}",
                    analytes,
                    ("leave out",),
                )
            )
    return asked


def questions_of_names(draft: Draft) -> list[Question]:
    """Return a question for each row or column left out whose name may be that of a sample."""
    return [
        Question(
            f'"{name}" was taken for a guide and not for a sample, and its values were left out. '
            "If it is the name of a sample, give it another name in the file and send it again.",
            f"no sample {name}",
            (),
            ("no sample",),
        )
        for name in dict.fromkeys(draft.passed)
        if may_be_called(name)
    ]
