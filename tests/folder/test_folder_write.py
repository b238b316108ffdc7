"""Writing a farm folder: exact, whole, and never over another by accident."""

from __future__ import annotations

import csv
import io
import tempfile
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    BeefBreed,
    Coat,
    ColdRule,
    Farm,
    FedRow,
    Feed,
    Feeder,
    FeedKind,
    Forage,
    Group,
    Hide,
    Lot,
    Maturity,
    Mud,
    Package,
    Panting,
    Report,
    Season,
    Sex,
    StatedNeed,
    Storage,
    Wanted,
    WeatherRow,
    WindChill,
    Winter,
    WishRow,
    Work,
    Wrap,
)
from rickyard.folder import FolderFaults, FolderInUse, read_folder, write_folder
from rickyard.folder.io import write
from rickyard.folder.rules.rules_groups import WEIGHT_OF_CLASS
from rickyard.folder.tables.analytes import ANALYTES, HEADERS, ORDER, parse_analyte
from rickyard.folder.tables.cells import format_cell, parse_cell
from rickyard.folder.tables.columns import Column
from rickyard.quantities import CANONICAL, units_of
from support.farm_folders import GOOD, edited, good_folder, write_texts


def files_of(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def rows_of(text: bytes | str) -> list[list[str]]:
    plain = text if isinstance(text, str) else text.decode()
    return list(csv.reader(io.StringIO(plain, newline="")))


# ------------------------------------------------------------------ what comes back


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_unchanged_folder_is_the_same_to_the_last_byte(
    newline: str, mark: bytes, tmp_path: Path
) -> None:
    texts = {name: mark + text.replace("\n", newline).encode() for name, text in GOOD.items()}
    found = read_folder(write_texts(tmp_path / "old", dict(texts)))
    write_folder(found.farm, tmp_path / "new", found.layout)
    assert files_of(tmp_path / "new") == texts


def test_odd_quoting_and_empty_rows_stay_in_an_unchanged_file(tmp_path: Path) -> None:
    odd = '"day","source",group,bales,mass_lb,note\n\n2025-11-16, A1 ,COWS,"2",,\n,,,,,'
    found = read_folder(write_texts(tmp_path / "old", {**GOOD, "fed.csv": odd}))
    write_folder(found.farm, tmp_path / "new", found.layout)
    assert (tmp_path / "new" / "fed.csv").read_text() == odd


def test_without_a_layout_headers_are_metric_and_the_farm_comes_back(tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "old")).farm
    write_folder(farm, tmp_path / "new")
    head = rows_of((tmp_path / "new" / "lots.csv").read_bytes())[0]
    assert {"bale_weight_kg", "bale_diameter_m", "dm_pct", "value_usd_per_kg"} <= set(head)
    assert read_folder(tmp_path / "new").farm == farm


def test_one_change_changes_one_cell(tmp_path: Path) -> None:
    found = read_folder(good_folder(tmp_path / "old"))
    changed = replace(found.farm.lots[1], bales=61.0)
    farm = replace(found.farm, lots=(found.farm.lots[0], changed, found.farm.lots[2]))
    write_folder(farm, tmp_path / "new", found.layout)
    now = files_of(tmp_path / "new")
    assert now.pop("lots.csv").decode() == edited("lots.csv", "net,80,", "net,61,")
    assert now == {name: text.encode() for name, text in GOOD.items() if name != "lots.csv"}


CHANGES = {
    "weight_in_its_unit": ({"bale_weight_kg": 544.310844}, "bale_weight_lb", "1200"),
    "weight_no_pound_can_say": ({"bale_weight_kg": 500.1234567891234}, "bale_weight_lb", None),
    "moisture": ({"dm_pct": 82.0}, "moisture_pct", "18"),
    "price": ({"value_usd_per_kg": 0.1}, "value_usd_per_ton", None),
    "flag": ({"rained_on": True}, "rained_on", "yes"),
    "flag_no_longer_known": ({"rained_on": None}, "rained_on", ""),
    "weight_no_longer_known": ({"bale_weight_kg": None}, "bale_weight_lb", ""),
    "note": ({"note": 'the "good" end,\nby the door'}, "note", 'the "good" end,\nby the door'),
}


