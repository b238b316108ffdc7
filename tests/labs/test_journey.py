"""From three files of three layouts to a plan on the demonstration farm, by commands alone."""

from __future__ import annotations

import json
import shutil
from importlib.resources import as_file, files

import pytest
from click.testing import CliRunner

from rickyard.cli.main import main
from support.farm_folders import in_text

WIDE = (
    "Sample ID,Lab No,Date Sampled,Reported,Moisture %,CP % DM,ADF % DM,NDF % DM,TDN % DM,"
    "Ca % DM,P % DM\n26-HILL-1,5501,2026-10-20,2026-10-28,12.1,9.4,38.7,63.0,55.0,0.42,0.21\n"
)
MAIL = """Good morning,

all values are on a dry matter basis, moisture as received.

Sample ID: 26-HILL-2
Lab number: 77-12
Sampled: October 21, 2026
Reported: October 29, 2026
Moisture .......... 12.8 %
Crude protein ..... 13.9 %
ADF ............... 35.2 %
NDF ............... 53.0 %
Calcium ........... 0.91 %
Phosphorus ........ 0.28 %
"""
OPEN = "Sample;Lab No;DM %;CP %;ADF %;NDF %\n26-FARR-1;9;85,1;7,1;43,2;70,1\n"


@pytest.fixture
def place(tmp_path):
    with as_file(files("rickyard") / "demo_farm") as demo:
        shutil.copytree(demo, tmp_path / "farm")
    in_text(tmp_path / "farm" / "farm.toml", "period_days = 7", "period_days = 28")
    for name, text in (("wide.csv", WIDE), ("mail.txt", MAIL), ("open.csv", OPEN)):
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


def run(*words):
    return CliRunner().invoke(main, [str(word) for word in words])


def test_three_files_of_three_layouts_to_a_plan(place):
    farm, three = place / "farm", [place / "wide.csv", place / "mail.txt", place / "open.csv"]
    first = run("intake", *three, "--folder", farm, "--accept", "--json", place / "read.json")
    assert first.exit_code == 1
    assert "written: report R-5501 on lot 26-HILL-1" in first.output
    assert "written: report R-77-12 on lot 26-HILL-2" in first.output
    assert "dry or as received?" in first.output
    told = json.loads((place / "read.json").read_text(encoding="utf-8"))
    assert [len(one["samples"]) for one in told] == [1, 1, 1]

    answers = place / "answers.toml"
    answers.write_text('[answers]\nbasis = "dm"\n', encoding="utf-8")
    layout = place / "semicolons.toml"
    second = run("intake", place / "open.csv", "--folder", farm, "--answers", answers, "--layout",
                 layout, "--accept")  # fmt: skip
    assert second.exit_code == 0, second.output
    assert "on lot 26-FARR-1" in second.output
    assert 'basis" = "dm"' in layout.read_text(encoding="utf-8")

    third = run("intake", place / "open.csv", "--folder", farm, "--layout", layout, "--accept")
    assert "came before" in third.output
    assert "was applied" in third.output

    read = run("read", farm)
    assert read.exit_code == 0, read.output
    plan = run("plan", farm, "--weekly", "--effort", "0")
    assert plan.exit_code == 0, plan.output


def test_a_refused_file_says_what_to_do_and_ends_with_one(place):
    (place / "picture.png").write_bytes(b"\x89PNG\r\n\x1a\n")
    result = run("intake", place / "picture.png")
    assert result.exit_code == 1
    assert "not read. The file is a picture" in result.output


def test_accept_needs_a_folder(place):
    result = run("intake", place / "wide.csv", "--accept")
    assert result.exit_code == 2
    assert "--folder" in result.output


def test_a_line_for_a_file_is_standard_output(place, monkeypatch):
    monkeypatch.chdir(place)
    told = run("intake", place / "wide.csv", "--json", "-")
    assert json.loads(told.stdout)["samples"][0]["id"] == "26-HILL-1"
    assert "1 samples" in told.stderr
    layout = run("intake", place / "wide.csv", "--layout", "-")
    assert layout.exit_code == 2
    assert "needs a name" in layout.stderr
    assert not (place / "-").exists()
