"""The pages of the lots, the yard's page, their commands, JSON and calendar."""

import json
import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import icalendar
import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from rickyard.farm import AnimalClass, Farm, Group, LabPackage, MoveKind, MoveRow, Package, Storage
from rickyard.folder import read_folder
from rickyard.hay.precision.farm_variance import spread_of
from rickyard.hay.sampling import protocols, sampling_plan
from rickyard.hay.storage import standing
from rickyard.hay.yard import yard_page
from rickyard.hay.yard.outlook import Season, group_need_kg, outlook, sell_or_keep
from rickyard.program.inputs.opening_stock import yard_lot
from rickyard.program.result.result import Period
from rickyard.sheets.data_files.plain_json import document, plain
from rickyard.sheets.paper import calendar
from support.farm_folders import GOOD, write_texts

TODAY = date(2025, 10, 20)
COUNTRY = {
    "farm.toml": GOOD["farm.toml"].replace('units = "us"', 'units = "us"\ncountry = "US-KY"')
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_texts(tmp_path / "farm", {**GOOD, **COUNTRY})


@pytest.fixture
def farm(folder: Path) -> Farm:
    return read_folder(folder).farm


DM = {"A1": 86.0, "B2": 84.5, "C3": 87.0}


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


def page_of(
    farm: Farm, lot_id: str, today: date = TODAY, options: sampling_plan.Options | None = None
) -> sampling_plan.SamplePlan:
    pages = sampling_plan.farm_sample_plans(farm, today, DM, options)
    return next(page for page in pages if page.lot_id == lot_id)


def with_lot(farm: Farm, lot_id: str, **change: object) -> Farm:
    lots = tuple(
        replace(lot, **change) if lot.lot_id == lot_id else lot  # type: ignore[arg-type]
        for lot in farm.lots
    )
    return replace(farm, lots=lots)


# Ways to sample ---------------------------------------------------------------------------------


def test_ways_stand_side_by_side_with_precision_and_price() -> None:
    ways = protocols.protocols_for(200, spread_of("cp"), fee_usd=16.0)
    assert [(one.name, one.bales, one.price_usd) for one in ways] == [
        ("published protocol", 20, 40.0),
        ("common practice", 12, 32.0),
    ]
    strict, usual = ways
    assert strict.same_lab < usual.same_lab < usual.any_lab
    assert usual.same_lab == pytest.approx(1.645 * math.hypot(0.219, 0.5), abs=0.01)


def test_a_wanted_precision_and_a_patchy_hazard_come_first() -> None:
    within = protocols.protocols_for(120, spread_of("cp"), within=0.25)
    assert within[0].cores > 20
    patchy = protocols.protocols_for(160, spread_of("cp"), patchy=True)
    assert (patchy[0].name, patchy[0].bales) == ("patchy hazard", 32)
    few = protocols.protocols_for(8, spread_of("cp"))
    assert [(one.bales, one.cores_a_bale) for one in few] == [(8, 3), (8, 2)]


@pytest.mark.parametrize(("cores", "same", "other"), [(20, 1.46, 2.81), (5, 1.676, 2.928)])
def test_what_to_act_upon_is_the_difference_of_two_composites(
    cores: int, same: float, other: float
) -> None:
    """1.96 sqrt(2 (0.5775/n + 0.5^2)), between laboratories 1.0^2, for a very large lot."""
    way = protocols.protocol("", "", cores, 100_000, spread_of("cp"))
    assert way.act_on[0] == pytest.approx(same, abs=0.011)
    assert way.act_on[1] == pytest.approx(other, abs=0.011)


# Pages ------------------------------------------------------------------------------------------


def test_an_untested_lot_is_due_and_a_tested_one_is_not(farm: Farm) -> None:
    pages = sampling_plan.farm_sample_plans(farm, TODAY, DM)
    assert [page.lot_id for page in pages] == ["C3", "A1", "B2"]
    assert page_of(farm, "C3").dates.status in ("due", "late")
    assert page_of(farm, "A1").dates.status == "tested"


def test_a_test_of_later_is_not_known_yet(farm: Farm) -> None:
    assert page_of(farm, "A1", date(2025, 9, 30)).dates.status != "tested"
    assert page_of(farm, "A1", date(2025, 10, 1)).dates.status == "tested"


def test_the_page_of_a_lot_holds_all_that_is_needed(farm: Farm) -> None:
    page = page_of(farm, "C3", date(2025, 9, 1))
    assert page.sample_id == "C3-S1"
    assert page.dates.sample_on == date(2025, 9, 1)
    assert page.dates.ship_on == date(2025, 9, 2)  # the first of September is Labor Day
    assert page.dates.latest == date(2025, 10, 30)  # five working days of the laboratory
    assert page.order is not None
    assert [one.package for one in page.order.packages] == ["Basic"]
    assert {one.test for one in page.order.missing} == {"ca", "p"}
    assert page.choice is not None
    assert len(page.choice.bales) == 20
    assert page.choice.bales[-1] <= 40
    assert page.sample_g is not None
    assert 200 < page.sample_g < 500
    assert "end" in page.probing.face


def test_a_hazard_that_a_test_lacks_is_tested_alone(farm: Farm) -> None:
    page = page_of(with_lot(farm, "A1", highest_temperature_c=60.0), "A1")
    assert page.dates.status != "tested"
    assert "lacks bound protein" in page.dates.reasons[0]
    assert [one.test for one in page.wanted] == ["adicp"]
    # Its report holds nitrate, so a drought asks for no more.
    assert page_of(with_lot(farm, "A1", drought=True), "A1").dates.status == "tested"


def test_a_sale_wants_a_fresh_test(farm: Farm) -> None:
    page = page_of(farm, "A1", options=sampling_plan.Options(for_sale=frozenset({"A1"})))
    assert page.dates.status != "tested"
    assert "rfv" in {one.test for one in page.wanted}


def test_what_is_sold_is_not_sampled(farm: Farm) -> None:
    gone = MoveRow(date(2025, 11, 1), "C3", MoveKind.SOLD, bales=40.0)
    pages = sampling_plan.farm_sample_plans(
        replace(farm, moves=(*farm.moves, gone)), date(2025, 11, 2), DM
    )
    assert "C3" not in [page.lot_id for page in pages]


def test_bales_out_of_reach_are_not_drawn(farm: Farm) -> None:
    page = page_of(with_lot(farm, "C3", bales_reachable=25.0), "C3")
    assert page.choice is not None
    assert max(page.choice.bales) <= 25
    assert page.choice.remark is not None


def test_the_same_lot_draws_the_same_bales_and_another_others(farm: Farm) -> None:
    one, again = page_of(farm, "A1"), page_of(farm, "A1")
    other = page_of(farm, "A1", options=sampling_plan.Options(seed=7))
    assert one.choice == again.choice != other.choice


def test_a_narrow_probe_is_told_of(farm: Farm) -> None:
    narrow = page_of(farm, "C3", options=sampling_plan.Options(tip_m=0.0095))
    assert narrow.sample_g is not None
    if narrow.sample_g < 100:
        assert any("too small" in remark for remark in narrow.remarks)
    wide = page_of(farm, "C3", options=sampling_plan.Options(tip_m=0.0254))
    assert any("narrower probe" in remark for remark in wide.remarks)


def test_loose_hay_has_no_numbers_to_draw(farm: Farm) -> None:
    loose = with_lot(
        farm, "C3", package=Package.LOOSE, bale_weight_kg=900.0, bale_length_m=None,
        bale_width_m=None, bale_height_m=None,
    )  # fmt: skip
    page = page_of(loose, "C3")
    assert page.choice is None
    assert page.sample_g is None


# Calendar ---------------------------------------------------------------------------------------

STAMP = datetime(2025, 10, 20, 12, 0, tzinfo=UTC)


def events_of(data: bytes) -> list[icalendar.Event]:
    return list(icalendar.Calendar.from_ical(data).walk("VEVENT"))


def test_a_calendar_is_read_back_as_it_was_meant(farm: Farm) -> None:
    plans = sampling_plan.farm_sample_plans(farm, TODAY, DM)
    data = calendar.calendar_bytes([(farm.name, calendar.sampling_events(plans))], STAMP)
    whole = icalendar.Calendar.from_ical(data)
    assert whole["VERSION"] == "2.0"
    assert whole["PRODID"] == calendar.PRODUCT
    events = events_of(data)
    summaries = [str(one["SUMMARY"]) for one in events]
    assert summaries[-1] == "Result of Hill alfalfa expected"
    for one in events:
        for name in ("UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY"):
            assert name in one
        start, end = one.decoded("DTSTART"), one.decoded("DTEND")
        assert type(start) is date  # a whole day, so that no change of the clocks moves it
        assert (end - start).days == 1
        assert one.decoded("DTSTAMP").utcoffset() == timedelta(0)
    assert len({str(one["UID"]) for one in events}) == len(events)
    sample = plans[0].dates
    assert {one.decoded("DTSTART") for one in events} >= {sample.sample_on, sample.result_on}


def test_the_file_keeps_to_the_letter_of_the_standard(farm: Farm) -> None:
    long_name = with_lot(farm, "C3", name="Hügel; Süd, " + "ä" * 90)
    plans = sampling_plan.farm_sample_plans(long_name, TODAY, DM)
    data = calendar.calendar_bytes([(farm.name, calendar.sampling_events(plans))], STAMP)
    lines = data.split(b"\r\n")
    assert lines[0] == b"BEGIN:VCALENDAR"
    assert lines[-2:] == [b"END:VCALENDAR", b""]
    assert all(len(line) <= 75 for line in lines)
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert any("Hügel; Süd" in str(one["SUMMARY"]) for one in events_of(data))
    assert b"VALUE=DATE" in data


def test_a_day_that_moves_keeps_its_identity(farm: Farm) -> None:
    def made(today: date) -> list[icalendar.Event]:
        plans = sampling_plan.farm_sample_plans(farm, today, DM)
        return events_of(
            calendar.calendar_bytes([(farm.name, calendar.sampling_events(plans))], STAMP)
        )

    first, later = made(TODAY), made(TODAY + timedelta(days=9))
    assert str(first[0]["UID"]) == str(later[0]["UID"])
    assert first[0].decoded("DTSTART") != later[0].decoded("DTSTART")


def test_hay_baled_wet_is_probed_daily_to_the_end_of_its_watch(farm: Farm) -> None:
    wet = with_lot(farm, "C3", baled_moisture_pct=21.0)
    today = date(2025, 7, 25)
    events = calendar.heat_events(wet, today)
    assert [(one.day, one.until) for one in events] == [(today, date(2025, 8, 31))]
    (event,) = events_of(calendar.calendar_bytes([(wet.name, events)], STAMP))
    assert event["RRULE"]["FREQ"] == ["DAILY"]
    assert event["RRULE"]["UNTIL"] == [date(2025, 8, 31)]
    assert calendar.heat_events(wet, date(2025, 9, 1)) == ()


# The yard's page --------------------------------------------------------------------------------


def test_the_yard_adds_up(farm: Farm) -> None:
    page = yard_page(farm, date(2025, 12, 15), DM)
    assert page.bales == 120 - 4 - 1 - 2 + 80 + 40
    assert page.dry_kg == pytest.approx(sum(one.standing.dry_kg for one in page.lines))
    barn = page.lines[0]
    told = barn.account
    dry = sum(told.dry_kg.values()) - told.storage_loss_kg
    assert dry == pytest.approx(told.closing_dry_kg)
    assert told.bales == {
        "put_up": 121.0, "count": -1.0, "correction": -1.0, "fed": -2.0, "sold": -4.0,
    }  # fmt: skip
    assert [one.level for one in page.cautions] == ["warning"]
    assert "1 bale fewer than the book" in page.cautions[0].sentence


def test_the_yard_of_summer_holds_what_was_put_up(farm: Farm) -> None:
    summer = yard_page(farm, date(2025, 7, 1), DM)
    assert summer.lines[0].standing.bales == 121.0
    assert summer.cautions == ()
    autumn = yard_page(farm, date(2025, 10, 31), DM)
    assert autumn.lines[0].standing.dry_kg < summer.lines[0].standing.dry_kg


def test_lots_put_up_over_many_days_and_old_baleage_are_told(farm: Farm) -> None:
    late = MoveRow(date(2025, 6, 20), "A1", MoveKind.PUT_UP, bales=10.0)
    page = yard_page(replace(farm, moves=(*farm.moves, late)), date(2025, 12, 15), DM)
    assert any("two lots" in one.sentence for one in page.cautions)
    old = with_lot(farm, "B2", package=Package.BALEAGE, storage=Storage.WRAPPED)
    told = yard_page(old, date(2026, 7, 1), {**DM, "B2": 30.0}).cautions
    assert [one.level for one in told if one.about == "B2"] == ["danger", "warning"]


def test_enough_bales_weighed_ask_for_no_more(farm: Farm) -> None:
    few = yard_page(farm, TODAY, DM).lines[0]
    assert few.weigh == standing.bales_to_weigh(farm.lots[0])
    weighed = with_lot(farm, "A1", bales_weighed=20, bale_weight_sd_kg=20.0)
    assert yard_page(weighed, TODAY, DM).lines[0].weigh is None
    all_of_four = with_lot(farm, "A1", bales=4.0)
    assert yard_page(all_of_four, TODAY, DM).lines[0].weigh == 4


def test_enough_or_not_is_told_with_reserve() -> None:
    cows = Group("C", "Cows", AnimalClass.COW, 60, 590.0, feeding_loss_pct=15.0)
    season = replace_season(date(2026, 11, 1), date(2027, 3, 16))
    told = outlook([cows], season, date(2026, 10, 1), 300_000.0, 12.0)
    assert told.need_kg == pytest.approx(60 * 590 * 0.025 * 135 / 0.85 / 0.88)
    assert told.reserve_kg == pytest.approx(told.need_kg * 30 / 135)
    assert told.over_kg == pytest.approx(300_000 - told.need_kg - told.reserve_kg)
    assert told.out_on is None
    short = outlook([cows], season, date(2026, 10, 1), 100_000.0, 12.0)
    assert short.buy_kg == pytest.approx(-short.over_kg) == pytest.approx(short.buy_kg)
    assert short.out_on is not None
    assert date(2026, 11, 1) < short.out_on < date(2027, 3, 16)
    assert outlook([cows], season, date(2027, 4, 1), 1.0, 0.0).need_kg == 0.0


def replace_season(start: date, end: date) -> Season:
    return Season(start, end)


def test_a_rough_plan_worked_by_hand() -> None:
    """60 cows x 1300 lb x 2.2 % x 135 d, 15 % and 12 % of loss: 351,939 lb as fed at 88 % DM."""
    pound = 0.45359237
    cows = Group("C", "Cows", AnimalClass.COW, 60, 1300 * pound, feeding_loss_pct=15.0)
    need = group_need_kg(cows, date(2026, 11, 1), date(2027, 3, 16), 2.2)
    assert need / 0.88 / 0.88 / pound == pytest.approx(351_939, abs=1)


def test_hay_that_loses_more_must_bring_more() -> None:
    keeps, loses = (sell_or_keep(100.0, loss) for loss in (5.0, 30.0))
    assert keeps.later_must_be < loses.later_must_be == pytest.approx(142.857, abs=1e-3)
    assert sell_or_keep(100.0, 0.0, interest_pct=12.0, months=6.0).later_must_be == 106.0


# Commands ---------------------------------------------------------------------------------------


def test_the_sampling_command_answers_first_and_warns(folder: Path) -> None:
    found = run("sampling", str(folder), "--on", "2025-10-20")
    assert found.exit_code == 0, found.output
    assert "Sample Hill alfalfa" in found.output.splitlines()[2]
    said = " ".join(found.output.split())
    for word in ("published protocol", "common practice", ", seed ", "never climb", "Basic"):
        assert word in said
    assert max(map(len, found.output.splitlines())) <= 100


def test_the_sampling_command_writes_json_and_calendar(folder: Path, tmp_path: Path) -> None:
    ics = tmp_path / "yard.ics"
    found = run("sampling", str(folder), "--on", "2025-10-20", "--json", "-", "--ics", str(ics))
    written = json.loads(found.stdout)
    assert (written["rickyard"], written["on"]) == ("sampling", "2025-10-20")
    assert written["lots"][0]["choice"]["generator"] == "MT19937"
    assert len(events_of(ics.read_bytes())) == 2


def test_the_value_of_a_test_is_that_of_the_season_program(folder: Path) -> None:
    found = run("sampling", str(folder), "--on", "2025-10-20", "--value")
    assert found.exit_code == 0, found.output
    assert "its test ($" in found.output or "Knowing it saves about $" in found.output


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (("--lot", "Z9"), "no lot of this farm"),
        (("--on", "15.11.2025"), "year first"),
        (("--tip", "3 lb"), "length is expected"),
        (("--within", "0"), "range"),
    ],
)
def test_the_sampling_command_says_what_to_write(
    folder: Path, arguments: Sequence[str], word: str
) -> None:
    found = run("sampling", str(folder), *arguments)
    assert found.exit_code == 2
    assert word in found.output


