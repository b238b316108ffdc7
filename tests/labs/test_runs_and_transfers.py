"""Runs of one sample, transfers of programs, printouts of many pages, and mails sent on."""

from __future__ import annotations

import io

import openpyxl

from rickyard.labs.intake import read_file
from support.rows import each_row


def sure(data: str | bytes, name: str = "a.txt") -> dict[str, dict[tuple[str, str], float | None]]:
    """Return the sure values of each sample of a file by its name."""
    reading = read_file(name, data.encode() if isinstance(data, str) else data)
    assert not reading.refused, reading.refused
    return {
        one.id: {(v.analyte, v.basis): v.value for v in one.values if v.status == "sure"}
        for one in reading.samples
    }


PANS = (
    "Sample Plot C hay\n\n"
    "                     pan 1    pan 2{head}\n"
    "Dry matter %         86.1     86.5{dm}\n"
    "CP % of DM           11.2     11.6{cp}\n"
    "NDF % of DM          60.1     60.5{ndf}\n"
)


def test_the_mean_of_pans_is_the_result_and_no_pan_is_a_sample() -> None:
    text = PANS.format(head="     mean", dm="     86.3", cp="     11.4", ndf="     60.3")
    assert sure(text) == {
        "Plot C hay": {("dm", "ar"): 86.3, ("cp", "dm"): 11.4, ("ndf", "dm"): 60.3}
    }


def test_of_pans_without_a_mean_nothing_is_taken_and_each_is_asked() -> None:
    reading = read_file("a.txt", PANS.format(head="", dm="", cp="", ndf="").encode())
    assert [one.id for one in reading.samples] == ["Plot C hay"]
    assert {v.status for v in reading.samples[0].values} == {"ask"}
    assert len(reading.samples[0].questions) == 3


def _rows_of_runs(head: str, runs: tuple[str, str, str]) -> str:
    lines = [head]
    for name, dry in (("Field A", 86.0), ("Field B", 88.0)):
        for run, more in zip(runs, (-0.2, 0.2, 0.0), strict=True):
            lines.append(f"{name}{run},{dry + more:.1f},{11.0 + more:.1f}")
    return "\n".join(lines) + "\n"


@each_row(
    ("head", "runs"),
    [
        ("Hay,Pan,DM %,CP % of DM", (",1", ",2", ",mean")),
        ("Hay,Rep no.,DM %,CP % of DM", (",a", ",b", ",Average")),
        ("Hay,DM %,CP % of DM", (" rep 1", " rep 2", " mean")),
    ],
)
def test_of_rows_of_runs_the_mean_counts(head: str, runs: tuple[str, str, str]) -> None:
    assert sure(_rows_of_runs(head, runs)) == {
        "Field A": {("dm", "ar"): 86.0, ("cp", "dm"): 11.0},
        "Field B": {("dm", "ar"): 88.0, ("cp", "dm"): 11.0},
    }


def test_rows_of_runs_without_a_mean_are_asked_about() -> None:
    lines = _rows_of_runs("Hay,Crucible,DM %,CP % of DM", (",1", ",2", ",mean")).splitlines()
    text = "\n".join(line for line in lines if ",mean," not in line)
    assert sure(text) == {"Field A": {}, "Field B": {}}


def test_fields_along_a_stream_are_no_runs() -> None:
    text = "Hay,DM %,CP % of DM\nDeer run 1,86.0,11.0\nDeer run 3,88.0,12.0\n"
    text += "Salt pan,86.5,10.2\n"
    assert len(sure(text)) == 3


def test_replicates_under_merged_names_leave_their_means() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(["Sample", "Upper 60", None, None, "Lower 60"])
    sheet.append(["", "rep 1", "rep 2", "mean", "rep 1", "rep 2", "mean"])
    sheet.append(["Dry matter, %", 86.1, 86.5, 86.3, 87.1, 87.5, 87.3])
    sheet.append(["CP, % of DM", 11.2, 11.6, 11.4, 9.2, 9.6, 9.4])
    sheet.append(["NDF, % of DM", 60.1, 60.5, 60.3, 63.1, 63.5, 63.3])
    sheet.merge_cells("B1:D1")
    sheet.merge_cells("E1:G1")
    out = io.BytesIO()
    book.save(out)
    assert sure(out.getvalue(), "a.xlsx") == {
        "Upper 60": {("dm", "ar"): 86.3, ("cp", "dm"): 11.4, ("ndf", "dm"): 60.3},
        "Lower 60": {("dm", "ar"): 87.3, ("cp", "dm"): 9.4, ("ndf", "dm"): 63.3},
    }


def test_runs_told_in_a_sentence_leave_their_mean() -> None:
    text = (
        "Hay from stack 4.\nProtein, dry basis, run 1 11.3%, run 2 11.7%, average 11.5%.\n"
        "NDF, dry basis: bag 1 58.6%, bag 2 59.6%, mean 59.1%.\n"
    )
    assert [*sure(text).values()] == [{("cp", "dm"): 11.5, ("ndf", "dm"): 59.1}]


