"""What is found before it is settled: values with the hints that stand around them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from rickyard.labs.columns import is_of_runs, run_behind
from rickyard.labs.common import Cell
from rickyard.labs.vocabulary import Label, Printed


@dataclass(slots=True)
class Hint:
    """A unit or a basis that stands near a value, and where: the nearest counts first."""

    word: str
    where: str


@dataclass(slots=True)
class Found:
    """A printed value with its label and everything near it that may tell unit and basis."""

    label: Label
    label_text: str
    cell: Cell
    printed: Printed
    units: list[Hint] = field(default_factory=list)
    bases: list[Hint] = field(default_factory=list)
    method: str = ""
    marks: str = ""
    doubt: str = ""


@dataclass(slots=True)
class DraftSample:
    """A sample as found: fields by name, each with its printed text, and the values.

    ``unread`` are labels that were not understood, each with its number, and ``doubts`` what
    contradicts the way in which the sample was read; ``of_runs`` says that its values stand there
    once for each run, and no mean of them.
    """

    fields: dict[str, Cell] = field(default_factory=dict)
    found: list[Found] = field(default_factory=list)
    place: str = ""
    page: int = 0
    table: int = 0
    unread: list[tuple[str, str]] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    of_runs: bool = False


@dataclass(slots=True)
class Draft:
    """Everything found in one way of reading a file.

    ``titles`` are the lines right over tables, with whether they gave columns their basis.
    """

    samples: list[DraftSample] = field(default_factory=list)
    texts: list[Cell] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)
    passed: list[str] = field(default_factory=list)
    lab: str = ""
    structure: list[str] = field(default_factory=list)
    titles: list[tuple[Cell, bool]] = field(default_factory=list)


#: Fields by which the runs of one sample are known to be of one.
_NAMED_BY = ("id", "weak_id", "lab_no", "number")
_LEAST_RUNS = 2


def runs_together(samples: Sequence[DraftSample], passed: list[str]) -> list[DraftSample]:
    """Put rows that are runs of one sample together: their mean alone stays, where there is one.

    Where there is none each value stands in the sample as often as it was run, and is asked about.

    Parameters
    ----------
    samples : sequence of DraftSample
        The rows of a table in their order, each with its ``run`` or with one behind its name.
    passed : list of str
        What was no sample; the runs that a mean stands for are added.

    Returns
    -------
    list of DraftSample
        The samples.
    """
    groups: list[list[tuple[str, dict[str, Cell], DraftSample]]] = []
    for sample in samples:
        run, named = _run_and_name(sample)
        first = groups[-1][0] if groups else ("", {}, sample)
        if run and first[0] and _of_one(first[1], named) and _as_many(first[2], sample):
            groups[-1].append((run, named, sample))
        else:
            groups.append([(run, named, sample)])
    return [
        _one_of(group, passed) if len(group) >= _LEAST_RUNS else group[0][2] for group in groups
    ]


def _run_and_name(sample: DraftSample) -> tuple[str, dict[str, Cell]]:
    """Return which run a row is of, empty where it is none, and what names its sample."""
    named = {name: sample.fields[name] for name in _NAMED_BY if name in sample.fields}
    if "run" in sample.fields:
        return sample.fields["run"].text, named
    for name in _NAMED_BY:
        told = run_behind(named[name].text) if name in named else None
        if told is not None:
            named[name] = replace(named[name], text=told[0])
            return told[1], named
    return "", named


def _of_one(first: dict[str, Cell], named: dict[str, Cell]) -> bool:
    """Return whether a row bears the names of the first run, or none, as under a merged cell."""
    return all(name in first and first[name].text == cell.text for name, cell in named.items())


def _as_many(first: DraftSample, other: DraftSample) -> bool:
    """Return whether two runs hold about as many values; what is tested again is but a part."""
    return 2 * len(other.found) > len(first.found)


def _one_of(
    group: Sequence[tuple[str, dict[str, Cell], DraftSample]], passed: list[str]
) -> DraftSample:
    """Return the one sample of its runs."""
    first, named = group[0][2], group[0][1]
    means = [sample for run, _, sample in group if is_of_runs(run)]
    if len(means) == 1:
        kept = means[0]
        kept.fields = {**first.fields, **kept.fields, **named}
        name = next((cell.text for cell in named.values()), "")
        passed.extend(f"{name} {run}".strip() for run, _, one in group if one is not kept)
        return kept
    first.fields.update(named)
    first.of_runs = True
    for _, _, sample in group[1:]:
        first.found.extend(sample.found)
    return first


def is_mean_of_run(fields: dict[str, Cell], samples: Sequence[DraftSample]) -> bool:
    """Return whether a row is the mean of the runs before it, which is their sample's result.

    Parameters
    ----------
    fields : dict of str to Cell
        What names the row, and its run.
    samples : sequence of DraftSample
        The rows before it.

    Returns
    -------
    bool
        Whether it is.
    """
    if not samples:
        return False
    if "run" in fields:
        return is_of_runs(fields["run"].text) and "run" in samples[-1].fields
    before = [run_behind(samples[-1].fields[n].text) for n in _NAMED_BY if n in samples[-1].fields]
    here = [run_behind(fields[n].text) for n in _NAMED_BY if n in fields]
    names = {one[0] for one in before if one is not None}
    return any(one is not None and one[0] in names and is_of_runs(one[1]) for one in here)
