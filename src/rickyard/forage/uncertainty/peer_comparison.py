"""Where a tested lot stands among its like: leafier, stemmier, or as usual."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

import numpy as np

from rickyard.farm import Forage, Maturity
from rickyard.forage.uncertainty.typical import Stage, book_measured, stages
from rickyard.forage.uncertainty.uncertainty import Measured

Verdict: TypeAlias = Literal["leafier", "usual", "stemmier"]
#: Leaf counts as unusual from here: one lot in six of its kind lies that far to either side.
#: Judgement. [standard deviations]
UNUSUAL_FROM: Final = 1.0
#: Fiber further than this from the nearest stage, of the way to the next, is told as between the
#: two. Judgement.
BETWEEN_FROM_FRAC: Final = 0.25


@dataclass(frozen=True, slots=True)
class Placing:
    """A lot compared with a stage of its species.

    ``leafiness`` is how far the lot lies to the leafy side, in standard deviations of lots of
    that kind and of the test together. ``stage_given`` says whether the stage was stated; when
    not, ``stage`` is the one whose fiber is nearest, and protein alone is compared with
    ``usual_cp_pct``, read between the stages at the fiber of the lot.
    """

    stage: Stage
    usual_cp_pct: float
    verdict: Verdict
    leafiness: float
    stage_given: bool
    sentence: str


def place(
    forage: Forage,
    species: str,
    maturity: Maturity | None,
    cp: Measured,
    ndf: Measured,
) -> Placing | None:
    """Compare a test with what its species usually holds at its stage.

    Leaf is rich in protein and poor in fiber. With the stage known, leafiness is the mean of how
    far protein lies above and fiber below the row, times the root of 2; with the stage unknown,
    how far protein lies above what is usual at that fiber, on straight lines between the stages
    and not beyond them. A lot may lie 15 % from the book, to which the error of the test is
    added.

    Parameters
    ----------
    forage : Forage
        What the lot is made of.
    species : str
        Its plants in plain words, or empty.
    maturity : Maturity, optional
        How far it had grown, when that was written down.
    cp, ndf : Measured
        Crude protein and neutral detergent fiber of the test. [% DM]

    Returns
    -------
    Placing or None
        ``None`` when the table holds no row to compare with.

    Examples
    --------
    >>> cp = Measured.normal(15.5, 1.0, "% of dry matter", "")
    >>> ndf = Measured.normal(54.0, 2.0, "% of dry matter", "")
    >>> found = place(Forage.COOL_GRASS, "orchardgrass", Maturity.EARLY_BLOOM, cp, ndf)
    >>> found.verdict, found.stage.evidence
    ('leafier', 'from memory')
    """
    rows = stages(forage, species)
    if not rows:
        return None
    staged = [row for row in rows if maturity is not None and row.maturity == maturity.value]
    if staged:
        row, usual = staged[0], staged[0].cp_pct
        above = _distance(cp, usual, "cp")
        leafiness = (above - _distance(ndf, row.ndf_pct, "ndf")) / math.sqrt(2.0)
    else:
        row = min(rows, key=lambda one: abs(one.ndf_pct - ndf.value))
        usual = _usual_cp(rows, ndf.value)
        leafiness = _distance(cp, usual, "cp")
    verdict: Verdict = "usual"
    if leafiness >= UNUSUAL_FROM:
        verdict = "leafier"
    elif leafiness <= -UNUSUAL_FROM:
        verdict = "stemmier"
    words = (_BY_PROTEIN if forage in _WITHOUT_LEAF else _BY_LEAF)[verdict]
    sentence = (
        _staged_sentence(row, words, cp, ndf)
        if staged
        else _fiber_sentence(rows, row, usual, words, cp, ndf)
    )
    return Placing(row, usual, verdict, leafiness, bool(staged), sentence)


def _usual_cp(rows: Sequence[Stage], ndf_pct: float) -> float:
    ordered = sorted(rows, key=lambda one: one.ndf_pct)
    fiber, protein = [one.ndf_pct for one in ordered], [one.cp_pct for one in ordered]
    return float(np.interp(ndf_pct, fiber, protein))


def _distance(value: Measured, usual: float, quantity: str) -> float:
    spread = math.hypot(book_measured(usual, quantity).sd, value.sd)
    return (value.value - usual) / spread


#: Leaf does not tell how good these are.
_WITHOUT_LEAF: Final = frozenset({Forage.CORN_SILAGE, Forage.STRAW})
_BY_PROTEIN: Final[dict[Verdict, str]] = {
    "leafier": "higher in protein than usual",
    "usual": "about as high in protein as usual",
    "stemmier": "lower in protein than usual",
}
_BY_LEAF: Final[dict[Verdict, str]] = {
    "leafier": "leafier than usual",
    "usual": "about as leafy as usual",
    "stemmier": "stemmier than usual",
}


def _evidence(row: Stage) -> str:
    return " (from memory)" if row.evidence == "from memory" else ""


def _staged_sentence(row: Stage, words: str, cp: Measured, ndf: Measured) -> str:
    return (
        f"It is {words} for {row.words}: the book has {row.cp_pct:.1f}% protein and "
        f"{row.ndf_pct:.0f}% NDF in the dry matter{_evidence(row)}, this lot {cp.value:.1f}% "
        f"and {ndf.value:.0f}%."
    )


def _fiber_sentence(
    rows: Sequence[Stage], row: Stage, usual: float, words: str, cp: Measured, ndf: Measured
) -> str:
    past = ndf.value - row.ndf_pct
    beyond = [one for one in rows if (one.ndf_pct - row.ndf_pct) * past > 0.0]
    other = min(beyond, key=lambda one: abs(one.ndf_pct - ndf.value)) if beyond else None
    where = f"is nearest to {row.words}"
    if other is not None and abs(past) > BETWEEN_FROM_FRAC * abs(other.ndf_pct - row.ndf_pct):
        where = f"lies between {row.words} and {other.words}"
    return (
        f"By its fiber it {where}, and is {words} for that: the book has about "
        f"{usual:.1f}% protein in the dry matter there{_evidence(row)}, this lot "
        f"{cp.value:.1f}%."
    )
