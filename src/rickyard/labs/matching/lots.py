"""Samples to lots: by what was written on the bag, then by laboratory number; never by species."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final, Literal, TypeAlias

from rickyard.farm import Farm, Lot, Report
from rickyard.labs.common import Question, Sample
from rickyard.labs.vocabulary import distance, plain

How: TypeAlias = Literal["id", "misspelled", "number", "answer", "waits"]
#: So many letters may be wrong in a name of the length on the left.
_MOST_WRONG: Final = ((5, 1), (9, 2))


@dataclass
class Match:
    """The lot that a sample is of, and how that is known."""

    sample: Sample
    lot: Lot | None
    how: How
    note: str = ""
    rerun_of: Report | None = None
    questions: list[Question] = field(default_factory=list)


def _bare(text: str) -> str:
    return re.sub(r"[^a-z0-9]", "", plain(text))


#: A letter tells a name with its article: "from the Hill field". "A" may be a name: "A stack".
_ARTICLE: Final = re.compile(r"^the\s+(?=\S)")


def _unled(text: str) -> str:
    """Return the bare name without its article."""
    return _bare(_ARTICLE.sub("", plain(text)))


def match_samples(samples: Sequence[Sample], farm: Farm, answers: dict[str, str]) -> list[Match]:
    """Match samples to the lots of a farm.

    Parameters
    ----------
    samples : sequence of Sample
        The samples of a file.
    farm : Farm
        The farm; its lots and its reports so far.
    answers : dict of str to str
        Answers by the key of the question; ``lot NAME`` answers which lot a sample is of.

    Returns
    -------
    list of Match
        One for each sample, in their order; without a lot where none is certain.
    """
    return [_match(sample, farm, answers) for sample in samples]


def _match(sample: Sample, farm: Farm, answers: dict[str, str]) -> Match:
    said = answers.get(f"lot {sample.name}", "")
    if said:
        lot = next((one for one in farm.lots if one.lot_id == said), None)
        if lot is not None:
            return _with_history(Match(sample, lot, "answer", "by answer"), farm)
    exact = [
        lot
        for lot in farm.lots
        if sample.id and _bare(sample.id) in (_bare(lot.lot_id), _bare(lot.name))
    ]
    note = f'"{sample.id}" on the bag'
    if not exact and _unled(sample.id):
        exact = [
            lot for lot in farm.lots if _unled(sample.id) in (_unled(lot.lot_id), _unled(lot.name))
        ]
        note += f', taken for "{exact[0].name}": "the" was passed over' if exact else ""
    if not exact:
        exact = [lot for lot in farm.lots if sample.id and _names(sample.id, lot)]
    if len(exact) == 1:
        return _with_history(Match(sample, exact[0], "id", note), farm)
    if len(exact) > 1:
        return _asked(sample, exact, "names more than one lot")
    by_number = [
        one for one in farm.reports if sample.lab_no and _bare(one.lab_no) == _bare(sample.lab_no)
    ]
    lots = {one.lot_id for one in by_number}
    if len(lots) == 1:
        lot = farm.lot(lots.pop())
        note = f"laboratory number {sample.lab_no} is on report {by_number[0].report_id}"
        return _with_history(Match(sample, lot, "number", note), farm)
    near = _near(sample, farm)
    if near:
        far = near[0][0]
        lots_near = [lot for apart, lot in near if apart == far]
        return _asked(
            sample, lots_near, f"is {far} letter{'s' * (far > 1)} from {lots_near[0].lot_id}"
        )
    return Match(sample, None, "waits", "nothing on the bag or the report names a lot")


def _names(text: str, lot: Lot) -> bool:
    """Return whether a lot's id stands as a word of its own in a longer name."""
    word = re.escape(plain(lot.lot_id))
    return bool(re.search(rf"(?<![\w-]){word}(?![\w-])", plain(text)))


def _near(sample: Sample, farm: Farm) -> list[tuple[int, Lot]]:
    mine = _bare(sample.id)
    most = max((wrong for least, wrong in _MOST_WRONG if len(mine) >= least), default=0)
    if not most:
        return []
    found = []
    for lot in farm.lots:
        apart = min(distance(mine, _bare(name), most) for name in (lot.lot_id, lot.name))
        if apart <= most:
            found.append((apart, lot))
    return sorted(found, key=lambda one: one[0])


def _asked(sample: Sample, lots: Sequence[Lot], why: str) -> Match:
    names = " or ".join(f"{lot.lot_id} ({lot.name})" for lot in lots[:4])
    question = Question(
        f'"{sample.id}" {why}. Is it {names}? A result on the wrong lot misleads the whole plan.',
        f"lot {sample.name}",
        (),
        tuple(lot.lot_id for lot in lots),
        lots[0].lot_id if len(lots) == 1 else "",
    )
    return Match(sample, None, "misspelled", why, questions=[question])


def _with_history(match: Match, farm: Farm) -> Match:
    """Recognise a re-run or a copy of a report that the farm holds already."""
    assert match.lot is not None
    number = _bare(match.sample.lab_no)
    for report in farm.reports:
        if report.lot_id != match.lot.lot_id or not number or _bare(report.lab_no) != number:
            continue
        match.rerun_of = report
        if _same_values(match.sample, report):
            match.note += f"; report {report.report_id} holds the same values already"
            match.how = "waits"
        else:
            match.questions.append(
                Question(
                    f"{match.sample.name}: report {report.report_id} has laboratory number "
                    f"{report.lab_no} already, with other values. Is this a re-run that is to "
                    "stand beside it?",
                    f"re-run {report.report_id}",
                    (),
                    ("beside it", "leave out"),
                )
            )
        break
    return match


def _same_values(sample: Sample, report: Report) -> bool:
    known = {(one.name, str(one.basis)): one.value for one in report.analytes}
    shared = [
        (value.value, known[key])
        for value in sample.values
        if (key := (value.analyte, value.basis or "none")) in known
    ]
    return bool(shared) and all(
        a == b or (a is not None and b is not None and abs(a - b) <= 1e-9) for a, b in shared
    )
