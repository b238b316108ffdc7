"""Question seven: the animals, group by group."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from rickyard.draft.asking import UNKNOWN, Asking
from rickyard.draft.assumptions import SOUTHERN_BIRTH, USUAL_STOCK, pounds_or_kilograms
from rickyard.draft.told import Told
from rickyard.farm import AnimalClass, Care
from rickyard.folder.rules import WEIGHT_OF_CLASS
from rickyard.folder.tables import GROUPS

_HORSES = ("horse", "mare", "young_horse", "donkey", "mule")
_BIRTH = {"ewe": "lambing", "doe": "kidding"}
_HEAD = "20"


def ask_group(
    asking: Asking, line: str, before: Sequence[Mapping[str, Told]], start: date, *, southern: bool
) -> Mapping[str, Told] | None:
    """Ask for the head, weight and day of birth of a group; ``None`` if it was not understood."""
    animal_class = asking.meant(line, AnimalClass)
    if animal_class is None:
        return None
    name = line.strip() if len(line.strip()) <= 40 else animal_class.value.replace("_", " ")
    row = {
        "group": Told(_own_id(animal_class.value, before)),
        "name": Told(name[0].upper() + name[1:]),
        "class": Told(animal_class.value),
        "head": asking.cell(
            f"   How many {name}?", GROUPS.column_of("head"), "", _HEAD, f"{_HEAD} {name}"
        ),
    }
    return row | _measures(asking, name, animal_class, start, southern=southern)


def usual_group(asking: Asking, start: date, *, southern: bool) -> Mapping[str, Told]:
    """Return the cows that stand in where no animals were told, so that there is a program."""
    words = f"{_HEAD} beef cows are used in place of the animals: write your own into groups.csv"
    asking.assume(words)
    weight = pounds_or_kilograms(USUAL_STOCK[AnimalClass.COW].weight_lb, asking.units)
    day = _usual_birth(AnimalClass.COW, start, southern=southern)
    return {
        "group": Told("cow"),
        "name": Told("Cows"),
        "class": Told("cow"),
        "head": Told(_HEAD, words),
        _in_unit("weight_lb", asking): Told(weight),
        "calving_on": Told("" if day is None else day.isoformat()),
    }


def _measures(
    asking: Asking, name: str, animal_class: AnimalClass, start: date, *, southern: bool
) -> dict[str, Told]:
    usual = USUAL_STOCK[animal_class]
    unit = "lb" if asking.units == "us" else "kg"
    weight = pounds_or_kilograms(usual.weight_lb, asking.units)
    row = {
        f"weight_{unit}": asking.cell(
            f"   What does one weigh, in {unit}?",
            GROUPS.column_of("weight_kg"),
            unit,
            weight,
            f"{name} weigh {weight} {unit}",
            WEIGHT_OF_CLASS[animal_class],
        )
    }
    if usual.birth is not None:
        day = _usual_birth(animal_class, start, southern=southern)
        what = _BIRTH.get(animal_class.value, "calving")
        row["calving_on"], _ = asking.day(
            f"   What is the middle day of {what}?", start, day, f"the middle of {what} is {day}"
        )
    for header, value in usual.more.items():
        row[_in_unit(header, asking)] = _usual_measure(asking, name, header, value)
    if animal_class.value in _HORSES:
        row["care"] = _care(asking, name)
        asking.say(
            "  Feeds made for cattle may hold an ionophore (monensin), which kills horses: ask "
            "the mill, and ask the veterinarian about a horse that founders."
        )
    return row


def _care(asking: Asking, name: str) -> Told:
    """Ask for horses that founder: not known is no reason to limit sugar, but it is said."""
    line = asking.ask(f"   Do any of the {name} founder or get fat on little: yes or no? {UNKNOWN}")
    if line.strip().casefold() in ("yes", "y"):
        return Told(Care.FOUNDER_PRONE.value)
    if line.strip().casefold() not in ("no", "n"):
        words = f"none of the {name} founder"
        asking.assume(words)
        return Told("", words)
    return Told("")


def _usual_measure(asking: Asking, name: str, header: str, value: str) -> Told:
    """Fill what a class needs beside its weight with what is usual; a person can correct it."""
    weighs = "_lb" in header
    shown = pounds_or_kilograms(float(value), asking.units) if weighs else value
    what = header.removesuffix("_lb_per_day").removesuffix("_lb").replace("_", " ")
    unit = ("lb" if asking.units == "us" else "kg") if weighs else "months"
    each_day = " a day" if header.endswith("_per_day") else ""
    what = what.removesuffix(" months")
    words = f"{what} of {name} is {shown} {unit}{each_day}"
    asking.assume(words)
    return Told(shown, words)


def _in_unit(header: str, asking: Asking) -> str:
    return header if asking.units == "us" else header.replace("_lb", "_kg")


def _usual_birth(animal_class: AnimalClass, start: date, *, southern: bool) -> date | None:
    birth = USUAL_STOCK[animal_class].birth
    if birth is None:
        return None
    month, day = SOUTHERN_BIRTH if southern else birth
    found = date(start.year, month, day)
    return found if found >= start else date(start.year + 1, month, day)


def _own_id(wanted: str, before: Sequence[Mapping[str, Told]]) -> str:
    taken = {row["group"].text for row in before}
    if wanted not in taken:
        return wanted
    return next(f"{wanted}-{n}" for n in range(2, len(taken) + 3) if f"{wanted}-{n}" not in taken)
