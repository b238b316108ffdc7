"""Files of a farm folder that are missing, damaged, misnamed or saved in another way."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.folder import Fault, FolderFaults, read_folder
from rickyard.folder.tables import texts
from support.farm_folders import GOOD, good_folder, write_texts


def messages(folder: Path) -> list[str]:
    with pytest.raises(FolderFaults) as caught:
        read_folder(folder)
    return [fault.message for fault in caught.value.faults]


def test_no_such_folder(tmp_path: Path) -> None:
    assert messages(tmp_path / "nowhere") == [
        "nowhere: there is no such folder.\n  Check the name and where you are."
    ]


def test_file_in_place_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "farm").write_text("x")
    assert messages(tmp_path / "farm") == [
        "farm: this is a file, and a farm folder is expected.\n"
        "  Name the folder that holds farm.toml and lots.csv."
    ]


def test_every_missing_file_is_told(tmp_path: Path) -> None:
    tmp_path.joinpath("farm").mkdir()
    assert messages(tmp_path / "farm") == [
        "farm.toml: the file is missing.\n  Write it with name and [season] at least.",
        *(
            f"{file}: the file is missing.\n  Write it with the header row at least."
            for file in ("lots.csv", "reports.csv", "groups.csv", "feeds.csv")
        ),
    ]


@pytest.mark.parametrize(
    "file", ["needs.csv", "weather.csv", "fed.csv", "moves.csv", "labs.csv", "wishes.csv"]
)
def test_optional_files_may_be_missing(file: str, tmp_path: Path) -> None:
    kept = {name: text for name, text in GOOD.items() if name != file}
    farm = read_folder(write_texts(tmp_path / "farm", kept)).farm
    assert getattr(farm, file.removesuffix(".csv")) == ()


@pytest.mark.parametrize("file", [name for name in GOOD if name.endswith(".csv")])
def test_files_may_hold_a_header_only(file: str, tmp_path: Path) -> None:
    heads = {
        name: text.split("\n")[0] + "\n" if name.endswith(".csv") else text
        for name, text in GOOD.items()
    }
    assert getattr(read_folder(write_texts(tmp_path / "farm", heads)).farm, file[:-4]) == ()


BYTES: dict[str, tuple[str, bytes | str, list[str]]] = {
    "empty": (
        "feeds.csv",
        b"",
        ["feeds.csv: the file is empty.\n  Write the header row, or restore it."],
    ),
    "empty_settings": (
        "farm.toml",
        b"\n",
        ["farm.toml: the file is empty.\n  Write name and [season], or restore it."],
    ),
    "empty_first_row": (
        "needs.csv",
        "\n" + GOOD["needs.csv"],
        ["needs.csv, row 1: the row is empty.\n  Write the headers in it."],
    ),
    "utf_16": (
        "needs.csv",
        GOOD["needs.csv"].encode("utf-16"),
        [
            'needs.csv: the file is saved as UTF-16 ("Unicode text"), not as UTF-8.\n'
            '  Save it again from the spreadsheet as "CSV UTF-8 (comma delimited)".'
        ],
    ),
    "utf_16_without_mark": (
        "needs.csv",
        GOOD["needs.csv"].encode("utf-16-le"),
        [
            'needs.csv: the file is saved as UTF-16 ("Unicode text"), not as UTF-8.\n'
            '  Save it again from the spreadsheet as "CSV UTF-8 (comma delimited)".'
        ],
    ),
    "windows_1252": (
        "fed.csv",
        GOOD["fed.csv"].replace("COWS,2,,", "COWS,2,,Cañón gate").encode("cp1252"),
        [
            'fed.csv, row 2: the file is not saved as UTF-8; "Cañón" stands here in another '
            'encoding.\n  Save it again from the spreadsheet as "CSV UTF-8 (comma delimited)".'
        ],
    ),
    "windows_1252_settings": (
        "farm.toml",
        GOOD["farm.toml"].replace("Upper", "Cañón").encode("cp1252"),
        [
            'farm.toml, line 4: the file is not saved as UTF-8; "Cañón" stands here in another '
            "encoding.\n  Save it again from the text editor with the encoding UTF-8."
        ],
    ),
    "windows_1252_with_another_fault": (
        "fed.csv",
        GOOD["fed.csv"].replace("A1,COWS,2,,", "A1,COWS,-2,,Cañón").encode("cp1252"),
        [
            'fed.csv, row 2: the file is not saved as UTF-8; "Cañón" stands here in another '
            'encoding.\n  Save it again from the spreadsheet as "CSV UTF-8 (comma delimited)".',
            'fed.csv, row 2, column bales: "-2" is negative.\n'
            "  Did you mean 2? Write how many bales the lot has.",
        ],
    ),
    "zero_bytes": (
        "fed.csv",
        GOOD["fed.csv"].replace("cubes", "cu\0bes"),
        [
            "fed.csv, row 3: the file holds zero bytes, so it is damaged or no text.\n"
            "  Restore it from a copy, or save it again from the spreadsheet."
        ],
    ),
    "semicolons": (
        "needs.csv",
        GOOD["needs.csv"].replace(",", ";"),
        [
            "needs.csv, row 1: the cells are separated by semicolons, not by commas.\n"
            '  Save it again from the spreadsheet as "CSV UTF-8 (comma delimited)".'
        ],
    ),
    "tabs_and_another_fault": (
        "needs.csv",
        GOOD["needs.csv"].replace(",", "\t").replace("10.5", "-10.5"),
        [
            "needs.csv, row 1: the cells are separated by tabs, not by commas.\n"
            '  Save it again from the spreadsheet as "CSV UTF-8 (comma delimited)".',
            'needs.csv, row 2, column nem_mcal: "-10.5" is negative.\n'
            "  Did you mean 10.5? Write Mcal per head.",
        ],
    ),
    "deep_nesting": (
        "farm.toml",
        "x = " + "[" * 5000,
        [
            'farm.toml, line 1: "x = ' + "[" * 53 + '..." cannot be read.\n'
            '  Text stands in quotation marks, name = "Hill farm"; a date as 2026-01-31; '
            "yes and no as true and false."
        ],
    ),
}


@pytest.mark.parametrize("name", BYTES)
def test_file_saved_in_another_way(name: str, tmp_path: Path) -> None:
    file, data, expected = BYTES[name]
    assert messages(write_texts(tmp_path / "farm", {**GOOD, file: data})) == expected


@pytest.mark.parametrize(
    ("found", "suggestion"),
    [
        ("needs.xlsx", None),
        ("lots.xlsx", "The folder has lots.xlsx: save that sheet as lots.csv, CSV UTF-8."),
        ("lots.csv.txt", "Did you mean lots.csv.txt? Rename it to lots.csv."),
        ("lots.tsv", "Did you mean lots.tsv? Rename it to lots.csv."),
    ],
)
def test_missing_file_under_another_name(
    found: str, suggestion: str | None, tmp_path: Path
) -> None:
    kept: dict[str, str | bytes] = {k: v for k, v in GOOD.items() if k != "lots.csv"}
    folder = write_texts(tmp_path / "farm", {**kept, found: "x"})
    advice = suggestion or "Write it with the header row at least."
    assert messages(folder)[0] == f"lots.csv: the file is missing.\n  {advice}"


def test_ids_of_a_missing_file_are_not_told_as_unknown(tmp_path: Path) -> None:
    kept: dict[str, str | bytes] = {k: v for k, v in GOOD.items() if k != "lots.csv"}
    assert len(messages(write_texts(tmp_path / "farm", kept))) == 1


def test_folder_in_place_of_a_file(tmp_path: Path) -> None:
    folder = good_folder(tmp_path / "farm")
    (folder / "lots.csv").unlink()
    (folder / "lots.csv").mkdir()
    assert messages(folder) == [
        "lots.csv: this is a folder, and a file is expected.\n"
        "  Move it away and put the file in its place."
    ]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_pipe_in_place_of_a_file(tmp_path: Path) -> None:
    folder = good_folder(tmp_path / "farm")
    (folder / "fed.csv").unlink()
    os.mkfifo(folder / "fed.csv")
    assert messages(folder) == [
        "fed.csv: this is not a plain file.\n  Move it away and put the file in its place."
    ]


@pytest.mark.skipif(os.name == "nt", reason="Windows lets only administrators make links")
def test_link_to_nothing(tmp_path: Path) -> None:
    folder = good_folder(tmp_path / "farm")
    (folder / "fed.csv").unlink()
    (folder / "fed.csv").symlink_to(tmp_path / "gone.csv")
    assert messages(folder) == [
        "fed.csv: the file is missing.\n  Write it with the header row at least."
    ]


def test_file_too_large(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(texts, "LARGEST_FILE_BYTES", 500)
    folder = write_texts(tmp_path / "farm", {**GOOD, "fed.csv": "x" * 600_000})
    assert messages(folder)[-1] == (
        "fed.csv: the file has 0.6 MB, and 0.0005 MB is the most.\n"
        "  Check that it is the right file; split the farm if it really is so large."
    )


def test_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = good_folder(tmp_path / "farm")
    read_bytes = Path.read_bytes

    def refuse(path: Path) -> bytes:
        if path.name == "fed.csv":
            raise PermissionError(13, "Permission denied")
        return read_bytes(path)

    monkeypatch.setattr(Path, "read_bytes", refuse)
    assert messages(folder) == [
        "fed.csv: the file cannot be opened: Permission denied.\n"
        "  Close it in other programs and check who may read it."
    ]


def test_byte_order_mark_line_ends_and_empty_rows_are_read(tmp_path: Path) -> None:
    plain = read_folder(good_folder(tmp_path / "plain")).farm
    windows = {
        name: b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode() for name, text in GOOD.items()
    }
    windows["fed.csv"] += b",,,,,\r\n\r\n"
    assert read_folder(write_texts(tmp_path / "windows", windows)).farm == plain


PIECES = st.sampled_from(
    [b"", b",", b'"', b"\n", b"\r", b"\0", b"\xff", b"=", b"-", b"[", b"]", b"9" * 5000, b"1e999"]
) | st.binary(max_size=6)


@given(st.sampled_from(sorted(GOOD)), st.integers(0, 900), st.integers(0, 40), PIECES)
def test_no_damage_is_met_with_anything_but_faults(
    file: str, start: int, length: int, piece: bytes
) -> None:
    data = GOOD[file].encode()
    damaged = data[:start] + piece + data[start + length :]
    with tempfile.TemporaryDirectory() as parent:
        folder = write_texts(Path(parent) / "farm", {**GOOD, file: damaged})
        told: list[Fault] = []
        try:
            read_folder(folder)
        except FolderFaults as caught:
            told = [*caught.faults]
            if not told:
                raise
        assert all(fault.message and fault.file in GOOD for fault in told)
