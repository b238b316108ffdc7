"""What a report takes back, sets right or tells twice is left out or asked, never in silence."""

from __future__ import annotations

import pytest

from rickyard.labs.intake import read_file
from rickyard.labs.intake.taking import take_in

HEAD = "Lab no,Sample,Method,Status,DM % as received,CP % dry,ADF % dry,NDF % dry"


def sure(sample):
    return {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"}


def asked(sample):
    return {v.analyte for v in sample.values if v.status == "ask"}


def test_a_word_of_a_method_or_a_remark_is_no_basis():
    text = f"{HEAD}\nQ1,West,wet,final,88.1,12.2,35.1,55.5\nQ2,East,NIR,dry,86.1,15.2,33.1,48.5\n"
    for sample in read_file("a.csv", text.encode()).samples:
        assert ("cp", "dm") in sure(sample)
        assert not asked(sample)


def test_a_row_on_another_basis_than_its_heading_is_asked():
    text = "Sample,Basis,CP % dry,ADF % dry\nWest,as received,12.2,35.1\nEast,dry,15.2,33.1\n"
    west, east = read_file("a.csv", text.encode()).samples
    assert asked(west) == {"cp", "adf"}
    assert sure(east) == {("cp", "dm"): 15.2, ("adf", "dm"): 33.1}


@pytest.mark.parametrize("words", ["VOID - repeated below", "withdrawn; see Q2-R", "cancelled"])
def test_a_row_that_is_taken_back_is_left_out(words):
    text = (
        f'{HEAD}\nQ1,West,NIR,final,88.1,12.2,35.1,55.5\nQ2,East,NIR,"{words}",86.1,15.2,33.1,48.5\n'
        "Q2-R,East,NIR,final (re-run),86.1,11.2,36.1,58.5\n"
    )
    reading = read_file("a.csv", text.encode())
    assert [one.lab_no for one in reading.samples] == ["Q1", "Q2-R"]


def test_a_line_that_is_taken_back_among_lines_of_values_is_left_out():
    text = (
        "Lab no,Sample,Test,Result,Unit,Basis,Status\n"
        "Q1,West,Crude protein,11.0,%,dry,void (see run 2)\nQ1,West,Crude protein,9.7,%,dry,final\n"
        "Q1,West,ADF,35.0,%,dry,final\n"
    )
    (west,) = read_file("a.csv", text.encode()).samples
    assert sure(west) == {("cp", "dm"): 9.7, ("adf", "dm"): 35.0}


def test_words_that_may_take_back_a_sample_are_asked_about():
    text = (
        f"{HEAD}\nQ1,West,NIR,final,88.1,12.2,35.1,55.5\nQ2,East,NIR,final,86.1,15.2,33.1,48.5\n\n"
        "Please disregard the results of Q2.\n"
    )
    west, east = read_file("a.csv", text.encode()).samples
    assert (len(sure(west)), len(sure(east))) == (4, 0)
    assert any("Please disregard" in one.text for one in east.questions)


def test_a_sentence_that_sets_a_value_right_is_asked_about():
    text = (
        "The NDF of Q1 was read from the wrong line. The right NDF is 57.7 %.\n\n"
        "> All results on dry matter\n>\n> Q1  Elm paddock\n>   Crude protein   13.5 %\n"
        ">   ADF             34.9 %\n>   NDF             67.3 %\n"
    )
    (elm,) = read_file("mail.txt", text.encode()).samples
    assert asked(elm) == {"ndf"}
    assert sure(elm) == {("cp", "dm"): 13.5, ("adf", "dm"): 34.9}


def test_a_sheet_whose_sentence_tells_the_other_basis_is_asked(tmp_path):
    import xlsxwriter

    path = tmp_path / "a.xlsx"
    with xlsxwriter.Workbook(str(path)) as book:
        for name, told in (("One", "on dry matter"), ("Two", "as received")):
            sheet = book.add_worksheet(name)
            rows = [("Sample", f"Field {name}"), (), ("", "On dry matter"), ("Protein", 10.8, "%"),
                    ("ADF", 37.3, "%"), ("NDF", 61.9, "%"), (),
                    (f"Protein and fibre are stated {told}.",)]  # fmt: skip
            for place, row in enumerate(rows):
                sheet.write_row(place, 0, row)
    one, two = read_file("a.xlsx", path.read_bytes()).samples
    assert len(sure(one)) == 3
    assert asked(two) == {"cp", "adf", "ndf"}


def test_the_title_of_one_table_says_nothing_of_another():
    text = (
        "North lab (NIR) - dry matter basis (moisture as received)\nName,Moisture %,CP %,ADF %\n"
        "Split A,11.1,9.0,37.6\nSplit B,12.8,8.8,39.6\n\n\n{}\nMark,DM %,CP %,ADF %\n"
        "Split C,84.3,9.0,29.4\nSplit D,84.1,10.7,31.4\n"
    )
    samples = read_file(
        "a.csv", text.format("South lab - all on the sample as received").encode()
    ).samples
    assert [sorted(sure(one))[1] for one in samples] == [("cp", "dm")] * 2 + [("cp", "ar")] * 2
    samples = read_file("a.csv", text.format("South lab (wet chemistry)").encode()).samples
    assert [asked(one) for one in samples] == [set(), set(), {"cp", "adf"}, {"cp", "adf"}]


def test_a_title_tells_the_unit_of_all_columns_without_one():
    text = (
        "South lab: sampled 2025-09-22, everything on fresh weight (as received), g/kg\n"
        "Hay,Crude protein,Moisture,ADF\nBarn D,77,139,290\nBarn E,76,101,337\n"
    )
    first = read_file("a.csv", text.encode()).samples[0]
    assert sure(first)["cp", "ar"] == 77
    assert {v.unit for v in first.values if v.analyte == "adf"} == {"g_per_kg"}


HEADS_AGAIN = """GRAIN AND FORAGE                              PAGE 1

LAB      SAMPLE       DATE      DRY    CRUDE   ACID
NO.      MARK         SAMPLED   MATTER PROTEIN DET FIB TDN
                      MM/DD/YY  % AR   % DM    % DM    % DM
6021     LOT 14       08/13/25  83.7   10.4    32.7    63.4
6022     LOT 15       08/14/25  84.3   7.7     35.2    60.9
SAMPLES THIS PAGE    2
GRAIN AND FORAGE                              PAGE 2

LAB      SAMPLE       DATE      DRY    CRUDE   ACID
NO.      MARK         SAMPLED   MATTER PROTEIN DET FIB TDN
                      MM/DD/YY  % AR   % DM    % DM    % DM
6023     HEIFER HAY   08/16/25  86.6   9.2     36.9    59.4
6024     BULL PEN     08/17/25  89.9   8.3     32.8    62.6
"""


def test_heads_of_several_lines_that_come_again_on_each_page_are_read():
    samples = read_file("PRINT.LST", HEADS_AGAIN.encode()).samples
    assert [one.id for one in samples] == ["LOT 14", "LOT 15", "HEIFER HAY", "BULL PEN"]
    assert [len(sure(one)) for one in samples] == [4] * 4


def test_sections_of_keys_with_a_legend_of_their_letters_are_read():
    text = "".join(
        f"[SAMPLE {n}]\nREF=SD-0{n}88\nNAME=E{n} big sq\nDM_A=88.8\nCP_A=19.0\n"
        "CP_D=21.4\nNDF_D=39.0\n\n"
        for n in (4, 5)
    )
    text += "[LEGEND]\n_A=as received\n_D=dry matter\nCP=crude protein, %\n"
    samples = read_file("transfer.dat", text.encode()).samples
    assert [(one.id, one.lab_no) for one in samples] == [
        ("E4 big sq", "SD-0488"), ("E5 big sq", "SD-0588"),
    ]  # fmt: skip
    assert sure(samples[0]) == {
        ("dm", "ar"): 88.8, ("cp", "ar"): 19.0, ("cp", "dm"): 21.4, ("ndf", "dm"): 39.0,
    }  # fmt: skip


def test_signs_behind_labels_are_read_from_lines_under_the_table():
    text = (
        "Number,Description,Water* %,Protein* %,Protein+ %,ADF+ %\nQ1,West,15.0,8.8,10.3,34.4\n"
        "Q2,East,14.9,8.4,9.9,35.1\n* in the sample as delivered\n+ in the dry matter\n"
    )
    first = read_file("a.csv", text.encode()).samples[0]
    assert sure(first) == {
        ("moisture", "ar"): 15.0, ("cp", "ar"): 8.8, ("cp", "dm"): 10.3, ("adf", "dm"): 34.4,
    }  # fmt: skip


NITRATE = "Muestra;Materia seca %;Proteína bruta % MS;FDN % MS;Nitrato (NO3) ppm MS\n"
NOTHING_SAID = NITRATE + "A;88,1;10,2;60,1;n.d.\nB;88,4;11,2;58,1;120\n"
ENGLISH = "Sample,CP % DM,ADF % DM,NO3-N ppm DM\nA,10.2,33.1,ND\nB,11.2,34.1,120\n"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (NOTHING_SAID, "ask"),
        (NOTHING_SAID + "\nn.d. = no determinado\n", ""),
        (NOTHING_SAID + "\nn.d.: no detectado\n", "sure"),
        (ENGLISH, "sure"),
        (ENGLISH + "\nND = not determined\n", ""),
    ],
)
def test_nd_is_read_by_language_and_legend(text, told):
    first = read_file("a.csv", text.encode()).samples[0]
    found = [one for one in first.values if one.analyte.startswith("nitrate")]
    assert [one.status for one in found] == ([told] if told else [])
    assert all(one.op == "nd" for one in found)


