import dataclasses
import json
import math
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from jsonschema import Draft202012Validator, FormatChecker

from rickyard.kinds import Offered
from rickyard.program.result import Coverage
from rickyard.program.result.outcomes import Outcome, OutcomeAt, OutcomeGoal, OutcomePoint
from rickyard.program.result.rations import Ration, RationThing
from rickyard.program.result.result import SCHEMA_VERSION, FarmLimit, RuleHeld, Sale, SeasonProgram
from rickyard.sheets.data_files.plain_json import NotFinite
from rickyard.sheets.data_files.plan_json import plan_json, plan_to_dict
from rickyard.sheets.data_files.plan_load import program_from_json
from rickyard.sheets.data_files.plan_schema import plan_schema
from support.rows import each_row
from support.season_example import example, large_example

DOC = Path(__file__).resolve().parents[2] / "docs" / "plan-json.md"


@cache
def validator() -> Draft202012Validator:
    return Draft202012Validator(plan_schema(), format_checker=FormatChecker())


def with_sales() -> SeasonProgram:
    program, _ = example()
    sale = Sale("L", "Creek hay", 11500.0, 10000.0, 20.0, 1400.0)
    limits = (
        FarmLimit("cash", "USD", "at_most", 5000.0, 5200.0, 200.0, None, "Too much."),
        FarmLimit("reserve", "t DM", "at_least", 12.0, 14.0, 0.0),
    )
    days = (program.start, program.end)
    rule = RuleHeld("nitrate-half", "cows", "L", *days, "share", 50.0, True, "printed")
    thing = RationThing("L", 9.0, 11.5, 460.0, 1.2, "scoop", 306.5)
    span = (program.start, program.end, Offered.FREE_CHOICE)
    ration = Ration(program.groups[0].group_id, 1, *span, (thing,), "The first ration.")
    traced = Coverage("cows", "cu", "mg", 110.0, 150.0, 0.0, 400.0, "covered", "Covered.", "NASEM")
    stands = OutcomePoint(program.start, 590.0, 590.0, 590.0, 5.0, 5.0, 5.0)
    weights = (590.0, 580.0, 600.0, 5.0, 4.8, 5.2)
    calved = OutcomeAt("calving", program.end, *weights, 51.0, 46.0, 55.0, "Half of them.", "A.")
    goals = (
        OutcomeGoal(program.end, 5.0, None, "met", "Met.", ""),
        OutcomeGoal(program.end, None, 390.0, "missed", "Missed.", "A."),
    )
    followed = ("cows", "condition", (stands,), (calved,), "They stay as they are.", "NRC")
    became = Outcome(*followed, goals)  # type: ignore[arg-type]
    return dataclasses.replace(
        program,
        outcomes=(became,),
        sales=(sale,),
        farm_limits=limits,
        rules=(rule,),
        rations=(ration,),
        coverage=(traced,),
    )


def test_the_schema_is_a_schema() -> None:
    Draft202012Validator.check_schema(plan_schema())
    assert plan_schema()["properties"]["schema_version"]["const"] == SCHEMA_VERSION


@pytest.mark.parametrize("kind", ["enough", "hay_short", "need_short"])
def test_a_plan_meets_the_schema(kind: Any) -> None:
    program, _ = example(kind)
    validator().validate(json.loads(plan_json(program)))


def test_a_plan_with_sales_and_limits_meets_the_schema() -> None:
    plan = plan_to_dict(with_sales())
    validator().validate(plan)
    assert plan["sales"][0]["lot"] == "L"
    assert [one["nutrient"] for one in plan["farm_limits"]] == ["cash", "reserve"]


def test_a_large_plan_meets_the_schema() -> None:
    program, _ = large_example()
    validator().validate(plan_to_dict(program))


def broken_plans() -> dict[str, dict[str, Any]]:
    """Return plans with one fault each, which share all that is sound, by their fault."""
    whole = plan_to_dict(with_sales())
    plan = {key: part[:2] if isinstance(part, list) else part for key, part in whole.items()}
    assert validator().is_valid(plan)
    broken: dict[str, dict[str, Any]] = {}
    for missing in plan:
        broken[f"without {missing}"] = {key: plan[key] for key in plan if key != missing}
    for key, rows in plan.items():
        if isinstance(rows, list) and isinstance(rows[0], dict):
            broken[f"surprise in {key}"] = {**plan, key: [{**rows[0], "surprise": 1}, *rows[1:]]}
        elif isinstance(rows, dict):
            broken[f"surprise in {key}"] = {**plan, key: {**rows, "surprise": 1}}
    for key, value in (
        ("surprise", 1),
        ("status", "fine"),
        ("schema_version", "9.0"),
        ("cost", "12"),
        ("season", {"start": "7 November 2026", "end": "2027-05-07"}),
        ("season", {"start": "2026-13-45", "end": "2027-05-07"}),
    ):
        broken[f"{key} is {value}"] = {**plan, key: value}
    return broken


