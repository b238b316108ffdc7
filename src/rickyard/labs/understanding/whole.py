"""Samples whole: names, numbers, dates and method from the fields that were found."""

from __future__ import annotations

import itertools
import re
from collections import Counter
from collections.abc import Sequence
from datetime import date
from typing import Final

from rickyard.labs.common import Cell, Question, Sample
from rickyard.labs.legends import Legend
from rickyard.labs.tables import (
    IDENTITY,
    NUMBER_ALONE,
    Draft,
    DraftSample,
    Seen,
    forage_words,
    has_value,
    in_text,
    is_bare_name,
    is_number,
)
from rickyard.labs.vocabulary import (
    ABSENT,
    DayOrder,
    as_called,
    as_numbered,
    method_in,
    plain,
    printed_day,
    serial_day,
)

_DAYS = ("sampled_on", "received_on", "reported_on")
_ORDER: Final = "order of dates"
_DAY_WORDS = {
    "sampled_on": "day of sampling",
    "received_on": "day of arrival",
    "reported_on": "day of the report",
}


def samples_of(draft: Sequence[DraftSample], legend: Legend, order: DayOrder) -> list[Sample]:
    """Return the samples of a file with their fields, without values.

    Where the order of its own dates settles one sample and leaves another open, all are asked:
    they were written by one hand.
    """
    _keep_names(draft)
    samples = [_sample_of(found, legend, order, in_order=True) for found in draft]
    if any(sample.asked for sample in samples):
        samples = [_sample_of(found, legend, order, in_order=False) for found in draft]
        _ask_once(samples)
    return samples


#: "Bag 3 silage (corn silage)": a name, and the kind of forage in brackets.
_KIND_BEHIND: Final = re.compile(r"(?P<name>[^()]{3,60}?)\s*\((?P<kind>[^()]{3,40})\)")


def _is_full_kind(text: str) -> bool:
    """Return whether a text tells crop and form, "corn silage"; "brome" alone may be of a name."""
    return forage_words(text) is not None and len(text.split()) > 1


def _keep_names(draft: Sequence[DraftSample]) -> None:
    """Take "Third cutting" for a name where the others in its column are names: "A stack"."""
    weak = [one for one in draft if "weak_id" in one.fields and "id" not in one.fields]
    called = [one.fields["weak_id"].text for one in weak]
    bare = not any(name in one.fields for one in weak for name in ("lab_no", "number"))
    if bare and len(called) == len(draft) > 1 and len(set(called)) == len(called):
        for one in weak:  # "Oat hay", "Clover-timothy": what tells the samples apart names them
            one.fields["id"] = one.fields.pop("weak_id")
        return
    kinds = [one for one in weak if forage_words(one.fields["weak_id"].text) is not None]
    if 2 * len(kinds) <= len(weak):
        for one in kinds:
            one.fields["id"] = one.fields.pop("weak_id")


def _ask_once(samples: Sequence[Sample]) -> None:
    """Keep one question on the order of day and month, and say for how many dates it holds."""
    count = sum(len(one.asked) for one in samples)
    first = True
    for sample in samples:
        kept = []
        for question in sample.questions:
            if question.key == _ORDER and not first:
                continue
            if question.key == _ORDER:
                first = False
                held = f"{count} dates" if count != 1 else "one date"
                question.text += (
                    f" The answer holds for {held}. A date tells a re-run from an older "
                    "result, and how long the hay has been stored."
                )
            kept.append(question)
        sample.questions = kept


def _sample_of(found: DraftSample, legend: Legend, order: DayOrder, *, in_order: bool) -> Sample:
    sample = Sample(place=found.place)
    fields = {name: cell for name, cell in found.fields.items() if _filled(cell)}
    name, number = _named(fields)
    sample.id = as_called(_text(name))
    sample.lab_no = as_numbered(_text(number))
    sample.forage_words = _text(fields.get("forage"))
    behind = _KIND_BEHIND.fullmatch(sample.id)
    if behind is not None and _is_full_kind(behind["kind"]):
        sample.id = behind["name"]
        sample.forage_words = sample.forage_words or behind["kind"]
    other = fields.get("weak_id")
    if not sample.forage_words and other is not None and other is not name:
        sample.forage_words = _text(other)  # "Feed" beside "Sample"
    method = method_in(fields["method"].text) if "method" in fields else ""
    sample.method = method or legend.method
    if sample.method == "mixed":
        sample.method = ""
    for field in _DAYS:
        if field in fields:
            _take_day(sample, field, fields[field], order)
    _one_order(sample, fields, in_order)
    return sample


