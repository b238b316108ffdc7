"""The worst folders a person can hand in get a plain answer, and get it soon."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from rickyard.cli.main import main

TOML = """format = 1
name = "Last Farm"
units = "us"

[season]
start = 2026-11-02
end = 2027-04-05
period_days = {days}
rainfall_in_per_year = 40
{more}"""

LOTS_HEAD = (
    "lot,name,forage,package,storage,wrap,bales,bale_weight_lb,baled_on,counted_on,"
    "value_usd_per_ton"
)
GROUPS_HEAD = (
    "group,name,class,head,weight_lb,calving_on,mature_weight_lb,age_months,gain_lb_per_day,sex"
)
FEEDS = """feed,name,kind,table_id,price_usd_per_ton
cubes,Range cubes 38%,supplement,range_cubes_38,455
hulls,Soybean hulls,supplement,soybean_hulls,214
mineral,Winter mineral,mineral,free_choice_mineral_winter,1080
"""
COWS = "cows,Spring cows,cow,{head},1300,2027-03-12,1300,,,"
HEIFERS = "heifers,Heifers,replacement_heifer,{head},580,,1300,8,1.3,female"


def lots(count: int, bales: float = 40.0) -> str:
    forages = ("cool_grass", "legume_grass", "warm_grass", "alfalfa")
    rows = [
        f"L{n},Lot {n},{forages[n % 4]},round,enclosed_barn,net,{bales:g},{900 + n},2026-06-20,"
        f"2026-10-26,{60 + n % 50}"
        for n in range(count)
    ]
    return "\n".join([LOTS_HEAD, *rows]) + "\n"


def groups(*rows: str) -> str:
    return "\n".join([GROUPS_HEAD, *rows]) + "\n"


def folder(
    path: Path,
    *,
    hay: str,
    herd: str,
    feeds: str = FEEDS,
    wishes: str = "",
    more: str = "",
    days: int = 14,
) -> Path:
    path.mkdir()
    texts = {
        "farm.toml": TOML.format(more=more, days=days),
        "lots.csv": hay,
        "reports.csv": "report,lot\n",
        "groups.csv": herd,
        "feeds.csv": feeds,
        "wishes.csv": wishes,
    }
    for name, text in texts.items():
        if text:
            (path / name).write_text(text, encoding="utf-8")
    return path


def answered(where: Path, *options: str, code: int = 0) -> tuple[str, str]:
    """Run the command: it ends by itself, and says what a person can read."""
    done = CliRunner().invoke(main, ["plan", str(where), *options], catch_exceptions=False)
    assert done.exit_code == code, done.output
    assert "Traceback" not in done.stderr
    return " ".join(done.stdout.split()), " ".join(done.stderr.split())


RULES = "hays_at_once = 2\nleast_run_days = 14\nchange_usd = 20\nreserve_days = 20\n"


def test_no_hay(tmp_path: Path) -> None:
    where = folder(tmp_path / "f", hay=lots(0), herd=groups(COWS.format(head=60)), more=RULES)
    said, _ = answered(where)
    assert "Spring cows are short of" in said


def test_no_feeds(tmp_path: Path) -> None:
    head = FEEDS.splitlines()[0] + "\n"
    where = folder(
        tmp_path / "f",
        hay=lots(3),
        herd=groups(COWS.format(head=60)),
        feeds=head,
        more=RULES,
        days=28,
    )
    said, _ = answered(where)
    assert "Nothing is bought." in said
    assert "Lot 0" in said


def test_neither_hay_nor_feeds_nor_stock(tmp_path: Path) -> None:
    head = FEEDS.splitlines()[0] + "\n"
    where = folder(tmp_path / "f", hay=lots(0), herd=groups(), feeds=head, more=RULES)
    said, aside = answered(where)
    assert "Nothing is bought." in said
    assert aside == ""


def test_zero_head(tmp_path: Path) -> None:
    """A group without animals is a slip that is asked about, by name."""
    herd = groups(COWS.format(head=0), HEIFERS.format(head=12))
    where = folder(tmp_path / "f", hay=lots(3), herd=herd, more=RULES)
    said, aside = answered(where, code=3)
    assert said == ""
    assert 'groups.csv, row 2, column head: "0"' in aside


def test_one_bale(tmp_path: Path) -> None:
    herd = groups(COWS.format(head=60), HEIFERS.format(head=12))
    said, _ = answered(folder(tmp_path / "f", hay=lots(1, bales=1.0), herd=herd, more=RULES))
    assert "Hay runs short from Nov 2" in said


@pytest.mark.parametrize("count", [40, pytest.param(300, marks=pytest.mark.long)])
def test_very_many_lots(count: int, tmp_path: Path) -> None:
    herd = groups(COWS.format(head=60), HEIFERS.format(head=9))
    where = folder(tmp_path / "f", hay=lots(count, bales=4200.0 / count), herd=herd, more=RULES)
    document = tmp_path / "plan.json"
    answered(where, "--json", str(document), "--seconds", "2")
    plan = json.loads(document.read_text(encoding="utf-8"))
    assert len(plan["lots"]) == count
    assert plan["status"] == "complete"


def test_conflicting_pins_in_one_file_are_asked_about(tmp_path: Path) -> None:
    wishes = "wish,source,group\nfeed,L0,cows\nkeep_off,L0,cows\n"
    where = folder(
        tmp_path / "f", hay=lots(3), herd=groups(COWS.format(head=40)), wishes=wishes, more=RULES
    )
    said, _ = answered(where)
    assert "Lot 0 to Spring cows all season: kept." in said
    assert "No Lot 0 to Spring cows all season: not kept" in said


@pytest.mark.parametrize("rules", ["", pytest.param(RULES, marks=pytest.mark.long)])
def test_pins_against_all_there_is(tmp_path: Path, rules: str) -> None:
    """More hays than may be fed at once, more of one than stands, and none of any."""
    where = folder(
        tmp_path / "f",
        hay=lots(4, bales=30.0),
        herd=groups(COWS.format(head=60), HEIFERS.format(head=12)),
        wishes="wish,source,group\nkeep_off,L1,\nkeep_off,cubes,\nkeep_off,hulls,\n",
        more=rules,
    )
    pins = tmp_path / "pins.csv"
    pins.write_text(
        "wish,source,group,as_fed_lb_per_head_day\nfeed,L0,cows,\nfeed,L1,cows,\nfeed,L2,cows,\n"
        "feed,L3,cows,\namount,L0,heifers,30\namount,L2,cows,40\n",
        encoding="utf-8",
    )
    said, _ = answered(where, "--pin", str(pins))
    for name in ("Lot 0", "Lot 1", "Lot 2", "Lot 3"):
        assert f"{name} to Spring cows" in said
    assert "not kept, because" in said or "kept only in part" in said
    assert "No Soybean hulls to every group all season: kept." in said


@pytest.mark.parametrize(
    ("count", "days"),
    [
        pytest.param(12, 28, marks=pytest.mark.more),
        pytest.param(300, 14, marks=pytest.mark.long),
        pytest.param(300, 7, marks=pytest.mark.long),
    ],
)
def test_all_that_is_worst_at_once(count: int, days: int, tmp_path: Path) -> None:
    """Hundreds of lots of one bale, nothing to buy, every rule, and pins against each other."""
    head = FEEDS.splitlines()[0] + "\n"
    cash = "cash_limit_usd = 1\nsimpler_for_pct = 2\n"
    where = folder(
        tmp_path / "f",
        hay=lots(count, bales=1.0),
        herd=groups(COWS.format(head=60), HEIFERS.format(head=12)),
        feeds=head,
        wishes="wish,source,group\nkeep_off,L7,\nfeed,L8,heifers\n",
        more=RULES + cash,
        days=days,
    )
    pins = tmp_path / "pins.csv"
    rows = [f"feed,L{number},cows," for number in range(8)]
    pins.write_text(
        "\n".join(["wish,source,group,as_fed_lb_per_head_day", *rows, "amount,L9,cows,40", ""]),
        encoding="utf-8",
    )
    document = tmp_path / "plan.json"
    said, _ = answered(where, "--pin", str(pins), "--json", str(document))
    plan = json.loads(document.read_text(encoding="utf-8"))
    assert plan["status"] == "short"
    assert "Spring cows are short of" in said
    assert len(plan["wishes"]) == 11
    assert all(one["sentence"] for one in plan["wishes"])
