"""Truth 10: a backup is one file, checked, and goes back into either database."""

import json
import shutil
import sqlite3
import threading
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps
from django.db import connection, connections

from rickyard.book import records
from rickyard.book.base import BOOK_FILE, BookPlace, BookProblem, join_book, one_moment, opened_book
from rickyard.book.folders import farm_of, seasons_of, take_in
from rickyard.book.keeping import check_backup, examine, make_backup, restore_backup
from rickyard.book.keeping.parts import pack, unpacked
from rickyard.book.services import add_line
from rickyard.farm import FedRow
from support.books import Server, exactly
from support.farm_folders import GOOD, write_texts


@pytest.fixture
def other(
    request: pytest.FixtureRequest, book: BookPlace, empty_file: Path, tmp_path: Path
) -> Iterator[BookPlace]:
    """Return an empty book on the other kind of database."""
    folder = tmp_path / "other"
    folder.mkdir()
    if book.is_server:
        shutil.copy(empty_file, folder / BOOK_FILE)
        yield BookPlace(folder)
        return
    server: Server = request.getfixturevalue("server")
    # Where the server was started only now, its empty book was open in place of this one.
    join_book(book)
    yield BookPlace(folder, server.make("other", "empty"))
    server.drop("other")


def filled(tmp_path: Path) -> Any:
    folder = write_texts(tmp_path / "good", dict(GOOD))
    (folder / "sources").mkdir()
    (folder / "sources" / "report.pdf").write_bytes(bytes(range(256)))
    season = take_in(folder).season
    fed = farm_of(season).fed[0]
    add_line(None, season.id, "fed", FedRow(fed.day, "A1", "COWS", bales=1.1, note="ø 上],["))
    return season


def all_rows() -> dict[str, list[tuple[Any, ...]]]:
    return {
        model.__name__: sorted(
            (tuple(map(str, map(_bytes, row))) for row in model.objects.values_list()),
        )
        for model in apps.get_app_config("book").get_models()
    }


def _bytes(value: Any) -> Any:
    return bytes(value) if isinstance(value, memoryview) else value


#: What somebody may have done to the rows of a backup: a row taken away, one that names what is
#: not there, a column that is not known, more than rows, no rows at all.
WRONG = (
    "DELETE FROM Feeding WHERE rowid = 1",
    "UPDATE Feeding SET written_by_id = '00000000000000000000000000000000' WHERE rowid = 1",
    "ALTER TABLE Feeding ADD COLUMN more TEXT",
    "CREATE VIEW more AS SELECT 1",
    "DROP TABLE Feeding",
)


def test_truth_10_a_backup_goes_back_into_the_other_database(
    book: BookPlace, other: BookPlace, tmp_path: Path
) -> None:
    season = filled(tmp_path)
    before, farm = all_rows(), exactly(farm_of(season))
    made = make_backup(tmp_path / "one.backup")
    assert made.rows["Feeding"] == 3
    damaged = bytearray((tmp_path / "one.backup").read_bytes())
    damaged[inside(tmp_path / "one.backup")[1]] ^= 1
    (tmp_path / "damaged").write_bytes(damaged)
    with opened_book(other):
        with pytest.raises(BookProblem, match="damaged"):
            restore_backup(tmp_path / "damaged")
        for number, statement in enumerate(WRONG):
            wrong = changed(tmp_path / "one.backup", tmp_path / f"wrong{number}", statement)
            check_backup(wrong)
            with pytest.raises(BookProblem, match="damaged"):
                restore_backup(wrong)
        assert not any(all_rows().values())
        assert restore_backup(tmp_path / "one.backup") == made
        assert all_rows() == before
        again, _ = seasons_of("Hill farm")[0]
        assert exactly(farm_of(again)) == farm
        assert all(finding.is_good for finding in examine())
        with pytest.raises(BookProblem, match="not empty"):
            restore_backup(tmp_path / "one.backup")


