"""The order of days on a report: sampled, received, reported."""

from __future__ import annotations

import itertools

from rickyard.labs.common import Question, Sample

_WORDS = {"sampled_on": "sampled", "received_on": "received", "reported_on": "reported"}
#: Between a sample and its report there is not more than this, common practice.
MOST_DAYS = 400


def check_days(sample: Sample) -> None:
    """Ask where a report is dated before its sample, or long after it."""
    known = [(name, getattr(sample, name)) for name in _WORDS if getattr(sample, name)]
    for (first, day), (second, later) in itertools.pairwise(known):
        if 0 <= (later - day).days <= MOST_DAYS:
            continue
        what = "before" if later < day else "more than a year after"
        sample.asked.update((first, second))
        sample.questions.append(
            Question(
                f"{sample.name}: {_WORDS[second]} on {later.isoformat()} is {what} "
                f"{_WORDS[first]} on {day.isoformat()}. Which of the two days is wrong?",
                f"days {sample.name}",
                (first, second),
                ("a date",),
            )
        )