BROKEN = broken_plans()


@each_row("what", BROKEN)
def test_the_schema_refuses_what_is_not_a_plan(what: str) -> None:
    assert not validator().is_valid(BROKEN[what]), what


def schema_paths(schema: dict[str, Any], before: str = "") -> Iterator[str]:
    for key, part in schema["properties"].items():
        path = f"{before}{key}"
        yield path
        inner = part.get("items", part)
        if "properties" in inner:
            yield from schema_paths(inner, f"{path}{'[]' if 'items' in part else ''}.")


def test_the_document_describes_every_key_and_no_other() -> None:
    described = re.findall(r"^\| `([^`]+)` \|", DOC.read_text(encoding="utf-8"), re.MULTILINE)
    assert sorted(described) == sorted(schema_paths(plan_schema()))


def test_the_schema_is_closed_and_described_everywhere() -> None:
    def walk(part: dict[str, Any], where: str) -> None:
        if part.get("type") == "object":
            assert "additionalProperties" in part, where
            if "properties" in part:
                assert part["additionalProperties"] is False, where
                assert part["required"] == list(part["properties"]), where
        assert part.get("description"), where
        for key, inner in part.get("properties", {}).items():
            walk(inner, f"{where}.{key}")
        if "items" in part:
            walk(part["items"], f"{where}[]")

    walk(plan_schema(), "plan")


def test_keys_keep_the_order_of_the_schema() -> None:
    program, _ = example()
    plan = plan_to_dict(program)
    assert list(plan) == list(plan_schema()["properties"])
    assert plan_json(program) == plan_json(program)


def test_each_need_has_its_supply() -> None:
    program, _ = example()
    plan = plan_to_dict(program)
    shared = ("group", "period", "start", "days", "nutrient", "unit", "bound")
    assert len(plan["needs"]) == len(plan["supplied"]) == len(program.needs)
    for need, supply, row in zip(plan["needs"], plan["supplied"], program.needs, strict=True):
        assert [need[key] for key in shared] == [supply[key] for key in shared]
        assert (need["need"], need["shortage"]) == (row.need, row.shortage)
        assert supply["supplied"] == row.supplied


def test_what_is_fed_is_eaten_and_lost_at_the_feeder() -> None:
    program, _ = example()
    for lot in plan_to_dict(program)["lots"]:
        assert lot["fed_t"] == pytest.approx(lot["eaten_t"] + lot["feeding_loss_t"])
        gone = lot["fed_t"] + lot["storage_loss_t"] + lot["left_t"] + lot["sold_t"]
        assert lot["start_t"] == pytest.approx(gone)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_none_is_refused_by_name(bad: float) -> None:
    program, _ = example()
    rows = (dataclasses.replace(program.feeding[0], offered_kg=bad), *program.feeding[1:])
    with pytest.raises(NotFinite, match=re.escape("plan.feeding[0].offered_kg")):
        plan_json(dataclasses.replace(program, feeding=rows))


def test_numbers_of_other_kinds_become_plain() -> None:
    program, _ = example()
    changed = dataclasses.replace(program, cost=np.float64(12.5), gap=-0.0)
    plan = plan_to_dict(changed)
    assert type(plan["cost"]) is float
    assert math.copysign(1.0, plan["gap"]) == 1.0


@pytest.mark.parametrize("kind", ["enough", "hay_short", "need_short"])
def test_a_plan_is_read_back_as_it_was(kind: Any) -> None:
    program, _ = example(kind)
    assert program_from_json(plan_json(program)) == program


def test_sales_limits_and_every_other_row_are_read_back() -> None:
    program = with_sales()
    assert program_from_json(plan_json(program)) == program


def test_a_value_that_an_earlier_version_did_not_know_is_unknown() -> None:
    program, _ = example("enough")
    document = json.loads(plan_json(program))
    for source in document["sources"]:
        del source["rdp_pct_of_cp"]
    read = program_from_json(json.dumps(document))
    assert {one.rdp_pct_of_cp for one in read.sources} == {None}


def test_a_plan_of_another_format_is_not_read_back() -> None:
    plan = plan_to_dict(with_sales())
    del plan["sales"]
    with pytest.raises(KeyError, match="sales"):
        program_from_json(json.dumps(plan))
