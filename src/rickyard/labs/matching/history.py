"""What the farm knows of a lot held against the result that came for it."""

from __future__ import annotations

from typing import Final

from rickyard.farm import Lot, Report
from rickyard.forage.plausibility import report_findings
from rickyard.labs.checking import dry_matter_frac, forage_of
from rickyard.labs.common import Question
from rickyard.labs.matching.lots import Match

#: Hay dries in the stack, and a probe reads a few points off: common practice, no published
#: source. [percentage points]
MOST_MOISTURE_APART: Final = 8.0


def history_questions(match: Match, report: Report) -> list[Question]:
    """Return what does not fit between a lot and the result that is to be its report.

    Parameters
    ----------
    match : Match
        A sample with its lot.
    report : Report
        What would be written of it.

    Returns
    -------
    list of Question
        What is worth asking; empty where all fits.
    """
    lot = match.lot
    assert lot is not None
    found = [*_species(match, lot), *_moisture(match, lot)]
    told = {analyte for one in match.sample.questions for analyte in one.analytes}
    for finding in report_findings(lot, report):
        if finding.level != "error" or set(finding.about) & told:
            continue
        found.append(
            Question(
                f"{finding.sentence} {finding.cause}",
                f"lot rule {finding.rule} {match.sample.name}",
                finding.about,
                ("as printed", "leave out"),
            )
        )
    return found


def _species(match: Match, lot: Lot) -> list[Question]:
    printed = forage_of(match.sample.forage_words)
    if printed is None or printed is lot.forage:
        return []
    return [
        Question(
            f'{match.sample.name}: the report says "{match.sample.forage_words}", and lot '
            f"{lot.lot_id} is {lot.forage.value.replace('_', ' ')}. Is it the right lot?",
            f"forage {match.sample.name}",
            (),
            ("as printed", "leave out"),
            "",
            "note",
        )
    ]


def _moisture(match: Match, lot: Lot) -> list[Question]:
    dry = dry_matter_frac(match.sample)
    if lot.baled_moisture_pct is None or dry is None:
        return []
    tested = 100.0 * (1.0 - dry[0])
    if tested <= lot.baled_moisture_pct + MOST_MOISTURE_APART:
        return []
    return [
        Question(
            f"{match.sample.name}: {tested:.1f} % moisture was found, and lot {lot.lot_id} was "
            f"baled at {lot.baled_moisture_pct:g} %. Did it get wet, or is it another lot?",
            f"moisture {match.sample.name}",
            ("dm", "moisture"),
            ("as printed", "leave out"),
            "",
            "note",
        )
    ]
