"""Samples that stand twice in one file."""

from __future__ import annotations

from collections.abc import Sequence

from rickyard.forage.values import word_of
from rickyard.labs.common import Question, Sample, Value


def without_copies(samples: Sequence[Sample], notes: list[str]) -> list[Sample]:
    """Return samples with those of one name and number put together where they agree.

    A file may hold a sheet for each sample and a summary of all, or the minerals of a sample on
    a page of their own.
    """
    kept: list[Sample] = []
    by_number: dict[str, list[Sample]] = {}
    by_name: dict[str, list[Sample]] = {}
    for sample in samples:
        number, name = sample.lab_no.casefold(), sample.id.casefold()
        near = [*by_number.get(number, ()), *by_name.get(name, ())]
        twin = next((one for one in near if _one_name(one, sample) and _agree(one, sample)), None)
        run = None if twin else next((one for one in near if _is_rerun(one, sample)), None)
        if run is not None:
            _ask_run(run, sample)
            twin = run
        elif twin is None:
            kept.append(sample)
            twin = sample
        else:
            twin.id, twin.lab_no = twin.id or sample.id, twin.lab_no or sample.lab_no
            if not _put_together(twin, sample):
                notes.append(f"{sample.name} stands twice with the same values ({sample.place}).")
        for key, names in ((number, by_number), (name, by_name)):
            if key and not any(one is twin for one in names.get(key, ())):
                names.setdefault(key, []).append(twin)
    return kept


def _one_name(first: Sample, second: Sample) -> bool:
    """Return whether neither the names nor the numbers of two samples contradict."""
    pairs = ((first.id, second.id), (first.lab_no, second.lab_no))
    return all(not a or not b or a.casefold() == b.casefold() for a, b in pairs)


def _is_rerun(first: Sample, second: Sample) -> bool:
    """Return whether some values of a sample were tested once more, under its name and number."""
    named = first.id and first.lab_no and _one_name(first, second) and second.id and second.lab_no
    return bool(named) and 2 * len(second.values) <= len(first.values)


def _ask_run(first: Sample, second: Sample) -> None:
    """Ask which run counts of what was tested twice, and take what was tested once."""
    for one, other in _shared(first, second):
        if _alike(one, other):
            continue
        one.doubt("it was tested twice with two results")
        first.questions.append(
            Question(
                f"{first.name}: {word_of(one.analyte)} was tested twice: {one.printed} "
                f"({one.place}) and {other.printed} ({other.place}). Which one counts?",
                f"run {one.analyte} {one.basis}",
                (one.analyte,),
                (one.printed, other.printed, "leave out"),
            )
        )
    _put_together(first, second)


def _agree(first: Sample, second: Sample) -> bool:
    """Return whether two samples can be one: no value or day of theirs contradicts."""
    for name in ("sampled_on", "received_on", "reported_on"):
        mine, other = getattr(first, name), getattr(second, name)
        if mine and other and mine != other:
            return False
    if not all(_alike(one, other) for one, other in _shared(first, second)):
        return False
    names = {one.analyte for one in first.values} & {one.analyte for one in second.values}
    if first.method and second.method and first.method != second.method and names:
        return False  # two laboratories tested one hay, each in its own way
    return _one_water(first, second)


def _one_water(first: Sample, second: Sample) -> bool:
    """Return whether the dry matter of one sample and the moisture of another can be of one."""
    for one, other in ((first, second), (second, first)):
        dry, water = one.of("dm"), other.of("moisture")
        if dry is None or water is None or dry.value is None or water.value is None:
            continue
        alone = dry.unit == water.unit == "pct" and not (one.of("moisture") or other.of("dm"))
        if alone and abs(dry.value + water.value - 100.0) > max(dry.step, water.step) + 1e-9:
            return False
    return True


def _alike(one: Value, other: Value) -> bool:
    """Return whether two values are one, the coarser of the two rounded."""
    if one.value is None or other.value is None:
        return one.op == other.op
    if one.unit != other.unit or one.op != other.op:
        return False
    return abs(one.value - other.value) <= 0.5 * max(one.step, other.step) + 1e-9


def _shared(first: Sample, second: Sample) -> list[tuple[Value, Value]]:
    known = {(value.analyte, value.basis): value for value in first.values}
    return [
        (known[value.analyte, value.basis], value)
        for value in second.values
        if (value.analyte, value.basis) in known
    ]


def _put_together(twin: Sample, sample: Sample) -> int:
    known = {(value.analyte, value.basis) for value in twin.values}
    added = [v for v in sample.values if (v.analyte, v.basis) not in known]
    twin.values.extend(added)
    names = {value.analyte for value in added}
    twin.questions.extend(q for q in sample.questions if not q.analytes or set(q.analytes) & names)
    for name in ("sampled_on", "received_on", "reported_on", "method", "forage_words"):
        if not getattr(twin, name):
            setattr(twin, name, getattr(sample, name))
    return len(added)


def check_again(samples: Sequence[Sample]) -> list[Question]:
    """Return questions on laboratory numbers, or samples without any name, that stand twice."""
    questions: list[Question] = []
    by_number: dict[str, list[Sample]] = {}
    for sample in samples:
        if sample.lab_no:
            by_number.setdefault(sample.lab_no.casefold(), []).append(sample)
    for number, same in by_number.items():
        if len(same) == 1:
            continue
        names = ", ".join(f'"{one.id}"' if one.id else "one without a name" for one in same)
        for one in same:
            one.questions.append(
                Question(
                    f"Laboratory number {same[0].lab_no} stands on {len(same)} results ({names}): "
                    "is one a re-run of the other, or is a number mistyped?",
                    f"again {number}",
                    ("lab_no", *dict.fromkeys(v.analyte for v in one.values)),
                    ("two samples", "the last counts", "the first counts"),
                )
            )
    return questions
