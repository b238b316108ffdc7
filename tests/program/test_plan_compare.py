"""Programs side by side, from memory and from files."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from rickyard.farm import Farm
from rickyard.program.compare.compare import Comparison, compare, compare_facts
from rickyard.program.compare.summary import facts_of
from rickyard.program.planning.season import plan_season
from rickyard.program.result.options import PlanOptions, Wish
from rickyard.program.result.result import SeasonProgram
from rickyard.sheets.data_files.plan_json import plan_json
from rickyard.sheets.data_files.plan_read import NotAPlan, read_plan
from support.farms import random_farm
from support.season_example import END, START, example
from support.weekly import WEEKLY


@pytest.fixture(scope="module")
def farm() -> Farm:
    return random_farm(11, lots=4, groups=3, weeks=6)


@pytest.fixture(scope="module")
def base(farm: Farm) -> SeasonProgram:
    return plan_season(farm, options=WEEKLY)


@pytest.fixture(scope="module")
def without(farm: Farm, base: SeasonProgram) -> tuple[str, SeasonProgram]:
    lot = max(base.lots, key=lambda one: one.eaten_t).lot_id
    return lot, plan_season(farm, options=PlanOptions(wishes=(Wish("keep_off", lot),), weekly=True))


@pytest.fixture(scope="module")
def both(base: SeasonProgram, without: tuple[str, SeasonProgram]) -> Comparison:
    return compare([("now", base), ("without", without[1])])


def test_money_is_told_by_kind_and_adds_up(both: Comparison) -> None:
    for at in range(2):
        parts = sum(row.values[at] or 0.0 for row in both.cost)
        assert parts == pytest.approx(both.total.values[at])
    assert both.labels == ("now", "without")


def test_hay_and_purchases_stand_by_lot_and_feed(
    both: Comparison, base: SeasonProgram, without: tuple[str, SeasonProgram]
) -> None:
    lot, other = without
    row = next(one for one in both.fed_t if one.key == lot)
    assert row.values[0] == pytest.approx(
        next(one.eaten_t + one.feeding_loss_t for one in base.lots if one.lot_id == lot)
    )
    assert row.values[1] == 0.0
    bought = {one.key: one.values for one in both.bought_kg}
    for purchase in other.purchases:
        assert bought[purchase.feed_id][1] == pytest.approx(purchase.as_fed_kg)


def test_who_eats_another_hay_when_is_told_in_runs(
    both: Comparison, base: SeasonProgram, without: tuple[str, SeasonProgram]
) -> None:
    lot, other = without
    assert any(run.hays[0] == lot for run in both.differs)
    now, then = facts_of("", base), facts_of("", other)
    for run in both.differs:
        assert run.hays[1] != lot
        assert run.hays[0] != run.hays[1]
        assert run.start < run.end
        assert now.main_hay(run.group_id, run.start) == run.hays[0]
        assert then.main_hay(run.group_id, run.start) == run.hays[1]


def test_a_program_beside_itself_differs_in_nothing(base: SeasonProgram) -> None:
    same = compare([("a", base), ("b", base)])
    assert same.differs == ()
    for row in (*same.cost, *same.fed_t, *same.bought_kg, *same.changes):
        assert row.values[0] == row.values[1]


def test_changes_count_the_hays_that_are_begun() -> None:
    """The spring cows of the example change once, the bulls get two hays in week 15."""
    program, _ = example("enough")
    changes = {row.key: row.values for row in compare([("plan", program)]).changes}
    assert changes["G1"] == (1.0,)
    assert changes["G6"] == (2.0,)
    assert changes["G2"] == (2.0,)


def test_a_shortage_stands_beside_nothing_where_there_is_none() -> None:
    short, whole = example("need_short")[0], example("enough")[0]
    (lack,) = compare([("short", short), ("whole", whole)]).lacks
    assert (lack.group_id, lack.nutrient, lack.totals) == ("G2", "cp", (206.0, 0.0))
    assert lack.sentences[1] == ""


def test_a_plan_read_back_is_the_plan(tmp_path: Path) -> None:
    for kind in ("enough", "hay_short", "need_short"):
        program, _ = example(kind)  # type: ignore[arg-type]
        file = tmp_path / f"{kind}.json"
        file.write_text(plan_json(program), encoding="utf-8")
        assert read_plan(file) == facts_of(kind, program)


def test_what_is_grazed_is_no_hay(tmp_path: Path) -> None:
    program, _ = example("enough")
    grass = next(one.source_id for one in program.sources if one.kind == "feed")
    sources = tuple(
        replace(one, is_forage=True) if one.source_id == grass else one for one in program.sources
    )
    document = json.loads(plan_json(replace(program, sources=sources)))
    assert any(one["is_forage"] and not one["is_hay"] for one in document["sources"])
    now, before = tmp_path / "now.json", tmp_path / "before.json"
    now.write_text(json.dumps(document), encoding="utf-8")
    assert grass not in read_plan(now).hays
    assert read_plan(now).hays == {one.source_id for one in program.sources if one.kind == "lot"}
    # A plan written before the two were told apart counts all forage.
    for one in document["sources"]:
        del one["is_hay"]
    before.write_text(json.dumps(document), encoding="utf-8")
    assert grass in read_plan(before).hays


def test_a_season_that_starts_later_is_compared_where_both_are(base: SeasonProgram) -> None:
    facts = facts_of("base", base)
    cut = replace(facts, start=base.periods[3].start, label="rest")
    moved = replace(cut, feeding=tuple(replace(row, source_id="lot-3") for row in cut.feeding))
    runs = compare_facts([facts, moved]).differs
    assert runs
    assert min(run.start for run in runs) == cut.start


def test_plans_of_other_days_are_compared_over_the_days_of_both(base: SeasonProgram) -> None:
    whole = facts_of("whole", base)
    rest = replace(whole, label="rest", start=base.periods[3].start + timedelta(days=2))
    both = compare_facts([whole, rest])
    assert both.same_days == (rest.start, whole.end)
    prices = {one.source_id: one.usd_per_kg_dm * one.dm_pct / 100.0 for one in base.sources}
    later = [row for row in base.feeding if row.period >= 3]
    parts = [row.offered_kg * (5 / 7 if row.period == 3 else 1.0) for row in later]
    worth = sum(kg * prices[row.source_id] for kg, row in zip(parts, later, strict=True))
    assert both.put_out_usd.values == (pytest.approx(worth), pytest.approx(worth))
    for row in (*both.fed_t, *both.fed_kg):
        assert row.values[0] == row.values[1]
    apart = replace(whole, start=whole.end, end=whole.end + timedelta(days=30))
    assert compare_facts([whole, apart]).same_days is None


def broken() -> dict[str, str]:
    plan = json.loads(plan_json(example()[0]))
    older = {**plan, "schema_version": "0.9"}
    less = {key: value for key, value in plan.items() if key != "lots"}
    odd = {**plan, "feeding": [{"group": "G1"}]}
    return {
        "not JSON": "hay",
        "a list": "[1, 2]",
        "another document": '{"rickyard": "yard", "version": 1}',
        "version 0.9": json.dumps(older),
        "plan is not whole": json.dumps(less),
        "not whole": json.dumps(odd),
    }


@pytest.mark.parametrize("what", list(broken()))
def test_what_is_no_plan_is_refused_with_a_way_out(what: str, tmp_path: Path) -> None:
    file = tmp_path / "plan.json"
    file.write_text(broken()[what], encoding="utf-8")
    with pytest.raises(NotAPlan) as caught:
        read_plan(file)
    assert str(file) in str(caught.value)
    assert "rickyard plan FOLDER --json FILE" in str(caught.value) or "version 0.9" in str(
        caught.value
    )


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(NotAPlan, match=r"none\.json: cannot be read"):
        read_plan(tmp_path / "none.json")


def test_a_plan_of_version_1_0_is_still_read(tmp_path: Path) -> None:
    plan = json.loads(plan_json(example()[0]))
    del plan["wishes"]
    plan["schema_version"] = "1.0"
    file = tmp_path / "old.json"
    file.write_text(json.dumps(plan), encoding="utf-8")
    assert (read_plan(file).start, read_plan(file).end) == (START, END)


def test_nothing_cannot_be_compared() -> None:
    with pytest.raises(ValueError, match="no program"):
        compare([])
