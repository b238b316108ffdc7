"""The commands of the record book as a person types them."""

import shutil
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import seasons_of
from rickyard.book.keeping import office
from rickyard.book.services import adopt, ask_plan, read_program
from rickyard.book.working.working import work_once
from rickyard.cli.main import main
from support.books import quick_passwords
from support.farm_folders import GOOD, write_texts


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a book in ``desk``, and in ``farms`` the one farm that is in it."""
    folder = tmp_path_factory.mktemp("begun")
    write_texts(folder / "farms" / "good", dict(GOOD))
    done = run("import", folder / "farms", "--data", folder / "desk")
    assert done.exit_code == 0, done.output
    assert "Hill farm is in the record book" in done.stdout
    return folder


@pytest.fixture
def desk(begun: Path, tmp_path: Path) -> Path:
    """Return the folder of a book of the test's own with one farm in it."""
    shutil.copytree(begun, tmp_path, dirs_exist_ok=True)
    return tmp_path / "desk"


@pytest.fixture
def empty_desk(empty_file: Path, tmp_path: Path) -> Path:
    """Return the folder of a book with nothing in it."""
    (tmp_path / "empty").mkdir()
    shutil.copy(empty_file, tmp_path / "empty")
    return tmp_path / "empty"


def run(*arguments: object, answer: str | None = None) -> Result:
    typed = [str(one) for one in arguments]
    return CliRunner().invoke(main, typed, input=answer, catch_exceptions=False)


def test_a_farm_goes_in_and_comes_out_as_it_was(desk: Path, tmp_path: Path) -> None:
    again = run("import", tmp_path / "farms" / "good", "--data", desk)
    assert "stood in the record book already" in again.stdout
    done = run("export", "hill farm", "--out", tmp_path / "out", "--data", desk)
    assert done.exit_code == 0, done.output
    for name, text in GOOD.items():
        assert (tmp_path / "out" / name).read_bytes() == text.encode(), name
    over = run("export", "hill farm", "--out", tmp_path / "out", "--data", desk)
    assert over.exit_code == 2
    assert "holds a farm already" in over.stderr


def test_a_farm_that_is_not_there_is_told_with_those_that_are(desk: Path, tmp_path: Path) -> None:
    done = run("export", "Dale farm", "--out", tmp_path / "out", "--data", desk)
    assert done.exit_code == 2
    assert "Hill farm" in done.stderr
    day = ("--season", "2024-11-15")
    done = run("export", "Hill farm", *day, "--out", tmp_path / "out", "--data", desk)
    assert done.exit_code == 2
    assert "2025-11-15" in done.stderr


def test_a_part_of_a_name_is_enough_where_no_other_farm_has_it(desk: Path, tmp_path: Path) -> None:
    dale = {**GOOD, "farm.toml": GOOD["farm.toml"].replace("Hill farm", "Dale farm")}
    run("import", write_texts(tmp_path / "dale", dale), "--data", desk)
    done = run("export", "dale", "--out", tmp_path / "out", "--data", desk)
    assert done.exit_code == 0, done.output
    assert "Dale farm" in (tmp_path / "out" / "farm.toml").read_text("utf-8")
    both = run("export", "farm", "--out", tmp_path / "two", "--data", desk)
    assert both.exit_code == 2
    assert "Dale farm, Hill farm" in both.stderr


def test_the_adopted_program_goes_out_beside_the_folder_and_is_read(
    desk: Path, tmp_path: Path
) -> None:
    short = GOOD["farm.toml"].replace("2026-04-15", "2025-12-20").replace("Hill farm", "Dale farm")
    wishes = GOOD["wishes.csv"].splitlines()[0] + "\n"
    dale = write_texts(tmp_path / "dale", {**GOOD, "farm.toml": short, "wishes.csv": wishes})
    run("import", dale, "--data", desk)
    out, file = tmp_path / "out", tmp_path / "program.json"
    words = ("export", "dale", "--out", out, "--program", file, "--data", desk)
    none = run(*words)
    assert none.exit_code == 2
    assert "feeds by no program" in none.stderr
    assert not out.exists()
    with opened_book(BookPlace(desk)):
        season = seasons_of("Dale farm")[0][0].id
        ask_plan(None, season, 0.01)
        work_once("w")
        kept = read_program(None, season)
        assert kept is not None
        adopt(None, season, kept.id)
    assert run(*words).exit_code == 0
    week = run("week", out, "--plan", file)
    assert week.exit_code == 0, week.output
    assert "has changed" not in week.stderr


