"""The sheet of a lot for a buyer, on letter paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from datetime import date
from typing import Any

from rickyard.display import clean, display_for, shorten
from rickyard.farm import Caution, Farm
from rickyard.sheets.paper.for_buyers import LotSheet
from rickyard.sheets.paper.season_pdf import set_sheet
from rickyard.sheets.wording import words


def lot_pdf(sheets: Sequence[LotSheet], farm: Farm, printed_on: date | None = None) -> bytes:
    """Set the sheets of some lots, each on pages of its own.

    Parameters
    ----------
    sheets : sequence of LotSheet
        What is said of each.
    farm : Farm
        How dates are written.
    printed_on : date, optional
        The date at the foot; today when left out. The same date gives the same bytes.

    Returns
    -------
    bytes
        A PDF file, letter pages.
    """
    printed = printed_on or date.today()
    sheet = {
        "title": "Hay for sale",
        "foot": words.printed(display_for(farm.units).day_year_text(printed)),
        "sample_title": "How it was sampled",
        "values_title": "Analysis, in the dry matter",
        "heads": ["", "", "90% range", "from"],
        "grade_title": "Market grade",
        "unknown_title": "Not known",
        "buyers_title": "Before you buy it and before you feed it",
        "cautions_title": "Read first",
        "lots": [_lot(one) for one in sheets],
    }
    return set_sheet("lot.typ", sheet, printed)


def _lot(sheet: LotSheet) -> dict[str, Any]:
    gravest_first = sorted(sheet.cautions, key=lambda one: words.LEVEL_ORDER[one.level])
    return {
        **asdict(sheet),
        "title": shorten(sheet.title, 60),
        "cautions": [_caution(one) for one in gravest_first],
    }


def _caution(one: Caution) -> dict[str, str]:
    return {
        "mark": words.LEVEL_MARKS[one.level],
        "word": words.LEVEL_WORDS[one.level],
        "text": clean(one.sentence),
    }