def inside(backup: Path, part: str = "rows/00000") -> list[int]:
    """Return where the data of a part lies in a backup: near its begin, amid it, near its end.

    Its head holds the day and the length of a name besides, which nobody reads.
    """
    with zipfile.ZipFile(backup) as archive:
        info = archive.getinfo(part)
    head = backup.read_bytes()[info.header_offset :][:30]
    name, extra = int.from_bytes(head[26:28], "little"), int.from_bytes(head[28:30], "little")
    begin = info.header_offset + 30 + name + extra
    return [begin + 8, begin + info.compress_size // 2, begin + info.compress_size - 8]


def changed(backup: Path, place: Path, statement: str) -> Path:
    """Return a backup like another but for what a statement did, all of its digests right."""
    rows = place.with_suffix(".rows")
    with zipfile.ZipFile(backup) as archive:
        about = json.loads(archive.read("about.json"))
        rows.write_bytes(b"".join(unpacked(archive, about["sha256"])))
    with sqlite3.connect(rows) as file:
        file.executescript(statement)
    file.close()
    with zipfile.ZipFile(place, "w") as archive, rows.open("rb") as read:
        about["sha256"] = pack(read, archive)
        archive.writestr("about.json", json.dumps(about))
    return place


def test_truth_10_a_damaged_backup_is_told_and_nothing_goes_in(
    book: BookPlace, tmp_path: Path
) -> None:
    filled(tmp_path)
    make_backup(tmp_path / "one.backup")
    whole = (tmp_path / "one.backup").read_bytes()
    wrong = [whole[: len(whole) // 2], b"hay", b""]
    wrong += [
        whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :]
        for at in inside(tmp_path / "one.backup")
    ]
    for number, data in enumerate(wrong):
        path = tmp_path / f"wrong{number}"
        path.write_bytes(data)
        with pytest.raises(BookProblem, match="damaged"):
            check_backup(path)
    with pytest.raises(BookProblem, match="cannot be read"):
        check_backup(tmp_path / "none")


def test_truth_10_a_backup_is_made_while_others_write(book: BookPlace, tmp_path: Path) -> None:
    """What is written while a backup reads is not in it, and waits for nobody."""
    season = filled(tmp_path)
    count = records.Feeding.objects.count()

    def write_one() -> None:
        add_line(
            None, season.id, "fed", FedRow(farm_of(season).fed[0].day, "A1", "COWS", bales=9.0)
        )
        connections.close_all()

    seen = []
    with one_moment():
        seen.append(records.TrailLine.objects.count())
        writer = threading.Thread(target=write_one)
        writer.start()
        writer.join(60)
        assert not writer.is_alive()
        seen.append(records.Feeding.objects.count())
    assert seen[1] == count
    assert records.Feeding.objects.count() == count + 1


def test_a_backup_writes_over_nothing(book: BookPlace, tmp_path: Path) -> None:
    (tmp_path / "mine").write_text("hay")
    with pytest.raises(BookProblem, match="there already"):
        make_backup(tmp_path / "mine")
    for name in ("none/mine", "n" * 300):
        with pytest.raises(BookProblem, match="cannot be written"):
            make_backup(tmp_path / name)
    make_backup(tmp_path / ("n" * 250))
    assert (tmp_path / "mine").read_text() == "hay"
    assert not list(tmp_path.glob(".*partial"))


def test_the_doctor_finds_what_somebody_did_behind_the_guards(
    empty_file: Path, tmp_path: Path
) -> None:
    place = BookPlace(tmp_path / "book")
    place.folder.mkdir()
    shutil.copy(empty_file, place.folder / BOOK_FILE)
    with opened_book(place):
        filled(tmp_path)
        assert all(finding.is_good for finding in examine())
    with sqlite3.connect(place.folder / BOOK_FILE) as one:
        one.execute("DROP TRIGGER book_lotstate_no_update")
        one.execute("DROP TRIGGER book_sourcefile_no_update")
        one.execute("DROP TRIGGER book_trailline_no_delete")
        one.execute("UPDATE book_lotstate SET bales = -1")
        one.execute("UPDATE book_sourcefile SET content = X'00' WHERE name LIKE 'sources/%'")
        one.execute("UPDATE book_feeding SET id = id WHERE 0")
        one.execute("PRAGMA foreign_keys = OFF")
        one.execute("DELETE FROM book_trailline WHERE number = 1")
    one.close()
    with opened_book(place):
        told = [finding.sentence for finding in examine() if not finding.is_good]
    assert [sentence.split(" ")[0] for sentence in told] == [
        "The",
        "The",
        "Lines",
        "sources/report.pdf:",
        "Hill",
    ]
    assert "rows name rows that are not there" in told[0]
    assert "book_lotstate, book_sourcefile, book_trailline" in told[1]
    assert connection.vendor == "sqlite"
