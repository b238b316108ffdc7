"""What stands among samples and may be none: it is asked, and its values are not taken till then.

A laboratory's own check, a duplicate, a goal or a mean may stand in any row or column. What tells
a sample is its place in the laboratory's numbers; what has none beside others that have, or one of
another make, or the name of another sample with a word behind it, is asked about.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from rickyard.labs.columns import is_run
from rickyard.labs.common import Question, Sample
from rickyard.labs.tables import DraftSample
from rickyard.labs.vocabulary import like_own_check

#: Behind the name or number of another sample: "Q1003 dup", "West 40 spike".
_AGAIN: Final = re.compile(
    r"(?:(?:^|(?<=\d))|[\s,;(\[/-]+)(?:d|dup\w*|rep\w*|spiked?|spk|msd?|again|check|duplicat\w*|"
    r"doublon|doppel\w*|wiederh\w*|duplicado|repet\w*|duplo|controle?|bis|(?P<run>r|re-?run|"
    r"re-?check|re-?test))[\s.#]*\d{0,2}[)\]]?$",
    re.IGNORECASE,
)
#: A name or number is known again in another only where it has so many signs.
_LEAST_SIGNS: Final = 3
#: So many numbers of one make tell how the laboratory numbers.
_LEAST_ALIKE: Final = 2


def doubt_strangers(found: Sequence[DraftSample], samples: Sequence[Sample]) -> None:
    """Ask about rows and columns among samples that nothing tells to be one.

    Parameters
    ----------
    found : sequence of DraftSample
        The samples as found, which know in which table they stand.
    samples : sequence of Sample
        The same samples with their values; those are doubted, and questions added.
    """
    tables: dict[tuple[int, int], list[Sample]] = defaultdict(list)
    for draft, sample in zip(found, samples, strict=True):
        if sample.values and (sample.id or sample.lab_no):
            tables[draft.page, draft.table].append(sample)
    _ask(_runs(samples), "its name is that of one of several runs")
    if len(tables) > 1:
        _ask(_of_other_table(tables), "it has no number of the laboratory, as others have")
    for (_, table), there in tables.items():
        if len(there) < _LEAST_ALIKE:
            continue
        _ask(_like_checks(there), "its name is that of a check or of a guide")
        _ask(_again(there), "its name is that of another with a word behind it")
        if table:
            _ask(_unnumbered(there), "it has no number of the laboratory, as others have")
            _ask(_of_other_make(there), "its number is not made as the others are")
            _ask(_numbered_as_before(there), "its number is that of another")


def _ask(strangers: Iterable[Sample], why: str) -> None:
    """Doubt all values of samples, and ask once of each whether it is one."""
    for sample in strangers:
        if any(one.key.startswith("sample or not") for one in sample.questions):
            continue
        for value in sample.values:
            value.doubt("it may be of no sample")
        sample.questions.append(
            Question(
                f'"{sample.name}" stands among the samples, and {why}. Is it hay of its own? A '
                "check of the laboratory, a second run, a mean and a goal are none.",
                f"sample or not {sample.name}",
                tuple(dict.fromkeys(value.analyte for value in sample.values)),
                ("as printed", "leave out"),
            )
        )


def _runs(samples: Sequence[Sample]) -> list[Sample]:
    """Return samples that are named as one of several runs of something: "Pan 2"."""
    return [one for one in samples if one.values and is_run(one.id)]


def _like_checks(samples: Sequence[Sample]) -> list[Sample]:
    """Return samples named like checks; a number counts where it is not made as the others are."""
    usual = _usual_make(samples)
    return [
        one
        for one in samples
        if like_own_check(one.id) or (like_own_check(one.lab_no) and _make(one.lab_no) != usual)
    ]


def _again(samples: Sequence[Sample]) -> list[Sample]:
    """Return samples that bear the name or the number of another with a word behind it.

    A second run under the same name is told from the first by its number, and no stranger.
    """
    known: dict[str, list[Sample]] = defaultdict(list)
    for one in samples:
        for name in {one.id, one.lab_no}:
            known[name].append(one)
    return [
        one for one in samples if _is_again(one, one.id, known) or _is_again(one, one.lab_no, known)
    ]


def _is_again(one: Sample, name: str, known: Mapping[str, Sequence[Sample]]) -> bool:
    told = _AGAIN.search(name)
    if told is None or told.start() < _LEAST_SIGNS:
        return False
    others = [each for each in known.get(name[: told.start()], ()) if each is not one]
    return any(not (told["run"] and one.id and one.id == other.id) for other in others)


def _unnumbered(samples: Sequence[Sample]) -> list[Sample]:
    """Return samples without a number, where no fewer others of the table have one."""
    without = [one for one in samples if not one.lab_no]
    return without if 2 * len(without) <= len(samples) else []


def _numbered_as_before(samples: Sequence[Sample]) -> list[Sample]:
    """Return samples that have the number of one before them, and another name."""
    names: dict[str, str] = {}
    return [
        one
        for one in samples
        if one.lab_no and one.id and names.setdefault(one.lab_no, one.id) != one.id
    ]


def _of_other_table(tables: Mapping[tuple[int, int], Sequence[Sample]]) -> list[Sample]:
    """Return samples of a table without numbers, under one of the same tests with numbers."""
    found: list[Sample] = []
    for (page, table), there in tables.items():
        over = [
            others
            for (on, at), others in tables.items()
            if on == page and 0 < at < table and all(one.lab_no for one in others)
        ]
        if not any(one.lab_no for one in there) and any(_alike(there, one) for one in over):
            names = {one.id for others in over for one in others}
            found.extend(one for one in there if one.id not in names)
    return found


def _alike(first: Sequence[Sample], second: Sequence[Sample]) -> bool:
    """Return whether two tables hold values of the same analytes."""
    sets = [{value.analyte for one in part for value in one.values} for part in (first, second)]
    return 3 * len(sets[0] & sets[1]) >= 2 * max(map(len, sets))


#: "1003-R", "1003b": which run or which part it is.
_RUN_BEHIND: Final = re.compile(r"(?<=\d)[-/ ]?[A-Za-z]{1,2}\d?$")


def _make(number: str) -> str:
    """Return how a number is made: "Q1003" and "Q988" alike, "QC-1" otherwise."""
    bare = _RUN_BEHIND.sub("", number.strip())
    return re.sub(r"\d+", "9", re.sub(r"[^\W\d_]", "A", bare))


def _usual_make(samples: Sequence[Sample]) -> str:
    """Return how most numbers of a table are made; empty where no make has the most."""
    makes = Counter(_make(one.lab_no) for one in samples if one.lab_no)
    usual, often = max(makes.items(), key=lambda one: one[1], default=("", 0))
    return usual if often >= _LEAST_ALIKE and 2 * often > makes.total() else ""


def _of_other_make(samples: Sequence[Sample]) -> list[Sample]:
    """Return samples whose number is not made as those of most others are.

    A second run of a sample may have a longer number under the same name.
    """
    usual = _usual_make(samples)
    names = Counter(one.id for one in samples)
    return [
        one
        for one in samples
        if usual and one.lab_no and _make(one.lab_no) != usual and names[one.id] == 1
    ]
