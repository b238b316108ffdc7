"""Answers written down: what a call gives today is set beside what it gave when it was looked over.

A recorded answer has no published source. It notices a change that nobody meant; that an answer
is right is held by the check values and by the tests of the rules. Whoever changes an answer on
purpose writes the records anew with ``python -m pytest tests/test_as_recorded.py --record`` and
reads the difference.
"""

from __future__ import annotations

import dataclasses
import hashlib
import math
import re
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from enum import Enum
from pathlib import Path

import numpy as np

FOLDER = Path(__file__).parents[1] / "recorded"
#: So much of an answer is written out; a digest stands for the rest.
WRITTEN_OUT = 160
#: Digits of a number: fewer than two machines, or two releases of NumPy, differ in.
DIGITS = 6
#: What is nearer to nothing than this is the rounding of binary numbers.
NOTHING = 1e-9


def words_of(answer: object) -> Iterator[str]:
    """Yield what an answer holds, down to numbers and words, in its own order.

    Of a sentence that is its figures, and of what is not known nothing: how a thing is said, and
    what can be said beside it, may grow without a change of the record.
    """
    match answer:
        case None:
            return
        case str():
            yield from _figures(answer) if " " in answer else [answer] if answer else []
        case bool():
            yield str(answer)
        case Enum():
            yield str(answer.value)
        case float() | np.floating():
            yield _number(float(answer))
        case int() | np.integer() | date():
            yield str(answer)
        case set() | frozenset():
            yield from sorted(word for one in answer for word in words_of(one))
        case _:
            for name, part in _parts_of(answer):
                inside = list(words_of(part))
                if inside:
                    yield from (name, *inside) if name else inside


def _parts_of(answer: object) -> Iterator[tuple[str, object]]:
    """Yield the parts of an answer that has parts, each with its name if it has one."""
    if isinstance(answer, np.ndarray):
        yield "x".join(map(str, answer.shape)), answer.ravel().tolist()
    elif isinstance(answer, Mapping):
        yield from ((str(key), value) for key, value in answer.items())
    elif isinstance(answer, tuple | list):
        yield from (("", one) for one in answer)
    elif dataclasses.is_dataclass(answer):
        yield from ((one.name, getattr(answer, one.name)) for one in dataclasses.fields(answer))
    else:
        yield type(answer).__name__, ""


def _figures(sentence: str) -> list[str]:
    return re.findall(r"\d[\d,.]*\b", sentence) or ["said"]


def _number(value: float) -> str:
    if not math.isfinite(value):
        return str(value)
    return f"{0.0 if abs(value) < NOTHING else value:.{DIGITS}g}"


def answer_of(call: Callable[[], object], refusals: tuple[type[Exception], ...]) -> str:
    """Return the answer of a call in one line, or how it refuses."""
    try:
        whole = " ".join(words_of(call()))
    except refusals as error:
        whole = " ".join((type(error).__name__, *_figures(str(error))))
    whole = " ".join(whole.split())
    if len(whole) <= WRITTEN_OUT:
        return whole
    digest = hashlib.sha256(whole.encode()).hexdigest()[:12]
    return f"{whole[:WRITTEN_OUT].rstrip()} ... {digest}"


def differences(part: str, about: str, answers: Mapping[str, str], record: bool) -> list[str]:
    """Return what differs from the record of a part about one thing, written anew if asked."""
    path = FOLDER / f"{part}.txt"
    now = {f"{about} | {case}": answer for case, answer in answers.items()}
    lines = path.read_text("utf-8").splitlines() if path.exists() else []
    if record:
        others = [line for line in lines if not line.startswith(f"{about} | ")]
        lines = sorted([*others, *(f"{case}: {answer}" for case, answer in now.items())])
        path.write_text("".join(f"{line}\n" for line in lines), "utf-8", newline="\n")
    mine = [line for line in lines if line.startswith(f"{about} | ")]
    told = dict(line.split(": ", 1) for line in mine)
    return [
        f"{case}: recorded {told.get(case)!r}, now {now.get(case)!r}"
        for case in {**told, **now}
        if told.get(case) != now.get(case)
    ]