def test_what_was_fed_is_shown_and_written_after_a_look(desk: Path) -> None:
    line = "Dec 4 cows 2 A1, cubes 40 lb"
    asked = run("log", "hill", line, "--data", desk, answer="n")
    assert asked.exit_code == 1
    assert "2 bales of" in asked.stdout
    assert "Nothing was written." in asked.stdout
    done = run("log", "hill", line, "--data", desk, answer="y")
    assert "2 of 2 entries were written." in done.stdout
    again = run("log", "hill", "--yes", "--data", desk, answer=f"{line}\nDec 5 cows 1 A1\n")
    assert "1 of 3 entries were written. 2 stood there already." in again.stdout


def test_a_line_that_is_not_clear_keeps_all_from_being_written(desk: Path) -> None:
    done = run("log", "hill", "Dec 4 cows 2 A1", "Dec 5 cows 2 moon", "--yes", "--data", desk)
    assert done.exit_code == 2
    assert "not clear" in done.stderr
    assert "Nothing was written" in done.stderr
    assert "1 of 1" in run("log", "hill", "Dec 4 cows 2 A1", "--yes", "--data", desk).stdout
    assert run("log", "hill", " ", "--data", desk).exit_code == 2
    assert run("log", "hill", "--data", desk, answer="Dec 6 cows 2 A1").exit_code == 2


def test_a_folder_with_faults_keeps_no_other_out(desk: Path, tmp_path: Path) -> None:
    wrong = {**GOOD, "groups.csv": GOOD["groups.csv"].replace("cow,60", "cow,many")}
    write_texts(tmp_path / "more" / "bad", wrong)
    moor = {**GOOD, "farm.toml": GOOD["farm.toml"].replace("Hill farm", "Moor farm")}
    write_texts(tmp_path / "more" / "moor", moor)
    done = run("import", tmp_path / "more", "--data", desk)
    assert done.exit_code == 3
    assert "many" in done.stderr
    assert "Moor farm is in the record book" in done.stdout


def test_a_book_is_kept_and_brought_back(desk: Path, tmp_path: Path) -> None:
    assert "read again and whole" in run("backup", tmp_path / "b", "--data", desk).stdout
    new = tmp_path / "new"
    assert "are back" in run("restore", tmp_path / "b", "--data", new).stdout
    looked = run("doctor", "--data", new)
    assert looked.exit_code == 0, looked.output
    assert "Hill farm, season from 2025-11-15: keeps all rules." in looked.stdout
    assert run("restore", tmp_path / "b", "--data", new).exit_code == 2


def test_without_a_book_nothing_is_begun_but_by_import(tmp_path: Path) -> None:
    for words in (
        ("doctor",),
        ("backup", tmp_path / "b"),
        ("export", "x", "--out", tmp_path / "o"),
    ):
        done = run(*words, "--data", tmp_path / "none")
        assert done.exit_code == 2
        assert "no record book here" in done.stderr
    assert not (tmp_path / "none").exists()


def test_a_season_is_looked_back_at(desk: Path) -> None:
    done = run("look-back", "hill", "--on", "2026-01-01", "--data", desk)
    assert done.exit_code == 0, done.output
    assert "1.1 tons of hay were fed from Nov 15 to Nov 16." in done.stdout
    assert "the count of Nov 1, 2025 found 1 bale fewer than the book" in done.stdout
    row = next(one for one in done.stdout.splitlines() if one.startswith("Barn orchardgrass"))
    assert row.split()[2:6] == ["121", "2", "4", "-1"]


