"""The needs command: its chart, its list of how each number is known, and what it refuses."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from rickyard.display import Display
from rickyard.farm import AnimalClass, Farm, Group, Package
from rickyard.folder import read_folder
from rickyard.forage.plausibility.profile import lot_profile
from rickyard.program.audit.audit import recheck
from rickyard.program.explain.supply_alone import NeedPicture, need_picture
from rickyard.program.inputs.needs_by_period import season_days
from rickyard.program.planning.season import plan_season
from rickyard.sheets.charts.canvas import INK
from rickyard.sheets.charts.needs_chart import needs_chart_svg
from support.farm_folders import good_folder
from support.weekly import WEEKLY


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return good_folder(tmp_path / "farm")


@pytest.fixture
def farm(folder: Path) -> Farm:
    return read_folder(folder).farm


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["needs", *arguments])


def texts(svg: str) -> list[str]:
    return ["".join(node.itertext()) for node in ElementTree.fromstring(svg).iter() if node.text]


def test_the_need_of_cows_stands_beside_each_lot(farm: Farm) -> None:
    picture = need_picture(farm, farm.group("COWS"))
    assert picture.energy_word == "net energy"
    assert [lot.lot_id for lot in picture.lots] == [lot.lot_id for lot in farm.lots]
    weeks = len(picture.days)
    assert weeks == -(-(farm.season.end - farm.season.start).days // 7)
    for lot in picture.lots:
        assert len(lot.energy) == len(lot.protein_kg) == weeks
        assert np.array_equal(lot.energy_short, lot.energy < 0.995 * picture.energy)
        assert lot.enough == (not lot.energy_short.any() and not lot.protein_short.any())


def test_growing_stock_is_shown_by_the_gain_each_lot_gives(farm: Farm) -> None:
    picture = need_picture(farm, farm.group("STOCK"))
    assert picture.energy_word == "gain"
    assert picture.energy[0] == pytest.approx(1.5 * 0.45359237)
    richest = max(picture.lots, key=lambda lot: lot.energy.mean())
    assert richest.lot_id == "C3"  # alfalfa


def test_a_better_lot_gives_more_energy_and_protein(farm: Farm) -> None:
    picture = need_picture(farm, farm.group("COWS"))
    better, poorer = (
        next(lot for lot in picture.lots if lot.lot_id == name) for name in ("A1", "B2")
    )
    assert np.all(better.energy > poorer.energy)
    assert np.all(better.protein_kg > poorer.protein_kg)


def test_the_chart_names_every_lot_and_says_which_are_enough(farm: Farm) -> None:
    picture = need_picture(farm, farm.group("COWS"))
    written = " ".join(texts(needs_chart_svg(picture, Display("us"))))
    for lot in farm.lots:
        assert lot.name in written
    assert "Mcal NEm" in written
    assert "lb a day" in written
    assert "short" in written or "enough" in written
    assert "kg a day" in " ".join(texts(needs_chart_svg(picture, Display("metric"))))


def test_what_falls_short_is_gray_and_what_is_enough_has_a_colour_of_its_own(farm: Farm) -> None:
    picture = need_picture(farm, farm.group("COWS"))
    best, *others = picture.lots
    weeks = np.zeros(len(picture.days), dtype=bool)
    lots = (
        replace(best, energy_short=weeks, protein_short=weeks, dangerous=False),
        *(replace(lot, energy_short=~weeks, protein_short=~weeks) for lot in others),
    )
    svg = ElementTree.fromstring(needs_chart_svg(replace(picture, lots=lots), Display("us")))
    inks = {"".join(one.itertext()): one.get("fill", "") for one in svg.iter() if one.text}
    assert inks[f"{best.name}, enough"] == INK
    short = {ink for text, ink in inks.items() if text.endswith("short all season")}
    assert len(short) == 1
    assert INK not in short
    lines = [one.attrib["stroke"] for one in svg.iter() if one.get("stroke-width") == "2"]
    assert len(set(lines)) == 1
    assert len([one for one in svg.iter() if one.get("stroke-width") == "1"]) >= 2 * len(others)


def test_the_month_in_which_the_season_begins_is_named(farm: Farm) -> None:
    picture = need_picture(farm, farm.group("COWS"))
    assert picture.days[0].month == 11
    written = texts(needs_chart_svg(picture, Display("us")))
    assert written.count("Nov") == 2  # one a panel


def test_hay_with_a_danger_is_never_called_enough_without_a_word(farm: Farm) -> None:
    picture = need_picture(farm, farm.group("COWS"))
    best = max(picture.lots, key=lambda lot: float(lot.energy.mean()))
    hot = tuple(replace(lot, dangerous=lot is best) for lot in picture.lots)
    written = texts(needs_chart_svg(replace(picture, lots=hot), Display("us")))
    assert any(text.startswith(f"{best.name} (danger, read it)") for text in written)
    assert not any("Enough alone" in text and best.name in text for text in written)
    assert any("can still harm" in text for text in written)


def test_baleage_is_not_called_enough_for_horses_without_a_word(farm: Farm) -> None:
    ponies = Group("P", "Ponies", AnimalClass.HORSE, 3, 180.0)
    wet = tuple(replace(lot, package=Package.BALEAGE) for lot in farm.lots)
    picture = need_picture(replace(farm, groups=(ponies,), lots=wet), ponies)
    assert all(lot.dangerous for lot in picture.lots)
    written = texts(needs_chart_svg(picture, Display("us")))
    assert not any("Enough alone" in text for text in written)


def test_a_farm_without_hay_is_drawn_all_the_same(farm: Farm) -> None:
    bare = replace(farm, lots=(), reports=())
    picture = need_picture(bare, bare.group("COWS"))
    assert "no hay" in " ".join(texts(needs_chart_svg(picture, Display("us"))))


def test_a_group_that_comes_later_is_drawn_from_then(farm: Farm) -> None:
    late = Group(
        "L", "Late", AnimalClass.BULL, 2, 900.0, from_on=date(2026, 1, 10), to_on=date(2026, 3, 1)
    )
    picture = need_picture(replace(farm, groups=(late,)), late)
    assert picture.days[0] >= date(2026, 1, 3)
    assert picture.days[-1] < date(2026, 3, 1)


def test_the_command_writes_a_chart(folder: Path, tmp_path: Path) -> None:
    chart = tmp_path / "cows.svg"
    result = run(str(folder), "--group", "COWS", "--chart", str(chart))
    assert result.exit_code == 0
    assert "Mature cows" in result.stdout
    assert "Stockers" not in result.stdout
    assert chart.read_text("utf-8").startswith("<svg")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--group", "COW"), "Its groups are COWS, HEIF, STOCK."),
        (("--chart", "x.svg"), "Add --group and one of COWS, HEIF, STOCK."),
        (("--group", "COWS", "--chart", "x.png"), "ends in .svg"),
    ],
)
def test_what_cannot_be_drawn_is_refused(
    folder: Path, arguments: tuple[str, ...], said: str
) -> None:
    result = run(str(folder), *arguments)
    assert result.exit_code == 2
    assert said in result.stderr


def test_how_each_number_is_known_is_shown_on_request(folder: Path) -> None:
    plain = run(str(folder), "--group", "COWS")
    asked = run(str(folder), "--group", "COWS", "--evidence")
    assert "from memory" not in plain.stdout
    words = " ".join(asked.stdout.split())
    for said in ("calcium", "from memory: NRC 2000", "copper", "40 ppm", "vitamin A", "reproduced"):
        assert said in words
    assert "assumptions" in words
    assert "Weights are full weights" in words


def test_storms_that_cannot_be_fed_are_warned_of_with_the_needs(folder: Path) -> None:
    settings = folder / "farm.toml"
    settings.write_text(settings.read_text("utf-8") + 'cold_rule = "percent"\n', "utf-8")
    (folder / "weather.csv").write_text(
        "day,mean_temperature_degF,wind_mph,precipitation_in\n"
        + "".join(f"2026-01-{day:02d},34,25,0.9\n" for day in range(5, 12)),
        "utf-8",
    )
    written = " ".join(run(str(folder)).stdout.split())
    assert "Cold takes more out of Mature cows than can be fed back in time" in written
    program = plan_season(read_folder(folder).farm, options=WEEKLY)
    assert any("Cold takes more" in one.sentence for one in program.cautions)
    assert recheck(program, read_folder(folder).farm) == ()


def test_sheep_are_shown_in_tdn_up_to_the_most_they_can_eat(farm: Farm) -> None:
    ewes = Group("E", "Ewes", AnimalClass.EWE, 50, 70.0, calving_on=date(2026, 2, 15))
    picture = need_picture(replace(farm, groups=(ewes,)), ewes)
    assert picture.energy_word == "TDN"
    assert np.all(picture.energy > 0.0)
    days = season_days(farm, ewes)
    best = picture.lots[0]
    profile = lot_profile(farm.lots[0], farm.reports_of(best.lot_id))
    assert best.energy[0] == pytest.approx(days.most["dm_kg"][0] * profile.tdn_pct / 100.0)


def test_a_winter_that_changes_nothing_is_told(folder: Path) -> None:
    def said() -> str:
        return " ".join(run(str(folder), "--winter", "severe").stdout.split())

    settings = folder / "farm.toml"
    assert "farm.toml chooses no way to count the cold" in said()
    assert "changes nothing" not in run(str(folder)).stdout
    settings.write_text(settings.read_text("utf-8") + 'cold_rule = "percent"\n', "utf-8")
    assert "changes nothing" not in said()
    (folder / "weather.csv").unlink()
    assert "there is no weather" in said()


def test_another_winter_may_be_asked_for(folder: Path) -> None:
    settings = folder / "farm.toml"
    settings.write_text(settings.read_text("utf-8") + 'cold_rule = "percent"\n', "utf-8")
    mild, severe = (run(str(folder), "--winter", one).stdout for one in ("mild", "severe"))
    assert mild != severe
    assert run(str(folder), "--winter", "as_given").stdout == run(str(folder)).stdout


def test_pictures_of_stock_in_other_currencies_have_their_own_title(farm: Farm) -> None:
    picture = need_picture(farm, farm.group("COWS"))
    by_tdn: NeedPicture = replace(picture, energy_word="TDN")
    assert "lb TDN a day" in " ".join(texts(needs_chart_svg(by_tdn, Display("us"))))
