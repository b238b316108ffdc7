"""What the farm cannot supply, by run of periods and in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta

from rickyard.farm import Farm
from rickyard.program.problem import UNITS
from rickyard.program.result import GroupPeriod, NeedRow, Shortage
from rickyard.program.words import NUTRIENT_WORDS, Words, span


def shortages_of(
    farm: Farm,
    needs: Sequence[NeedRow],
    groups: Sequence[GroupPeriod],
    words: Words,
) -> tuple[Shortage, ...]:
    """Return what each group is short of, one entry for each run of periods."""
    heads = {(row.group_id, row.period): row for row in groups}
    short: dict[tuple[str, str], list[NeedRow]] = {}
    for row in needs:
        if row.shortage > 0:
            short.setdefault((row.group_id, row.nutrient), []).append(row)
    found = []
    for (group_id, nutrient), rows in short.items():
        for run in _neighbours(rows):
            total = sum(
                row.shortage
                * heads[row.group_id, row.period].head
                * heads[row.group_id, row.period].days
                for row in run
            )
            most = max(row.shortage for row in run)
            end = run[-1].start + timedelta(days=run[-1].days)
            found.append(
                Shortage(
                    group_id=group_id,
                    start=run[0].start,
                    end=end,
                    nutrient=nutrient,
                    unit=run[0].unit,
                    most_per_head_day=most,
                    total=total,
                    sentence=_shortage_sentence(
                        farm.group(group_id).name, nutrient, most, run, heads, words
                    ),
                )
            )
    found.sort(key=lambda one: (one.start, one.group_id, one.nutrient))
    return tuple(found)


def _neighbours(rows: list[NeedRow]) -> Iterator[list[NeedRow]]:
    run: list[NeedRow] = []
    for row in sorted(rows, key=lambda row: row.period):
        if run and row.period != run[-1].period + 1:
            yield run
            run = []
        run.append(row)
    if run:
        yield run


def _shortage_sentence(
    name: str,
    nutrient: str,
    most: float,
    run: list[NeedRow],
    heads: dict[tuple[str, int], GroupPeriod],
    words: Words,
) -> str:
    when = span(run[0].start, run[-1].start + timedelta(days=run[-1].days))
    amount = words.amount(most, UNITS[nutrient])
    sentence = (
        f"{name} are short of {NUTRIENT_WORDS[nutrient]} {when}, by up to {amount} per head and day"
    )
    if nutrient == "gain_energy":
        cells = [heads[row.group_id, row.period] for row in run]
        least = min(cell.expected_gain_kg_per_day or 0.0 for cell in cells)
        wanted = max(cell.wanted_gain_kg_per_day or 0.0 for cell in cells)
        return f"{sentence}: expect {words.mass(least)} of gain a day, not {words.mass(wanted)}."
    return f"{sentence}."