def _named(fields: dict[str, Cell]) -> tuple[Cell | None, Cell | None]:
    """Return the name and the number of a sample; a kind of hay is moved where it belongs."""
    weak = fields.get("weak_id")
    if weak is not None and forage_words(weak.text) is not None:
        fields.setdefault("forage", fields.pop("weak_id"))  # "Feed: alfalfa hay" names no sample
    name = fields.get("id") or fields.get("weak_id")
    number = fields.get("lab_no")
    if name is not None and name.number is None:
        both = dict(in_text(name))  # "Lab 771 West 40" in the column of names
        own = both["lab_no"][0] if "id" in both and "lab_no" in both else None
        if own is not None and (number is None or number.text == own.text):
            name, number = both["id"][0], own
    name, number = _parted(name, number, fields.get("weak_id"))
    spare = fields.get("number")
    if spare is not None:
        if number is None and name is not None:
            number = spare
        elif name is None:
            name = spare
    return name, number


#: A number of a laboratory has so many signs at least; shorter ones count the samples.
_LEAST_SIGNS: Final = 3


def _parted(
    name: Cell | None, number: Cell | None, other: Cell | None
) -> tuple[Cell | None, Cell | None]:
    """Return name and number where what is called the name is a number, and a name beside it."""
    if name is None or number is not None or other is None or other is name:
        return name, number
    told = [cell.text.strip() for cell in (name, other)]
    numbered = [bool(NUMBER_ALONE.fullmatch(text)) for text in told]
    words = any(sign.isalpha() for sign in told[1]) and forage_words(told[1]) is None
    if numbered == [True, False] and words and len(told[0]) >= _LEAST_SIGNS:
        return other, name
    return name, number


def _filled(cell: Cell) -> bool:
    return bool(cell.text.strip()) and plain(cell.text) not in ABSENT


def _text(cell: Cell | None) -> str:
    return re.sub(r"\s+", " ", cell.text).strip(" ;|:") if cell else ""


def _take_day(sample: Sample, field: str, cell: Cell, order: DayOrder) -> None:
    if cell.day is not None:
        setattr(sample, field, cell.day)
        return
    if cell.number is not None:
        setattr(sample, field, serial_day(cell.number))
        return
    read = printed_day(cell.text, order)
    if read is None:
        serial = re.fullmatch(r"\d{5}(?:\.\d+)?", cell.text.strip())
        if serial:
            setattr(sample, field, serial_day(float(serial[0])))
        elif _LIKE_DAY.search(cell.text):
            _ask_no_day(sample, field, cell.text)
        return
    if read.day is not None:
        setattr(sample, field, read.day)
        return
    sample.asked.add(field)


#: What is written as a date, and may be none: "June 31, 2025".
_LIKE_DAY: Final = re.compile(
    r"\b\d{1,4}[./-]\d{1,2}[./-]\d{1,4}\b|"
    r"\b(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?\s*\d{1,2}\b.*\d{4}|"
    r"\b\d{1,2}[\s.-]*(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\b.*\d{2,4}",
    re.IGNORECASE,
)


def _ask_no_day(sample: Sample, field: str, text: str) -> None:
    sample.asked.add(field)
    sample.questions.append(
        Question(
            f'{sample.name}: the {_DAY_WORDS[field]} is printed "{text}", and there is no such '
            "day. Which one is it?",
            f"no day {field} {sample.name}",
            (field,),
            ("a date", "leave out"),
        )
    )


def _one_order(sample: Sample, fields: dict[str, Cell], by_order: bool) -> None:
    """Settle dates that can be read two ways where only one way keeps their order; else ask."""
    known_days = {name: printed_day(fields[name].text, DayOrder.MONTH) for name in sample.asked}
    open_days = {name for name, read in known_days.items() if read is not None}
    if not open_days:
        return
    ways: list[dict[str, date]] = []
    for way in (DayOrder.MONTH, DayOrder.DAY):
        days: dict[str, date] = {}
        for field in _DAYS:
            known = getattr(sample, field)
            if known is None and field in open_days:
                read = printed_day(fields[field].text, way)
                known = read.day if read else None
            if known is not None:
                days[field] = known
        ways.append(days)
    in_order = [sorted(days.values()) == [days[f] for f in _DAYS if f in days] for days in ways]
    if by_order and len(ways[0]) > 1 and in_order[0] != in_order[1]:
        for field in sorted(open_days):
            setattr(sample, field, ways[0 if in_order[0] else 1].get(field))
        sample.asked -= open_days
        return
    for field in sorted(open_days):
        month, day = ways[0].get(field), ways[1].get(field)
        sample.questions.append(
            Question(
                f'The {_DAY_WORDS[field]} of {sample.name} is printed "{fields[field].text}": '
                f"{month:%B} {month.day if month else ''} or {day:%B} {day.day if day else ''}?",
                _ORDER,
                (),
                ("month first", "day first"),
            )
        )


