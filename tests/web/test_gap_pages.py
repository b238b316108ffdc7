"""A farm of which something is not known: its pages are shown, and take what lacks."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import farm_of, take_in
from rickyard.book.services import read_things, write_thing
from rickyard.quantities import KG_PER_LB
from support.farm_folders import GOOD, write_texts

ON = "?on=2025-12-04"
UNKNOWN = {
    "lot": ("A1", {"bale_weight_kg": None, "bale_diameter_m": None, "bale_width_m": None}),
    "group": ("STOCK", {"age_months": None}),
}


@pytest.fixture
def season(new_book: BookPlace, tmp_path: Path) -> Iterator[Any]:
    """Return a season in which one lot was not weighed and the age of one group is not known."""
    with opened_book(new_book):
        found = take_in(write_texts(tmp_path / "good", dict(GOOD))).season
        for kind, (name, unknown) in UNKNOWN.items():
            things = read_things(None, found.id, kind)
            thing, seen, item = next(one for one in things if getattr(one[2], f"{kind}_id") == name)
            write_thing(None, found.id, kind, replace(item, **unknown), thing=thing, seen=seen)
        yield found


def test_pages_are_shown_with_what_lacks_and_take_it(
    season: Any, new_book: BookPlace, open_pages: Callable[..., Any]
) -> None:
    get, client = open_pages(new_book), Client(SERVER_NAME="127.0.0.1")
    for one in ("", "hay/", "yard-map", "tests/", "look-back/", "years/", "hay/A1"):
        page = get(f"/hill-farm/{one}{ON}")
        assert page.status == 200, one
        told = "1 lot not weighed yet: weigh three bales."
        assert (told in page.text) == (one in ("", "hay/")), one
    assert "Not weighed yet: weigh three bales A bale weighs 1,000 lb assumed" in page.text
    assert get(f"/letter/hill-farm{ON}").status == 200
    sent = {"bale1": "1,100", "bale2": "1,140", "bale3": "heavy", "bale1_unit": "lb"}
    wrong = client.post(f"/hill-farm/hay/A1/weigh{ON}", sent)
    assert wrong.status_code == 422
    assert "heavy" in wrong.content.decode()
    sent["bale3"] = ""
    assert client.post(f"/hill-farm/hay/A1/weigh{ON}", sent).status_code == 302
    lot = farm_of(season).lot("A1")
    assert (round((lot.bale_weight_kg or 0.0) / KG_PER_LB), lot.bales_weighed) == (1120, 2)
    assert "A bale counts for 1,120 lb, by 2 bales weighed." in get(f"/hill-farm/hay/A1{ON}").text

    assert "Not known yet: How old are they?" in get(f"/hill-farm/stock/{ON}").text
    page = get(f"/hill-farm/stock/STOCK{ON}")
    assert "need is not known yet." in page.text
    seen = next(one["value"] for tag, one in page.elements if one.get("name") == "seen")
    for age, status in (("old", 422), ("10", 302)):
        sent = {"seen": str(seen), "age_months": age, "on": "2025-12-04"}
        assert client.post(f"/hill-farm/stock/STOCK{ON}", sent).status_code == status
    assert farm_of(season).group("STOCK").age_months == 10.0
    page = get(f"/hill-farm/stock/STOCK{ON}")
    assert "ot known yet" not in page.text
    assert "How old are they?" not in page.text


def test_a_stack_that_was_hot_waits_for_the_reading_by_which_it_has_cooled(
    season: Any, new_book: BookPlace, open_pages: Callable[..., Any]
) -> None:
    get, client = open_pages(new_book), Client(SERVER_NAME="127.0.0.1")
    for read, unit, kept in (("158", "degF", (70, None)), ("30", "degC", (70, 30))):
        sent = {"highest_temperature_c": read, "highest_temperature_c_unit": unit}
        assert client.post(f"/hill-farm/hay/A1/probe{ON}", sent).status_code == 302
        lot = farm_of(season).lot("A1")
        found = (lot.highest_temperature_c, lot.latest_temperature_c)
        assert tuple(one if one is None else round(one) for one in found) == kept
        page = get(f"/hill-farm/hay/A1{ON}")
        assert "Hottest so far: 158 °F (70 °C)." in page.text
        assert ("Latest: 86 °F (30 °C)." in page.text) is (unit == "degC")
        assert ("How to core it" in page.text) is (unit == "degC"), "nobody cores a hot stack"
    wrong = client.post(f"/hill-farm/hay/A1/probe{ON}", {"highest_temperature_c": "warm"})
    assert wrong.status_code == 422
    assert "warm" in wrong.content.decode()
