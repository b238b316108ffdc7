"""Small files that once took minutes or gigabytes: the work of reading is bounded, and counted."""

from __future__ import annotations

from pathlib import Path

import pytest

from rickyard.folder import FolderFaults, read_folder
from rickyard.folder.rules.rules_wishes import DaysTaken
from rickyard.folder.tables import LOTS, Reading, load_text, read_rows
from rickyard.folder.tables.faults import MOST_OF_A_FILE, MOST_SHOWN
from support.farm_folders import GOOD, write_texts

FEED_TABLE = ["corn_grain_dry_rolled"]
FED_HEADER = GOOD["fed.csv"].splitlines()[0] + "\n"


def faults_of(folder: Path) -> FolderFaults:
    with pytest.raises(FolderFaults) as caught:
        read_folder(folder, FEED_TABLE)
    return caught.value


def test_rows_of_one_letter_are_told_fifty_at_a_time(tmp_path: Path) -> None:
    texts = {**GOOD, "fed.csv": FED_HEADER + "x\n" * 2_400_000}
    faults = faults_of(write_texts(tmp_path / "farm", texts))
    assert len(faults.faults) <= MOST_OF_A_FILE + 2
    told = str(faults)
    assert told.count("the row has 1 cell") == MOST_SHOWN
    assert "The first 50 of at least 201 faults in 1 file are shown; nothing was loaded." in told
    assert "more than 30,000 rows are filled" in told


def test_fifty_faults_are_all_told_and_the_rest_counted(tmp_path: Path) -> None:
    bad = "2025-11-16,A1,COWS,-2,,\n"
    for count, tail in (
        (50, "50 faults in 1 file; nothing was loaded."),
        (51, "The first 50 of 51 faults in 1 file are shown; nothing was loaded."),
    ):
        folder = write_texts(tmp_path / str(count), {**GOOD, "fed.csv": FED_HEADER + bad * count})
        assert str(faults_of(folder)).splitlines()[-1] == tail


@pytest.mark.parametrize("row", ["\n", ",,,,,\n", " , ,\n"])
def test_empty_rows_are_passed_over_and_not_held(row: str, tmp_path: Path) -> None:
    text = GOOD["lots.csv"] + row * 200_000
    folder = write_texts(tmp_path / "farm", {**GOOD, "lots.csv": text})
    source = load_text(folder, "lots.csv", True, [])
    assert source is not None
    reading = Reading()
    table = read_rows(LOTS, source, [], reading)
    assert table is not None
    assert (len(table.rows), reading.rows) == (3, 3)


def test_a_header_of_half_a_million_cells_is_one_fault(tmp_path: Path) -> None:
    wide = ",".join(f"c{at}" for at in range(500_000)) + "\n"
    faults = faults_of(write_texts(tmp_path / "farm", {**GOOD, "lots.csv": wide}))
    assert [fault.message for fault in faults.faults if fault.file == "lots.csv"] == [
        "lots.csv, row 1: the header has 500,000 cells, and 600 is the most.\n"
        "  Check that it is the right file."
    ]


def test_nine_thousand_keys_are_read_until_it_is_clear(tmp_path: Path) -> None:
    keys = "".join(f"k{at} = 1\n" for at in range(9_000))
    faults = faults_of(
        write_texts(tmp_path / "farm", {**GOOD, "farm.toml": keys + GOOD["farm.toml"]})
    )
    assert len(faults.faults) == MOST_OF_A_FILE + 1
    assert faults.faults[-1].ends


@pytest.mark.parametrize(
    "line",
    [
        ".".join("a" * 25_000) + " = 1\n",
        "[" + ".".join("a" * 3_000) + "]\n",
        "x = {" + ".".join("a" * 3_000) + " = 1}\n",
    ],
)
def test_a_key_of_thousands_of_parts_is_refused_before_it_is_read(
    line: str, tmp_path: Path
) -> None:
    texts = {**GOOD, "farm.toml": GOOD["farm.toml"] + line}
    (fault,) = faults_of(write_texts(tmp_path / "farm", texts)).faults
    assert "is the most." in fault.message
    assert fault.row == len(GOOD["farm.toml"].splitlines()) + 1


def test_wishes_that_say_the_same_are_compared_once(tmp_path: Path) -> None:
    header = GOOD["wishes.csv"].splitlines()[0] + "\n"
    rows = "feed,A1,HEIF,2026-02-01,2026-03-15,,\n" * 1_900 + "keep_off,A1,HEIF,,,,\n"
    folder = write_texts(tmp_path / "farm", {**GOOD, "wishes.csv": header + rows})
    (asked,) = [
        one for one in read_folder(folder, FEED_TABLE).questions if one.file == "wishes.csv"
    ]
    assert asked.row == 1_902
    assert "is against row 2" in asked.message


def test_a_folder_holds_so_many_cells_and_no_more(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rickyard.folder.tables.rows.MOST_CELLS", 40)
    told = str(faults_of(write_texts(tmp_path / "farm", dict(GOOD))))
    assert "the folder holds more than 40 filled cells, and was read to here." in told


def test_days_taken_tell_the_first_row_that_took_them() -> None:
    from datetime import date, timedelta

    first = date(2026, 1, 1)
    days = DaysTaken()
    spans = [(at * 3 % 50, at * 3 % 50 + at % 5 + 1) for at in range(200)]
    for row, (start, end) in enumerate(spans):
        expected = next(
            (at for at, (one, two) in enumerate(spans[:row]) if start < two and one < end), None
        )
        assert days.taken(first + timedelta(start), first + timedelta(end), row) == expected


def test_thousands_of_reports_are_held_to_the_rules_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from rickyard.forage.plausibility import lot_profile, plausibility

    header = GOOD["reports.csv"].splitlines()[0] + "\n"
    rows = "".join(
        f"R{at},A1,2025-10-01,2025-10-09,Lab,1,NIR,20,88.2,11.4,36.1,58.9,57.8,,\n"
        for at in range(3_000)
    )
    folder = write_texts(tmp_path / "farm", {**GOOD, "reports.csv": header + rows})
    farm = read_folder(folder, FEED_TABLE).farm
    calls: list[int] = []
    whole = plausibility.broken_rules

    def counted(columns, screens=None):  # type: ignore[no-untyped-def]
        calls.append(len(columns))
        return whole(columns, screens)

    monkeypatch.setattr(plausibility, "broken_rules", counted)
    lot_profile(farm.lots[0], farm.reports)
    assert calls == [3_000]
