"""``rickyard why`` as a person calls it."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from rickyard.cli.show.reasons import reason_lines
from rickyard.display import Display
from rickyard.folder.io.write import write_folder
from rickyard.program.planning import plan_season
from rickyard.program.result import LotReason, PlanOptions
from rickyard.sheets.data_files.plan_schema import plan_schema
from support.farm_folders import plain_demo
from support.farms import random_farm

END = "it is left out to keep the ration steady and the hays few."


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments], catch_exceptions=False)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return plain_demo(tmp_path_factory.mktemp("why") / "farm")


def test_why_tells_each_group_and_every_price(demo: Path) -> None:
    result = run("why", demo, "--weekly", "--effort", 0, "--week", 1)
    assert result.exit_code == 0
    text = " ".join(result.output.split())
    assert "Spring cows are fed Late fescue" in text
    assert "Leaving out Late fescue then would cost" in text
    assert "worth buying at $262 a ton, and up to $" in text
    assert "worth buying under $" in text
    assert "Sell the first of it rather than feed it above $" in text
    assert "extension office" in text


@pytest.mark.more
def test_why_of_one_group_says_nothing_of_the_others(demo: Path) -> None:
    result = run("why", demo, "--group", "bulls", "--seconds", 0)
    assert result.exit_code == 0
    reasons = result.output.split("Take care")[0]
    assert "Bulls are fed" in " ".join(reasons.split())
    assert "Spring cows are fed" not in " ".join(reasons.split())


def test_why_says_what_would_remove_a_shortage(tmp_path: Path) -> None:
    write_folder(random_farm(5, lots=4, groups=3, weeks=4), tmp_path / "farm")
    target = tmp_path / "why.json"
    result = run("why", "--weekly", tmp_path / "farm", "--json", target)
    assert result.exit_code == 0
    text = " ".join(result.output.split())
    assert "What would help" in text
    assert "would remove it, $" in text
    document = json.loads(target.read_text(encoding="utf-8"))
    jsonschema.validate(document, plan_schema())
    assert document["remedies"]
    assert any("more would be short" in one["sentence"] for one in document["reasons"])


def test_first_use_why_says_once_that_a_little_of_another_hay_would_be_cheaper() -> None:
    farm = random_farm(3, lots=4, groups=2, weeks=6)
    program = plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))
    start = farm.season.start
    end = start + timedelta(days=7)
    reasons = [
        LotReason("group-1", hay, start, end, other, -2.0, "steady", f"{hay} so {END}")
        for hay, other in (("lot-1", "lot-0"), ("lot-2", "lot-0"), ("lot-3", "lot-1"))
    ]
    priced = replace(reasons[0], usd_over_run=40.0, sentence="Priced.")
    names = {one.source_id: one.name for one in program.sources}
    lines = reason_lines(program, [*reasons, priced], "Ewes", Display("us"))
    days = Display("us").span_text(start, end)
    assert lines == [
        "Priced.",
        "A little of another hay would be cheaper for Ewes, but it is left out to keep the ration "
        f"steady and the hays few: a little of {names['lot-0']} in place of {names['lot-1']} "
        f"({days}) and {names['lot-2']} ({days}); a little of {names['lot-1']} in place of "
        f"{names['lot-3']} ({days}).",
    ]
    assert reason_lines(program, reasons[:1], "Ewes", Display("us")) == [reasons[0].sentence]


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (("--group", "geese"), "bulls"),
        (("--week", 99), "there is no 99"),
        (("--week", 0), "0 is not in the range"),
    ],
)
def test_what_is_not_there_is_refused_by_name(
    demo: Path, asked: tuple[str, object], said: str
) -> None:
    result = run("why", demo, "--weekly", "--effort", 0, *asked)
    assert result.exit_code == 2
    assert said in result.output
