"""What a seller hands to a buyer of a lot: the hay told whole, and nothing else of the farm."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from click.testing import CliRunner

from rickyard.cli.main import main
from rickyard.farm import Farm, Storage
from rickyard.folder import read_folder
from rickyard.sheets.paper import lot_pdf, lot_sheet
from support.farm_folders import GOOD, write_texts
from support.many_farms import office

DAY = date(2025, 12, 2)


@pytest.fixture
def farm(tmp_path: Path) -> Farm:
    return read_folder(write_texts(tmp_path / "farm", GOOD), ["corn_grain_dry_rolled"]).farm


def all_words(farm: Farm, lot_id: str) -> str:
    sheet = lot_sheet(farm, farm.lot(lot_id), DAY)
    content = lot_pdf([sheet], farm, DAY)
    assert content == lot_pdf([sheet], farm, DAY)
    paper = pdfium.PdfDocument(content)
    try:
        found = " ".join(page.get_textpage().get_text_range() for page in paper)
    finally:
        paper.close()
    return " ".join(found.split())


def test_first_use_a_sheet_tells_a_buyer_of_a_lot_what_it_is(farm: Farm) -> None:
    said = all_words(farm, "A1")
    # 120 counted, 2 fed, 4 sold and one found to be counted twice.
    assert "113 round bales, in net wrap, on Dec 2, 2025 by the book of the yard" in said
    assert "Tested by County lab, report 1001 on Oct 9, 2025" in said
    assert "Sampled Oct 1, 2025, 62 days before this sheet" in said
    assert "20 cores; 20 from 20 bales drawn at random are the protocol" in said
    assert "The sample stands for this lot alone" in said
    assert "crude protein 11.4% 9.7 to 13.1 lab" in said
    assert "relative feed value 96" in said
    assert "Good (grass grade by protein" in said
    assert "in a closed barn" in said
    assert "It was not rained on while it lay cut." in said
    assert (
        "drought-stressed, frosted, given heavy nitrogen, flooded, weedy, dusty, with blister "
        "beetles or with leaves of cherry, plum or the like is not written" in said
    )
    assert "Not tested: calcium and phosphorus" in said
    assert "not stated: ask the owner" in said
    assert "Take cores of your own" in said
    assert "no promise of how stock will do on it" in said


def test_first_use_a_sheet_for_a_buyer_tells_nothing_else_of_the_farm(farm: Farm) -> None:
    secret = replace(farm.lot("A1"), note="give away if need be", sale_usd_per_kg=0.2)
    farm = replace(farm, lots=(secret, *farm.lots[1:]))
    said = all_words(farm, "A1").lower()
    others = [one.name for one in (*farm.groups, *farm.feeds)]
    others += [lot.name for lot in farm.lots[1:]]
    for word in (*others, "give away", "neighbour", "J. Hand", "$110", "program"):
        assert word.lower() not in said, word
    assert "$181 a ton as it stands, $104.33 a bale" in said


def test_a_price_is_told_by_what_the_hay_holds(farm: Farm) -> None:
    # 0.20 dollars a kg; of a short ton, 907.18474 kg (NIST SP 811), that is 181.44 dollars.
    dear = replace(farm.lot("A1"), sale_usd_per_kg=0.2)
    sheet = lot_sheet(farm, dear, DAY)
    assert sheet.answer.endswith(": 113 round bales, tested, $181 a ton.")
    values = {one.words: float(one.value.split("%")[0]) for one in sheet.values[:3]}
    dry = 0.2 / (values["dry matter"] / 100.0)
    # A pound is 0.45359237 kg.
    protein = 100.0 * dry * 0.45359237 / (values["crude protein"] / 100.0)
    told = dict(sheet.basis)
    assert told["A dry ton"] == f"${dry * 907.18474:,.0f}"
    assert float(told["A lb of protein"].split()[0]) == pytest.approx(protein, rel=0.01)
    assert sheet.figures[0] == ("113", "round bales")
    untested = replace(farm, reports=())
    assert lot_sheet(untested, dear, DAY).basis == ()


def test_first_use_a_sheet_for_a_buyer_says_danger_first_and_what_was_not_done(
    tmp_path: Path,
) -> None:
    farm = read_folder(office(tmp_path / "all") / "brook", ["corn_grain_dry_rolled"]).farm
    said = all_words(farm, "S9")
    assert "DANGER" in said
    assert "4,200 ppm" in said
    assert said.index("DANGER") < said.index("How it was sampled")
    assert "A grade says nothing of the danger above." in said
    few = replace(farm.reports[0], cores=6)
    sheet = lot_sheet(replace(farm, reports=(few, *farm.reports[1:])), farm.lot("A1"), DAY)
    assert any("6 cores, fewer than the 12 that are common practice" in one for one in sheet.sample)
    unsaid = replace(farm.reports[0], cores=None, sampled_on=None)
    sheet = lot_sheet(replace(farm, reports=(unsaid,)), farm.lot("A1"), DAY)
    assert any("How many bales were cored is not written" in one for one in sheet.sample)
    assert "The day on which it was sampled is not written." in sheet.sample


def test_first_use_a_sheet_of_an_untested_lot_says_nothing_of_its_feeding_value(
    farm: Farm,
) -> None:
    sheet = lot_sheet(farm, farm.lot("C3"), DAY)
    assert sheet.values == ()
    assert sheet.grade == ""
    assert "No test of this lot is written" in sheet.sample[0]
    assert "No bale was weighed" in " ".join(sheet.unknown)
    outside = replace(farm.lot("B2"), storage=Storage.EXPOSED_GROUND)
    assert "goes on weathering" in lot_sheet(farm, outside, DAY).sample[-1]


def test_first_use_the_sheet_for_a_buyer_is_a_command(tmp_path: Path) -> None:
    folder = write_texts(tmp_path / "farm", {**GOOD})

    def run(*words: object) -> tuple[int, str]:
        told = CliRunner().invoke(main, ["lot-sheet", str(folder), *map(str, words)])
        return told.exit_code, " ".join(told.output.split())

    code, said = run("--on", "2025-12-02")
    assert code == 2
    assert "No lot of this farm has a sale price. Name the lot: --lot LOT. Its lots are A1" in said
    code, said = run("--lot", "Z9")
    assert code == 2
    assert '"Z9" is no lot of this farm' in said
    paper = tmp_path / "sheet.pdf"
    code, said = run("--lot", "A1", "--lot", "B2", "--on", "2025-12-02", "--pdf", paper)
    assert code == 0
    assert said.index("Barn orchardgrass") < said.index("Tarp fescue")
    assert "Not known" in said
    document = pdfium.PdfDocument(paper)
    assert len(document) == 2
    document.close()
    assert "lot-sheet" in CliRunner().invoke(main, ["--help"]).output
