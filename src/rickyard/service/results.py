"""Results of many lots at once: a line for each, the dangerous ones first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from rickyard.farm import Caution, Farm
from rickyard.forage.reading import LotReading
from rickyard.service.farms import FarmPlace

_LEVELS: Final = ("danger", "warning", "note")


@dataclass(frozen=True, slots=True)
class ResultLine:
    """What a lot's test says, as far as it stands in one line.

    Values are on dry matter and ``None`` where they are unknown; ``tested_on`` is the day of the
    newest report, or of its sample, and ``None`` where nothing was tested. ``nitrate_sign`` is what
    the laboratory printed where it found less than it can tell: ``<`` or a word. ``level`` is the
    gravest of ``cautions``, empty where there is none.
    """

    folder: str
    farm_name: str
    lot_id: str
    name: str
    tested_on: date | None
    tdn_pct: float | None
    cp_pct: float | None
    ndf_pct: float | None
    rfv: float | None
    nitrate_no3n_ppm: float | None
    nitrate_sign: str
    level: str
    headline: str
    cautions: tuple[Caution, ...]


def result_lines(
    place: FarmPlace, farm: Farm, readings: Sequence[LotReading], since: date | None = None
) -> list[ResultLine]:
    """Return a line for each lot that was read.

    ``since``: only lots with a report of this day or later. In the order of the readings.
    """
    found = []
    for one in readings:
        tested = _tested_on(farm, one.lot_id)
        if since is not None and (tested is None or tested < since):
            continue
        values = {number.name: number.value for number in one.numbers}
        grave = tuple(caution for caution in one.cautions if caution.level != "note")
        levels = [caution.level for caution in grave]
        found.append(
            ResultLine(
                folder=place.label,
                farm_name=farm.name,
                lot_id=one.lot_id,
                name=farm.lot(one.lot_id).name,
                tested_on=tested,
                tdn_pct=values.get("tdn_pct"),
                cp_pct=values.get("crude_cp_pct"),
                ndf_pct=values.get("ndf_pct"),
                rfv=values.get("rfv"),
                nitrate_no3n_ppm=values.get("nitrate_no3n_ppm"),
                nitrate_sign=_nitrate_sign(farm, one.lot_id),
                level=min(levels, key=_LEVELS.index, default=""),
                headline=one.headline,
                cautions=grave,
            )
        )
    return found


def gravest_first(lines: Sequence[ResultLine]) -> list[ResultLine]:
    """Return lines with the dangerous ones before those with a warning, and those before others.

    Dangers first, then warnings, then the rest, each by farm and lot.
    """
    order = {level: number for number, level in enumerate((*_LEVELS[:2], ""))}
    return sorted(lines, key=lambda one: order[one.level])


def _nitrate_sign(farm: Farm, lot_id: str) -> str:
    """Return how a nitrate is printed that is under what the laboratory can tell."""
    reports = sorted(farm.reports_of(lot_id), key=lambda one: one.reported_on or date.min)
    for report in reversed(reports):
        for analyte in report.analytes:
            if analyte.name.startswith("nitrate"):
                return analyte.censored if analyte.value is not None else analyte.text
    return ""


def _tested_on(farm: Farm, lot_id: str) -> date | None:
    days = [one.reported_on or one.sampled_on for one in farm.reports_of(lot_id)]
    return max((day for day in days if day is not None), default=None)
