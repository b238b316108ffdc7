"""What a how-to page shows is done: its diff is laid on a copy, and a farm is planned with it."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import rickyard
from rickyard.service import PlanRequest, open_farm, plan_farm
from rickyard.sheets.data_files import plan_json
from support.farm_folders import plain_demo
from support.rows import each_row

DIFFS = Path(__file__).parents[2] / "docs" / "howto" / "diffs"


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """Return a source folder of its own, with the package in it."""
    source = tmp_path / "src"
    shutil.copytree(Path(rickyard.__file__).parent, source / "rickyard")
    return source


def laid(diff: str, source: Path) -> dict[Path, str]:
    """Return what files hold after a diff; what lies outside the package is passed over."""
    found = {}
    for part in re.split(r"(?m)^(?=diff --git )", (DIFFS / diff).read_text(encoding="utf-8")):
        name = re.search(r"^--- a/src/(\S+)$", part, re.M)
        if name is None:
            continue
        file = source / name[1]
        text = file.read_text(encoding="utf-8")
        for hunk in re.split(r"(?m)^@@ .*$\n", part)[1:]:
            lines = hunk.splitlines()
            old = "\n".join(line[1:] for line in lines if not line.startswith("+"))
            new = "\n".join(line[1:] for line in lines if not line.startswith("-"))
            assert old in text, name[1]
            text = text.replace(old, new, 1)
        found[file] = text
    return found


def lay(diff: str, source: Path) -> None:
    """Change the files of a copy as a diff says."""
    for file, text in laid(diff, source).items():
        file.write_text(text, encoding="utf-8")


def run(source: Path, *arguments: object) -> str:
    done = subprocess.run(
        [sys.executable, "-m", "rickyard", *map(str, arguments)],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": str(source), "PYTHONIOENCODING": "utf-8"},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    return plain_demo(tmp_path / "farm")


def edit(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


@each_row("diff", sorted(one.name for one in DIFFS.glob("*.diff")))
def test_a_diff_is_of_the_source_as_it_is(diff: str) -> None:
    assert laid(diff, Path(rickyard.__file__).parents[1])


def test_potassium_is_held_in_every_ration(copy: Path, farm: Path) -> None:
    lay("add-a-nutrient.diff", copy)
    program = json.loads(run(copy, "plan", farm, "--weekly", "--effort", "0", "--json", "-"))
    held = [one for one in program["needs"] if one["nutrient"] == "k"]
    assert held
    assert all(one["need"] > 0.0 for one in held)


@pytest.mark.more
def test_a_wether_is_planned_as_an_animal(copy: Path, farm: Path) -> None:
    lay("add-an-animal-class.diff", copy)
    edit(
        farm / "groups.csv",
        "bulls,Bulls,bull,3,1850,1850,,5.5,intact_male,40",
        "bulls,Wethers,wether,9,180,,,,,40",
    )
    said = run(copy, "plan", farm, "--weekly", "--effort", "0")
    assert "Wethers, 9 head" in said
    assert "2:1 or more for Wethers" in said


@pytest.mark.more
def test_a_hay_net_loses_its_share(copy: Path, farm: Path) -> None:
    lay("add-a-feeder-type.diff", copy)
    before = plan_farm(open_farm(farm), PlanRequest(weekly=True, effort=0.0)).program
    edit(farm / "groups.csv", "sheeted_ring", "hay_net")
    after = json.loads(run(copy, "plan", farm, "--weekly", "--effort", "0", "--json", "-"))
    lost = "hay_feeding_loss"
    assert after["costs"][lost] != json.loads(plan_json(before))["costs"][lost]