@each_row(
    "said",
    [
        "Everything on this page is reported on a 100 % dry matter basis.",
        "* all on dry basis",
        "Reported on a dry matter basis.",
    ],
)
def test_a_heading_and_a_footnote_that_contradict_are_believed_neither(said: str) -> None:
    text = (
        "Lab no. 5102\nSample: Loft hay\nResults as received\n\n"
        "Dry matter      86.0 %\nCrude protein   11.2 %\nADF             38.4 %\n"
        f"NDF             60.1 %\n\n{said}\n"
    )
    assert sure(text) == {"Loft hay": {("dm", "ar"): 86.0}}


_BY_KIND = {
    "parts and counters": (
        "H|\\^&|||BENCH^4.2|||||||P|1|20251021143055\n"
        "P|1||||ACCOUNT 118\nO|1|WX551||^^^North bench|R|20251014\n"
        "R|1|^^^DM^AR|87.0||%||N||F\nR|2|^^^CP^DM|18.6||%||N||F\nR|3|^^^ADF^DM|35.7||%||N||F\n"
        "P|2||||ACCOUNT 118\nO|1|WX552||^^^Calf lot|R|20251014\n"
        "R|1|^^^DM^AR|85.0||%||N||F\nR|2|^^^CP^DM|12.6||%||N||F\nR|3|^^^ADF^DM|40.7||%||N||F\n"
        "L|1|N\n"
    ),
    "numbered kinds": (
        "00~HDR~BENCH3~2025-10-22 09:14\n"
        "10~001~WX551~North bench\n20~001~DM~87.0~%~AS RECEIVED\n20~001~CRUDE PROTEIN~18.6~%~DRY\n"
        "20~001~ADF~35.7~%~DRY\n29~001~OK\n"
        "10~002~WX552~Calf lot\n20~002~DM~85.0~%~AS RECEIVED\n20~002~CRUDE PROTEIN~12.6~%~DRY\n"
        "20~002~ADF~40.7~%~DRY\n29~002~OK\n99~EOF~12\n"
    ),
    "names over numbers": (
        "MSH|^~\\&|BENCH|LAB|DESK|FARM|202509301102||RES|77|P|2\r"
        "PID|1||North bench\rOBR|1||WX551|FORAGE^Hay panel|||20250922\r"
        "OBX|1|NM|0010^Dry matter^as received||87.0|%|||||F\r"
        "OBX|2|NM|0020^Crude protein^dry basis||18.6|%|||||F\r"
        "OBX|3|NM|0030^ADF^dry basis||35.7|%|||||F\r"
        "PID|2||Calf lot\rOBR|2||WX552|FORAGE^Hay panel|||20250922\r"
        "OBX|1|NM|0010^Dry matter^as received||85.0|%|||||F\r"
        "OBX|2|NM|0020^Crude protein^dry basis||12.6|%|||||F\r"
        "OBX|3|NM|0030^ADF^dry basis||40.7|%|||||F"
    ),
}


@each_row("kind", [*_BY_KIND])
def test_transfers_tell_bases_in_parts_of_a_field_and_count_without_naming(kind: str) -> None:
    reading = read_file("a.dat", _BY_KIND[kind].encode())
    assert [(one.id, one.lab_no) for one in reading.samples] == [
        ("North bench", "WX551"),
        ("Calf lot", "WX552"),
    ]
    assert sure(_BY_KIND[kind]) == {
        "North bench": {("dm", "ar"): 87.0, ("cp", "dm"): 18.6, ("adf", "dm"): 35.7},
        "Calf lot": {("dm", "ar"): 85.0, ("cp", "dm"): 12.6, ("adf", "dm"): 40.7},
    }


def test_one_letter_beside_every_result_tells_no_basis() -> None:
    text = "S|771|East\nR|DM|87.0|%|N\nR|CP|12.2|%|N\nR|ADF|35.1|%|N\nR|NDF|55.0|%|N\nE|1\n"
    assert sure(text) == {"East": {("dm", "ar"): 87.0}}


def test_heads_of_pages_are_no_samples_and_a_drawn_line_reaches_over_its_columns() -> None:
    head = (
        "MARROWBY FORAGE BENCH          HAY LIST        PAGE {:>3}\r\n"
        "RUN 11/14/25 06:12                    SORT: LAB NO\r\n\r\n"
        "  LAB   SAMPLE            DRY    CRUDE\r\n"
        "  NO.   IDENTIFICATION    MATTER PROT   ADF    NDF\r\n"
        "                          AS-REC ----- PERCENT OF DRY MATTER -----\r\n"
        "-------------------------------------------------------------------\r\n"
    )
    row = " {}  {:<17}  86.{}   1{}.0   36.8   57.3\r\n"
    pages = []
    for page in range(3):
        own = [row.format(40210 + 2 * page + n, f"FIELD {2 * page + n}", n, page) for n in (1, 2)]
        pages.append(head.format(page + 1) + "".join(own) + "\r\n")
    text = "\f".join(pages) + "*** END OF LIST ***   6 SAMPLES\r\n"
    found = sure(text)
    assert [*found] == [f"FIELD {n}" for n in range(1, 7)]
    assert found["FIELD 3"] == {
        ("dm", "ar"): 86.1, ("cp", "dm"): 11.0, ("adf", "dm"): 36.8, ("ndf", "dm"): 57.3,
    }  # fmt: skip


