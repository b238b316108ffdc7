"""``rickyard cold`` as a person types it."""

from __future__ import annotations

import json
from pathlib import Path

from click.testing import CliRunner, Result

from rickyard.cli.main import main
from support.farm_folders import GOOD, write_texts

FORECAST = """\
day,mean_temperature_degF,wind_mph,precipitation_in
2026-01-10,35,0,0
2026-01-11,-5,20,0
2026-01-12,-10,15,0
"""


def run(folder: Path, *more: str) -> Result:
    return CliRunner().invoke(main, ["cold", str(folder), *more], catch_exceptions=False)


def farm(tmp_path: Path, weather: str = FORECAST) -> Path:
    texts: dict[str, str | bytes] = {**GOOD, "weather.csv": weather}
    return write_texts(tmp_path / "farm", texts)


def test_the_answer_stands_first_and_each_group_is_told_days_and_amounts(tmp_path: Path) -> None:
    lines = run(farm(tmp_path), "--on", "2026-01-08").stdout.splitlines()
    assert lines[0] == "Hill farm, cold from Jan 8, 2026"
    assert lines[2].startswith("Begin on Jan 10: cold is coming in which Mature")
    text = "\n".join(lines)
    assert "Mature cows, 60 head, open to the wind" in text
    assert "Jan 11: -5 °F, feels like -25 °F; they bear 32 °F." in text
    assert "lb of Barn orchardgrass a head, as fed." in text
    assert "Cracked corn" not in text
    assert "founders and kills" in text
    assert "veterinarian" in text


def test_no_forecast_is_said_plainly(tmp_path: Path) -> None:
    result = run(farm(tmp_path), "--on", "2026-02-01")
    assert result.exit_code == 0
    assert "There is no forecast to go by: weather.csv has no temperature" in result.stdout
    assert "2026-02-01,12,20,0" in result.stdout


def test_mild_days_are_said_to_be_mild(tmp_path: Path) -> None:
    mild = "day,mean_temperature_degF\n2026-01-10,45\n"
    result = run(farm(tmp_path, mild), "--on", "2026-01-08")
    assert "No day listed is too cold" in result.stdout


def test_json_holds_the_same(tmp_path: Path) -> None:
    told = json.loads(run(farm(tmp_path), "--on", "2026-01-08", "--json").stdout)
    assert told["rickyard"] == "cold"
    cows = told["cold"]["groups"][0]
    assert cows["group_id"] == "COWS"
    assert [one["day"] for one in cows["spells"][0]["days"]] == ["2026-01-11", "2026-01-12"]
    assert cows["spells"][0]["feeding"][0]["day"] == "2026-01-10"
