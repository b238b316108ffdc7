"""The forage rules applied to what was read, for a file of samples at once."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from rickyard.farm import Analyte, Basis, Report
from rickyard.forage.plausibility import RULES, broken_rules
from rickyard.forage.values import (
    FORAGE_CODE,
    ReportColumns,
    column_values,
    columns_of_rows,
    shipped_screens,
)
from rickyard.kinds import Forage
from rickyard.labs.checking.forages import forage_of, is_wet
from rickyard.labs.common import Question, Sample
from rickyard.labs.science import told_rule

#: Rules that this package checks itself, with rounding: the sum of dry matter and moisture, and
#: the two bases of a value; and a form of nitrate that is not printed, which is asked already.
_OWN: Final = frozenset({"P02", "P03"})
#: Screens of what is usual are told and hold nothing up; what is swapped or impossible does.
_SCREENS: Final = ("S01", "S02", "S03")
#: Between these shares of dry matter a forage whose kind is not printed may be silage.
_MAYBE_SILAGE: Final = (22.0, 78.0)


def report_of(sample: Sample, report_id: str = "", lot_id: str = "") -> Report:
    """Return the values of a sample that a number can be taken from, as a report."""
    analytes = tuple(
        Analyte(
            one.analyte,
            one.value,
            one.unit,
            Basis(one.basis) if one.basis in ("dm", "ar") else Basis.NONE,
            one.method,
            one.printed,
            one.op if one.op in ("<", ">") else "",
        )
        for one in sample.values
        if one.status != "refused"
    )
    return Report(report_id, lot_id, analytes, sample.sampled_on, sample.reported_on)


def check_rules(samples: Sequence[Sample], doubted: Sequence[bool]) -> None:
    """Hold samples against the forage rules, and put what breaks one among their questions.

    Parameters
    ----------
    samples : sequence of Sample
        The samples of a file.
    doubted : sequence of bool
        Whether the dry matter of a sample is in doubt already; rules on it are then left unsaid.
    """
    rows = [_row(sample) for sample in samples]
    ways = [_ways(sample) for sample in samples]
    owners = [n for n, way in enumerate(ways) for _ in way]
    owner = np.array(owners)
    once = columns_of_rows([next(iter(Forage))] * len(rows), [False] * len(rows), rows)
    columns = ReportColumns(
        np.array([FORAGE_CODE[forage] for way in ways for forage, _ in way], dtype=np.intp),
        np.array([wet for way in ways for _, wet in way], dtype=np.bool_),
        {name: values[owner] for name, values in once.values.items()},
    )
    counts = np.bincount(owner, minlength=len(samples))
    screens = shipped_screens()
    broken: dict[int, list[int]] = {}
    for place, flags in broken_rules(columns, screens).items():
        hits = np.bincount(owner, weights=flags.astype(np.float64), minlength=len(samples))
        for hit in np.flatnonzero(hits == counts).tolist():
            broken.setdefault(hit, []).append(place)
    for n, places in broken.items():
        kept = [p for p in places if not _covered(p, places)]
        for place in kept:
            _tell(samples[n], place, ways[n][0], rows[n], doubted[n])


def _row(sample: Sample) -> dict[str, float]:
    return column_values(report_of(sample))


def _ways(sample: Sample) -> list[tuple[Forage, bool]]:
    """Return the forages that a sample may be of: a rule counts where it is broken for all."""
    words = f"{sample.forage_words} {sample.id}"
    forage = forage_of(sample.forage_words) or forage_of(sample.id)
    wet = is_wet(words)
    if forage is Forage.CORN_SILAGE:
        wet = True
    dm = sample.of("dm")
    if wet is None and (dm is None or dm.value is None):
        wet = False
    if wet is None:
        assert dm is not None
        assert dm.value is not None
        wet = _MAYBE_SILAGE[0] < dm.value < _MAYBE_SILAGE[1]
    return [(one, wet) for one in ([forage] if forage else list(Forage))]


def _covered(place: int, places: Sequence[int]) -> bool:
    rule = RULES[place]
    gravity = {"error": 2, "warning": 1, "note": 0}
    return rule.yields and any(
        not RULES[other].yields
        and gravity[RULES[other].level] >= gravity[rule.level]
        and set(RULES[other].concerns) & set(rule.concerns)
        for other in places
    )


def _tell(
    sample: Sample,
    place: int,
    way: tuple[Forage, bool],
    row: dict[str, float],
    doubted: bool,
) -> None:
    rule = RULES[place]
    if rule.rule in _OWN or rule.level == "note":
        return
    about = tuple(dict.fromkeys(name.removesuffix("_ar") for name in rule.concerns))
    if doubted and "dm" in about:
        return
    if any(name.endswith("_missing") for name in about):
        return
    named = tuple(name for name in about if sample.of(name)) or about
    known = [sample.of(name) for name in named]
    if any(one is not None and one.status != "sure" for one in known):
        return  # what is in doubt already explains it
    mild = rule.rule in _SCREENS and rule.level == "warning" and "swapped" not in rule.cause
    sentence = told_rule(rule, sample.name, *way, row)
    sample.questions.append(
        Question(
            sentence,
            f"rule {rule.rule} {' '.join(named)} {sample.name}",
            named,
            ("as printed", "a number", "leave out"),
            "",
            "note" if mild else "open",
        )
    )
    if rule.level == "error":
        for name in named:
            for value in sample.values:
                if value.analyte == name and value.status == "sure":
                    value.doubt(f"it breaks forage rule {rule.rule}")
