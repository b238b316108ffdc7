"""The weekly list: what a helper reads, and nothing that is not the program's."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from click.testing import CliRunner
from rich.console import Console

from rickyard.cli.main import main
from rickyard.cli.show.week import print_week
from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group
from rickyard.folder.io.write import write_folder
from rickyard.program.feedout.deliveries import with_deliveries
from rickyard.program.planning.season import plan_season
from rickyard.program.result.result import SeasonProgram
from rickyard.quantities import KG_PER_LB
from rickyard.sheets.paper.week import week_list
from rickyard.sheets.paper.week_days import week_start_of, week_starts
from rickyard.sheets.paper.week_pdf import week_pdf, weeks_pdf
from support.delivery_farms import cows, farm_of, lot
from support.season_example import START, WEEKS, example, large_example
from support.season_farms import farm_of as season_farm
from support.season_farms import hay, report_on
from support.shipped import SHORT, farm_fed_corn, shipped_farm
from support.turning_farms import turning_farm
from support.weekly import WEEKLY

PRINTED = date(2026, 11, 2)
NASTY = 'Lot #1 $x$ *bold* _it_ "q" \\ <tag> @ref [b]'


@pytest.fixture(scope="module")
def farm() -> Farm:
    return shipped_farm()


@pytest.fixture(scope="module")
def program(farm: Farm) -> SeasonProgram:
    return plan_season(farm, options=SHORT)


def pages(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]


def test_every_delivery_of_the_season_stands_in_exactly_one_cell(
    program: SeasonProgram, farm: Farm
) -> None:
    cells = 0
    for start in week_starts(program):
        week = week_list(program, farm, start)
        for group in week.groups:
            for line in group.lines:
                assert len(line.cells) == len(week.days)
                cells += 0 if line.is_share else sum(1 for cell in line.cells if cell)
    traces = weekly_traces(program)
    assert cells == len(program.deliveries) - traces
    assert traces < 0.1 * cells


def weekly_traces(program: SeasonProgram) -> int:
    """Count the loads of feeds of which no load of a week is half a pound."""
    loads: dict[tuple[str, str, int], list[float]] = {}
    for one in program.deliveries:
        key = (one.group_id, one.source_id, (one.day - program.start).days // 7)
        loads.setdefault(key, []).append(1.0 if one.bales is not None else one.mass_kg)
    return sum(len(one) for one in loads.values() if max(one) < 0.22)


def test_two_bucks_are_given_their_mineral_by_the_spoon() -> None:
    """A mineral is left off no list, however little of it two head eat in a week."""
    bucks = Group("bucks", "Bucks", AnimalClass.BUCK, 2, 60.0)
    salt = Feed("salt", "Mineral", FeedKind.MINERAL, 1.0, dm_pct=97.0, least_kg_per_head_day=0.009)
    stack = hay("stack", 56.0, 9.0, 4.0, 80.0)
    farm = season_farm([(stack, report_on(stack, 56.0, 9.0))], [bucks], [salt])
    program = with_deliveries(plan_season(farm, options=WEEKLY), farm)
    (told,) = week_list(program, farm, START).groups
    (line,) = (one for one in told.lines if one.name == "Mineral")
    assert line.unit == "oz, for 7 days"
    assert [float(cell) for cell in line.cells if cell] == [pytest.approx(16.0 * 0.28, abs=0.1)]
    assert "left off" not in repr(told)


def test_the_planned_total_stands_beside_the_days(program: SeasonProgram, farm: Farm) -> None:
    week = week_list(program, farm, program.start)
    heads = {group.name: group.group_id for group in farm.groups}
    for group in week.groups:
        for line in group.lines:
            mine = [
                one
                for one in program.deliveries
                if (one.group_id, one.source_id) == (heads[group.name], line.flag)
                and (one.day - program.start).days < 7
            ]
            if mine[0].bales is None:
                pounds = sum(one.mass_kg for one in mine) / KG_PER_LB
                pounds *= 16.0 if line.unit.startswith("oz") else 1.0
                assert float(line.planned.replace(",", "")) == pytest.approx(pounds, rel=0.03)
            else:
                assert line.planned == str(sum(one.bales or 0 for one in mine))


def test_the_farm_s_own_measure_stands_below_and_never_over_what_is_planned(
    program: SeasonProgram, farm: Farm
) -> None:
    loads = [one for one in program.deliveries if one.bales is None and one.mass_kg > 3.0]
    (first, *_) = (one for one in loads if one.source_id in {feed.feed_id for feed in farm.feeds})
    feeds = (
        replace(one, measure="bucket", measure_kg=2.0) if one.feed_id == first.source_id else one
        for one in farm.feeds
    )
    measured = replace(farm, feeds=tuple(feeds))
    name = next(one.name for one in farm.groups if one.group_id == first.group_id)
    groups = week_list(program, measured, first.day).groups
    lines = next(one.lines for one in groups if one.name == name)
    below = next(at for at, one in enumerate(lines) if one.is_share and "the same" in one.name)
    assert lines[below - 1].flag == lines[below].flag == first.source_id
    assert lines[below].unit == "bucket, 4.4 lb each"
    assert float(lines[below].cells[0]) == int(2.0 * first.mass_kg) / 4.0
    assert all(
        "the same" not in one.name for one in week_list(program, farm, first.day).groups[0].lines
    )


def test_what_is_too_little_to_weigh_is_left_off_and_said_to_be(
    program: SeasonProgram, farm: Farm
) -> None:
    (first, *_) = (one for one in program.deliveries if one.group_id == "bulls")
    trace = replace(first, source_id="ddgs", bales=None, mass_kg=0.1, for_days=1)
    others = [one for one in program.deliveries if one.source_id != "ddgs"]
    thin = replace(program, deliveries=(*others, trace))
    bulls = week_list(thin, farm, first.day).groups[-1]
    assert bulls.name == "Bulls"
    assert all(line.flag != "ddgs" for line in bulls.lines)
    (left_off,) = [one for one in bulls.says if "left off: " in one]
    assert "Dried distillers grains" in left_off


def test_a_cell_says_the_bales_or_the_pounds_of_its_day(program: SeasonProgram, farm: Farm) -> None:
    week = week_list(program, farm, program.start)
    spring = next(group for group in week.groups if group.name == "Spring cows")
    names = {one.source_id: one.name for one in program.sources}
    for line in spring.lines:
        source_id = line.flag
        assert names[source_id] == line.name
        for number, cell in enumerate(line.cells):
            day = program.start + timedelta(days=number)
            mine = [
                one
                for one in program.deliveries
                if (one.group_id, one.source_id, one.day) == ("cows", source_id, day)
            ]
            if not mine:
                assert cell == ""
            elif mine[0].bales is not None:
                assert cell == str(mine[0].bales)
                assert "bales, about" in line.unit
            else:
                pounds = float(cell.replace(",", ""))
                assert pounds == pytest.approx(mine[0].mass_kg / KG_PER_LB, rel=0.03)


def test_dangers_stand_with_the_group_that_gets_the_hay(program: SeasonProgram, farm: Farm) -> None:
    week = week_list(program, farm, program.start)
    told = {group.name: [one.about for one in group.cautions] for group in week.groups}
    assert "26-FLAT-1" not in told["Spring cows"]
    first = next(
        group for group in week.groups if any(line.flag == "26-FLAT-1" for line in group.lines)
    )
    assert "26-FLAT-1" in told[first.name]
    assert sum(about.count("26-FLAT-1") for about in told.values()) == told[first.name].count(
        "26-FLAT-1"
    )
    (line,) = [line for line in first.lines if line.flag == "26-FLAT-1"]
    assert line.mark == "▲"
    assert line.unit == "lb, weighed and mixed in"


def test_the_share_of_a_new_hay_stands_day_by_day() -> None:
    farm = turning_farm(7)
    program = plan_season(farm, options=WEEKLY)
    week = week_list(program, farm, program.start + timedelta(days=14))
    (share,) = [line for line in week.groups[0].lines if line.is_share]
    assert share.cells == ("14%", "29%", "43%", "57%", "71%", "86%", "100%")
    assert share.unit == "share of the day's hay"
    assert any("mix it in over 7 days" in one for one in week.groups[0].says)
    before = week_list(program, farm, program.start)
    assert not [line for line in before.groups[0].lines if line.is_share]


def test_a_hay_that_is_mixed_in_by_hand_stands_in_pounds_of_each_day() -> None:
    """Shares, a steady amount by the flake and whole bales said three things of one change."""
    farm = turning_farm(None)
    program = plan_season(farm, options=WEEKLY)
    week = week_list(program, farm, program.start + timedelta(days=14))
    new, old = [line for line in week.groups[0].lines if line.is_share]
    assert new.unit == old.unit == "lb a day in place of bales, if mixed by hand"
    assert not any("%" in cell for cell in (*new.cells, *old.cells))
    figures = [float(cell or 0) for cell in new.cells]
    assert figures == sorted(figures)
    day = program.start + timedelta(days=14)
    asked = sum(one.offered_kg / one.days * 2.2046 for one in program.feeding if one.start == day)
    for one, other in zip(new.cells, old.cells, strict=True):
        assert float(one or 0) + float(other or 0) == pytest.approx(asked, rel=0.06)
    (change,) = [one for one in week.groups[0].says if "Change from" in one]
    assert "feed of both what stands here for each day" in change
    assert not any("side by side" in one or "the list has" in one for one in week.groups[0].says)


def test_a_group_on_grass_is_told_so() -> None:
    grass = Feed("G", "Stockpiled fescue", FeedKind.GRAZING, 0.0, tdn_pct=60.0, cp_pct=11.0)
    farm = farm_of((lot(),), (cows(),), (grass,), weeks=2)
    program = plan_season(farm, options=WEEKLY)
    (group,) = week_list(program, farm, program.start).groups
    assert group.says == ("They are on Stockpiled fescue.",)
    # Nobody puts grass out, and the list of its week said nothing of ice, snow or bloat.
    assert any("can be grazed only while" in one.sentence for one in group.cautions)
    assert group.lines == ()
    assert "They are on Stockpiled fescue." in pages(week_pdf(program, farm, program.start))[0]


def test_groups_that_have_gone_are_left_out(program: SeasonProgram, farm: Farm) -> None:
    last = week_starts(program)[-1]
    names = [group.name for group in week_list(program, farm, last).groups]
    assert "Stocker steers" not in names
    assert "Spring cows" in names


def test_weeks_begin_with_the_season_and_cover_it() -> None:
    program, _ = example()
    starts = week_starts(program)
    assert (len(starts), starts[0]) == (WEEKS, START)
    assert week_start_of(program, START + timedelta(days=13)) == START + timedelta(days=7)
    assert week_start_of(program, program.end) is None
    assert week_start_of(program, START - timedelta(days=1)) is None


def test_the_list_is_letter_paper_and_names_lot_and_flag(
    program: SeasonProgram, farm: Farm
) -> None:
    pdf = week_pdf(program, farm, program.start, PRINTED)
    document = pypdfium2.PdfDocument(pdf)
    assert all(page.get_size() == (612.0, 792.0) for page in document)
    text = pages(pdf)
    assert "What to put out this week: Nov 2 to Nov 8, 2026" in text[0]
    assert "Mon, Nov 2 Tue, Nov 3" in text[0]
    assert "Stockpiled fescue" in text[0]
    assert "26-SAND-1 bales, about" in " ".join(text)
    assert "planned, total actually fed, total" in text[0]
    assert "▲ DANGER" in " ".join(text)
    assert "extension office" in text[-1]
    assert len(text) == 2  # five groups
    first_group = text[0].index("Spring cows 62 head")
    assert text[0].index("For the whole farm") < first_group
    assert all(
        "".join(one.sentence.split()) in "".join(text[0][:first_group].split())
        for one in week_list(program, farm, program.start).cautions
    )
    assert pdf == week_pdf(program, farm, program.start, PRINTED)


def test_every_week_has_pages_of_its_own() -> None:
    farm = turning_farm(7)
    program = plan_season(farm, options=WEEKLY)
    text = pages(weeks_pdf(program, farm, PRINTED))
    assert len(text) == 1 + len(week_starts(program)) == 7
    assert "To be read once, and known in every week" in text[0]
    for page, start in zip(text[1:], week_starts(program), strict=True):
        assert f"week: {start:%b} {start.day} to" in page


@pytest.mark.more
def test_first_use_in_the_way_every_week_tells_its_dangers_and_notes_stand_once() -> None:
    program, farm = large_example(9, 4, restless=True)
    program = with_deliveries(program, farm)
    book = pages(weeks_pdf(program, farm, PRINTED))
    starts = week_starts(program)[1::5]
    alone = [len(pages(week_pdf(program, farm, start, PRINTED))) for start in starts]
    titles = [f"week: {start:%b} {start.day} to" for start in starts]
    assert sum(any(title in page for title in titles) for page in book) < 0.7 * sum(alone)
    whole = "".join("".join(book).split())
    seen = 0
    for start in starts:
        week = week_list(program, farm, start)
        title = f"week: {start:%b} {start.day} to"
        mine = "".join("".join(page for page in book if title in page).split())
        for group in week.groups:
            for line in group.lines:
                assert "".join(line.planned.split()) in mine
            for one in group.cautions:
                said = "".join(one.sentence.split())
                if one.level == "danger":
                    assert said in mine
                    seen += 1
                elif one.about not in {group.group_id for group in farm.groups}:
                    assert whole.count(said) == 1
    assert seen


def test_names_are_never_markup_and_long_ones_are_cut() -> None:
    program, farm = large_example(8, 3, restless=True)
    for name in (NASTY, "W" * 300, "Άνω λιβάδι", ""):
        named = replace(program, sources=tuple(replace(one, name=name) for one in program.sources))
        ours = replace(farm, groups=tuple(replace(one, name=name) for one in farm.groups))
        ours = replace(ours, lots=lots_of(named, ours))
        fed = with_deliveries(named, ours)
        text = pages(week_pdf(fed, ours, START + timedelta(weeks=4)))
        if name == NASTY:
            assert 'Lot #1 $x$ *bold* _it_ "q" \\' in text[0]


def lots_of(program: SeasonProgram, farm: Farm) -> Any:
    sources = [one for one in program.sources if one.kind == "lot"]
    return tuple(
        replace(farm.lots[number % len(farm.lots)], lot_id=one.source_id, name=one.name)
        for number, one in enumerate(sources)
    )


def test_a_group_with_very_many_feeds_runs_over_pages() -> None:
    farm = farm_of((lot(),), (cows(),), weeks=2)
    program = plan_season(farm, options=WEEKLY)
    (first, *_) = program.deliveries
    feeds = tuple(
        Feed(f"F{number}", f"Feed no. {number}", FeedKind.SUPPLEMENT, 0.3) for number in range(30)
    )
    sources = tuple(replace(program.sources[0], source_id=f.feed_id, name=f.name) for f in feeds)
    many = tuple(replace(first, source_id=feed.feed_id, bales=None, mass_kg=10.0) for feed in feeds)
    crowded = replace(
        program, sources=(*program.sources, *sources), deliveries=(*program.deliveries, *many)
    )
    text = pages(week_pdf(crowded, replace(farm, feeds=feeds), program.start))
    assert len(text) > 1
    assert all(any(feed.name in page for page in text) for feed in feeds)
    assert all("Cows 20 head" in page for page in text)


def printed(program: SeasonProgram, farm: Farm, start: date, width: int = 80) -> str:
    out = io.StringIO()
    print_week(week_list(program, farm, start), farm, Console(file=out, width=width))
    return out.getvalue()


def test_the_terminal_keeps_to_eighty_columns(program: SeasonProgram, farm: Farm) -> None:
    text = printed(program, farm, program.start)
    assert max(len(line) for line in text.splitlines()) <= 80
    assert "Spring cows, 62 head" in text
    assert text.index("DANGER") < text.index("For the whole farm")
    assert "\x1b" not in text


def test_metric_farms_read_kilograms(program: SeasonProgram, farm: Farm) -> None:
    metric = replace(farm, units="metric")
    week = week_list(with_deliveries(program, metric), metric, program.start)
    lines = [line for group in week.groups for line in group.lines]
    assert lines
    assert all("kg" in line.unit and "lb" not in line.unit for line in lines)
    fed_corn = replace(farm_fed_corn(), units="metric")
    stepped = with_deliveries(plan_season(fed_corn, options=SHORT), fed_corn)
    weeks = [week_list(stepped, fed_corn, start) for start in week_starts(stepped)]
    says = [one for week in weeks for group in week.groups for one in group.says]
    assert any("kg a head" in one for one in says)
    assert not any("lb a head" in one for one in says)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "farm"
    write_folder(farm_of((lot(),), (cows(),), weeks=2), place)
    return place


def run(*arguments: object) -> Any:
    return CliRunner().invoke(main, [str(one) for one in arguments], catch_exceptions=False)


def test_the_command_shows_a_week_and_writes_it(folder: Path, tmp_path: Path) -> None:
    sheet = tmp_path / "week.pdf"
    result = run("week", folder, "--date", "2026-11-10", "--pdf", sheet)
    assert result.exit_code == 0, result.output
    assert "Nov 9 to Nov 15, 2026" in result.stdout
    assert len(pypdfium2.PdfDocument(sheet.read_bytes())) == 1
    result = run("week", folder, "--on", "2026-11-10", "--pdf", sheet, "--all")
    assert result.exit_code == 0, result.output
    assert len(pypdfium2.PdfDocument(sheet.read_bytes())) == 3


def test_a_day_outside_the_season_is_refused_with_the_days_of_the_season(folder: Path) -> None:
    result = run("week", folder, "--date", "2027-01-10")
    assert result.exit_code == 2
    assert "from Nov 2, 2026 to Nov 15, 2026" in result.stderr
    assert run("week", folder, "--all").exit_code == 2
    assert run("week", folder, "--from-date", "2028-01-01").exit_code == 2


def test_without_a_day_the_nearest_week_is_shown(folder: Path) -> None:
    result = run("week", folder)
    assert result.exit_code == 0
    assert "What to put out this week: " in result.stdout
