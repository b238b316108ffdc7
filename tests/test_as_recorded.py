"""What the science and the program answer today is what they answered when it was looked over.

See ``support.recorded`` for what such a record is worth and how it is written anew.
"""

from __future__ import annotations

import inspect
import random
import typing
from collections.abc import Callable, Iterator, Sequence
from dataclasses import fields, replace
from datetime import timedelta
from enum import Enum
from functools import partial
from typing import Any

import numpy as np
import pytest

from rickyard.animals import CLASSES
from rickyard.farm import AnimalClass, Farm, Group, Report
from rickyard.forage.batch.batch import read_batch
from rickyard.forage.plausibility.plausibility import RULES, report_findings
from rickyard.forage.plausibility.profile import lot_profile
from rickyard.forage.reading.lot_hazards import hazard_cautions
from rickyard.forage.reading.reading import read_lot
from rickyard.forage.reading.reading_all import every_number
from rickyard.forage.values.columns import ReportColumns
from rickyard.forage.values.screens import shipped_screens
from rickyard.hay.sampling.sampling_plan import farm_sample_plans
from rickyard.hay.storage.hot_hay import lot_watch
from rickyard.hay.storage.siting import site_advice
from rickyard.hay.yard.yard_page import yard_page
from rickyard.program.audit.audit import recheck
from rickyard.program.audit.view import Breach
from rickyard.program.compare.compare import compare
from rickyard.program.compare.summary import facts_of
from rickyard.program.inputs.needs import needs_of
from rickyard.program.model.rows import build_model
from rickyard.program.problem.problem import problem_of
from rickyard.program.result.judgement import judge
from rickyard.program.result.result import SeasonProgram
from rickyard.program.storms.cold_spells import cold_page
from rickyard.safety.binding import bindings
from rickyard.stock.herd.herd import group_needs
from rickyard.stock.herd.outcome import condition_on_supply, gain_on_diet
from rickyard.stock.herd.prohibited_feeds import cautions
from support.forage_reports import plausible_columns
from support.laid_programs import laid_program, tampered_programs
from support.odd_farms import START, odd_farm, odd_lot
from support.recorded import answer_of, differences
from support.rows import few
from support.science import formulas, middle, needed

Answers = dict[str, Callable[[], object]]

#: How a call may refuse what it is asked.
REFUSALS = (ValueError, LookupError, TypeError, ZeroDivisionError, FloatingPointError)
#: Each number of a formula is tried so many times its middle.
TIMES = (0.0, 0.4, 1.0, 1.5, 2.6)


FORMULAS: dict[str, list[Callable[..., object]]] = {}
for _function in (*formulas(), *formulas(inner=True)):
    _room = _function.__module__.removeprefix("rickyard.").rsplit(".", 1)[0]
    FORMULAS.setdefault(_room, []).append(_function)


def science(room: str) -> Answers:
    """Every formula of a room along each of its numbers and words, and at points between."""
    answers: Answers = {}
    for function in FORMULAS[room]:
        usual, name = needed(function), function.__name__
        for case, changed in _asked(function, usual, random.Random(name)):
            answers[f"{name} {case}"] = partial(_plain, function, {**usual, **changed})
    return answers


def _plain(function: Callable[..., object], given: dict[str, Any]) -> object:
    with np.errstate(all="ignore"):
        return function(**given)


def _asked(
    function: Callable[..., object], usual: dict[str, Any], chance: random.Random
) -> Iterator[tuple[str, dict[str, Any]]]:
    numbers = _numbers(function)
    for one, value in numbers.items():
        for times in TIMES:
            yield f"at {times} {one}", {one: value * times}
    for i in range(4):
        yield f"near {i}", {one: value * chance.uniform(0.6, 1.5) for one, value in numbers.items()}
    for one, kind in typing.get_type_hints(function).items():
        for option in typing.get_args(kind) or (kind,):
            if one != "return":
                yield from ((f"{one} {word}", {one: word}) for word in _words(option))


#: Values between which nearly every class and band of the science has an edge, and the edges.
GRID = tuple(
    times * ten
    for ten in (0.01, 0.1, 1.0, 10.0, 100.0, 1000.0)
    for times in (1.0, 1.07, 1.2, 1.5, 1.6, 1.8, 2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 5.3, 5.5, 6.0,
                  6.5, 7.0, 7.4, 7.5, 8.0, 8.5, 9.0, 9.3)
)  # fmt: skip

