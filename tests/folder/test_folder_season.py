"""What a farm folder says of the season program: rules for hays, dated feeds, sales, wishes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from rickyard.farm import Farm, FeedKind, Wanted, WishRow
from rickyard.folder import FolderFaults, read_folder, read_wishes, write_folder
from support.farm_folders import GOOD, edited, good_folder, write_texts

KG_PER_LB = 0.45359237
PERIOD = "period_days = 7"


def farm_of(tmp_path: Path, **changed: str) -> Farm:
    texts = {name.replace("_csv", ".csv"): text for name, text in changed.items()}
    return read_folder(write_texts(tmp_path / "farm", {**GOOD, **texts})).farm


# ------------------------------------------------------------------ the choices

CHOICES = """period_days = 7
hays_at_once = 2
least_run_days = 21
change_usd = 25
least_serving_pct_bw = 0.2
reserve_days = 14
cash_limit_usd = 8000
assurance_pct = 90
water_sulfate_ppm = 350
winter_known_on = 2026-01-15
mild_chance_pct = 30
severe_chance_pct = 20
late_price_pct = 15"""


def test_choices_of_a_season(tmp_path: Path) -> None:
    found = read_folder(
        write_texts(tmp_path / "farm", {**GOOD, "farm.toml": edited("farm.toml", PERIOD, CHOICES)})
    )
    season = found.farm.season
    assert (season.hays_at_once, season.least_run_days, season.change_usd) == (2, 21, 25.0)
    assert (season.least_serving_pct_bw, season.reserve_days) == (0.2, 14.0)
    assert (season.cash_limit_usd, season.assurance_pct) == (8000.0, 90.0)
    assert season.water_sulfate_ppm == 350.0
    assert season.winter_known_on == date(2026, 1, 15)
    chances = (season.mild_chance_pct, season.severe_chance_pct, season.late_price_pct)
    assert chances == (30.0, 20.0, 15.0)
    assert found.questions == ()


def test_a_changed_choice_keeps_the_comments_of_the_file(tmp_path: Path) -> None:
    text = edited("farm.toml", PERIOD, f"{PERIOD}\n# few hays, for the helper\nhays_at_once = 2")
    found = read_folder(write_texts(tmp_path / "old", {**GOOD, "farm.toml": text}))
    season = replace(found.farm.season, hays_at_once=3, reserve_days=21.0)
    write_folder(replace(found.farm, season=season), tmp_path / "new", found.layout)
    written = (tmp_path / "new" / "farm.toml").read_text()
    assert "# few hays, for the helper\nhays_at_once = 3\n" in written
    assert "reserve_days = 21\n" in written
    assert read_folder(tmp_path / "new").farm.season == season


def test_choices_of_a_group(tmp_path: Path) -> None:
    table = (
        "group,name,class,head,weight_lb,hays_at_once,assurance_pct,feed_every_days,"
        "change_over_days\nCOWS,Cows,cow,60,1250,1,95,3,0\nHEIF,More,cow,9,1100,,,,\n"
        "STOCK,Bulls,bull,3,1900,,,,\n"
    )
    cows, heif, _ = farm_of(tmp_path, groups_csv=table).groups
    assert (cows.hays_at_once, cows.assurance_pct) == (1, 95.0)
    assert (cows.feed_every_days, cows.change_over_days) == (3, 0)
    blank = (heif.hays_at_once, heif.assurance_pct, heif.feed_every_days, heif.change_over_days)
    assert blank == (None, None, None, None)


# ------------------------------------------------------------------ feeds and sales


def test_grazing_has_its_days_and_no_loads(tmp_path: Path) -> None:
    table = (
        "feed,name,kind,price_usd_per_ton,dm_pct,tdn_pct,cp_pct,fat_pct,starch_pct,sulfur_pct,"
        "most_ton,from_on,to_on,load_lb\n"
        "cubes,Cubes,supplement,390,90,72,22,3.5,12,0.3,40,,2026-03-01,48000\n"
        "creek,Stockpiled fescue,grazing,12,45,62,12,,,,60,2025-11-20,2026-01-10,\n"
    )
    cubes, creek = farm_of(tmp_path, feeds_csv=table).feeds
    assert cubes.load_kg == pytest.approx(48_000 * KG_PER_LB)
    assert (cubes.fat_pct, cubes.starch_pct, cubes.sulfur_pct) == (3.5, 12.0, 0.3)
    assert (cubes.from_on, cubes.to_on) == (None, date(2026, 3, 1))
    assert creek.kind is FeedKind.GRAZING
    assert (creek.from_on, creek.to_on) == (date(2025, 11, 20), date(2026, 1, 10))
    assert creek.load_kg is creek.sulfur_pct is None


def test_sale_per_bale_is_a_sale_per_weight(tmp_path: Path) -> None:
    table = edited("lots.csv", "value_usd_per_ton", "sale_usd_per_bale").replace(",180,", ",,")
    found = read_folder(write_texts(tmp_path / "old", {**GOOD, "lots.csv": table}))
    first, second, third = found.farm.lots
    assert first.sale_usd_per_kg == pytest.approx(110 / (1150 * KG_PER_LB))
    assert second.sale_usd_per_kg == pytest.approx(80 / (1050 * KG_PER_LB))
    assert third.sale_usd_per_kg is first.value_usd_per_kg is None
    farm = replace(found.farm, lots=(replace(first, bale_weight_kg=500.0), second, third))
    write_folder(farm, tmp_path / "new", found.layout)
    assert read_folder(tmp_path / "new").farm == farm


def test_value_and_sale_stand_side_by_side(tmp_path: Path) -> None:
    table = edited("lots.csv", "field,cutting", "sale_usd_per_ton,cutting")
    table = table.replace(",North,", ",120,").replace(",River,", ",,").replace(",Hill,2,", ",,2,")
    first, second, _ = farm_of(tmp_path, lots_csv=table, moves_csv="day,lot,kind\n").lots
    per_ton = 1 / (2000 * KG_PER_LB)
    assert first.sale_usd_per_kg == pytest.approx(120 * per_ton)
    assert first.value_usd_per_kg == pytest.approx(110 * per_ton)
    assert (second.sale_usd_per_kg, second.value_usd_per_kg) == (None, pytest.approx(80 * per_ton))


# ------------------------------------------------------------------ questions

HORSES = (
    "group,name,class,head,weight_lb,change_over_days\n"
    "COWS,Cows,cow,60,1250,2\nHEIF,Saddle horses,horse,4,1100,3\nSTOCK,Mares,mare,3,1100,7\n"
)
QUESTIONS = {
    "run_shorter_than_a_period": (
        {"farm.toml": edited("farm.toml", PERIOD, f"{PERIOD}\nleast_run_days = 3")},
        'farm.toml, line 11, key season.least_run_days: "3" is less than a period of 7 days, and '
        "no run is shorter than that.\n  Is it written in days?",
    ),
    "chance_of_no_winter": (
        {"farm.toml": edited("farm.toml", PERIOD, f"{PERIOD}\nsevere_chance_pct = 40")},
        "farm.toml, line 11, key season.severe_chance_pct: it counts only together with "
        "winter_known_on, and that is not written.\n  On which day will the winter be known?",
    ),
    "winters_without_weather": (
        {
            "farm.toml": edited("farm.toml", PERIOD, f"{PERIOD}\nwinter_known_on = 2026-01-15"),
            "weather.csv": "day,mean_temperature_degF\n",
        },
        "farm.toml, line 11, key season.winter_known_on: mild and severe winters are built from "
        "weather.csv, and it has no rows.\n"
        "  Is the weather still to be added? Without it all winters are the same.",
    ),
    "one_winter_and_three": (
        {
            "farm.toml": edited(
                "farm.toml", PERIOD, f'{PERIOD}\nwinter = "severe"\nwinter_known_on = 2026-01-15'
            )
        },
        'farm.toml, line 11, key season.winter: "severe" is one winter to plan for, and '
        "winter_known_on is for all three.\n  Which of the two is meant?",
    ),
    "horses_changed_quickly": (
        {"groups.csv": HORSES},
        'groups.csv, row 3, column change_over_days: "3" is quick for a horse: seven to ten days '
        "are common practice.\n"
        "  Is there a reason? A quick change of hay can bring on colic; ask the veterinarian.",
    ),
    "feed_after_the_season": (
        {
            "feeds.csv": edited("feeds.csv", "most_ton,", "from_on,").replace(
                ",20,50", ",2026-05-01,50"
            )
        },
        'feeds.csv, row 2, column from_on: "2026-05-01" is after the season, which ends '
        "2026-04-15.\n  Is the year right? It is not fed in this season.",
    ),
    "feed_before_the_season": (
        {
            "feeds.csv": edited("feeds.csv", "most_ton,", "to_on,").replace(
                ",20,50", ",2025-10-01,50"
            )
        },
        'feeds.csv, row 2, column to_on: "2025-10-01" is before the season, which starts '
        "2025-11-15.\n  Is the year right? It is not fed in this season.",
    ),
}


@pytest.mark.parametrize("name", QUESTIONS)
def test_what_is_unusual_is_read_and_asked(name: str, tmp_path: Path) -> None:
    changed, question = QUESTIONS[name]
    found = read_folder(write_texts(tmp_path / "farm", {**GOOD, **changed}))
    assert [asked.message for asked in found.questions] == [question]


# ------------------------------------------------------------------ edges

FEEDS = "feed,name,kind,price_usd_per_ton,dm_pct,tdn_pct,cp_pct,most_ton,load_ton,from_on,to_on\n"
CUBES = FEEDS + "cubes,Cubes,supplement,390,90,72,22,{},{},{},{}\n"
WISH = "wish,source,start,end\nfeed,A1,{},{}\n"

#: What stands just at a limit, and the column that is at fault or in question, if any is.
EDGES = {
    "one_load_is_all": ("feeds.csv", CUBES.format(20, 20, "", ""), ""),
    "no_day_to_feed_on": (
        "feeds.csv",
        CUBES.format(20, "", "2026-01-15", "2026-01-15"),
        "to_on",
    ),
    "one_day_to_feed_on": ("feeds.csv", CUBES.format(20, "", "2026-01-15", "2026-01-16"), ""),
    "feed_from_the_end": ("feeds.csv", CUBES.format(20, "", "2026-04-15", ""), "from_on"),
    "feed_on_the_last_day": ("feeds.csv", CUBES.format(20, "", "2026-04-14", ""), ""),
    "feed_until_the_start": ("feeds.csv", CUBES.format(20, "", "", "2025-11-15"), "to_on"),
    "feed_on_the_first_day": ("feeds.csv", CUBES.format(20, "", "", "2025-11-16"), ""),
    "wish_of_no_day": ("wishes.csv", WISH.format("2026-01-15", "2026-01-15"), "end"),
    "wish_of_one_day": ("wishes.csv", WISH.format("2026-01-15", "2026-01-16"), ""),
    "wish_from_the_end": ("wishes.csv", WISH.format("2026-04-15", ""), "start"),
    "wish_on_the_last_day": ("wishes.csv", WISH.format("2026-04-14", ""), ""),
    "wish_until_the_start": ("wishes.csv", WISH.format("", "2025-11-15"), "end"),
    "wish_on_the_first_day": ("wishes.csv", WISH.format("", "2025-11-16"), ""),
    "weighed_on_the_first_day": (
        "farm.toml",
        edited("farm.toml", PERIOD, f"{PERIOD}\nweighed_on = 2025-11-15"),
        "",
    ),
    "no_normal_winter": (
        "farm.toml",
        edited(
            "farm.toml",
            PERIOD,
            f"{PERIOD}\nwinter_known_on = 2026-04-14\nmild_chance_pct = 60\nsevere_chance_pct = 40",
        ),
        "",
    ),
    "run_of_a_period": (
        "farm.toml",
        edited("farm.toml", PERIOD, f"{PERIOD}\nleast_run_days = 7"),
        "",
    ),
}


@pytest.mark.parametrize("name", EDGES)
def test_what_stands_just_at_a_limit(name: str, tmp_path: Path) -> None:
    file, text, column = EDGES[name]
    texts = {**GOOD, "wishes.csv": "wish,source\n", file: text}
    folder = write_texts(tmp_path / "farm", dict(texts))
    try:
        told = read_folder(folder).questions
    except FolderFaults as caught:
        told = caught.faults
    assert [one.column for one in told] == ([column] if column else [])


# ------------------------------------------------------------------ wishes

WISHES = (
    WishRow(
        Wanted.FEED,
        "A1",
        "HEIF",
        date(2026, 2, 1),
        date(2026, 3, 15),
        note="the barn hay around calving",
    ),
    WishRow(Wanted.KEEP_OFF, "cubes", end=date(2026, 1, 1)),
    WishRow(Wanted.AMOUNT, "A1", "STOCK", as_fed_kg_per_head_day=4 * KG_PER_LB),
)


def test_wishes_of_the_folder(tmp_path: Path) -> None:
    assert farm_of(tmp_path).wishes == WISHES


def test_a_folder_without_wishes_gets_the_file_with_the_first(tmp_path: Path) -> None:
    texts = {name: text for name, text in GOOD.items() if name != "wishes.csv"}
    found = read_folder(write_texts(tmp_path / "old", dict(texts)))
    farm = replace(found.farm, wishes=WISHES[1:])
    write_folder(farm, tmp_path / "new", found.layout)
    assert (tmp_path / "new" / "wishes.csv").read_text() == (
        "wish,source,group,end,as_fed_kg_per_head_day\n"
        "keep_off,cubes,,2026-01-01,\n"
        f"amount,A1,STOCK,,{4 * KG_PER_LB}\n"
    )
    assert read_folder(tmp_path / "new").farm == farm


def test_spaces_around_the_note_of_a_wish_are_left_out(tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "old")).farm
    spaced = replace(farm, wishes=(replace(WISHES[1], note=" while they last\n"),))
    write_folder(spaced, tmp_path / "new")
    assert read_folder(tmp_path / "new").farm.wishes[0].note == "while they last"


def test_wishes_of_a_file_of_any_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    farm = read_folder(good_folder(tmp_path / "farm")).farm
    (tmp_path / "try this.txt").write_text(GOOD["wishes.csv"])
    assert read_wishes(tmp_path / "try this.txt", farm) == WISHES
    monkeypatch.chdir(tmp_path)
    assert read_wishes("try this.txt", replace(farm, wishes=())) == WISHES
    (tmp_path / "none.csv").write_text("wish,source\n")
    assert read_wishes("none.csv", farm) == ()


FILES = {
    "unknown_names": (
        "wish,source,group\nkeep_off,A9,\nfeed,cube,COW\n",
        [
            'pins.csv, row 2, column source: "A9" is not in lots.csv or feeds.csv.\n'
            "  Write it as it is there, or add it there.",
            'pins.csv, row 3, column source: "cube" is not in lots.csv or feeds.csv.\n'
            "  Did you mean cubes? Write it as it is there, or add it there.",
            'pins.csv, row 3, column group: "COW" is not in groups.csv.\n'
            "  Did you mean COWS? Write it as it is there, or add it there.",
        ],
    ),
    "out_of_season": (
        "wish,source,start\nfeed,A1,2027-01-01\n",
        [
            'pins.csv, row 2, column start: "2027-01-01" is not in the season, which ends '
            "2026-04-15.\n  Check the year, or delete the row."
        ],
    ),
    "ends_before_it_starts": (
        "wish,source,start,end\nfeed,A1,2026-02-01,2026-01-01\n",
        [
            'pins.csv, row 2, column end: "2026-01-01" is not after the start, 2026-02-01.\n'
            "  Write the first day on which it no longer holds."
        ],
    ),
    "missing_column": (
        "wish,group\nfeed,COWS\n",
        ["pins.csv, row 1: the column source is missing.\n  Add it: the lot or feed."],
    ),
    "empty": ("", ["pins.csv: the file is empty.\n  Write the header row, or restore it."]),
}


@pytest.mark.parametrize("name", FILES)
def test_faults_of_a_file_of_wishes_name_that_file(name: str, tmp_path: Path) -> None:
    text, expected = FILES[name]
    farm = read_folder(good_folder(tmp_path / "farm")).farm
    (tmp_path / "pins.csv").write_text(text)
    with pytest.raises(FolderFaults) as caught:
        read_wishes(tmp_path / "pins.csv", farm)
    assert [fault.message for fault in caught.value.faults] == expected


def test_a_file_of_wishes_that_is_not_there(tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "farm")).farm
    for path, expected in (
        (tmp_path / "pins.csv", "pins.csv: the file is missing."),
        (tmp_path / "away" / "pins.csv", "away: there is no such folder."),
        (tmp_path / "farm", "farm: this is a folder, and a file is expected."),
    ):
        with pytest.raises(FolderFaults) as caught:
            read_wishes(path, farm)
        assert [fault.message.split("\n")[0] for fault in caught.value.faults] == [expected]


CLASHES = {
    ("keep_off,A1,,,,", "feed,A1,COWS,,,"): True,
    ("keep_off,A1,HEIF,,,", "feed,A1,COWS,,,"): False,
    ("keep_off,A1,,,2026-01-01,", "feed,A1,,2026-01-01,,"): False,
    ("keep_off,A1,,,2026-01-02,", "feed,A1,,2026-01-01,,"): True,
    ("keep_off,A1,,,,", "keep_off,A1,COWS,,,"): False,
    ("feed,A1,,,,", "amount,A1,COWS,,,3"): False,
    ("amount,A1,COWS,,,3", "amount,A1,COWS,,,3"): False,
    ("amount,A1,COWS,,,3", "amount,A1,,,,4"): True,
    ("amount,A1,COWS,,,3", "amount,B2,COWS,,,4"): False,
}


@pytest.mark.parametrize(("rows", "clash"), CLASHES.items())
def test_wishes_that_cannot_both_come_true(
    rows: tuple[str, str], clash: bool, tmp_path: Path
) -> None:
    head = "wish,source,group,start,end,as_fed_lb_per_head_day"
    texts = {**GOOD, "wishes.csv": "\n".join([head, *rows, ""])}
    found = read_folder(write_texts(tmp_path / "farm", dict(texts)))
    assert len(found.farm.wishes) == 2
    assert [(asked.row, asked.column) for asked in found.questions] == [(3, "wish")] * clash


AGAINST = {
    "keep_off,A1,,,,": 'wishes.csv, row 3, column wish: "keep_off" is against row 2, for the same '
    "animals and days.\n  Is the order right? The row that stands first counts.",
    "amount,A1,,,,6": 'wishes.csv, row 3, column wish: "amount" is another amount than in row 2, '
    "for the same animals and days.\n  Is the order right? The row that stands first counts.",
}


@pytest.mark.parametrize("second", AGAINST)
def test_which_of_two_wishes_counts_is_asked(second: str, tmp_path: Path) -> None:
    head = "wish,source,group,start,end,as_fed_lb_per_head_day"
    texts = {**GOOD, "wishes.csv": "\n".join([head, "amount,A1,COWS,,,4", second, ""])}
    found = read_folder(write_texts(tmp_path / "farm", dict(texts)))
    assert [asked.message for asked in found.questions] == [AGAINST[second]]
