"""Damaged and hostile files: a reading or a refusal in words, never a traceback."""

from __future__ import annotations

import io
import random
import sys
import zipfile

import openpyxl
import pytest

from rickyard.labs.common.shapes import Refused
from rickyard.labs.intake import read_file, reading_as_json, take_in
from rickyard.labs.parsing.apart import parsed_in_here
from rickyard.labs.parsing.limits import MOST_BYTES, MOST_TEXT_BYTES
from rickyard.labs.reading.kinds import kind_of
from rickyard.labs.reading.texts import text_documents
from rickyard.labs.understanding import understood
from support.lab_mutations import mutated, seeds
from support.rows import few

SHORT = 56
LONG = 20_000
SEEDS = seeds()


def read_in_here(data: bytes) -> None:
    """Read a file as the service does, but in this process, which is quicker for many."""
    try:
        kind = kind_of(data)
        documents = text_documents(data) if kind == "text" else [parsed_in_here(data, kind)]
        understood(documents)
    except Refused as why:
        told = str(why)
    else:
        return
    assert len(told) > 20


#: One file of many pages takes longer than all others together.
NAMES = [name for name, _ in SEEDS]


@pytest.mark.parametrize("name", few(NAMES, {*NAMES} - {"long-table.pdf"}))
def test_damaged_files_are_read_or_refused_in_words(name):
    data = dict(SEEDS)[name]
    random_ = random.Random(name)
    for _ in range(SHORT // len(SEEDS)):
        read_in_here(mutated(data, random_))


@pytest.mark.long
def test_twenty_thousand_damaged_files():
    random_ = random.Random(20_000)
    for number in range(LONG):
        name, data = SEEDS[number % len(SEEDS)]
        reading = read_file(name, mutated(data, random_))
        reading_as_json(reading)


@pytest.mark.parametrize(
    ("data", "word"),
    [
        (b"", "empty"),
        (b"\x89PNG\r\n\x1a\n" + b"0" * 100, "picture"),
        (b"MZ" + b"\x00" * 200, "program"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + "EncryptedPackage".encode("utf-16-le"), "password"),
        (b"%PDF-1.4 broken", "damaged"),
        (b"PK\x03\x04 broken", "damaged"),
        (bytes(range(1, 9)) * 50, "neither"),
        (b"x," * (MOST_TEXT_BYTES // 2 + 1), "larger than 10 MB"),
        (b"%PDF-1.4" + b"0" * MOST_BYTES, "larger than 25 MB"),
        (b"Dear customer,\nyour invoice of 14 March is $145.20.\n", "No result"),
    ],
)
def test_what_is_no_report_is_refused_in_plain_words(data, word):
    assert word in read_file("file", data).refused


def packed(parts: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return out.getvalue()


def test_a_bomb_is_refused_before_it_is_unpacked():
    bomb = packed({"xl/workbook.xml": b"<a/>", "xl/worksheets/sheet1.xml": b"0" * 60_000_000})
    assert "packed as no honest workbook" in read_file("a.xlsx", bomb).refused


def test_a_sheet_of_boundless_size_is_refused_and_not_laid_out():
    book = openpyxl.Workbook()
    book.active["A1"], book.active["XFD1048576"] = "Sample", 3
    out = io.BytesIO()
    book.save(out)
    assert "longer than 8 seconds" in read_file("a.xlsx", out.getvalue()).refused


def test_rows_and_columns_that_are_passed_over_are_told():
    data = (
        b"Sample,Lab No,CP % DM,ADF % DM,NDF % DM,Zorblex\n"
        b"East,1,11.2,36.1,58.4,3\nAverage,,10,35,55,3\n"
    )
    told = " ".join(read_file("a.csv", data).notes)
    assert '"Average"' in told
    assert '"Zorblex"' in told


def test_an_archive_of_other_things_is_refused():
    assert "archive" in read_file("a.zip", packed({"a.csv": b"CP,1"})).refused
    assert "text document" in read_file("a.docx", packed({"word/document.xml": b"<a/>"})).refused


def test_a_formula_in_a_text_is_never_a_number():
    data = b"Sample,Lab No,CP % DM,ADF % DM,NDF % DM\nEast,=cmd,=1+1,36.1,58.4\n"
    sample = read_file("a.csv", data).samples[0]
    protein = sample.of("cp")
    assert (protein.status, protein.value) == ("refused", None)
    assert sample.of("adf").value == 36.1


def _work(data: bytes) -> int:
    """Return how many calls the reading of a file takes."""
    calls = 0

    def count(_frame, event, _arg):
        nonlocal calls
        calls += event == "call"

    before = sys.getprofile()
    sys.setprofile(count)
    try:
        take_in("wide.csv", data)
    finally:
        sys.setprofile(before)
    return calls


_WIDE_PIECES = {
    "parted by tabs": "\tBottom 40\t2025-05-20\t89.5\t20.5\t% DM\tCP",
    "parted by commas": ',"Stony field, stack 3",2025-07-15,0.0,22.0,30.4,Crude protein (% DM)',
    "with units": "88.1;% DM;Crude protein, 12.2 percent dry ;",
}


@pytest.mark.parametrize("name", few(_WIDE_PIECES, ["parted by commas"]))
def test_the_work_grows_with_the_width_of_a_line_and_not_with_its_square(name):
    once, twice = (_work((_WIDE_PIECES[name] * n + "\n").encode() * 3) for n in (600, 1200))
    assert twice < 3 * once