#: The same for what is counted.
WHOLE = (*range(13), 15, 19, 20, 21, 24, 25, 26, 30, 39, 40, 41, 50, 60, 99, 100, 101, 250)


def grids(room: str) -> Answers:
    """Every formula of a room at round values of each of its numbers, on the edges of classes."""
    return {function.__name__: partial(_on_grid, function) for function in FORMULAS[room]}


def _on_grid(function: Callable[..., object]) -> list[str]:
    usual = needed(function)
    return [
        answer_of(partial(_plain, function, {**usual, one: value}), REFUSALS).replace(" ", "_")
        for one, values in _on_edges(function)
        for value in values
    ]


def _on_edges(function: Callable[..., object]) -> Iterator[tuple[str, Sequence[float]]]:
    yield from ((one, GRID) for one in _numbers(function))
    for one, given in inspect.signature(function).parameters.items():
        if str(given.annotation).startswith("int") and middle(function, one) is not None:
            yield one, WHOLE


def _numbers(function: Callable[..., object]) -> dict[str, float]:
    found = {}
    for one, given in inspect.signature(function).parameters.items():
        if str(given.annotation).startswith(("Numeric", "float")):
            value = middle(function, one)
            found |= {} if value is None else {one: value}
    return found


def _words(option: object) -> Sequence[object]:
    if option is bool:
        return (False, True)
    if isinstance(option, type) and issubclass(option, Enum):
        return list(option)
    return (option,) if isinstance(option, str) else ()  # a word of a literal


BEARING = (
    *(AnimalClass.COW, AnimalClass.FIRST_CALF_HEIFER, AnimalClass.BRED_HEIFER, AnimalClass.EWE),
    *(AnimalClass.EWE_LAMB, AnimalClass.DOE, AnimalClass.MARE, AnimalClass.DRY_DAIRY_COW),
    *(AnimalClass.LLAMA, AnimalClass.ALPACA),
)
GROWING = {AnimalClass.STOCKER, AnimalClass.REPLACEMENT_HEIFER}
COWS = {AnimalClass.COW, AnimalClass.FIRST_CALF_HEIFER, AnimalClass.BRED_HEIFER}


def herds(kind: str) -> Answers:
    """What groups of a class need, and what comes of what they get."""
    answers: Answers = {}
    for seed in range(5):
        farm = odd_farm(seed, [AnimalClass(kind)])
        (group,) = farm.groups
        answers[f"{seed} needs"] = partial(needs_of, farm)
        answers[f"{seed} daily"] = partial(_daily, group)
        if group.animal_class in GROWING:
            answers[f"{seed} gain"] = partial(_gain, group)
        if group.animal_class in COWS:
            answers[f"{seed} condition"] = partial(_condition, group)
        answers[f"{seed} cautions"] = partial(cautions, farm)
        answers[f"{seed} rules"] = partial(bindings, farm)
    return answers


DAYS = [START + timedelta(days=number) for number in range(0, 120, 17)]


def _daily(group: Group) -> object:
    return group_needs(group, DAYS, previous_month_temperature_c=-4.0)


def births(kind: str) -> Answers:
    """What groups of a class need about a birth, day by day and for two litters or calves."""
    answers: Answers = {}
    for after in (-50, -6, 0, 1, 9, 60):
        (group,) = odd_farm(abs(after), [AnimalClass(kind)]).groups
        group = replace(
            group,
            calving_on=START + timedelta(days=after),
            weaning_on=START + timedelta(days=25) if after < 0 else None,
            breeding_on=START + timedelta(days=30) if after == 0 else None,
            calving_spread_days=40 if after == 9 else None,
        )
        answers[str(after)] = partial(_about_birth, group)
    return answers


def _about_birth(group: Group) -> object:
    days = [START + timedelta(days=number) for number in (-1, 0, 1, 2, 8, 9, 10, 24, 25, 26, 70)]
    return group_needs(group, days, previous_month_temperature_c=3.0)


def _gain(group: Group) -> object:
    return gain_on_diet(group, DAYS, 1.35, 0.77, ndf_pct=58.0)


def _condition(group: Group) -> object:
    group = replace(group, condition_score=5.5)
    return condition_on_supply(group, DAYS, np.linspace(9.0, 17.0, len(DAYS)))


