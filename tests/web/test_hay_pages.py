"""The page of all hay says what the service says; a lot is put up once, by the folder's rules."""

import re
from collections.abc import Iterator
from datetime import date
from html import unescape
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import read_farm
from rickyard.display import display_for, money_text
from rickyard.hay.sampling import too_hot_to_touch
from rickyard.service import open_farm, read_lots, yard_on
from rickyard.service.sections import by_worth, hay_list
from support.farm_folders import GOOD, write_texts

DAY = date(2026, 11, 28)
DEMO = Path(__file__).resolve().parents[2] / "src" / "rickyard" / "demo_farm"
PUT_UP = "/hill-farm/hay/put-up?on=2025-12-04"
#: Every question answered, the bale not weighed.
ANSWERS: dict[str, str | list[str]] = {
    "field_name": "Lane",
    "cutting": "2",
    "baled_on": "2025-07-20",
    "forage": "legume_grass",
    "species": "alfalfa and orchardgrass",
    "bales": "58",
    "package": "round",
    "wrap": "net",
    "storage": "enclosed_barn",
    "happened": ["rained_on"],
}


@pytest.fixture
def hill(new_book: BookPlace, open_pages: Any, tmp_path: Path) -> Iterator[Any]:
    """Return the season of a farm in a book of the test's own, whose pages can be asked for."""
    with opened_book(new_book):
        season = take_in(write_texts(tmp_path / "good", GOOD)).season
        open_pages(new_book)
        yield season


def post(act: str, **changed: str | list[str]) -> Any:
    client = Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)
    return client.post(PUT_UP, {**ANSWERS, "act": act, **changed})


def lots(hill: Any) -> tuple[Any, ...]:
    return read_farm(None, hill.id).lots


def test_the_list_says_of_each_lot_what_the_service_says(get: Any) -> None:
    page = get(f"/larkmoor-farm/hay/?on={DAY}")
    farm = open_farm(DEMO).farm
    lines = by_worth(hay_list(farm, DAY))
    rows = [" ".join(" ".join(row).split()) for row in page.rows("h-lots")[1:]]
    assert len(rows) == len(lines) == 9
    for row, one in zip(rows, lines, strict=True):
        assert row.startswith(one.lot.name)
        assert one.worth_usd_per_kg is not None
        assert money_text(one.worth_usd_per_kg * display_for("us").kg_per_ton) in row
        assert f"{one.yard.standing.bales:,.0f} bales" in row
        assert one.kept_from[1:] in row
    assert "9 lots, 1,148 bales. 1 is untested, 2 are dangerous." in page.text
    assert "None to Spring cows and First-calf heifers; at most 35% of the dry matter" in page.text
    danger = next(one for line in lines for one in line.reading.cautions if one.level == "danger")
    assert page.text.index(danger.sentence) < page.text.index("Lots standing")
    assert "best in energy that no danger bars is Rye baleage" in page.text


@pytest.mark.parametrize(
    ("by", "first"),
    [("bales", "Small squares"), ("name", "Barn orchardgrass"), ("danger", "Browned alfalfa")],
)
def test_the_list_is_sorted_as_asked(get: Any, by: str, first: str) -> None:
    row = get(f"/larkmoor-farm/hay/?on={DAY}&by={by}").rows("h-lots")[1]
    assert " ".join(row[0].split()).startswith(first)


def test_looking_at_a_lot_shows_its_flag_and_writes_nothing(hill: Any) -> None:
    before = lots(hill)
    page = post("look").content.decode()
    assert "two strokes" in page
    assert "2025-LANE-C2-L01" in page
    assert "A bale weighs 1,000 lb" in page
    assert "loses about 2% by the end" in page
    assert "Take 20 cores" in page
    assert lots(hill) == before


def test_a_lot_is_put_up_once_however_often_its_form_is_sent(hill: Any) -> None:
    before, fact = lots(hill), str(uuid4())
    first, again = (post("put up", fact=fact) for _ in range(2))
    assert first["Location"] == again["Location"] == "/hill-farm/hay/2025-LANE-C2-L01"
    added = lots(hill)[len(before) :]
    assert [one.name for one in added] == ["Lane alfalfa and orchardgrass"]
    lot = added[0]
    assert (lot.bales, lot.cutting, lot.counted_on) == (58, 2, date(2025, 12, 4))
    assert lot.note == "assumed: a bale weighs 1,000 lb"
    assert lot.bales_weighed == 0
    # What is not ticked is not known, unless none of it happened.
    assert (lot.rained_on, lot.frosted) == (True, None)
    post("put up", happened=["none"], fact=str(uuid4()))
    last = lots(hill)[-1]
    assert (last.lot_id, last.rained_on, last.frosted) == ("2025-LANE-C2-L02", False, False)


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"storage": ""}, "Choose where it stands."),
        ({"bales": "many"}, "&quot;many&quot; is not a number."),
        ({"bale_weight_kg": "60", "bale_weight_kg_unit": "lb"}, "too light for a round bale"),
        ({"baled_on": "2025-12-24"}, "2025-12-24 is after today"),
        ({"happened": ["none", "frosted"]}, "not both"),
    ],
)
def test_what_breaks_a_rule_is_told_at_its_question_and_nothing_is_written(
    hill: Any, changed: dict[str, str], says: str
) -> None:
    before = lots(hill)
    answer = post("put up", **changed)
    assert answer.status_code == 422
    assert says in answer.content.decode().replace("\n", " ")
    assert lots(hill) == before


def test_a_lot_says_what_to_do_the_danger_first_and_a_test_before_it_is_needed(get: Any) -> None:
    client = Client(SERVER_NAME="127.0.0.1")
    farm = open_farm(DEMO).farm
    yard, told = yard_on(farm, DAY), set()
    tips = {one.lot_id: one.advice for one in yard.lines if one.standing.bales > 0.0}
    for reading in read_lots(farm).readings:
        lot_id = reading.lot_id
        page = client.get(f"/larkmoor-farm/hay/{lot_id}?on={DAY}").content.decode()
        part = page.partition('id="h-do"')[2].partition("</section>")[0]
        facts = dict(re.findall(r"<dt>(.*?)</dt><dd>(.*?)</dd>", unescape(part)))
        if lot_id not in tips:
            assert facts == {}
            continue
        cautions = [*reading.cautions, *(one for one in yard.cautions if one.about == lot_id)]
        danger = any(one.level == "danger" for one in cautions)
        assert ("The danger" in facts) == danger, lot_id
        assert not danger or next(iter(facts)) == "The danger"
        assert facts.get("Test", "") == reading.repeat
        assert ("Weigh" in facts) == (farm.lot(lot_id).bale_weight_kg is None)
        lose = " ".join(one.sentence for one in tips[lot_id])
        assert facts.get("To lose less", "") == lose
        leads = f"/larkmoor-farm/tests/{lot_id}/cores" in part
        assert leads == (bool(facts) and not too_hot_to_touch(farm.lot(lot_id))), lot_id
        told |= set(facts)
    assert "The danger" in told
