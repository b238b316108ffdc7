"""Six newcomers, each from the first command to the answer wanted, every line read.

What each of them reads stands whole in ``data/newcomer-*.txt``, as it was when it was read over
aloud. A change of words on purpose writes the files anew with
``pytest tests/faults/test_newcomers.py --record``; read the difference before it is committed.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from rickyard.cli.main import main
from support.farm_folders import GOOD, write_texts
from support.many_farms import named, office

TODAY = "2026-11-28"

#: What no line that a person reads may hold.
_ODD = re.compile(r"\bnan\b|\binf\b|\bNone\b|Traceback|\{|\}|<[a-z_.]+ object|-0\.0\b|[A-Za-z]_usd")

PLACE = ["Stone creek", "Ashlow", "US-KY", "Nov 30", "April 10", "44"]
FESCUE = ["fescue", "round", "120", "4x5", "outside", "1", "June 3", "80", "no"]


class Journey:
    """What one newcomer types and reads, from the first command on."""

    def __init__(self, name: str, place: Path, *, record: bool) -> None:
        self.file = Path(__file__).parent / "data" / f"newcomer-{name}.txt"
        self.place, self.record = place, record
        self.read: list[str] = []

    def __call__(self, *arguments: str, code: int = 0, answers: list[str] | None = None) -> str:
        """Run a command, read every line of what it says, and return it."""
        typed = None if answers is None else "".join(f"{one}\n" for one in answers)
        # From where they stand: the length of a path must not fold a line elsewhere.
        arguments = tuple(one.replace(f"{self.place}{os.sep}", "") for one in arguments)
        result = CliRunner().invoke(main, list(arguments), input=typed, catch_exceptions=False)
        assert result.exit_code == code, result.output
        self.read.append(self._plain(f"$ rickyard {' '.join(arguments)}"))
        for line in result.output.splitlines():
            assert not _ODD.search(line), line
            assert line.isprintable(), repr(line)
            self.read.append(self._plain(line))
        self.read.append("")
        return re.sub(r"\s+", " ", result.output)

    def _plain(self, line: str) -> str:
        return line.replace(os.sep, "/").rstrip()

    def is_as_read_over(self) -> None:
        """Hold every line to what it was when it was read aloud."""
        found = "\n".join(self.read)
        if self.record:
            self.file.write_text(found, encoding="utf-8", newline="\n")
        assert found.splitlines() == self.file.read_text(encoding="utf-8").splitlines()


@pytest.fixture
def told(
    request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Journey:
    monkeypatch.chdir(tmp_path)
    name = request.node.name.removeprefix("test_").split("_")[1]
    return Journey(name, tmp_path, record=request.config.getoption("--record"))


def begun(told: Journey, folder: Path, stock: list[str], hay: list[str], feeds: list[str]) -> Path:
    """Write a first folder by answering the questions of ``rickyard new``."""
    answers = [*PLACE, *stock, "", *hay, "", *feeds, ""]
    said = told("new", str(folder), "--on", TODAY, answers=answers)
    assert f"{folder.name} is written" in said
    return folder


def test_a_specialist_sees_who_is_short_due_and_in_danger(told: Journey, tmp_path: Path) -> None:
    farms = office(tmp_path / "county")
    page = told("farms", str(farms), "--on", "2025-11-20", "--weekly", "--effort", "0")
    assert "3 farms on Nov 20, 2025: 1 short of hay" in page
    assert "Thin farm" in page.partition("Due by")[0]
    assert "Ash farm Sample and ship Hill alfalfa" in page
    assert "it can kill" in page
    results = told("read", str(farms), "--since", "2025-10-15")
    assert "1 lot of 1 farm, 1 with a danger" in results
    calendar, sheets = tmp_path / "all.ics", tmp_path / "all.pdf"
    told("sampling", str(farms), "--on", "2025-11-20", "--ics", str(calendar))
    told("plan", str(farms), "--weekly", "--effort", "0", "--pdf", str(sheets))
    assert calendar.stat().st_size > 500
    assert sheets.read_bytes().startswith(b"%PDF")
    told.is_as_read_over()


def test_a_cow_calf_producer_short_of_hay_learns_when_and_what_would_help(
    told: Journey, tmp_path: Path
) -> None:
    cows = ["cows", "60", "1250", "March 10"]
    hay = ["fescue", "round", "40", "4x5", "outside", "1", "June 3", "80", "no"]
    farm = str(begun(told, tmp_path / "home", cows, hay, ["corn", "240"]))
    assert "Hay runs short" in told("plan", farm, "--effort", "0")
    said = told("what-if", farm, "--effort", "0", "--head", "cow=20")
    assert "Cows at 20 head" in said
    assert "less is short" in said or "nothing is short anymore" in said
    assert "How short, week by week: As it is" in said
    lot = (tmp_path / "home" / "lots.csv").read_text().splitlines()[1].split(",")[0]
    said = told("what-if", farm, "--effort", "0", "--buy", f"{lot}=150 ton")
    assert "150 tons of hay like" in said
    assert "less is short" in said or "nothing is short anymore" in said
    assert "The hay bought is worth $" in said
    told.is_as_read_over()


def test_a_hay_seller_without_stock_learns_what_hay_is_worth(told: Journey, tmp_path: Path) -> None:
    texts = {
        **named("Seller", groups=GOOD["groups.csv"].splitlines()[0] + "\n"),
        "fed.csv": "day,source,group,bales,mass_lb,note\n",
    }
    farm = str(write_texts(tmp_path / "seller", texts))
    page = told("read", farm)
    assert "ask the seller" not in page
    said = told("what-if", farm, "--effort", "0", "--sale", "A1=250")
    assert "Barn orchardgrass sold at $250 a ton" in said
    assert "Money paid for feed, less what sales bring: $" in said
    price = told("price", "hay", "--ton", "120 $/ton", "--weight", "1150 lb", "--tdn", "58")
    assert "$" in price
    told.is_as_read_over()


def test_a_smallholder_with_sheep_goats_and_a_horse_is_told_what_kills_them(
    told: Journey, tmp_path: Path
) -> None:
    sheep = ["ewes", "20", "150", "March 1"]
    farm = begun(told, tmp_path / "small", sheep, FESCUE, ["corn", "240"])
    feeds = (farm / "feeds.csv").read_text(encoding="utf-8").splitlines()
    assert len(feeds) == 2
    page = told("plan", str(farm), "--effort", "0")
    assert "Ewes, 20 head" in page
    assert "copper" in page or "mineral" in page
    assert "ask" in page.lower()
    assert "hulls" in told("feeds", "hulls").lower()
    told.is_as_read_over()


def test_a_grower_of_stockers_sees_the_gain_that_was_asked(told: Journey, tmp_path: Path) -> None:
    header, *rows = GOOD["groups.csv"].splitlines()
    texts = {
        **named("Grower", groups=f"{header}\n{rows[2]}\n"),
        "fed.csv": "day,source,group,bales,mass_lb,note\n",
    }
    farm = str(write_texts(tmp_path / "grower", texts))
    assert "1.50" in told("needs", farm)
    assert "Stockers, 30 head" in told("plan", farm, "--effort", "0")
    week = told("week", farm, "--effort", "0", "--date", "2026-01-05")
    assert "Stockers" in week
    told.is_as_read_over()


@pytest.mark.more
def test_a_ranch_asks_what_a_storm_and_less_cash_would_do(told: Journey, tmp_path: Path) -> None:
    texts = {
        **named("Ranch"),
        "fed.csv": "day,source,group,bales,mass_lb,note\n",
        "weather.csv": (
            "day,mean_temperature_degF,wind_mph,precipitation_in\n"
            "2026-01-10,35,0,0\n2026-01-11,-5,20,0\n2026-01-12,-10,15,0\n"
        ),
    }
    farm = str(write_texts(tmp_path / "ranch", texts))
    assert "Ranch" in told("plan", farm, "--weekly", "--effort", "0")
    assert "Ranch" in told("why", farm, "--weekly", "--effort", "0", "--answers", "0")
    storm = told("cold", farm, "--on", "2026-01-08")
    assert "Begin on Jan 10" in storm
    changes = "--cash", "1000", "--condition", "COWS=5.5"
    said = told("what-if", farm, "--weekly", "--effort", "0", *changes)
    assert "$1,000 to spend" in said
    assert "Mature cows in condition 5.5" in said
    told.is_as_read_over()