def test_an_unknown_country_is_told(tmp_path: Path) -> None:
    texts = {**GOOD, "farm.toml": COUNTRY["farm.toml"].replace("US-KY", "XX")}
    found = run("sampling", str(write_texts(tmp_path / "farm", texts)))
    assert found.exit_code == 2
    assert "US-KY" in found.output


def test_the_yard_command_answers_first(folder: Path) -> None:
    found = run("yard", str(folder), "--on", "2025-12-15", "--book")
    assert found.exit_code == 0, found.output
    assert "233 bales" in found.output.splitlines()[2]
    said = " ".join(found.output.split())
    assert "correct" in said
    assert "2025-12-01 A1 corrected (J. Hand) -1" in said


def test_the_yard_command_writes_json(folder: Path) -> None:
    written = json.loads(run("yard", str(folder), "--on", "2025-12-15", "--json", "-").stdout)
    assert written["rickyard"] == "yard"
    assert written["yard"]["bales"] == 233.0
    assert written["yard"]["lines"][0]["account"]["bales"]["sold"] == -4.0


def test_json_holds_no_number_that_is_none() -> None:
    with pytest.raises(ValueError, match="JSON"):
        document("yard", tons=float("nan"))
    with pytest.raises(TypeError):
        plain({1, 2})


def test_labs_are_read_as_they_are_sold(farm: Farm) -> None:
    assert farm.labs[0] == LabPackage("County lab", "Basic", 16.0, "dm cp adf ndf tdn", "NIR", 5)
    assert farm.labs[0].names == ("dm", "cp", "adf", "ndf", "tdn")