@pytest.mark.parametrize("name", ["Target 5", "Max", "Standard lot"])
def test_a_name_that_is_a_word_of_statistics_is_not_left_out_in_silence(name):
    text = (
        f"Lab no,Sample,CP % DM,ADF % DM,NDF % DM\nQ1,{name},10.2,33.1,60.1\n"
        "Q2,Hill,11.2,34.1,58.1\n,Average,10.7,33.6,59.1\n"
    )
    intake = take_in("a.csv", text.encode())
    read = {one.id for one in intake.reading.samples}
    assert name in read or any(name in one.text for one in intake.open_questions())
    assert "Average" not in read


def test_a_sample_goes_on_over_the_page_under_its_number_and_name():
    from corpus.paper import Paper

    paper = Paper((612.0, 792.0))
    lines = [
        "Sample 7781-A | Windrow",
        "Sample 7781-B | Big bale",
        "Sample 7781-B | Big bale (continued)",
    ]
    tests = [["Dry matter", "CP", "ADF"], ["Dry matter", "CP"], ["ADF", "NDF"]]
    down = 40.0
    for line, labels in zip(lines, tests, strict=True):
        if "continued" in line:
            paper.next_page()
            down = 40.0
        paper.text(50, down, line)
        paper.text(200, down + 14, "As received")
        paper.text(300, down + 14, "Dry matter")
        for place, label in enumerate(labels):
            paper.text(60, down + 28 + 14 * place, f"{label}, %")
            paper.text(210, down + 28 + 14 * place, "87.0" if label == "Dry matter" else "30.1")
            if label != "Dry matter":
                paper.text(310, down + 28 + 14 * place, "34.6")
        down += 100
    samples = read_file("a.pdf", paper.content()).samples
    assert [(one.id, one.lab_no) for one in samples] == [
        ("Windrow", "7781-A"),
        ("Big bale", "7781-B"),
    ]
