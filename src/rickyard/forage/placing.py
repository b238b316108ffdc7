"""Where a tested lot stands among its like: leafier, stemmier, or as usual."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from rickyard.farm import Forage, Maturity
from rickyard.forage.typical import Stage, book_measured, stages
from rickyard.forage.uncertainty import Measured

Verdict: TypeAlias = Literal["leafier", "usual", "stemmier"]
#: Leaf counts as unusual from here: one lot in six of its kind lies that far to either side.
#: Author's choice. [standard deviations]
UNUSUAL_FROM: Final = 1.0


@dataclass(frozen=True, slots=True)
class Placing:
    """A lot compared with a stage of its species.

    ``leafiness`` is how far the lot lies to the leafy side, in standard deviations of lots of
    that kind and of the test together. ``stage_given`` says whether the stage was stated; when
    not, the stage whose fiber is nearest was taken, and protein alone is compared.
    """

    stage: Stage
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

    Notes
    -----
    Leaf is rich in protein and poor in fiber. With the stage known, leafiness is the mean of how
    far protein lies above and fiber below the row, divided by the root of 1/2; with the stage
    unknown, protein above that of the row with the nearest fiber. A lot may lie 15 % from its
    row, to which the error of the test is added.

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
    given = bool(staged)
    row = staged[0] if given else min(rows, key=lambda one: abs(one.ndf_pct - ndf.value))
    above = _distance(cp, row.cp_pct, "cp")
    leafiness = (above - _distance(ndf, row.ndf_pct, "ndf")) / math.sqrt(2.0) if given else above
    verdict: Verdict = "usual"
    if abs(leafiness) >= UNUSUAL_FROM:
        verdict = "leafier" if leafiness > 0.0 else "stemmier"
    sentence = _sentence(row, verdict, given, cp, ndf)
    return Placing(row, verdict, leafiness, given, sentence)


def _distance(value: Measured, usual: float, quantity: str) -> float:
    spread = math.hypot(book_measured(usual, quantity).sd, value.sd)
    return (value.value - usual) / spread


def _sentence(row: Stage, verdict: Verdict, given: bool, cp: Measured, ndf: Measured) -> str:
    what = {
        "leafier": "leafier than usual",
        "usual": "about as leafy as usual",
        "stemmier": "stemmier than usual",
    }[verdict]
    book = (
        f"the book has {row.cp_pct:.1f} % protein and {row.ndf_pct:.0f} % NDF in the dry matter"
        f"{', from memory' if row.evidence == 'from memory' else ''}"
    )
    has = f"this lot {cp.value:.1f} % and {ndf.value:.0f} %"
    if given:
        return f"It is {what} for {row.words}: {book}, {has}."
    return f"By its fiber it is nearest to {row.words}, and {what} for that: {book}, {has}."
