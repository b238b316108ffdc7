"""``rickyard new``: a first farm folder by asking, from the first question to a program."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from rickyard.draft.assumptions import USUAL_STOCK
from rickyard.farm import AnimalClass, Care, Farm, Forage, Package, Storage
from rickyard.folder import read_folder
from rickyard.forage.values import feed_ids
from support.rows import few

TODAY = "2026-11-28"


def new(folder: Path, *lines: object) -> Result:
    text = "".join(f"{one}\n" for one in lines)
    return CliRunner().invoke(
        main, ["new", str(folder), "--on", TODAY], input=text, catch_exceptions=False
    )


def farm_of(folder: Path) -> Farm:
    read = read_folder(folder, known_table_ids=feed_ids())
    assert read.questions == ()
    return read.farm


def plan(folder: Path) -> Result:
    return CliRunner().invoke(
        main, ["plan", str(folder), "--weekly", "--seconds", "0"], catch_exceptions=False
    )


PLACE = ["Stone creek", "Ashlow", "US-KY"]
SEASON = ["Nov 30", "April 10", "44"]
COWS = ["cows", "60", "1250", "March 10"]
FESCUE = ["fescue", "round", "120", "4x5", "outside", "1", "June 3", "80", "no"]
TESTED = ["alfalfa", "small square", "300", "55", "barn", "2", "July 20", "$180 a ton"]
REPORT = ["yes", "88", "18", "32", "42", "60"]


def told(*more: str) -> list[str]:
    return [*PLACE, *SEASON, *COWS, "", *FESCUE, *TESTED, *REPORT, "", *more]


def test_a_cow_calf_producer_from_the_first_question_to_a_program(tmp_path: Path) -> None:
    """Every answer known: nothing is assumed but what an untested lot holds."""
    folder = tmp_path / "stone-creek"
    result = new(folder, *told("corn", "240", "hulls", "2", "$210 a ton", ""))
    assert result.exit_code == 0
    farm = farm_of(folder)
    assert (farm.name, farm.place, farm.country, farm.units) == (*PLACE, "us")
    assert (farm.season.start, farm.season.end) == (date(2026, 11, 30), date(2027, 4, 10))
    assert farm.season.rainfall_mm_per_year == pytest.approx(44 * 25.4)
    (cows,) = farm.groups
    assert (cows.head, cows.calving_on) == (60, date(2027, 3, 10))
    assert cows.weight_kg == pytest.approx(567.0, abs=0.1)
    fescue, alfalfa = farm.lots
    assert (fescue.forage, fescue.storage) == (Forage.COOL_GRASS, Storage.EXPOSED_GROUND)
    assert fescue.bale_diameter_m == pytest.approx(1.524)
    assert fescue.bale_width_m == pytest.approx(1.2192)
    assert (alfalfa.package, alfalfa.bales) == (Package.SMALL_SQUARE, 300)
    assert alfalfa.baled_on == date(2026, 7, 20)
    assert [(one.name, one.value) for one in farm.reports[0].analytes][:2] == [
        ("dm", 88.0),
        ("cp", 18.0),
    ]
    assert [one.table_id for one in farm.feeds] == ["corn_grain_dry_rolled", "soybean_hulls"]
    assert [one.note for one in (*farm.lots, *farm.groups, *farm.feeds)] == [""] * 5
    said = result.stdout
    assert "is written: 1 group, 2 lots, 1 report and 2 feeds." in said
    assumed = said.split("What was assumed")[1].split("What would")[0]
    assert assumed.count("\n- ") == 1
    assert "fescue is untested" in assumed.casefold()
    assert said.rstrip().endswith(f"Next: rickyard plan {folder}")
    planned = plan(folder)
    assert planned.exit_code == 0
    assert "Cows, 60 head: what to put out each day" in planned.stdout


def test_a_person_who_knows_nothing_still_gets_a_program(tmp_path: Path) -> None:
    folder = tmp_path / "hill"
    result = new(folder, *[""] * 9)
    assert result.exit_code == 0
    farm = farm_of(folder)
    assert "20 beef cows are used in place" in farm.groups[0].note
    assert "# assumed" in (folder / "farm.toml").read_text("utf-8")
    assert "Assumed: feeding begins on 2026-11-28." in result.stdout
    assert plan(folder).exit_code == 0


def test_each_answer_not_known_is_said_and_marked_in_its_row(tmp_path: Path) -> None:
    folder = tmp_path / "hill"
    lines = [*PLACE, *SEASON, "ewes", "?", "I don't know", "", "", "timothy", *[""] * 8, "", ""]
    result = new(folder, *lines)
    assert result.exit_code == 0
    farm = farm_of(folder)
    assert farm.groups[0].animal_class is AnimalClass.EWE
    assert farm.groups[0].note == (
        "assumed: 20 ewes; ewes weigh 160 lb; the middle of lambing is 2027-03-15"
    )
    assert "a bale of timothy weighs 1000 lb" in farm.lots[0].note
    assert farm.lots[0].bales_weighed == 0
    assert "baled on 2026-06-05" in farm.lots[0].note
    for line in ("20 ewes", "Ewes weigh 160 lb", "Timothy is worth $90 a ton"):
        assert f"- {line}." in result.stdout
    assert "The weight of five bales of Timothy 1" in result.stdout
    assert plan(folder).exit_code == 0


#: A class of each kind of stock; the others are asked for the same way.
OFTEN = [AnimalClass.COW, AnimalClass.EWE, AnimalClass.BUCK, AnimalClass.HORSE, AnimalClass.LLAMA]


@pytest.mark.parametrize("animal_class", few(list(AnimalClass), OFTEN))
def test_every_class_plans_on_what_is_assumed(animal_class: AnimalClass, tmp_path: Path) -> None:
    folder = tmp_path / "hill"
    horse = animal_class.value in ("horse", "mare", "young_horse", "donkey", "mule")
    more = [""] * (2 + bool(USUAL_STOCK[animal_class].birth) + horse)
    hay = ["fescue", "round", "90", "", "barn", "", "", "", "no", ""]
    result = new(folder, *PLACE, *SEASON, animal_class.value, *more, "", *hay, "corn", "", "")
    assert result.exit_code == 0, result.output
    (group,) = farm_of(folder).groups
    assert group.animal_class is animal_class
    assert plan(folder).exit_code == 0


def test_horses_are_warned_of_feeds_for_cattle(tmp_path: Path) -> None:
    result = new(tmp_path / "a", *PLACE, *SEASON, "horses", "3", "1100", "yes", "", "", "")
    assert "ionophore (monensin), which kills horses" in result.stdout
    assert farm_of(tmp_path / "a").groups[0].care is Care.FOUNDER_PRONE


def test_a_farm_abroad_is_metric_and_a_southern_winter_is_in_june(tmp_path: Path) -> None:
    folder = tmp_path / "hill"
    cows = ["cows", "40", "520", "15 August"]
    hay = ["lucerne", "large square", "80", "0.9x1.2x2.4", "shed", "1", "", "12 December 2025"]
    lines = ["Hill", "", "NZ", "", "", "", *cows, "", *hay, "200", "", "", "barley", "400", ""]
    result = new(folder, *lines)
    assert result.exit_code == 0, result.output
    farm = farm_of(folder)
    assert farm.units == "metric"
    assert farm.season.start == date(2027, 5, 1)
    assert farm.groups[0].weight_kg == 520.0
    assert farm.lots[0].bale_length_m == 2.4
    assert plan(folder).exit_code == 0


def test_what_cannot_be_read_is_asked_again_with_the_reason(tmp_path: Path) -> None:
    folder = tmp_path / "hill"
    lines = [*PLACE, "soon", "11/30/2026", "2026-11-20", "4/10/2027", "2027-04-10"]
    lines += ["lots", "44"]
    lines += ["unicorns", "heifers", "9", "3", "12", "9000", "1000", "2/20/2027", ""]
    lines += ["grass", "1", "round", "-5", "80", "4x5x6", "5x5", "barn", "1", "", "", "no", ""]
    result = new(folder, *lines, "xyzzy", "")
    assert result.exit_code == 0, result.output
    for reason in (
        '"soon" is not a date.',
        "-10 days after the start; a season has 7 to 400.",
        "Write 2027-04-10 if the month stands first, 2027-10-04 if the day does.",
        '"lots" is not a number.',
        '"unicorns" is not one of the words known here.',
        '"9" is none of the numbers 1 to 3.',
        "is over",
        '"-5" is negative.',
        "Of such bales write width and diameter, as 4x5.",
        'No feed of the table is called "xyzzy".',
    ):
        assert reason in result.stdout, reason
    farm = farm_of(folder)
    assert farm.groups[0].animal_class is AnimalClass.STOCKER
    assert farm.lots[0].forage is Forage.COOL_GRASS


def test_a_folder_that_is_there_is_never_touched(tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    link = tmp_path / "link"
    link.symlink_to(tmp_path / "nowhere")
    file = tmp_path / "file"
    file.write_text("mine", encoding="utf-8")
    for place in (empty, link, file):
        result = new(place, *[""] * 9)
        assert result.exit_code == 2
        assert "is there already and is left as it is" in result.stderr
        assert result.stdout == ""
    assert list(empty.iterdir()) == []
    assert file.read_text("utf-8") == "mine"
    assert new(tmp_path / "no" / "where", *[""] * 9).exit_code == 2


def test_answers_that_end_early_write_nothing(tmp_path: Path) -> None:
    for count in range(9):
        result = new(tmp_path / "hill", *[""] * count)
        assert result.exit_code == 2
        assert "nothing is written" in result.stderr
        assert "Traceback" not in result.output
    assert list(tmp_path.iterdir()) == []


def test_signs_in_answers_stay_text(tmp_path: Path) -> None:
    folder = tmp_path / "hill"
    result = new(folder, 'A "quoted"\x1b[31m \\ farm', "=1+1", "US", *[""] * 6)
    assert result.exit_code == 0
    assert "\x1b" not in result.stdout.split("is written")[1]
    farm = farm_of(folder)
    assert farm.name == 'A "quoted" [31m \\ farm'
    assert farm.place == "=1+1"
