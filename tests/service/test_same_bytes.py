"""Two runs with the same inputs, options and effort give the same bytes, to the last one."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from rickyard.folder.io.write import write_folder
from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions
from rickyard.program.solver import highs
from rickyard.types import FloatArray
from support.farm_folders import good_folder, in_text
from support.farms import random_farm

OPTIONS = PlanOptions(effort=0.1, threads=1, weekly=True)

#: Plans every farm and writes its JSON and what the terminal says. With ``hurried`` the clock goes
#: a thousand times as fast: nothing may depend on it.
RUN = """
import sys, time
from pathlib import Path
if sys.argv[2] == "hurried":
    honest = time.perf_counter
    time.perf_counter = time.monotonic = lambda: 1000.0 * honest()
from click.testing import CliRunner
from rickyard.cli.main import main
for folder in sorted(Path(sys.argv[1]).iterdir()):
    file = folder / "plan.json"
    told = CliRunner().invoke(main, ["plan", str(folder), "--effort", "0.03", "--json", str(file)])
    assert told.exit_code == 0, told.output
    sys.stdout.write(told.stdout + file.read_text(encoding="utf-8"))
"""


@pytest.fixture
def farms(tmp_path: Path) -> Path:
    folder = tmp_path / "farms"
    in_text(good_folder(folder / "hill") / "farm.toml", "period_days = 7", "period_days = 28")
    for seed in range(5):
        farm = random_farm(seed, lots=3, groups=2, weeks=4)
        season = replace(farm.season, hays_at_once=1 + seed % 2, least_run_days=14, change_usd=20.0)
        feeds = tuple(
            replace(one, load_kg=500.0) if one.feed_id == "cubes" and seed % 2 else one
            for one in farm.feeds
        )
        write_folder(replace(farm, season=season, feeds=feeds), folder / f"farm{seed}")
    return folder


def runs_of(farms: Path, *, how: tuple[tuple[str, str], ...]) -> list[bytes]:
    """Return what runs write that differ in the seed of hashes and the clock."""
    return [
        subprocess.run(
            [sys.executable, "-c", RUN, str(farms), clock],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONUTF8": "1"},
            capture_output=True,
            check=True,
        ).stdout
        for seed, clock in how
    ]


def test_two_farms_two_hash_seeds_and_clocks_same_bytes(farms: Path) -> None:
    for name in ("farm0", "farm2", "farm3", "hill"):
        shutil.rmtree(farms / name)
    plain, hurried = runs_of(farms, how=(("0", "plain"), ("1", "hurried")))
    assert plain.count(b'"schema_version"') == 2
    assert b'"seconds": null' in plain
    assert plain == hurried


@pytest.mark.more
def test_six_farms_two_hash_seeds_two_runs_same_bytes(farms: Path) -> None:
    every = tuple((seed, clock) for seed in ("0", "1") for clock in ("plain", "hurried"))
    runs = runs_of(farms, how=every)
    assert runs[0].count(b'"schema_version"') == 6
    assert b'"seconds": null' in runs[0]
    assert all(one == runs[0] for one in runs[1:])


def test_a_processor_that_adds_and_raises_in_another_way_plans_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # Processors differ in the last digits of sums and powers, and a search must not follow them.
    farm = random_farm(8, lots=6, groups=3, weeks=8)
    plain = plan_season(farm, options=OPTIONS)
    rounded, noise = highs.rounded, np.random.default_rng(1)

    def off(value: FloatArray, *digits: int) -> FloatArray:
        given = np.asarray(value) * (1.0 + 4e-16 * noise.integers(-1, 2, np.shape(value)))
        return rounded(given, *digits)

    monkeypatch.setattr(highs, "rounded", off)
    assert plan_season(farm, options=OPTIONS) == plain
