"""All checks of what was read, one after another."""

from __future__ import annotations

from rickyard.labs.checking.again import check_again, without_copies
from rickyard.labs.checking.alike import check_alike
from rickyard.labs.checking.bases import check_bases
from rickyard.labs.checking.days import check_days
from rickyard.labs.checking.energy import check_energy
from rickyard.labs.checking.parts import check_parts
from rickyard.labs.checking.protein import check_protein
from rickyard.labs.checking.rules import check_rules
from rickyard.labs.checking.seldom import check_seldom
from rickyard.labs.checking.starch import check_starch
from rickyard.labs.checking.twins import check_twins
from rickyard.labs.common import Question, Sample


def check(samples: list[Sample], notes: list[str]) -> tuple[list[Sample], list[Question]]:
    """Check the samples of a file, and return those that are kept, with questions on the file.

    Parameters
    ----------
    samples : list of Sample
        What was read; each is given its questions.
    notes : list of str
        What was done is added to it, in sentences.

    Returns
    -------
    kept : list of Sample
        The samples without those that are there twice.
    questions : list of Question
        Questions about the file as a whole.
    """
    kept = without_copies(samples, notes)
    doubted = [check_bases(sample) for sample in kept]
    for sample in kept:
        check_energy(sample)
        check_protein(sample)
        check_starch(sample)
        check_days(sample)
    if kept:
        check_rules(kept, doubted)
    for sample in kept:
        check_parts(sample)
        check_seldom(sample)
    check_alike(kept)
    check_twins(kept)
    return kept, check_again(kept)