@each_row("bases", ["(as is/dry)", "as fed / dry matter", "AR/DM"])
def test_headings_of_pairs_tell_both_bases(bases: str) -> None:
    text = f"Lab no,Sample,DM %,CP % {bases},NDF % {bases}\n"
    text += "12,Home 20,86.0,10.4/12.1,50.3/58.5\n13,Ridge,84.0,9.2/11.0,50.4/60.0\n"
    assert sure(text)["Ridge"] == {
        ("dm", "ar"): 84.0,
        ("cp", "ar"): 9.2, ("cp", "dm"): 11.0, ("ndf", "ar"): 50.4, ("ndf", "dm"): 60.0,
    }  # fmt: skip


def test_the_column_that_names_most_analytes_names_them() -> None:
    text = (
        "LoginNo\tClientSampleID\tAnalysis\tComponent\tQualifier\tResultText\tUnits\tReportBasis\n"
    )
    for panel, name, sign, value, unit, basis in (
        ("OVEN", "Dry Matter", "", "85.0", "%", "As Received"),
        ("PROT", "Protein, Crude", "", "13.7", "%", "Dry Weight"),
        ("FIBER", "ADF", "", "33.7", "%", "Dry Weight"),
        ("NIT", "Nitrate-N", "<", "100", "mg/kg", "Dry Weight"),
    ):
        text += f"25-1177\tElm lane\t{panel}\t{name}\t{sign}\t{value}\t{unit}\t{basis}\n"
    reading = read_file("a.tsv", text.encode("utf-16"))
    assert [(v.analyte, v.op, v.value, v.basis, v.status) for v in reading.samples[0].values] == [
        ("dm", "=", 85.0, "ar", "sure"),
        ("cp", "=", 13.7, "dm", "sure"),
        ("adf", "=", 33.7, "dm", "sure"),
        ("nitrate_no3n", "<", 100.0, "dm", "sure"),
    ]


def test_a_sentence_of_a_forwarded_mail_goes_on_in_the_next_line() -> None:
    text = "Dick, here is what came back.\n\n---------- Forwarded message ----------\n"
    for name, number, protein in (("Larch hill", "R-3301", 9.7), ("Bottom 30", "R-3302", 21.1)):
        text += (
            f"> Sample: {name} (lab no. {number}), sampled September 9, 2025\n"
            "> Dry matter 89.9 % as received. On dry matter: crude protein "
            f"{protein} %, ADF 37.2 %,\n"
            "> NDF 61.3 %, TDN 59.5 %, calcium 0.59 %, phosphorus 0.28 %.\n>\n"
        )
    found = sure(text)
    assert [*found] == ["Larch hill", "Bottom 30"]
    assert found["Bottom 30"] == {
        ("dm", "ar"): 89.9, ("cp", "dm"): 21.1, ("adf", "dm"): 37.2, ("ndf", "dm"): 61.3,
        ("tdn", "dm"): 59.5, ("ca", "dm"): 0.59, ("p", "dm"): 0.28,
    }  # fmt: skip


def test_the_same_basis_is_that_of_the_sentence_before_and_what_a_cow_needs_is_no_result() -> None:
    text = (
        "The river hay came in at 9.8 percent protein and 58.3 percent NDF, all on a dry matter "
        "basis.\n\nThe oat hay ran 10.7 percent protein and 59.4 percent TDN on the same basis.\n\n"
        "A 1,200 lb cow eats about 2 percent of her weight. With 9 percent protein hay she needs "
        "no cake.\n"
    )
    assert sure(text) == {
        "river hay": {("cp", "dm"): 9.8, ("ndf", "dm"): 58.3},
        "oat hay": {("cp", "dm"): 10.7, ("tdn", "dm"): 59.4},
    }


def test_a_line_of_a_notebook_names_its_hay_before_the_colon() -> None:
    text = (
        "10/3 Got the tests. 2nd cutting, shed: DM 86.5, CP 20.9, ADF 34.1, NDF 44.1 (dry).\n"
        "      44 bales left at 1350 lb.\n"
        "10/4 creek hay: DM 83.8, CP 10.3, ADF 37.5, NDF 64.3 (dry).\n"
    )
    found = sure(text)
    assert [*found] == ["2nd cutting, shed", "creek hay"]
    assert found["creek hay"][("ndf", "dm")] == 64.3
