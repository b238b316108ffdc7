"""What a good farm folder is read as."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from rickyard.farm import Analyte, Basis, Farm, Forage, Lot, Package, Season, Storage, Wrap
from rickyard.folder import FolderFaults, read_folder
from support.farm_folders import GOOD, edited, good_folder, write_texts

KG_PER_LB = 0.45359237


def farm_of(tmp_path: Path, **changed: str) -> Farm:
    texts = {name.replace("_csv", ".csv"): text for name, text in changed.items()}
    return read_folder(write_texts(tmp_path / "farm", {**GOOD, **texts})).farm


def test_lot(tmp_path: Path) -> None:
    assert farm_of(tmp_path).lots[0] == Lot(
        lot_id="A1",
        name="Barn orchardgrass",
        forage=Forage.COOL_GRASS,
        package=Package.ROUND,
        storage=Storage.ENCLOSED_BARN,
        bales=120.0,
        baled_on=date(2025, 6, 10),
        counted_on=date(2025, 11, 1),
        species="orchardgrass",
        field_name="North",
        cutting=1,
        wrap=Wrap.NET,
        bale_weight_kg=1150 * KG_PER_LB,
        bale_diameter_m=60 * 0.0254,
        bale_width_m=60 * 0.0254,
        dm_pct=86.0,
        value_usd_per_kg=110 * (1 / (2000 * KG_PER_LB)),
        rained_on=False,
    )


def test_season(tmp_path: Path) -> None:
    assert farm_of(tmp_path).season == Season(
        start=date(2025, 11, 15),
        end=date(2026, 4, 15),
        period_days=7,
        rainfall_mm_per_year=pytest.approx(42 * 25.4),  # type: ignore[arg-type]
    )


def test_report_keeps_the_print_of_the_laboratory(tmp_path: Path) -> None:
    first, second = farm_of(tmp_path).reports
    assert first.get("cp") == Analyte("cp", 11.4, "pct", Basis.DRY_MATTER, "NIR", "11.4")
    assert first.get("nitrate_no3n") == Analyte(
        "nitrate_no3n", 200.0, "ppm", Basis.DRY_MATTER, "wet chemistry", "<200", "<"
    )
    assert second.get("nitrate_no3n") == Analyte(
        "nitrate_no3n", None, "ppm", Basis.DRY_MATTER, "NIR", "ND"
    )
    assert second.get("starch") is None
    assert (first.cores, first.lab_no, first.tdn_method) == (20, "1001", "")


@pytest.mark.parametrize("text", ["ND", "nd", "BDL", "trace", "N/A"])
def test_not_a_number_is_no_zero(text: str, tmp_path: Path) -> None:
    farm = farm_of(tmp_path, reports_csv=edited("reports.csv", "ND", text))
    value = farm.reports[1].get("nitrate_no3n")
    assert value is not None
    assert (value.value, value.text) == (None, text)


@pytest.mark.parametrize(
    ("header", "cell", "unit", "basis", "value"),
    [
        ("cp_g_per_kg_dm", "114", "g_per_kg", Basis.DRY_MATTER, 114.0),
        ("cp_pct_ar", "10.1", "pct", Basis.AS_RECEIVED, 10.1),
        ("nem_mcal_per_lb_dm", "0.56", "mcal_per_lb", Basis.DRY_MATTER, 0.56),
        ("nem_mcal_per_lb_dm", "1.23 Mcal/kg", "mcal_per_kg", Basis.DRY_MATTER, 1.23),
        ("neg_mcal_per_kg_dm", "-0.1", "mcal_per_kg", Basis.DRY_MATTER, -0.1),
        ("ndfd48_pct_ndf", "52", "pct", Basis.NONE, 52.0),
        ("lignin_pct_ndf", "11", "pct", Basis.NONE, 11.0),
        ("rfv", "98", "", Basis.NONE, 98.0),
        ("ph", "4.6", "", Basis.NONE, 4.6),
        ("ca_ppm_dm", "4,100", "ppm", Basis.DRY_MATTER, 4100.0),
        ("nitrate_pct_dm", "0.4", "pct", Basis.DRY_MATTER, 0.4),
        ("nitrate_kno3_pct_dm", "4000 ppm", "ppm", Basis.DRY_MATTER, 4000.0),
        ("adf_pct_dm", "36.1 %", "pct", Basis.DRY_MATTER, 36.1),
    ],
)
def test_analyte_headers(
    header: str, cell: str, unit: str, basis: Basis, value: float, tmp_path: Path
) -> None:
    table = f'report,lot,{header}\nR1,A1,"{cell}"\n'
    (analyte,) = farm_of(tmp_path, reports_csv=table).reports[0].analytes
    name = header.split("_pct")[0].split("_g_per")[0].split("_mcal")[0].split("_ppm")[0]
    assert analyte == Analyte(name, value, unit, basis, "", cell)


def test_tdn_method_says_how_it_was_computed(tmp_path: Path) -> None:
    table = (
        "report,lot,method,tdn_method,tdn_pct_dm,tdn_value_method\n"
        "R1,A1,NIR,from ADF,57.8,\n"
        "R2,A1,NIR,from ADF,58.0,wet chemistry\n"
    )
    first, second = farm_of(tmp_path, reports_csv=table).reports
    assert first.tdn_method == second.tdn_method == "from ADF"
    assert [report.analytes[0].method for report in (first, second)] == ["NIR", "wet chemistry"]


@pytest.mark.parametrize(
    ("cell", "kg"),
    [
        ("1150", 1150 * KG_PER_LB),
        ('"1,150"', 1150 * KG_PER_LB),
        ("520 kg", 520.0),
        ("0.52 t", 520.0),
        ("11.5 cwt", 11.5 * (100 * KG_PER_LB)),
        ("1150#", 1150 * KG_PER_LB),
    ],
)
def test_cell_may_name_its_unit(cell: str, kg: float, tmp_path: Path) -> None:
    farm = farm_of(tmp_path, lots_csv=edited("lots.csv", '"1,150"', cell))
    assert farm.lots[0].bale_weight_kg == kg


@pytest.mark.parametrize(
    "cell", ["240", "$240", "$240.00", "$240/ton", "$ 240 per ton", "0.12 $/lb"]
)
def test_prices_as_people_write_them(cell: str, tmp_path: Path) -> None:
    farm = farm_of(tmp_path, feeds_csv=edited("feeds.csv", "grain,240", f"grain,{cell}"))
    assert farm.feeds[1].price_usd_per_kg == pytest.approx(240 / (2000 * KG_PER_LB))


def test_value_per_bale(tmp_path: Path) -> None:
    table = edited("lots.csv", "value_usd_per_ton", "value_usd_per_bale").replace(",180,", ",,")
    lots = farm_of(tmp_path, lots_csv=table.replace(",110,", ",$63.25,")).lots
    assert lots[0].value_usd_per_kg == 63.25 / (1150 * KG_PER_LB)
    assert lots[2].value_usd_per_kg is None


def test_column_in_two_units(tmp_path: Path) -> None:
    table = "day,source,group,mass_lb,mass_kg\n2025-11-16,A1,COWS,1000,\n2025-11-17,A1,COWS,,500\n"
    fed = farm_of(tmp_path, fed_csv=table).fed
    assert [row.mass_kg for row in fed] == [1000 * KG_PER_LB, 500.0]


def test_headers_and_words_in_other_capitals(tmp_path: Path) -> None:
    table = edited("lots.csv", "Barn orchardgrass,cool_grass", "Barn orchardgrass,Cool Grass")
    changed = table.replace("lot,name,forage", " Lot,NAME,Forage")
    assert farm_of(tmp_path, lots_csv=changed) == farm_of(tmp_path)


def test_weather_of_a_day_and_of_a_month(tmp_path: Path) -> None:
    month, day = farm_of(tmp_path).weather
    assert (month.day, month.monthly) == (date(2026, 1, 1), True)
    assert (day.day, day.monthly, day.precipitation_mm) == (date(2026, 1, 5), False, None)
    assert month.precipitation_mm == pytest.approx(2.8 * 25.4)


def test_cow_may_nurse_the_calf_of_the_year_before(tmp_path: Path) -> None:
    farm = farm_of(tmp_path, groups_csv=edited("groups.csv", "2026-10-01", "2025-12-01"))
    assert farm.groups[0].weaning_on == date(2025, 12, 1)


def test_table_ids_are_checked_only_if_known(tmp_path: Path) -> None:
    folder = good_folder(tmp_path / "farm")
    assert read_folder(folder).farm == read_folder(folder, {"corn_grain_dry_rolled"}).farm
    with pytest.raises(FolderFaults, match="is not a row of the feed table"):
        read_folder(folder, ())


def test_only_urea_like_protein_of_a_feed_is_bounded_by_its_protein(tmp_path: Path) -> None:
    table = "feed,name,kind,price_usd_per_ton,dm_pct,tdn_pct,cp_pct,npn_cp_pct\n"
    table += "cubes,Cubes,supplement,390,90,72,22,{}\n"
    assert farm_of(tmp_path, feeds_csv=table.format(22)).feeds[0].npn_cp_pct == 22.0
    with pytest.raises(FolderFaults, match='"23" is more than all crude protein, 22'):
        farm_of(tmp_path, feeds_csv=table.format(23))


def test_lot_fed_on_one_day_only(tmp_path: Path) -> None:
    table = (
        GOOD["lots.csv"]
        .replace("rained_on,note", "feed_from,feed_by")
        .replace(',yes,"under the tarp, west end"', ",2026-01-05,{}")
    )
    table = table.replace(",110,no,", ",110,,").replace(",180,no,", ",180,,")
    lot = farm_of(tmp_path, lots_csv=table.format("2026-01-05")).lots[1]
    assert lot.feed_from == lot.feed_by == date(2026, 1, 5)
    with pytest.raises(FolderFaults, match='"2026-01-04" is before feed_from, 2026-01-05'):
        farm_of(tmp_path, lots_csv=table.format("2026-01-04"))


QUESTIONS = {
    "wet_hay": (
        "lots.csv",
        "15.5",
        "28",
        'lots.csv, row 3, column moisture_pct: "28" is over 25% moisture, wet enough to heat and '
        "mold.\n  Is it wet hay or baleage? Probe its temperature before it goes into a barn.",
    ),
    "dry_baleage": (
        "lots.csv",
        "tall fescue,round,covered_elevated,net",
        "tall fescue,baleage,wrapped,film",
        'lots.csv, row 3, column moisture_pct: "15.5" makes 84.5% dry matter, dry for baleage.\n'
        "  Is it dry hay under wrap, or the moisture?",
    ),
    "dense_bale": (
        "lots.csv",
        "net,80,1050",
        "net,80,2150",
        'lots.csv, row 3, column bale_weight_lb: "2150" makes 21.9 lb/ft3, denser than most hay.\n'
        "  Is the weight from a scale, and the size right?",
    ),
    "width_and_diameter": (
        "lots.csv",
        "net,80,1050,60,60",
        "net,80,,36,75",
        'lots.csv, row 3, column bale_diameter_in: "36" is less than half the width.\n'
        "  Are width and diameter the wrong way round?",
    ),
    "group_after_the_season": (
        "groups.csv",
        "bunk,,",
        "bunk,2026-05-01,",
        'groups.csv, row 4, column from_on: "2026-05-01" is after the season, which ends '
        "2026-04-15.\n  Is the year right? The group is not fed in this season.",
    ),
    "group_before_the_season": (
        "groups.csv",
        "bunk,,",
        "bunk,,2025-10-01",
        'groups.csv, row 4, column to_on: "2025-10-01" is before the season, which starts '
        "2025-11-15.\n  Is the year right? The group is not fed in this season.",
    ),
    "most_is_wasted": (
        "feeds.csv",
        "390,,90,72,22,,20,50",
        "390,,90,72,22,,75,50",
        'feeds.csv, row 2, column feeding_loss_pct: "75" wastes more than is eaten.\n'
        "  Is it really the percentage wasted?",
    ),
}


@pytest.mark.parametrize("name", QUESTIONS)
def test_what_is_unusual_is_read_and_asked(name: str, tmp_path: Path) -> None:
    file, old, new, question = QUESTIONS[name]
    text = edited(file, old, new).replace("most_ton", "feeding_loss_pct")
    found = read_folder(write_texts(tmp_path / "farm", {**GOOD, file: text}))
    assert [asked.message for asked in found.questions] == [question]


def test_good_folder_raises_no_question(tmp_path: Path) -> None:
    assert read_folder(good_folder(tmp_path / "farm")).questions == ()


def test_corn_silage_may_be_wet(tmp_path: Path) -> None:
    lot = "S1,Bunker,corn_silage,loose,exposed_ground,30,8000,67,2025-09-10,2025-11-01\n"
    head = "lot,name,forage,package,storage,bales,bale_weight_lb,moisture_pct,baled_on,counted_on\n"
    texts = {**GOOD, "lots.csv": head + lot, "reports.csv": "report,lot\n", "fed.csv": ""}
    del texts["fed.csv"], texts["moves.csv"], texts["wishes.csv"]
    found = read_folder(write_texts(tmp_path / "farm", dict(texts)))
    assert (found.farm.lots[0].dm_pct, found.questions) == (33.0, ())


def read_again(hottest: str, latest: str) -> str:
    """Return the good lots with what was read inside the first of them."""
    text = GOOD["lots.csv"]
    for was, now in (
        ("rained_on,note", "highest_temperature_degF,latest_temperature_degF"),
        (",110,no,", f",110,{hottest},{latest}"),
        (',80,yes,"under the tarp, west end"', ",80,,"),
        (",180,no,", ",180,,"),
    ):
        text = text.replace(was, now)
    return text


def test_a_later_reading_of_a_stack_stands_beside_the_hottest(tmp_path: Path) -> None:
    lot = farm_of(tmp_path, lots_csv=read_again("158", "86")).lots[0]
    assert lot.highest_temperature_c == pytest.approx(70.0)
    assert lot.latest_temperature_c == pytest.approx(30.0)


@pytest.mark.parametrize(
    ("hottest", "latest", "column", "told"),
    [
        ("", "86", "highest_temperature", "how hot it was is not known"),
        ("100", "158", "latest_temperature", "above the hottest reading"),
    ],
)
def test_a_later_reading_alone_or_hotter_is_at_fault(
    tmp_path: Path, hottest: str, latest: str, column: str, told: str
) -> None:
    with pytest.raises(FolderFaults) as caught:
        farm_of(tmp_path, lots_csv=read_again(hottest, latest))
    assert f"column {column}" in str(caught.value)
    assert told in str(caught.value)