@pytest.mark.parametrize("name", CHANGES)
def test_changed_field_is_written_under_the_header_there(name: str, tmp_path: Path) -> None:
    change, header, cell = CHANGES[name]
    found = read_folder(good_folder(tmp_path / "old"))
    lot = replace(found.farm.lots[0], **change)  # type: ignore[arg-type]
    farm = replace(found.farm, lots=(lot, *found.farm.lots[1:]))
    write_folder(farm, tmp_path / "new", found.layout)
    assert read_folder(tmp_path / "new").farm == farm
    head, first, *others = rows_of((tmp_path / "new" / "lots.csv").read_bytes())
    assert head == rows_of(GOOD["lots.csv"])[0]
    assert others == rows_of(GOOD["lots.csv"])[2:]
    if cell is not None:
        assert first[head.index(header)] == cell


def test_field_without_a_column_gets_one(tmp_path: Path) -> None:
    found = read_folder(good_folder(tmp_path / "old"))
    lot = replace(found.farm.lots[2], frosted=True, highest_temperature_c=41.5)
    farm = replace(found.farm, lots=(*found.farm.lots[:2], lot))
    write_folder(farm, tmp_path / "new", found.layout)
    assert read_folder(tmp_path / "new").farm == farm
    head, *rows = rows_of((tmp_path / "new" / "lots.csv").read_bytes())
    assert head[-2:] == ["frosted", "highest_temperature_degC"]
    assert [row[-2:] for row in rows] == [["", ""], ["", ""], ["yes", "41.5"]]


def test_moisture_that_no_number_says_goes_to_dry_matter(tmp_path: Path) -> None:
    found = read_folder(good_folder(tmp_path / "old"))
    lot = replace(found.farm.lots[0], dm_pct=60.00000000000001)
    farm = replace(found.farm, lots=(lot, *found.farm.lots[1:]))
    write_folder(farm, tmp_path / "new", found.layout)
    assert read_folder(tmp_path / "new").farm == farm


def test_price_per_bale_follows_the_bale(tmp_path: Path) -> None:
    table = edited("lots.csv", "value_usd_per_ton", "value_usd_per_bale").replace(",180,", ",,")
    found = read_folder(write_texts(tmp_path / "old", {**GOOD, "lots.csv": table}))
    same_price = replace(found.farm.lots[0], bale_weight_kg=500.0)
    no_weight = replace(found.farm.lots[1], bale_weight_kg=None)
    farm = replace(found.farm, lots=(same_price, no_weight, found.farm.lots[2]))
    write_folder(farm, tmp_path / "new", found.layout)
    assert read_folder(tmp_path / "new").farm == farm


def test_rows_come_and_go(tmp_path: Path) -> None:
    found = read_folder(good_folder(tmp_path / "old"))
    first, second, third = found.farm.lots
    new = replace(second, lot_id="D4", name="New")
    farm = replace(found.farm, lots=(third, new, first), reports=found.farm.reports[:1])
    write_folder(farm, tmp_path / "new", found.layout)
    assert read_folder(tmp_path / "new").farm == farm
    old_rows = rows_of(GOOD["lots.csv"])
    head, *rows = rows_of((tmp_path / "new" / "lots.csv").read_bytes())
    assert (head, rows[0], rows[2]) == (old_rows[0], old_rows[3], old_rows[1])


def test_two_feedings_of_one_day_keep_their_rows(tmp_path: Path) -> None:
    fed = "day,source,group,bales,note\n2025-11-16,A1,COWS,2,am\n2025-11-16,A1,COWS,1.50,pm\n"
    found = read_folder(write_texts(tmp_path / "old", {**GOOD, "fed.csv": fed}))
    farm = replace(found.farm, fed=(replace(found.farm.fed[0], bales=3.0), found.farm.fed[1]))
    write_folder(farm, tmp_path / "new", found.layout)
    assert (tmp_path / "new" / "fed.csv").read_text() == fed.replace(",2,am", ",3,am")


