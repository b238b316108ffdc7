"""What stood in the way of newcomers: pages too long, trifles told, figures that disagreed."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from rickyard.cli.main import main
from rickyard.program.days.step_up import Pace, raised_slowly
from rickyard.quantities import KG_PER_LB
from support.farm_folders import GOOD, good_folder, write_texts


def told(*arguments: object) -> str:
    done = CliRunner().invoke(main, [str(one) for one in arguments])
    assert done.exit_code == 0, done.output
    return done.stdout


def test_first_use_05_the_yard_leaves_it_to_the_plan_whether_there_is_enough(
    tmp_path: Path,
) -> None:
    text = GOOD["groups.csv"].replace("cow,60", "cow,400")
    folder = write_texts(tmp_path / "farm", {**GOOD, "groups.csv": text})
    page = " ".join(told("yard", folder, "--on", "2025-11-20").split())
    assert "Rough figure" in page
    assert "rickyard plan says whether there is enough, before you buy hay or sell animals" in page


@pytest.mark.parametrize("pounds", [0.001, 0.24, 0.5])
def test_first_use_in_the_way_a_handful_of_oats_is_not_raised_over_days(pounds: float) -> None:
    asked, week = np.full(21, pounds * KG_PER_LB), np.repeat(np.arange(3), 7)
    given = raised_slowly(asked, np.full(21, 520.0), week, Pace(10, 0.5 * KG_PER_LB))
    assert given.tolist() == pytest.approx(asked.tolist())


def test_first_use_in_the_way_a_lot_is_read_in_some_lines(tmp_path: Path) -> None:
    page = told("read", good_folder(tmp_path / "farm"))
    lots = GOOD["lots.csv"].count("\n") - 1
    assert page.count("\n") < 25 * lots


def test_first_use_in_the_way_the_yard_says_what_its_dollars_are(tmp_path: Path) -> None:
    page = told("yard", good_folder(tmp_path / "farm"), "--on", "2025-11-20")
    assert "in dollars" in page
    assert "will lose is to the end of the season, and what that is in dollars" in " ".join(
        page.split()
    )