def test_people_are_let_in_listed_and_ended(desk: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    quick_passwords(monkeypatch)
    where = ("--data", desk)
    typed = "four dry bales of hay\n" * 2
    kim = "kim@example.org"
    assert (
        "Name both"
        in run("people", "add", "Kim", kim, "--role", "helper", *where, answer=typed).stderr
    )
    words = ("people", "add", "Kim Lee", kim, "--farm", "hill", "--role", "helper", *where)
    assert "Kim Lee can sign in" in run(*words, answer=typed).stdout
    link = run("people", "invite", "hill", "Lee", "--role", "producer", "--host", "h.org", *where)
    assert link.stdout.startswith("https://h.org/invitation/")
    listed = run("people", "list", *where).stdout
    assert "kim@example.org  Kim Lee, signed in with 0 browsers" in listed
    assert "Kim Lee, helper" in listed
    assert "Lee, invited as producer" in listed
    again = run("people", "password", kim, *where, answer=typed.replace("dry", "green"))
    assert "new password" in again.stdout
    assert "Signed out in 0 browsers." in run("people", "sign-out", kim, *where).stdout
    assert "no more" in run("people", "end", kim, "--farm", "hill", *where).stdout
    assert "closed" in run("people", "end", kim, *where).stdout
    gone = run("people", "end", kim, *where)
    assert (gone.exit_code, "No account" in gone.stderr) == (2, True)


@pytest.mark.parametrize("words", [("--shared",), ("--host", "h.org"), ("--behind-proxy",)])
def test_a_book_is_shared_by_a_name(words: tuple[str, ...], desk: Path) -> None:
    done = run("serve", *words, "--data", desk)
    assert (done.exit_code, "--host NAME" in done.stderr) == (2, True)


def test_an_office_locked_with_a_password_is_refused_in_words(
    empty_desk: Path, tmp_path: Path
) -> None:
    zipped = tmp_path / "locked.zip"
    with zipfile.ZipFile(zipped, "w") as archive:
        archive.writestr("ash/farm.toml", "format = 1")
    data = bytearray(zipped.read_bytes())
    for mark, place in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        data[data.index(mark) + place] |= 1
    zipped.write_bytes(bytes(data))
    done = run("import", zipped, "--data", empty_desk)
    assert done.exit_code != 0
    assert "locked with a password" in done.stderr


def test_an_office_goes_out_as_one_zip_and_comes_in_elsewhere(
    desk: Path, empty_desk: Path, tmp_path: Path
) -> None:
    dale = {**GOOD, "farm.toml": GOOD["farm.toml"].replace("Hill farm", "Dale farm")}
    run("import", write_texts(tmp_path / "dale", dale), "--data", desk)
    zipped = tmp_path / "office.zip"
    assert "2 farm folders." in run("export", "--office", zipped, "--data", desk).stdout
    assert "is there already" in run("export", "--office", zipped, "--data", desk).stderr
    there = empty_desk
    done = run("import", zipped, "--data", there)
    assert done.exit_code == 0, done.output
    assert "Dale farm is in the record book" in done.stdout
    assert run("export", "dale", "--out", tmp_path / "out", "--data", there).exit_code == 0
    for name, text in dale.items():
        assert (tmp_path / "out" / name).read_bytes() == text.encode(), name
    second = tmp_path / "again.zip"
    run("export", "--office", second, "--data", there)
    assert second.read_bytes() == zipped.read_bytes()
    assert run("export", "dale", "--office", second, "--data", there).exit_code == 2


def test_a_zip_that_is_damaged_or_too_large_takes_nothing_in(
    empty_desk: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    zipped = tmp_path / "office.zip"
    with zipfile.ZipFile(zipped, "w") as archive:
        archive.writestr("hill/farm.toml", GOOD["farm.toml"])
        archive.writestr("../../out.txt", "out of the folder")
    whole = zipped.read_bytes()
    at = whole.index(b"units")
    zipped.write_bytes(whole[:at] + b"stone" + whole[at + 5 :])
    done = run("import", zipped, "--data", empty_desk)
    assert (done.exit_code, "is damaged" in done.stderr) == (2, True)
    assert not list(tmp_path.parent.glob("**/out.txt"))
    zipped.write_bytes(whole)
    monkeypatch.setattr(office, "MOST_BYTES", 10)
    assert "more than an office" in run("import", zipped, "--data", empty_desk).stderr
