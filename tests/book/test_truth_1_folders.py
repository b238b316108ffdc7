"""Truth 1: a folder goes into the book and comes out of it as it was, byte for byte."""

from pathlib import Path

import pytest

from rickyard.animals import AnimalClass
from rickyard.book import records
from rickyard.book.base import BookPlace, BookProblem
from rickyard.book.folders import farm_of, layout_of, seasons_of, take_in, write_out
from rickyard.folder import read_folder, write_folder
from rickyard.service.opened import FARM_FILES
from support.books import exactly, without_faults
from support.farm_folders import GOOD, edited, write_texts
from support.odd_farms import odd_farm
from support.rows import few

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = sorted(path.parent for path in ROOT.glob("tests/folders/*/farm.toml"))
FOLDERS.append(ROOT / "src" / "rickyard" / "demo_farm")

#: The good folder, written in ways that say the same.
WRITTEN = {
    "as it is": {},
    "with a mark": {"lots.csv": "\ufeff" + GOOD["lots.csv"]},
    "with other ends of lines": {name: text.replace("\n", "\r\n") for name, text in GOOD.items()},
    "with empty rows": {"fed.csv": GOOD["fed.csv"] + ",,,,,\n,,,,,\n"},
    "without what may be left out": dict.fromkeys(
        ("needs.csv", "weather.csv", "fed.csv", "moves.csv", "wishes.csv")
    ),
    "with remarks": {"farm.toml": GOOD["farm.toml"] + "# the end\n"},
    "with signs of other scripts": {
        "farm.toml": edited("farm.toml", "Upper valley", "Øvre dal, 上谷 \U0001f404")
    },
}


def bytes_of(folder: Path) -> dict[str, bytes]:
    """Return the files of a farm folder."""
    return {name: (folder / name).read_bytes() for name in FARM_FILES if (folder / name).exists()}


def normal(folder: Path, to: Path) -> Path:
    """Write a folder once more as the program writes it."""
    read = read_folder(folder)
    write_folder(read.farm, to, read.layout)
    return to


def goes_round(folder: Path, place: Path) -> None:
    """Hold that a folder comes out of the book as it went in."""
    before = normal(folder, place / "before")
    taken = take_in(before)
    assert taken.is_new
    write_out(taken.season, place / "after")
    assert bytes_of(place / "after") == bytes_of(before)
    # What the engine plans from is the same to the last digit, so what it plans is too.
    assert exactly(farm_of(taken.season)) == exactly(read_folder(folder).farm)


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)
def test_truth_1_every_folder_comes_back_byte_for_byte(
    folder: Path, book: BookPlace, tmp_path: Path
) -> None:
    goes_round(folder, tmp_path)


@pytest.mark.parametrize("how", WRITTEN)
def test_truth_1_however_a_folder_is_written(how: str, book: BookPlace, tmp_path: Path) -> None:
    texts = {**GOOD, **WRITTEN[how]}
    folder = write_texts(
        tmp_path / "good", {name: text for name, text in texts.items() if text is not None}
    )
    goes_round(folder, tmp_path)
    # This folder is normal already.
    assert bytes_of(tmp_path / "after") == bytes_of(folder)


def random_farm(seed: int, place: Path) -> Path:
    kinds = list(AnimalClass)
    farm = odd_farm(seed, [kinds[seed % len(kinds)], kinds[(7 * seed + 3) % len(kinds)]])
    write_folder(without_faults(farm), place / f"farm{seed}")
    return place / f"farm{seed}"


@pytest.mark.parametrize("seed", few(range(6), 2))
def test_truth_1_farms_drawn_at_random(seed: int, book: BookPlace, tmp_path: Path) -> None:
    goes_round(random_farm(seed, tmp_path), tmp_path)


@pytest.mark.long
def test_truth_1_two_hundred_farms_drawn_at_random(book: BookPlace, tmp_path: Path) -> None:
    for seed in range(200):
        place = tmp_path / str(seed)
        place.mkdir()
        goes_round(random_farm(seed, place), place)


def test_a_season_without_texts_is_written_in_canonical_units(
    book: BookPlace, tmp_path: Path
) -> None:
    folder = write_texts(tmp_path / "good", dict(GOOD))
    farm = read_folder(folder).farm
    season = take_in(folder).season
    write_folder(farm, tmp_path / "plain")
    write_folder(farm_of(season), tmp_path / "again")
    assert bytes_of(tmp_path / "plain") == bytes_of(tmp_path / "again")


def test_the_same_folder_counts_once(book: BookPlace, tmp_path: Path) -> None:
    folder = write_texts(tmp_path / "good", dict(GOOD))
    first, second = take_in(folder), take_in(folder)
    assert first.is_new
    assert not second.is_new
    assert second.season.id == first.season.id
    assert records.TrailLine.objects.count() == 1


def test_a_folder_with_another_fact_is_another_season(book: BookPlace, tmp_path: Path) -> None:
    take_in(write_texts(tmp_path / "good", dict(GOOD)))
    other = {
        **GOOD,
        "lots.csv": edited(
            "lots.csv", "round,enclosed_barn,net,120", "round,enclosed_barn,net,121"
        ),
    }
    assert take_in(write_texts(tmp_path / "other", other)).is_new
    assert [name for _, name in seasons_of("hill FARM")] == ["Hill farm", "Hill farm"]
    assert seasons_of("Dale farm") == []


def test_a_folder_with_faults_leaves_nothing_behind(book: BookPlace, tmp_path: Path) -> None:
    wrong = {**GOOD, "lots.csv": edited("lots.csv", "net,120", "net,many")}
    with pytest.raises(BookProblem, match="many"):
        take_in(write_texts(tmp_path / "good", wrong))
    assert records.Farm.objects.count() == 0


def test_files_of_laboratories_travel_with_the_folder(book: BookPlace, tmp_path: Path) -> None:
    folder = write_texts(tmp_path / "good", dict(GOOD))
    (folder / "sources").mkdir()
    (folder / "sources" / "ab-report.pdf").write_bytes(b"%PDF\0\xff")
    season = take_in(folder).season
    write_out(season, tmp_path / "after")
    assert (tmp_path / "after" / "sources" / "ab-report.pdf").read_bytes() == b"%PDF\0\xff"


def test_a_file_of_that_name_that_says_something_else_is_left_as_it_is(
    book: BookPlace, tmp_path: Path
) -> None:
    folder = write_texts(tmp_path / "good", dict(GOOD))
    (folder / "sources").mkdir()
    (folder / "sources" / "ab.pdf").write_bytes(b"the book's")
    season = take_in(folder).season
    (tmp_path / "out" / "sources").mkdir(parents=True)
    (tmp_path / "out" / "sources" / "ab.pdf").write_bytes(b"another")
    for _ in range(2):
        write_out(season, tmp_path / "out", replace_old=True)
    found = {one.read_bytes(): one.name for one in (tmp_path / "out" / "sources").iterdir()}
    assert found.pop(b"another") == "ab.pdf"
    assert list(found) == [b"the book's"]


def test_the_texts_that_are_kept_say_how_the_folder_was_written(
    book: BookPlace, tmp_path: Path
) -> None:
    season = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
    layout = layout_of(season)
    assert layout is not None
    assert layout.tables["lots.csv"].places[8].header == "bale_weight_lb"