def named_by_page(
    samples: Sequence[DraftSample], pages: Sequence[Sequence[Sequence[Seen]]]
) -> None:
    """Name samples of one page each by what stands over their values on no other page.

    Parameters
    ----------
    samples : sequence of DraftSample
        The samples of a file; nothing is done where one of them has a name.
    pages : sequence of rows
        The rows of each page.
    """
    if len(samples) < 2 or any(name in one.fields for one in samples for name in IDENTITY):
        return
    if len({one.page for one in samples}) < len(samples):
        return
    heads = [_head(pages[one.page]) for one in samples]
    often = Counter(text for head in heads for text in {one.text for one in head})
    for name, fits in (("id", is_bare_name), ("lab_no", is_number)):
        found = [
            next((one.cell for one in head if often[one.text] == 1 and fits(one)), None)
            for head in heads
        ]
        if all(found):
            for sample, cell in zip(samples, found, strict=True):
                if cell is not None:
                    sample.fields[name] = cell


def _head(rows: Sequence[Sequence[Seen]]) -> list[Seen]:
    """Return the cells of a page over the first row with values."""
    head: list[Seen] = []
    for row in rows:
        if any(has_value(one) for one in row):
            break
        head.extend(row)
    return head


def named_by_client(samples: list[DraftSample]) -> None:
    """Take the client's name for that of the sample where no sample has another, and all differ."""
    if len(samples) < 2 or any(
        name in sample.fields for sample in samples for name in ("id", "weak_id", "number")
    ):
        return
    for field in ("client", "order"):
        names = [sample.fields[field] for sample in samples if field in sample.fields]
        called = all(any(map(str.isalpha, cell.text)) for cell in names)
        if called and len(names) == len(samples) == len({cell.text for cell in names}):
            for sample, name in zip(samples, names, strict=True):
                sample.fields["id"] = name
            return


#: "RX-1, page 2 of 2", "Barn 1 (continued)".
_CONTINUED: Final = re.compile(
    r"\s*[,;(-]?\s*(?:page|p\.|sheet|part)\s*\d+\s*(?:of|/)\s*\d+\)?$"
    r"|\s*[,;(-]?\s*(?:continued|cont\.?|cont'd)\)?$",
    re.IGNORECASE,
)
#: A title over results that are not those of this report.
_EARLIER: Final = re.compile(
    r"(?:for comparison|results? (?:of|from) (?:the )?(?:year before|(?:last|previous|prior) "
    r"(?:year|season))|(?:last|previous|prior) (?:year|season)(?:'s)? (?:results?|samples?|tests?))"
    r"\b",
    re.IGNORECASE,
)


def joined(samples: list[DraftSample]) -> list[DraftSample]:
    """Put the values of one sample together that stand in several tables or on several pages.

    The later one has a number or a name only, that of one sample before it, and no value that
    the sample has already.

    Examples
    --------
    >>> bool(_CONTINUED.search("RX-1, page 2 of 2")), bool(_CONTINUED.search("Page field"))
    (True, False)
    """
    kept: list[DraftSample] = []
    owners: dict[frozenset[str], DraftSample | None] = {}
    for sample in samples:
        named = _keys(sample)
        owner = owners.get(named)
        if owner is not None and _other_values(owner, sample):
            owner.found.extend(sample.found)
            continue
        kept.append(sample)
        for some in _parts(named):
            owners[some] = None if some in owners else sample
    return kept


def _other_values(owner: DraftSample, sample: DraftSample) -> bool:
    """Return whether both have values, and none of the same analyte."""
    there = {found.label.candidates for found in owner.found}
    return bool(there and sample.found) and not any(
        found.label.candidates in there for found in sample.found
    )


def _parts(named: frozenset[str]) -> list[frozenset[str]]:
    """Return each choice of one or more of a few names."""
    return [
        frozenset(some)
        for size in range(1, len(named) + 1)
        for some in itertools.combinations(named, size)
    ]


def _keys(sample: DraftSample) -> frozenset[str]:
    return frozenset(_key(sample.fields[name]) for name in IDENTITY if name in sample.fields)


def _key(cell: Cell) -> str:
    return _CONTINUED.sub("", cell.text).strip().casefold()


def without_earlier(
    samples: list[DraftSample], pages: Sequence[Sequence[Sequence[Seen]]]
) -> tuple[list[DraftSample], list[str]]:
    """Return samples without those under a title of an earlier year, and these titles."""
    titles = {
        number: one.text
        for number, rows in enumerate(pages)
        for one in _head(rows)
        if _EARLIER.match(one.text)
    }
    kept = [one for one in samples if one.page not in titles]
    if not kept or len(kept) == len(samples):
        return samples, []
    return kept, list(titles.values())


#: "All results on dry matter" over the first table speaks of every one.
_SPEAKS_OF_ALL: Final = re.compile(
    r"\b(?:all|results?|values?|everything|figures|reported|expressed|basis (?:of|for))\b", re.I
)


def leave_titles(draft: Draft) -> None:
    """Let the title of one table say nothing of another that has a title of its own.

    Parameters
    ----------
    draft : Draft
        What was found of a file; such titles are taken from its texts.
    """
    own = {cell.place: cell for cell, _ in draft.titles}
    telling = {cell.place for cell, told in draft.titles if told}
    if len(own) > 1:
        draft.texts = [
            one
            for one in draft.texts
            if one.place not in telling or _SPEAKS_OF_ALL.search(one.text)
        ]