def test_report_changes_keep_the_rest(tmp_path: Path) -> None:
    found = read_folder(good_folder(tmp_path / "old"))
    report = found.farm.reports[0]
    kept = tuple(analyte for analyte in report.analytes if analyte.name not in ("adf", "cp"))
    new = (
        Analyte("cp", 12.1, "pct", Basis.DRY_MATTER, "wet chemistry", "12.1"),
        Analyte("rfv", 98.0, "", Basis.NONE, "NIR", "98"),
    )
    analytes = tuple(sorted((*kept, *new), key=lambda analyte: ORDER[analyte.name]))
    farm = replace(found.farm, reports=(replace(report, analytes=analytes), found.farm.reports[1]))
    write_folder(farm, tmp_path / "new", found.layout)
    assert read_folder(tmp_path / "new").farm == farm
    head, first, second = rows_of((tmp_path / "new" / "reports.csv").read_bytes())
    old_head, _, old_second = rows_of(GOOD["reports.csv"])
    assert head == [*old_head, "cp_method", "rfv"]
    assert first[head.index("adf_pct_dm")] == ""
    assert second == [*old_second, "", ""]


def test_value_in_another_unit_gets_a_column(tmp_path: Path) -> None:
    found = read_folder(good_folder(tmp_path / "old"))
    report = found.farm.reports[1]
    nitrate = Analyte("nitrate_no3n", 0.15, "pct", Basis.DRY_MATTER, "NIR", "0.15")
    farm = replace(
        found.farm,
        reports=(
            found.farm.reports[0],
            replace(report, analytes=(*report.analytes[:-1], nitrate)),
        ),
    )
    write_folder(farm, tmp_path / "new", found.layout)
    assert read_folder(tmp_path / "new").farm == farm


def test_method_that_only_some_values_have(tmp_path: Path) -> None:
    found = read_folder(good_folder(tmp_path / "old"))
    report = found.farm.reports[0]
    first, *rest = report.analytes
    bare = replace(report, analytes=(replace(first, method=""), *rest))
    farm = replace(found.farm, reports=(bare, found.farm.reports[1]))
    write_folder(farm, tmp_path / "new", found.layout)
    write_folder(farm, tmp_path / "plain")
    assert read_folder(tmp_path / "new").farm == farm
    assert read_folder(tmp_path / "plain").farm == farm


def test_number_counts_where_the_text_says_something_else(tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "old")).farm
    report = farm.reports[0]
    cp = Analyte("cp", 12.5, "pct", Basis.DRY_MATTER, "NIR", "11.4")
    no_text = Analyte("dm", 88.0, "pct", Basis.AS_RECEIVED, "NIR")
    changed = replace(report, analytes=(cp, no_text))
    write_folder(replace(farm, reports=(changed,)), tmp_path / "new")
    assert read_folder(tmp_path / "new").farm.reports[0].analytes == (
        replace(no_text, text="88"),
        replace(cp, text="12.5"),
    )


def test_settings_change_line_by_line(tmp_path: Path) -> None:
    found = read_folder(good_folder(tmp_path / "old"))
    season = replace(
        found.farm.season, end=date(2026, 4, 30), rainfall_mm_per_year=None, acclimatise=True
    )
    farm = replace(found.farm, season=season, note="a 'new' \"note\"\nof two lines")
    write_folder(farm, tmp_path / "new", found.layout)
    assert read_folder(tmp_path / "new").farm == farm
    text = (tmp_path / "new" / "farm.toml").read_text()
    assert "# The hill place, planned in autumn\n" in text
    assert "end = 2026-04-30\n" in text
    assert "rainfall" not in text


def test_settings_that_cannot_be_edited_are_written_anew(tmp_path: Path) -> None:
    odd = 'name = """\nHill\nfarm"""\n[ season ]\nstart = 2025-11-15\nend = 2026-04-15\n'
    found = read_folder(write_texts(tmp_path / "old", {**GOOD, "farm.toml": odd}))
    farm = replace(found.farm, name="Hill", season=replace(found.farm.season, period_days=14))
    write_folder(farm, tmp_path / "new", found.layout)
    assert read_folder(tmp_path / "new").farm == farm


@pytest.mark.parametrize("sign", ["=", "+", "-", "@"])
def test_texts_that_a_spreadsheet_may_run_come_back_exactly(sign: str, tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "old")).farm
    lot = replace(farm.lots[0], name=f"{sign}1+1", note=f'{sign}A1&"x"')
    farm = replace(farm, lots=(lot, *farm.lots[1:]), name=f"{sign}farm")
    write_folder(farm, tmp_path / "new")
    assert read_folder(tmp_path / "new").farm == farm


