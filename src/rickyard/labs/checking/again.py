"""Samples that stand twice in one file."""

from __future__ import annotations

from collections.abc import Sequence

from rickyard.labs.shapes import Question, Sample


def without_copies(samples: Sequence[Sample], notes: list[str]) -> list[Sample]:
    """Return samples without exact copies of one another, and say how many there were."""
    seen: dict[tuple[object, ...], Sample] = {}
    kept = []
    for sample in samples:
        key = (
            sample.id.casefold(),
            sample.lab_no.casefold(),
            sample.sampled_on,
            sample.reported_on,
            tuple(sorted((v.analyte, v.basis, v.printed, v.unit) for v in sample.values)),
        )
        if key in seen and (sample.id or sample.lab_no):
            notes.append(f"{sample.name} stands twice with the same values ({sample.place}).")
            continue
        seen[key] = sample
        kept.append(sample)
    return kept


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
