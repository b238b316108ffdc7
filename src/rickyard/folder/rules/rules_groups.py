"""What the cells of one row of ``groups.csv`` must be to each other and to the season."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rickyard.animals import CLASSES, HORSES, YOUNG_BULL_KNOWN, Parts
from rickyard.farm import AnimalClass, Season
from rickyard.folder.rules.rules_ids import order_faults
from rickyard.folder.rules.rules_lots import narrower
from rickyard.folder.rules.rules_season import outside_season
from rickyard.folder.tables import Fault, TableRow, limits

WEIGHT_OF_CLASS: Final = {one: limits.weight_limit(one) for one in AnimalClass}

#: Horses, whose gut bears no quick change of hay.
HORSE_CHANGE_OVER_DAYS: Final = 7  # to 10 for another hay; common practice, no published source

DAYS_OF_YEAR: Final = 365


def group_faults(row: TableRow, season: Season | None) -> Iterator[Fault]:
    """Yield what is wrong between the cells of a group."""
    animal_class = row.get("animal_class")
    weight_faults: list[Fault] = []
    if animal_class is not None:
        if row.get("weight_kg") is not None:
            weight_faults = list(narrower(row, "weight_kg", WEIGHT_OF_CLASS[animal_class]))
        if row.sure:
            yield from _missing_faults(row, _must_be_known(row, animal_class), animal_class)
    yield from weight_faults or _finish_faults(row)
    yield from _weaning_faults(row)
    yield from order_faults(row)
    yield from _target_faults(row, season)


def group_questions(row: TableRow, season: Season) -> Iterator[Fault]:
    """Yield what is possible but worth a second look."""
    yield from outside_season(row, season, "The group")
    if row.get("care") is not None and row.get("animal_class") not in HORSES:
        yield row.fault(
            "care",
            f'"{row.text("care")}" is a care of horses, and nothing follows from it here.',
            "Is the class right? Write what else they need under note.",
        )
    days = row.get("change_over_days")
    if days is not None and days < HORSE_CHANGE_OVER_DAYS and row.get("animal_class") in HORSES:
        yield row.fault(
            "change_over_days",
            f'"{days}" is quick for a horse: seven to ten days are common practice.',
            "Is there a reason? A quick change of hay can bring on colic; ask the veterinarian.",
        )


def _must_be_known(row: TableRow, animal_class: AnimalClass) -> Parts:
    if animal_class is AnimalClass.BULL and {"gain_kg_per_day", "target_weight_kg"} & set(
        row.cells
    ):
        return YOUNG_BULL_KNOWN  # a young bull that is to gain
    return CLASSES[animal_class].known


def _missing_faults(row: TableRow, parts: Parts, animal_class: AnimalClass) -> Iterator[Fault]:
    for ways in parts:
        if any(all(name in row.cells for name in way) for way in ways):
            continue
        if any(name in row.cells for way in ways for name in way):
            continue  # half of a target, told by the rule on targets
        names = " or ".join(
            " and ".join(row.table.column_of(name).name for name in way) for way in ways
        )
        yield row.missing(
            ways[0][0],
            f"a group of class {animal_class.value} needs {names}.",
            f"Write here: {row.table.column_of(ways[0][0]).means}.",
            names,
        )


def _finish_faults(row: TableRow) -> Iterator[Fault]:
    finish, weight = row.get("finish_weight_kg"), row.get("weight_kg")
    if finish is not None and weight is not None and finish <= weight:
        yield row.fault(
            "finish_weight_kg",
            f'"{row.text("finish_weight_kg")}" is not above the present weight, '
            f"{row.text('weight_kg')}.",
            "Check the units of both headers.",
            "more than the weight",
        )


def _weaning_faults(row: TableRow) -> Iterator[Fault]:
    """Yield a weaning that belongs to no calf: a cow may have one of the year before."""
    calving, weaning = row.get("calving_on"), row.get("weaning_on")
    if calving is None or weaning is None or weaning > calving:
        return
    animal_class = row.get("animal_class")
    if animal_class is None or not CLASSES[animal_class].nurses_before:
        yield row.fault(
            "weaning_on",
            f'"{weaning}" is not after calving, {calving}, and no calf comes before it.',
            "Write the day on which the calves born then are weaned; check the year.",
            "a day after calving_on",
        )
    elif (calving - weaning).days > DAYS_OF_YEAR:
        yield row.fault(
            "weaning_on",
            f'"{weaning}" is more than a year before calving, {calving}.',
            "Check the year of both days.",
            "a day of the year before calving_on or after it",
        )


def _condition_faults(row: TableRow) -> Iterator[Fault]:
    """Yield a condition wanted of stock that has none to change, or by no day."""
    if "target_condition_score" not in row.cells:
        return
    if row.get("animal_class") not in (None, AnimalClass.COW):
        yield row.fault(
            "target_condition_score",
            f'"{row.text("target_condition_score")}" is a target condition for stock that grows.',
            "Give gain or a target weight in its place; condition is for class cow.",
        )
    for name in ("condition_score", "target_on"):
        if name not in row.cells and row.sure:
            yield row.fault(
                name,
                "target_condition_score is filled, and this is not.",
                "Write the condition now and the day by which it should change.",
            )


def _target_faults(row: TableRow, season: Season | None) -> Iterator[Fault]:
    yield from _condition_faults(row)
    halves = ("target_weight_kg", "target_on")
    given = [name for name in halves if name in row.cells]
    if "target_condition_score" in row.cells and "target_weight_kg" not in row.cells:
        given = []  # the day is that of the condition
    if len(given) == 1 and row.sure:
        missing = halves[1 - halves.index(given[0])]
        yield row.fault(
            missing,
            f"{row.cells[given[0]].place.header} is filled, and this is not.",
            "Write both the target weight and its day, or neither.",
        )
    if given and "gain_kg_per_day" in row.cells:
        yield row.fault(
            "gain_kg_per_day",
            f'"{row.text("gain_kg_per_day")}" is a target gain, and a target weight is given too.',
            "Leave one of the two empty.",
        )
    day = row.get("target_on")
    if day is not None and season is not None and day <= season.start:
        yield row.fault(
            "target_on",
            f'"{day}" is not after the start of the season, {season.start}.',
            "Check the year.",
            "a day after the start of the season",
        )