def test_spaces_around_a_text_are_left_out(tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "old")).farm
    spaced = replace(farm, name=" Hill farm ", lots=(replace(farm.lots[0], note=" dry\n"),))
    spaced = replace(spaced, reports=farm.reports[:1], fed=())
    write_folder(spaced, tmp_path / "new")
    again = read_folder(tmp_path / "new").farm
    assert (again.name, again.lots[0].note) == ("Hill farm", "dry")


# ------------------------------------------------------------------ where it goes


def test_farm_that_is_there_is_not_written_over(tmp_path: Path) -> None:
    folder = good_folder(tmp_path / "farm")
    farm = read_folder(folder).farm
    before = files_of(folder)
    with pytest.raises(FolderInUse) as caught:
        write_folder(replace(farm, name="Other"), folder)
    assert str(caught.value) == (
        "farm holds a farm already: farm.toml, lots.csv, reports.csv, groups.csv, feeds.csv, "
        "needs.csv, weather.csv, fed.csv, moves.csv, labs.csv, wishes.csv.\n"
        "  Write to another folder, or say that it may be replaced."
    )
    assert files_of(folder) == before


def test_replacing_leaves_other_files_alone(tmp_path: Path) -> None:
    folder = write_texts(tmp_path / "farm", {**GOOD, "photo.jpg": b"\xff\xd8"})
    (folder / "papers").mkdir()
    (folder / "papers" / "deed.txt").write_text("deed")
    farm = replace(read_folder(folder).farm, fed=(), name="Other")
    write_folder(farm, folder, replace=True)
    assert read_folder(folder).farm == farm
    assert (folder / "photo.jpg").read_bytes() == b"\xff\xd8"
    assert (folder / "papers" / "deed.txt").read_text() == "deed"
    assert not (folder / "fed.csv").exists()
    assert [entry.name for entry in tmp_path.iterdir()] == ["farm"]