# The season program ------------------------------------------------------------------------------


def start_t(farm: Farm, lot_id: str) -> float:
    lot = farm.lot(lot_id)
    periods = (Period(0, farm.season.start, 7),)
    return yard_lot(farm, lot, DM[lot_id], periods).start_kg_dm / 1000.0


def test_the_season_begins_with_what_the_book_leaves(farm: Farm) -> None:
    """Sold between the count and the season; what comes later is a later plan's."""
    before = start_t(replace(farm, moves=()), "B2")
    sold = MoveRow(date(2025, 11, 10), "B2", MoveKind.SOLD, bales=20.0)
    later = MoveRow(farm.season.start, "B2", MoveKind.SOLD, bales=20.0)
    assert start_t(replace(farm, moves=(sold, later)), "B2") == pytest.approx(before * 60 / 80)
    bought = MoveRow(date(2025, 11, 10), "B2", MoveKind.BOUGHT, bales=8.0)
    assert start_t(replace(farm, moves=(bought,)), "B2") == pytest.approx(before * 88 / 80)
    counted = MoveRow(date(2025, 6, 2), "B2", MoveKind.PUT_UP, bales=90.0)
    assert start_t(replace(farm, moves=(counted,)), "B2") == before


def test_hot_hay_alarms_while_fires_still_come(farm: Farm) -> None:
    hot = with_lot(farm, "C3", highest_temperature_c=70.0)
    fresh = yard_page(hot, date(2025, 7, 30), DM)
    assert [one.level for one in fresh.cautions if one.about == "C3"] == ["danger"]
    assert "fire department" in fresh.cautions[-1].sentence
    assert calendar.heat_events(hot, date(2025, 7, 30))[0].until == date(2025, 8, 31)
    late = yard_page(hot, date(2025, 10, 20), DM)
    assert [one for one in late.cautions if one.about == "C3"] == []
