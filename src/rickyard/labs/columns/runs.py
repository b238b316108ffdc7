"""Runs of one sample beside one another, and the mean of them, which alone is its result.

A laboratory weighs two pans of one hay and prints both: neither pan is a sample. Where their mean
is printed it is the result; where it is not, nothing tells which of them counts, and it is asked.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from typing import Final

#: What is weighed, burned or read twice of one sample; no word that names land or a stack.
_VESSELS: Final = (
    r"rep(?:licate|etition)?s?|dup(?:licate)?s?|aliquots?|sub-?samples?|determinations?|"
    r"measurements?|readings?|weighings?|scans?|pans?|tins?|crucibles?|beakers?|flasks?|dishes|"
    r"dish|boats?|test tubes?|tubes?|filter bags?|thimbles?|wdh|messung|essai|mesure|"
    r"repeticion|prova|herhaling"
)
_RUN: Final = re.compile(
    rf"(?:{_VESSELS}|run|trial)\.?(?: (?:no|nr)\.?)? ?#?(?:\d{{1,2}}|[a-d])|"
    r"(?:1st|2nd|3rd|first|second|third)(?: (?:run|test|scan|pan|rep|weighing|reading))?",
    re.IGNORECASE,
)
#: A run whatever else stands there: "first" alone may be a cutting, and "Run 2" a stream.
_SURELY_RUN: Final = re.compile(
    rf"(?:{_VESSELS})\.?(?: (?:no|nr)\.?)? ?#?(?:\d{{1,2}}|[a-d])|"
    r"(?:1st|2nd|3rd|first|second|third) (?:run|scan|pan|rep|weighing|reading)",
    re.IGNORECASE,
)
#: "Bag 1", "Core 2": of one sample where it has a name of its own and the mean stands beside them.
_PART_OF_ONE: Final = re.compile(
    r"(?:bag|core|bale|probe|sub|test|sample|half|portion|split|side)s? ?#?(?:\d{1,2}|[a-d])|"
    r"[a-d]|[1-4]",
    re.IGNORECASE,
)
_OF_RUNS: Final = re.compile(
    r"(?:the )?(?:mean|average|avg|ave|mittel(?:wert)?|moyenne|media|promedio|gemiddelde|"
    r"medelvarde)\.?(?: of (?:\d|two|runs|both|all|pans|reps|replicates|duplicates|the two))?|"
    r"results?|final|reported",
    re.IGNORECASE,
)
#: "Upper 60, rep 2", "K12 pan 1": a run behind the name of its sample.
_BEHIND_NAME: Final = re.compile(
    rf"(?P<name>\S.*?)[\s,;:/(\[–-]+(?P<run>(?:{_VESSELS})\.?(?: (?:no|nr)\.?)? ?#?"
    r"(?:\d{1,2}|[a-d]))[)\]]?",
    re.IGNORECASE,
)
_MEAN_BEHIND: Final = re.compile(
    r"(?P<name>\S.*?)[\s,;:/(\[–-]+(?P<run>mean|average|avg|ave)\.?[)\]]?", re.IGNORECASE
)
#: The heading of a column that counts the runs of each sample.
_COUNTS_RUNS: Final = re.compile(
    rf"(?:{_VESSELS}|run|trial)\.?(?: ?(?:no|nr|number|num|#|id)\.?)?", re.IGNORECASE
)
_EDGES: Final = " :*.()[]"
_LEAST: Final = 2


def counts_runs(text: str) -> bool:
    """Return whether a heading is that of a column that counts runs.

    Parameters
    ----------
    text : str
        What stands over a column, or names a row.

    Returns
    -------
    bool
        Whether it is so.

    Examples
    --------
    >>> counts_runs("Pan"), counts_runs("Rep no."), counts_runs("Panel")
    (True, True, False)
    """
    return bool(_COUNTS_RUNS.fullmatch(text.strip(" :*()[]")))


def is_run(text: str) -> bool:
    """Return whether a text is one of several runs and names no sample.

    Parameters
    ----------
    text : str
        What stands over a column, or names a row.

    Returns
    -------
    bool
        Whether it is so.

    Examples
    --------
    >>> is_run("Pan 1"), is_run("rep b"), is_run("Bag 1"), is_run("2nd")
    (True, True, False, False)
    """
    return bool(_SURELY_RUN.fullmatch(text.strip(_EDGES)))


def is_of_runs(text: str) -> bool:
    """Return whether a text says that a value is what several runs are together.

    Parameters
    ----------
    text : str
        What stands over a column, or names a row.

    Returns
    -------
    bool
        Whether it is so.

    Examples
    --------
    >>> is_of_runs("Mean"), is_of_runs("Average of both"), is_of_runs("Mean Creek")
    (True, True, False)
    """
    return bool(_OF_RUNS.fullmatch(text.strip(_EDGES)))


def run_behind(text: str) -> tuple[str, str] | None:
    """Return the name of a sample and the run behind it, where a text holds both.

    A mean counts as one: which of the two it is, ``is_of_runs`` tells.

    Parameters
    ----------
    text : str
        The name.

    Returns
    -------
    tuple of str, or None
        Name and run, ``None`` where no run stands behind it.

    Examples
    --------
    >>> run_behind("Upper 60, rep 2"), run_behind("Upper 60 mean"), run_behind("Upper 60")
    (('Upper 60', 'rep 2'), ('Upper 60', 'mean'), None)
    """
    told = _BEHIND_NAME.fullmatch(text.strip()) or _MEAN_BEHIND.fullmatch(text.strip())
    return (told["name"].strip(), told["run"]) if told else None


def means_instead(columns: Sequence[Sequence[str]], *, one_sample: bool) -> list[bool]:
    """Return which columns stay where others hold the runs that they are the means of.

    Parameters
    ----------
    columns : sequence of sequence of str
        The texts over each column.
    one_sample : bool
        Whether all stand under the name of one sample, so that "Bag 1" is a part of it.

    Returns
    -------
    list of bool
        For each column whether it stays: all of them where there are no runs, or no mean of them.

    Examples
    --------
    >>> means_instead([["pan 1"], ["pan 2"], ["mean"]], one_sample=False)
    [False, False, True]
    >>> means_instead([["East"], ["West"], ["mean"]], one_sample=True)
    [True, True, True]
    """
    said = [[text.strip(_EDGES) for text in texts] for texts in columns]
    groups: dict[tuple[str, ...], list[int]] = defaultdict(list)
    for place, texts in enumerate(said):
        others = (one for one in texts if not _run_or_mean(one, one_sample=one_sample))
        groups[tuple(others)].append(place)
    stays = [True] * len(said)
    for places in groups.values():
        runs = [one for one in places if any(_is_one(t, one_sample=one_sample) for t in said[one])]
        means = [one for one in places if any(map(_OF_RUNS.fullmatch, said[one]))]
        if len(runs) >= _LEAST and means:
            for one in runs:
                stays[one] = one in means
    return stays


def _is_one(text: str, *, one_sample: bool) -> bool:
    return bool(_RUN.fullmatch(text) or (one_sample and _PART_OF_ONE.fullmatch(text)))


def _run_or_mean(text: str, *, one_sample: bool) -> bool:
    return _is_one(text, one_sample=one_sample) or bool(_OF_RUNS.fullmatch(text))