def lots(seed: str) -> Answers:
    """What is said of a lot, sound or spoiled."""
    lot, report = odd_lot(random.Random(seed), int(seed))
    reports: list[Report] = [] if report is None else [report]
    profile = lot_profile(lot, reports)
    answers: Answers = {
        "profile": partial(_same, profile),
        "reading": partial(read_lot, lot, reports),
        "numbers": partial(every_number, lot, reports),
        "hazards": partial(hazard_cautions, lot, profile),
        "watch": partial(lot_watch, lot, START),
        "site": partial(site_advice, lot.storage, lot.package, 17.0),
    }
    if report is not None:
        answers["findings"] = partial(report_findings, lot, report)
    return answers


def rules(_: str) -> Answers:
    """Which rules odd reports break, values on the limits among them, and all their indices."""
    columns = _odd_columns()
    batch = read_batch(columns)
    answers: Answers = {}
    for number, rule in enumerate(RULES):
        if not columns.has(*rule.needs):
            continue
        case = f"{number} {rule.rule} {rule.cause.value}"
        answers[case] = partial(batch.broken.get, number)
        for name, read in (*rule.told.items(), *([rule.proposed] if rule.proposed else ())):
            answers[f"{case} {name}"] = partial(_read, read, columns)
    answers |= {f"index {one}": partial(batch.indices.get, one) for one in batch.indices}
    answers |= {f"class {one}": partial(batch.classes.get, one) for one in batch.classes}
    return answers


def _odd_columns() -> ReportColumns:
    chance = np.random.default_rng(4)
    sound = plausible_columns(500, 4)
    values = {name: np.array(column) for name, column in sound.values.items()}
    draw = partial(chance.uniform, size=len(sound))
    dry = values["dm"] / 100.0
    values |= {f"{name}_ar": values[name] * dry for name in ("adf", "ndf", "ca", "tdn", "cp")}
    for name, low, high in (
        ("n", 0.5, 3.5), ("s", 0.05, 0.7), ("na", 0.0, 0.5), ("cl", 0.0, 2.0),
        ("undf240", 5.0, 40.0), ("ndfd30", 20.0, 70.0), ("ndfd48", 20.0, 80.0),
        ("ndfd240", 30.0, 90.0), ("nem_unitless", 0.3, 1.7), ("nitrate_no3n", 50.0, 7000.0),
        ("nitrate_no3", 200.0, 30_000.0), ("cp_min", 4.0, 15.0), ("cp_max", 5.0, 20.0),
        ("soluble_cp", 0.5, 15.0), ("rdp", 0.5, 15.0), ("rup", 0.5, 15.0), ("adin", 0.1, 3.0),
        ("ndin", 0.1, 5.0), ("nsc", 4.0, 40.0), ("esc", 2.0, 20.0), ("ph", 3.0, 7.5),
        ("lactic", 0.0, 9.0), ("acetic", 0.0, 6.0), ("butyric", 0.0, 2.0), ("ammonia", 0.0, 20.0),
        ("fe", 20.0, 3000.0), ("cu", 1.0, 60.0), ("mo", 0.1, 10.0), ("se", 0.01, 7.0),
        ("zn", 5.0, 150.0), ("mn", 10.0, 400.0), ("ergovaline", 0.0, 900.0), ("hcn", 0.0, 1500.0),
        ("aflatoxin", 0.0, 60.0), ("don", 0.0, 15.0), ("fumonisin", 0.0, 120.0),
        ("zearalenone", 0.0, 12.0), ("mold", 0.0, 5e6), ("de", 1.5, 3.5), ("me", 1.2, 3.0),
        ("nel", 0.8, 1.9), ("tfa", 0.3, 4.0), ("ndfom", 30.0, 75.0), ("rfq", 50.0, 220.0),
    ):  # fmt: skip
        values[name] = draw(low, high)
    values["n"] = np.where(draw(0.0, 1.0) < 0.5, values["cp"] / 6.25, values["n"])
    values["nitrate_no3"] = np.where(
        draw(0.0, 1.0) < 0.5, 4.4 * values["nitrate_no3n"], values["nitrate_no3"]
    )
    limits = shipped_screens().limits
    for name, column in values.items():
        spoiled = draw(0.0, 1.0) < 0.15
        column[spoiled] *= chance.choice([0.01, 0.5, 0.8, 1.25, 2.0, 10.0], int(spoiled.sum()))
        for side in ("low", "high", "hard_low", "hard_high") if name in limits else ():
            at = draw(0.0, 1.0) < 0.03
            column[at] = np.take(getattr(limits[name], side), sound.forage)[at]
        # Halves, so that differences meet a tolerance exactly.
        half = (draw(0.0, 1.0) < 0.3) & (column > 3.0)
        column[half] = np.round(2.0 * column[half]) / 2.0
        column[draw(0.0, 1.0) < 0.1] = np.nan
    return ReportColumns(sound.forage, sound.wet, values)


