"""Thousands of results in one file: every one read, and the work for each kept small."""

from __future__ import annotations

import io
import subprocess
import sys

import openpyxl
import pytest

from rickyard.labs.common import Cell
from rickyard.labs.intake import read_file
from rickyard.labs.tables import DraftSample
from rickyard.labs.understanding import whole
from rickyard.labs.vocabulary import labels, numbers

SAMPLES = 5000
HEAD = (
    "Lab No,Sample ID,Date Sampled,DM %,CP % DM,ADF % DM,NDF % DM,Ca % DM,P % DM,K % DM,"
    "Mg % DM,Zn ppm DM"
)


def rows(samples=SAMPLES):
    for number in range(samples):
        more = number % 40
        yield (
            f"L{number}",
            f"Field {number}",
            "2026-09-14",
            85.0 + more / 10,
            9.0 + more / 10,
            34.0 + more / 10,
            55.0 + more / 5,
            0.45,
            0.22,
            1.8,
            0.2,
            20 + more,
        )


def as_csv(samples=SAMPLES) -> bytes:
    lines = [",".join(map(str, row)) for row in rows(samples)]
    return ("\n".join([HEAD, *lines]) + "\n").encode()


def as_workbook() -> bytes:
    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("Results")
    sheet.append(HEAD.split(","))
    for row in rows():
        sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.mark.long
@pytest.mark.parametrize("made", [as_csv, as_workbook])
def test_five_thousand_results_are_read(made):
    reading = read_file("results", made())
    assert len(reading.samples) == SAMPLES
    assert sum(v.status == "sure" for s in reading.samples for v in s.values) == 9 * SAMPLES
    assert reading.open_questions() == []


def test_the_work_does_not_grow_with_the_number_of_numbers(monkeypatch):
    looked = {"labels": 0, "numbers": 0}
    lookup, read = labels._lookup, numbers._number

    def counted_lookup(rest):
        looked["labels"] += 1
        return lookup(rest)

    def counted_number(*words):
        looked["numbers"] += 1
        return read(*words)

    labels.label_of.cache_clear()
    numbers.printed.cache_clear()
    monkeypatch.setattr(labels, "_lookup", counted_lookup)
    monkeypatch.setattr(numbers, "_number", counted_number)
    few = SAMPLES // 10
    reading = read_file("results.csv", as_csv(few))
    assert len(reading.samples) == few
    assert sum(v.status == "sure" for s in reading.samples for v in s.values) == 9 * few
    assert reading.open_questions() == []
    # A name is looked at once in each way a label may be written; a plain number never.
    assert looked["labels"] < 8 * few
    assert looked["numbers"] < 3 * few


def test_a_workbook_is_parsed_by_a_process_that_loads_nothing_of_what_is_understood():
    told = (
        "import sys, rickyard.labs.parsing.apart, rickyard.labs.parsing.workbooks;"
        "print(*(one for one in sys.modules if one.startswith(('rickyard.', 'numpy'))))"
    )
    done = subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=True)
    rooms = {".".join(one.split(".")[1:3]) for one in done.stdout.split()}
    assert rooms <= {"version", "labs", "labs.common", "labs.parsing"}


def test_samples_are_joined_with_work_that_grows_with_their_number(monkeypatch):
    looked = []
    kept = whole._key
    monkeypatch.setattr(whole, "_key", lambda cell: looked.append(cell) or kept(cell))
    samples = [
        DraftSample({"id": Cell(f"Stack {number}", number, 0, 1, "")}) for number in range(SAMPLES)
    ]
    assert len(whole.joined(samples)) == SAMPLES
    assert len(looked) == SAMPLES