def test_a_table_open_in_a_spreadsheet_is_told_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As Windows does it: the folder of an open file cannot be moved."""
    folder = good_folder(tmp_path / "farm")
    farm = read_folder(folder).farm
    rename = Path.rename

    def refused(path: Path, target: Path) -> Path:
        if path.name == "farm":
            raise PermissionError(13, "Access is denied", str(path))
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", refused)
    with pytest.raises(FolderInUse, match="Close its tables in the spreadsheet"):
        write_folder(farm, folder, replace=True)
    monkeypatch.undo()
    assert read_folder(folder).farm == farm
    assert [one.name for one in tmp_path.iterdir()] == ["farm"]


def test_empty_folder_may_be_written_to(tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "old")).farm
    (tmp_path / "new").mkdir()
    write_folder(farm, tmp_path / "new")
    assert read_folder(tmp_path / "new").farm == farm


@pytest.mark.parametrize("odd", ["file", "folder_named_like_a_file"])
def test_place_that_is_no_farm_folder(odd: str, tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "old")).farm
    place = tmp_path / "new"
    if odd == "file":
        place.write_text("x")
    else:
        (place / "lots.csv").mkdir(parents=True)
    with pytest.raises(FolderInUse):
        write_folder(farm, place, replace=True)
    assert sorted(entry.name for entry in tmp_path.iterdir()) == ["new", "old"]


BAD: dict[str, tuple[dict[str, object], str]] = {
    "rule": ({"bales": -1.0}, 'lots.csv, row 2, column bales: "-1" is negative.'),
    "not_a_number": ({"bales": float("nan")}, 'lots.csv, row 2, column bales: "nan" is not a n'),
    "id": ({"lot_id": "A 1"}, 'lots.csv, row 2, column lot: "A 1" has a space.'),
    "zero_byte": ({"note": "a\0b"}, "lots.csv, row 2: the file holds zero bytes"),
    "no_utf_8": ({"note": "\ud800"}, "farm.toml: a text of the farm holds a sign that UTF-8"),
    "spreadsheet_error": ({"name": "#N/A"}, 'lots.csv, row 2, column name: "#N/A" is an error'),
}


@pytest.mark.parametrize("name", BAD)
def test_farm_that_could_not_be_read_is_not_written(name: str, tmp_path: Path) -> None:
    change, message = BAD[name]
    farm = read_folder(good_folder(tmp_path / "old")).farm
    lot = replace(farm.lots[0], **change)  # type: ignore[arg-type]
    with pytest.raises(FolderFaults) as caught:
        write_folder(replace(farm, lots=(lot,), reports=(), fed=()), tmp_path / "new")
    assert caught.value.faults[0].message.startswith(message)
    assert [entry.name for entry in tmp_path.iterdir()] == ["old"]


def test_value_that_no_column_holds_is_told(tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "old")).farm
    odd = replace(farm.reports[0], analytes=(Analyte("cp", 1.0, "mcal", Basis.DRY_MATTER),))
    with pytest.raises(FolderFaults, match="no column holds cp in mcal on basis dm"):
        write_folder(replace(farm, reports=(odd,)), tmp_path / "new")


def test_analyte_twice_in_a_report_is_told(tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "old")).farm
    twice = (
        Analyte("cp", 11.0, "pct", Basis.DRY_MATTER),
        Analyte("cp", 12.0, "pct", Basis.DRY_MATTER),
    )
    odd = replace(farm.reports[0], analytes=twice)
    with pytest.raises(FolderFaults, match=r"reports\.csv: this part of the farm would not come"):
        write_folder(replace(farm, reports=(odd,)), tmp_path / "new")


@pytest.mark.parametrize("step", ["write", "move"])
def test_trouble_in_the_middle_leaves_the_old_farm(
    step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = write_texts(tmp_path / "farm", {**GOOD, "photo.jpg": b"\xff\xd8"})
    farm = read_folder(folder).farm
    before = files_of(folder)
    if step == "write":

        def full(file: int) -> None:
            raise OSError(28, "No space left on device")

        monkeypatch.setattr(write.os, "fsync", full)
    else:
        rename = Path.rename

        def refuse(path: Path, target: Path) -> Path:
            if ".new-" in path.name:
                raise OSError(5, "Input/output error")
            return rename(path, target)

        monkeypatch.setattr(Path, "rename", refuse)
    with pytest.raises(OSError, match=r"space|error"):
        write_folder(replace(farm, name="Other"), folder, replace=True)
    assert files_of(folder) == before
    assert [entry.name for entry in tmp_path.iterdir()] == ["farm"]


def test_nothing_is_written_where_the_parent_is_missing(tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "old")).farm
    with pytest.raises(FileNotFoundError):
        write_folder(farm, tmp_path / "no" / "new")


# ------------------------------------------------------------------ properties

DAYS = st.dates(date(1995, 1, 1), date(2090, 1, 1))
IDS = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,12}x", fullmatch=True)
TEXTS = (
    st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\0"), max_size=25)
    .map(str.strip)
    .filter(lambda text: not text.startswith("#"))
)
NAMES = TEXTS.filter(bool)


# Drawn from again and again: making one anew takes as long as drawing.
@cache
def between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


@cache
def maybe(values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | values


PCT = maybe(between(1.0, 100.0))


@st.composite
def lots(draw: st.DrawFn, lot_id: str) -> Lot:
    package = draw(st.sampled_from([Package.SMALL_SQUARE, Package.LOOSE, Package.ROUND]))
    weight = {Package.SMALL_SQUARE: (15, 80), Package.LOOSE: (100, 9000), Package.ROUND: (60, 1900)}
    baled = draw(DAYS)
    first = draw(DAYS)
    return Lot(
        lot_id=lot_id,
        name=draw(NAMES),
        forage=draw(st.sampled_from(Forage)),
        package=package,
        storage=draw(st.sampled_from(Storage)),
        bales=draw(between(0.0, 5000.0)),
        baled_on=baled,
        counted_on=baled + timedelta(days=draw(st.integers(0, 900))),
        species=draw(TEXTS),
        maturity=draw(st.none() | st.sampled_from(Maturity)),
        field_name=draw(TEXTS),
        cutting=draw(st.none() | st.integers(1, 12)),
        wrap=draw(st.none() | st.sampled_from(Wrap)),
        bale_weight_kg=draw(between(*weight[package])),
        bale_diameter_m=draw(maybe(between(1.0, 1.9))),
        dm_pct=draw(maybe(between(60.0, 98.0))),
        value_usd_per_kg=draw(maybe(between(0.0, 2.0))),
        sale_usd_per_kg=draw(maybe(between(0.0, 2.0))),
        rained_on=draw(st.none() | st.booleans()),
        drought=draw(st.none() | st.booleans()),
        frosted=draw(st.none() | st.booleans()),
        highest_temperature_c=draw(maybe(between(-40.0, 120.0))),
        feed_from=first,
        feed_by=first + timedelta(days=draw(st.integers(0, 300))),
        note=draw(TEXTS),
    )


@st.composite
def analytes(draw: st.DrawFn) -> Analyte:
    spec = draw(st.sampled_from(ANALYTES))
    headers = [h for h, held in HEADERS.items() if held.spec is spec and not held.is_method]
    held = HEADERS[draw(st.sampled_from(headers))]
    energy = held.unit.startswith(("mcal", "mj"))
    low, high = (3.0, 9.0) if spec.name == "ph" else (25.0, 90.0)
    if energy:
        low, high = (0.5, 1.3) if held.unit != "mj_per_kg" else (2.0, 6.0)
    number = repr(draw(between(low, high)))
    text = draw(st.sampled_from([number, number, f"<{number}", f"> {number}", "ND", "trace"]))
    return parse_analyte(held, text, draw(st.sampled_from(["", "NIR", "wet chemistry"])))


@st.composite
def reports(draw: st.DrawFn, report_id: str, lot_id: str) -> Report:
    values = draw(st.lists(analytes(), min_size=1, max_size=8, unique_by=lambda a: a.name))
    methods = {value.method for value in values}
    return Report(
        report_id=report_id,
        lot_id=lot_id,
        analytes=tuple(sorted(values, key=lambda value: ORDER[value.name])),
        sampled_on=draw(st.none() | DAYS),
        lab=draw(TEXTS),
        lab_no=draw(st.from_regex(r"[0-9]{0,8}", fullmatch=True)),
        tdn_method=draw(TEXTS) if methods else "",
        cores=draw(st.none() | st.integers(1, 100)),
    )


@st.composite
def groups(draw: st.DrawFn, group_id: str) -> Group:
    kind = draw(st.sampled_from(AnimalClass))
    calving = draw(DAYS)
    limit = WEIGHT_OF_CLASS[kind]
    weight = (limit.least, min(limit.most, 500.0))
    return Group(
        group_id=group_id,
        name=draw(NAMES),
        animal_class=kind,
        head=draw(st.integers(1, 5000)),
        weight_kg=draw(between(*weight)),
        weight_is_shrunk=draw(st.booleans()),
        mature_weight_kg=draw(between(300.0, 1100.0)),
        finish_weight_kg=draw(between(501.0, 900.0)),
        condition_score=draw(maybe(between(1.0, 9.0))),
        sex=draw(st.none() | st.sampled_from(Sex)),
        age_months=draw(between(0.0, 200.0)),
        calving_on=calving,
        weaning_on=calving + timedelta(days=draw(st.integers(1, 300))),
        peak_milk_kg_per_day=draw(maybe(between(0.0, 20.0))),
        gain_kg_per_day=draw(between(-1.0, 2.5)),
        activity_factor=draw(maybe(between(0.8, 1.5))),
        feeder=draw(st.none() | st.sampled_from(Feeder)),
        least_forage_pct_bw=draw(maybe(between(0.0, 4.0))),
        breed=draw(st.none() | st.sampled_from(BeefBreed)),
        crossed_with=draw(st.none() | st.sampled_from(BeefBreed)),
        calving_spread_days=draw(maybe(st.integers(0, 180))),
        coat=draw(st.none() | st.sampled_from(Coat)),
        hide=draw(st.none() | st.sampled_from(Hide)),
        mud=draw(st.none() | st.sampled_from(Mud)),
        mud_depth_cm=draw(maybe(between(0.0, 100.0))),
        windbreak=draw(st.booleans()),
        panting=draw(st.none() | st.sampled_from(Panting)),
        young=draw(maybe(between(1.0, 3.0))),
        work=draw(st.none() | st.sampled_from(Work)),
        note=draw(TEXTS),
        rations_at_most=draw(maybe(st.integers(1, 60))),
        least_ration_days=draw(maybe(st.integers(1, 180))),
        things_in_ration=draw(maybe(st.integers(1, 12))),
        week_may_lack_pct=draw(maybe(between(0.0, 10.0))),
        hays_at_once=draw(maybe(st.integers(1, 20))),
        assurance_pct=draw(maybe(between(50.0, 99.0))),
        feed_every_days=draw(maybe(st.integers(1, 14))),
        change_over_days=draw(maybe(st.integers(0, 21))),
    )


@st.composite
def feeds(draw: st.DrawFn, feed_id: str) -> Feed:
    kind = draw(st.sampled_from(FeedKind))
    first = draw(DAYS)
    return Feed(
        feed_id=feed_id,
        name=draw(NAMES),
        kind=kind,
        price_usd_per_kg=draw(between(0.0, 20.0)),
        table_id="table-row",
        dm_pct=draw(maybe(between(5.0, 100.0))),
        tdn_pct=draw(PCT),
        cp_pct=draw(PCT),
        most_kg=draw(maybe(between(50_000.0, 1e7))),
        most_kg_per_head_day=draw(maybe(between(1.0, 60.0))),
        least_kg_per_head_day=draw(maybe(between(0.0, 0.25))) if kind is FeedKind.MINERAL else None,
        bale_weight_kg=draw(maybe(between(1.0, 1000.0))),
        copper_ppm=draw(maybe(between(0.0, 5000.0))),
        selenium_ppm=draw(maybe(between(0.0, 200.0))),
        magnesium_pct=draw(maybe(between(0.0, 50.0))),
        vitamin_a_iu_per_kg=draw(maybe(between(0.0, 1e6))),
        vitamin_e_iu_per_kg=draw(maybe(between(0.0, 1e5))),
        ionophore=draw(st.none() | st.booleans()),
        note=draw(TEXTS),
        starch_pct=draw(maybe(between(0.0, 10.0)) if kind is FeedKind.MINERAL else PCT),
        fat_pct=draw(maybe(between(0.0, 4.0)) if kind is FeedKind.MINERAL else PCT),
        sulfur_pct=draw(PCT),
        from_on=first,
        to_on=first + timedelta(days=draw(st.integers(1, 300))),
        load_kg=None if kind is FeedKind.GRAZING else draw(maybe(between(1.0, 50_000.0))),
        **draw(st.sampled_from([{}, {"measure": "scoop", "measure_kg": 1.5}])),
    )


@st.composite
def wishes(draw: st.DrawFn, season: Season, source_id: str, group_id: str) -> WishRow:
    wish = draw(st.sampled_from(Wanted))
    amount = draw(between(0.01, 60.0)) if wish is Wanted.AMOUNT else None
    last = (season.end - season.start).days
    end = season.start + timedelta(days=draw(st.integers(2, last)))
    return WishRow(
        wish=wish,
        source_id=source_id,
        group_id=draw(st.sampled_from(["", group_id])),
        start=draw(maybe(st.just(season.start + timedelta(days=1)))),
        end=draw(maybe(st.just(end))),
        as_fed_kg_per_head_day=amount,
        note=draw(TEXTS),
    )


@st.composite
def seasons(draw: st.DrawFn, start: date) -> Season:
    days = draw(st.integers(31, 400))
    mild = draw(between(1.0, 99.0))
    return Season(
        start=start,
        end=start + timedelta(days=days),
        period_days=draw(st.integers(1, 31)),
        rainfall_mm_per_year=draw(maybe(between(0.0, 5000.0))),
        carry_over_value_pct=draw(between(1.0, 150.0)),
        least_forage_pct_bw=draw(maybe(between(0.0, 4.0))),
        intake_calibrated=draw(st.booleans()),
        acclimatise=draw(st.booleans()),
        cold_rule=draw(st.sampled_from([ColdRule.NONE, ColdRule.FACTORIAL])),
        wind_chill=draw(st.sampled_from(WindChill)),
        winter=draw(st.sampled_from(Winter)),
        intake_by_weather=draw(st.booleans()),
        maintenance_by_condition=draw(st.booleans()),
        grain_on_hay=draw(st.booleans()),
        least_ca_to_p=draw(maybe(between(0.0, 5.0))),
        simpler_for_pct=draw(between(0.0, 50.0)),
        hays_at_once=draw(maybe(st.integers(1, 20))),
        least_run_days=draw(maybe(st.integers(1, 180))),
        rations_at_most=draw(maybe(st.integers(1, 60))),
        least_ration_days=draw(maybe(st.integers(1, 180))),
        things_in_ration=draw(maybe(st.integers(1, 12))),
        week_may_lack_pct=draw(between(0.0, 10.0)),
        change_usd=draw(between(0.0, 1000.0)),
        least_serving_pct_bw=draw(between(0.0, 2.0)),
        reserve_days=draw(maybe(between(0.0, 365.0))),
        cash_limit_usd=draw(maybe(between(0.0, 1e8))),
        assurance_pct=draw(maybe(between(50.0, 99.0))),
        water_sulfate_ppm=draw(maybe(between(0.0, 10_000.0))),
        water_nitrate_no3n_ppm=draw(maybe(between(0.0, 1_000.0))),
        water_nitrate_no3_ppm=draw(maybe(between(0.0, 4_430.0))),
        winter_known_on=draw(maybe(st.just(start + timedelta(days=days // 2)))),
        mild_chance_pct=mild,
        severe_chance_pct=draw(st.sampled_from([0.0, 1.0])),
        late_price_pct=draw(between(1.0, 200.0)),
        weighed_on=draw(maybe(st.just(start - timedelta(days=40)))),
        intake_pct=draw(between(50.0, 150.0)),
    )


@st.composite
def farms(draw: st.DrawFn) -> Farm:
    ids = draw(st.lists(IDS, min_size=5, max_size=5, unique=True))
    start = draw(DAYS)
    season = draw(seasons(start))
    hay, group = draw(lots(ids[0])), draw(groups(ids[1]))
    days = draw(st.lists(DAYS, max_size=3, unique=True))
    return Farm(
        name=draw(NAMES),
        season=season,
        lots=(hay,),
        reports=(draw(reports(ids[2], ids[0])), draw(reports(ids[3], ids[0]))),
        groups=(group,),
        feeds=(draw(feeds(ids[4])),),
        needs=(
            StatedNeed(
                ids[1],
                start,
                start + timedelta(days=30),
                nem_mcal=draw(between(0.0, 60.0)),
                cp_kg=draw(maybe(between(0.0, 40.0))),
            ),
        ),
        weather=tuple(
            WeatherRow(
                day,
                False,
                draw(maybe(between(-60.0, 55.0))),
                draw(maybe(between(0.0, 200.0))),
                draw(maybe(between(0.0, 2000.0))),
            )
            for day in days
        ),
        fed=tuple(
            FedRow(day, ids[0], ids[1], mass_kg=draw(between(0.0, 1e6)), note=draw(TEXTS))
            for day in (*days, *days)
        ),
        place=draw(TEXTS),
        units=draw(st.sampled_from(["us", "metric"])),
        note=draw(TEXTS),
        wishes=draw(st.lists(wishes(season, ids[0], ids[1]), max_size=1).map(tuple)),
    )


# A whole farm is large to draw and to write; the cells have a property of their own below.
whole_farms = settings(
    max_examples=settings().max_examples // 5, suppress_health_check=[HealthCheck.too_slow]
)


@whole_farms
@given(farms())
def test_every_farm_comes_back_exactly(farm: Farm) -> None:
    with tempfile.TemporaryDirectory() as parent:
        write_folder(farm, Path(parent) / "farm")
        found = read_folder(Path(parent) / "farm")
        assert found.farm == farm
        write_folder(found.farm, Path(parent) / "again", found.layout)
        assert files_of(Path(parent) / "again") == files_of(Path(parent) / "farm")


@whole_farms
@given(farms(), farms())
def test_every_farm_comes_back_through_the_layout_of_another(one: Farm, other: Farm) -> None:
    with tempfile.TemporaryDirectory() as parent:
        write_folder(one, Path(parent) / "one")
        layout = read_folder(Path(parent) / "one").layout
        write_folder(other, Path(parent) / "other", layout)
        assert read_folder(Path(parent) / "other").farm == other


@given(
    st.sampled_from(["mass", "length", "price", "temperature", "percent", "mass_per_day"]),
    between(-1e5, 1e5),
    st.data(),
)
def test_every_number_comes_back_under_every_unit(
    dimension: str, value: float, data: st.DataObject
) -> None:
    canonical = CANONICAL[dimension].name
    column = Column("x", "x", "quantity", "a measure", dimension=dimension, field_unit=canonical)
    unit = data.draw(st.sampled_from(units_of(dimension)))
    text = format_cell(column, unit, value)
    assert text is not None
    assert parse_cell(column, unit, text) == value