def _read(read: Callable[..., object], columns: ReportColumns) -> object:
    with np.errstate(all="ignore"):
        return read(columns, shipped_screens())


#: Classes that stand together on a farm of the records.
PAIRS = (
    (AnimalClass.COW, AnimalClass.STOCKER),
    (AnimalClass.FIRST_CALF_HEIFER, AnimalClass.REPLACEMENT_HEIFER),
    (AnimalClass.HORSE, AnimalClass.MARE),
    (AnimalClass.DOE, AnimalClass.COW),
    (AnimalClass.EWE, AnimalClass.BULL),
    (AnimalClass.YOUNG_HORSE, AnimalClass.DRY_DAIRY_COW),
)


def _farm(seed: int) -> Farm:
    return odd_farm(100 + seed, PAIRS[seed % len(PAIRS)])


def farms(seed: str) -> Answers:
    """What a whole farm is counted with before anything is solved, and its yard."""
    farm = _farm(int(seed))
    day = START + timedelta(days=14)
    dry = {lot.lot_id: 87.0 for lot in farm.lots}
    problem = problem_of(farm)
    parts = {**_parts(problem), **_parts(problem.sources), **_parts(build_model(problem))}
    return {
        "yard": partial(yard_page, farm, day, dry),
        "samples": partial(farm_sample_plans, farm, day, dry),
        "cold": partial(cold_page, farm, day),
        **{name: partial(_same, part) for name, part in parts.items()},
    }


def programs(seed: str) -> Answers:
    """What is said of a program that nobody solved, and all that the second look finds in it."""
    farm = _farm(int(seed))
    program = laid_program(farm, int(seed))
    other = replace(program, cost=program.cost + 90.0, shortages=program.shortages[1:])
    much = laid_program(farm, 50 + int(seed), 3.0)
    breaches = sorted({*recheck(program, farm), *recheck(much, farm)}, key=str)
    return {
        **{name: partial(_same, part) for name, part in _parts(program).items()},
        **{f"breach {number}": partial(_same, one) for number, one in enumerate(breaches)},
        "judgement": partial(judge, program),
        "facts": partial(facts_of, "plan", program),
        "compared": partial(compare, [("one", program), ("other", other)]),
    }


def tampered(seed: str) -> Answers:
    """What the second look finds more when one figure of a program is a little off."""
    farm = _farm(int(seed))
    program = laid_program(farm, int(seed))
    before = set(recheck(program, farm))
    answers: Answers = {}
    for case, other in tampered_programs(program):
        answers[case] = partial(_more_breaches, other, farm, before)
    return answers


def _more_breaches(program: SeasonProgram, farm: Farm, before: set[Breach]) -> object:
    return sorted(set(recheck(program, farm)) - before, key=str)


def _parts(whole: Any) -> dict[str, object]:
    return {one.name: getattr(whole, one.name) for one in fields(whole)}


def _same(answer: object) -> object:
    return answer


#: What is recorded: of each part what it is about, and the calls.
PARTS: dict[str, tuple[Sequence[str], Callable[[str], Answers]]] = {
    "science": (list(FORMULAS), science),
    "grids": ([room for room in FORMULAS if room != "match"], grids),
    "herds": ([kind.value for kind in CLASSES], herds),
    "births": ([kind.value for kind in BEARING], births),
    "lots": ([str(seed) for seed in range(36)], lots),
    "rules": (["reports"], rules),
    "farms": ([str(seed) for seed in range(20)], farms),
    "programs": ([str(seed) for seed in range(13)], programs),
    "tampered": (["1"], tampered),
}
#: Of seeds that differ in chance alone so many are in every run: every pair of classes is. Grids
#: try the formulas of ``science`` at more numbers.
ALIKE = {"grids": 6, "lots": 12, "farms": len(PAIRS), "programs": len(PAIRS)}


@pytest.mark.parametrize(
    ("part", "about"),
    [
        case
        for part, (things, _) in PARTS.items()
        for case in few([(part, about) for about in things], ALIKE.get(part, len(things)))
    ],
)
def test_answers_are_those_recorded(part: str, about: str, request: pytest.FixtureRequest) -> None:
    answers = {case: answer_of(call, REFUSALS) for case, call in PARTS[part][1](about).items()}
    changed = differences(part, about, answers, request.config.getoption("--record"))
    assert changed[:20] == []
