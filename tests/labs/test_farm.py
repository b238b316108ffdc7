"""Reports into a farm folder: matching, waiting, what is kept, and what is never written."""

from __future__ import annotations

import hashlib
import shutil
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from rickyard.folder import read_folder
from rickyard.labs.intake import take_in, take_to_farm
from rickyard.labs.layouts import Answer

HEAD = (
    "Sample ID,Lab No,Date Sampled,Reported,Moisture %,CP % DM,ADF % DM,NDF % DM,Ca % DM,P % DM\n"
)
ROW = "{id},{no},2026-10-20,2026-10-28,12.1,9.4,38.7,63.0,0.42,0.21\n"


@pytest.fixture
def farm(tmp_path) -> Path:
    folder = tmp_path / "farm"
    with as_file(files("rickyard") / "demo_farm") as demo:
        shutil.copytree(demo, folder)
    return folder


def taken(folder, text, answers=None, *, write=True, name="results.csv"):
    one = take_in(name, text.encode(), answers)
    take_to_farm(one, folder, answers, write=write)
    return one


def reports_of(folder, lot):
    return read_folder(folder).farm.reports_of(lot)


def test_a_sample_named_as_on_the_bag_becomes_a_report_of_its_lot(farm):
    text = HEAD + ROW.format(id="26-HILL-1", no="5501")
    one = taken(farm, text)
    assert [report.lot_id for report in one.written] == ["26-HILL-1"]
    [report] = [one for one in reports_of(farm, "26-HILL-1") if one.source]
    assert (report.get("cp").value, report.get("cp").text, report.lab_no) == (9.4, "9.4", "5501")
    name, mark = report.source.split()
    assert (farm / name).read_bytes() == text.encode()
    assert mark == "sha256:" + hashlib.sha256(text.encode()).hexdigest()


def test_without_accept_nothing_is_written(farm):
    before = (farm / "reports.csv").read_bytes()
    taken(farm, HEAD + ROW.format(id="26-HILL-1", no="5501"), write=False)
    assert (farm / "reports.csv").read_bytes() == before
    assert not (farm / "sources").exists()


def test_a_misspelled_name_is_told_with_its_distance_and_waits(farm):
    one = taken(farm, HEAD + ROW.format(id="26-HIL-2", no="5501"))
    assert one.written == []
    assert "1 letter from 26-HILL-2" in one.open_questions()[0].text
    answers = {"lot 26-HIL-2": Answer("26-HILL-2")}
    one = taken(farm, HEAD + ROW.format(id="26-HIL-2", no="5501"), answers)
    assert [report.lot_id for report in one.written] == ["26-HILL-2"]


def test_a_name_with_its_article_is_of_the_lot_without_it_and_this_is_said(farm):
    one = taken(farm, HEAD + ROW.format(id="The Late fescue", no="77"), write=False)
    assert one.matches[0].lot.lot_id == "26-FARR-1"
    assert '"the" was passed over' in one.matches[0].note


def test_a_letter_that_names_a_stack_is_no_article(farm):
    one = taken(farm, HEAD + ROW.format(id="A Late fescue", no="77"), write=False)
    assert one.matches[0].how != "id"


@pytest.mark.parametrize(
    ("head", "values", "told"),
    [
        ("Lab no,CP %", "11,9.4", "holds for this value alone."),
        ("CP %,ADF %", "9.4,38.7", "holds for 2 values."),
    ],
)
def test_a_question_says_for_how_many_values_its_answer_holds(head, values, told):
    one = take_in("a.csv", f"Sample,{head}\nHill,{values}\n".encode())
    assert any(told in question.text for question in one.open_questions())


def test_a_sample_that_names_no_lot_waits_whatever_its_species(farm):
    one = taken(farm, HEAD + ROW.format(id="orchardgrass", no="77"))
    assert (one.written, [match.how for match in one.waiting]) == ([], ["waits"])


def test_the_laboratory_number_finds_the_lot_where_the_name_does_not(farm):
    one = taken(farm, HEAD + ROW.format(id="bag 3", no="1041"), write=False)
    assert one.matches[0].how == "number"
    assert one.matches[0].lot.lot_id == "26-HILL-1"
    assert "re-run" in one.open_questions()[0].text


def test_the_same_file_again_writes_nothing(farm):
    text = HEAD + ROW.format(id="26-HILL-1", no="5501")
    taken(farm, text)
    before = (farm / "reports.csv").read_bytes()
    again = taken(farm, text)
    assert again.written == []
    assert any("came before" in note for note in again.reading.notes)
    assert (farm / "reports.csv").read_bytes() == before


def test_open_questions_keep_a_sample_out(farm):
    text = HEAD.replace("CP % DM", "CP %") + ROW.format(id="26-HILL-1", no="5501")
    one = taken(farm, text)
    assert one.written == []
    assert "dry or as received" in one.open_questions()[0].text
    one = taken(farm, text, {"basis": Answer("dm")})
    assert len(one.written) == 1


def test_a_correction_keeps_what_was_printed_with_who_when_and_why(farm):
    text = HEAD + ROW.format(id="26-HILL-1", no="5501").replace("38.7", "3B.7")
    one = taken(farm, text)
    key = one.open_questions()[0].key
    answer = Answer("38.7", "M. Field", "2026-10-30", "the laboratory said so")
    one = taken(farm, text, {key: answer})
    assert one.written[0].get("adf").value == 38.7
    kept = (farm / "sources" / "corrections.csv").read_text(encoding="utf-8")
    assert "adf,3B.7,38.7,M. Field,2026-10-30,the laboratory said so" in kept


def test_texts_that_look_like_formulas_are_written_as_text(farm):
    one = taken(farm, HEAD + ROW.format(id="26-HILL-1", no="=HYPERLINK(1)"))
    assert one.written[0].lab_no.startswith("'=")
    assert read_folder(farm).farm.reports[-1].lab_no.startswith("'=")


def test_values_in_other_units_are_written_in_those_of_the_folder(farm):
    text = (
        "Sample ID;Lab No;Dry matter g/kg;Crude protein g/kg DM;ADF g/kg DM;aNDF g/kg DM\n"
        "26-HILL-1;88;879;94,5;387;630\n"
    )
    one = taken(farm, text)
    report = one.written[0]
    assert (report.get("dm").value, report.get("dm").text) == (87.9, "87.9")
    assert (report.get("cp").value, report.get("cp").unit) == (94.5, "g_per_kg")
    assert read_folder(farm).farm.reports[-1].get("cp").value == 94.5


def test_a_price_list_goes_into_labs(farm):
    text = 'Package,Price,Tests,Method,Days\nHay,$18,"moisture, protein, ADF",NIR,4\n'
    one = taken(farm, text, {"lab": Answer("Test room")}, name="prices.csv")
    assert one.packages
    assert any(
        (lab.lab, lab.package, lab.names) == ("Test room", "Hay", ("dm", "cp", "adf"))
        for lab in read_folder(farm).farm.labs
    )
