"""Printouts of two lines a sample, codes in lines, files in mails, and books of other things."""

from __future__ import annotations

import base64
import io

import openpyxl
import pytest

from rickyard.labs.intake import read_file
from rickyard.labs.legends.legend import legend_of
from support.rows import each_row


def sure(data: str | bytes) -> dict[str, dict[tuple[str, str], float | None]]:
    """Return the sure values of each sample of a file by its name."""
    reading = read_file("a", data.encode() if isinstance(data, str) else data)
    assert not reading.refused, reading.refused
    return {
        one.id: {(v.analyte, v.basis): v.value for v in one.values if v.status == "sure"}
        for one in reading.samples
    }


def test_a_sample_that_goes_on_in_a_second_line_is_one() -> None:
    text = (
        "REGIONAL FORAGE SUMMARY                         PAGE 1\n\n"
        "LABNO  SAMPLE           MOIST   CP     ADF    NDF\n"
        "                        TDN     CA     P      K\n"
        "                        (MOIST AS RECD, OTHERS PCT DRY BASIS)\n\n"
        "70011  DRY CREEK 1      15.5    9.1    40.2   65.4\n"
        "                        57.1    0.46   0.25   1.89\n"
        "70012  DRY CREEK 2      13.6    11.3   38.1   60.1\n"
        "                        58.8    0.43   0.21   1.66\n"
    )
    found = sure(text)
    assert [*found] == ["DRY CREEK 1", "DRY CREEK 2"]
    assert found["DRY CREEK 2"] == {
        ("moisture", "ar"): 13.6, ("cp", "dm"): 11.3, ("adf", "dm"): 38.1, ("ndf", "dm"): 60.1,
        ("tdn", "dm"): 58.8, ("ca", "dm"): 0.43, ("p", "dm"): 0.21, ("k", "dm"): 1.66,
    }  # fmt: skip
    reading = read_file("a.prn", text.encode())
    assert reading.samples[1].of("tdn").place.startswith("line 9")


_KEYS = (
    "CODE  DETERMINATION                   UNIT\n01    MOISTURE AS RECEIVED            PCT\n"
    "02    CRUDE PROTEIN                   PCT\n03    ACID DETERGENT FIBER            PCT\n"
    "CODES 02-03 ARE ON A DRY MATTER BASIS\n\n",
    "Key:\n01 = Moisture as received, %\n02 = Crude protein, % dry\n03 = ADF, % dry\n\n",
)


@each_row("key", _KEYS)
@pytest.mark.parametrize("line", ["01=14.3  02=16.2  03=30.9", "01: 14.3; 02: 16.2; 03: 30.9"])
def test_codes_with_their_values_in_one_line_are_read_by_their_key(key: str, line: str) -> None:
    text = f"{key}LAB NO 3381   SAMPLE HOLLOW 2ND\n{line}\n"
    assert sure(text) == {
        "HOLLOW 2ND": {("moisture", "ar"): 14.3, ("cp", "dm"): 16.2, ("adf", "dm"): 30.9}
    }


def test_a_number_written_as_a_code_is_no_result() -> None:
    reading = read_file("a.csv", b"Sample,DM %,CP % DM,Ash % DM\nEast,88.1,02,7.1\n")
    protein = reading.samples[0].of("cp")
    assert protein.status == "ask"
    assert any("as a code is" in one.text for one in reading.samples[0].questions)


def mail(*files: tuple[str, bytes], text: str = "Your results are attached.\n") -> bytes:
    parts = [f"Content-Type: text/plain; charset=utf-8\n\n{text}"]
    for name, held in files:
        parts.append(
            f'Content-Type: application/octet-stream; name="{name}"\n'
            "Content-Transfer-Encoding: base64\n"
            f'Content-Disposition: attachment; filename="{name}"\n\n'
            f"{base64.encodebytes(held).decode()}"
        )
    body = "".join(f"--xx1\n{part}\n" for part in parts)
    head = "From: desk@example.org\nSubject: your results\nMIME-Version: 1.0\n"
    return f'{head}Content-Type: multipart/mixed; boundary="xx1"\n\n{body}--xx1--\n'.encode()


RESULTS = b"Lab no,Sample,DM %,CP % DM,ADF % DM\nM-1,Hollow,88.1,11.2,36.1\n"


def test_the_one_file_that_a_mail_holds_is_read() -> None:
    data = mail(("results.csv", RESULTS), ("sign.png", b"\x89PNG\r\n\x1a\n" + b"0" * 50))
    assert sure(data) == {"Hollow": {("dm", "ar"): 88.1, ("cp", "dm"): 11.2, ("adf", "dm"): 36.1}}
    assert any('"results.csv"' in note for note in read_file("a.eml", data).notes)


def test_a_mail_with_several_files_is_refused_with_their_names() -> None:
    told = read_file("a.eml", mail(("one.csv", RESULTS), ("two.csv", RESULTS))).refused
    assert '"one.csv", "two.csv"' in told


def test_what_was_fed_stands_under_no_headings_of_the_test_above_it() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    for row in (
        ["Stack", "DM", "CP", "ADF", "NDF"],
        ["", "% as is", "% dry", "% dry", "% dry"],
        ["Stack A", 86.6, 17.9, 35.4, 44.6],
        ["Fed", "Date", "Bales", "Left"],
        ["week 1", 12, 20, 40],
        ["week 2", 19, 16, 34],
    ):
        sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    assert [*sure(out.getvalue())] == ["Stack A"]


def test_a_test_of_soil_without_its_name_is_no_hay() -> None:
    told = read_file("a.csv", b"Sample,Lab no,pH,P ppm,K ppm,OM %\nNorth,1,6.5,22,140,3.1\n")
    assert "soil" in told.refused


def test_a_method_before_values_names_no_sample() -> None:
    text = "NIR (dry basis): CP 11.2 %, ADF 36.1 %, NDF 58.4 %\n"
    assert [*sure(text)] == [""]


@each_row(
    ("sentence", "forms"),
    [
        ("Nitrate screen, results as nitrate ion (NO3), ppm dry matter", {"nitrate_no3"}),
        ("Nitrate is reported as NO3-N.", {"nitrate_no3n"}),
        ("Nitrate results given as potassium nitrate", {"nitrate_kno3"}),
        ("Limit for nitrate given as NO3: 5000 ppm", set()),
        ("To have nitrate expressed as NO3 multiply by 4.43", set()),
    ],
)
def test_a_sentence_tells_the_form_of_nitrate_and_limits_tell_none(
    sentence: str, forms: set[str]
) -> None:
    assert legend_of([sentence]).forms_told == forms
