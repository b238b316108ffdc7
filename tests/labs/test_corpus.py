"""Invented reports in eight layouts, and three price lists, against their truth."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest

from rickyard.labs.intake import read_file, reading_as_json, take_in
from support.lab_scores import score

DATA = Path(__file__).parent / "data"
REPORTS = sorted(path.name.removesuffix(".truth.json") for path in DATA.glob("*.truth.json"))
LISTS = sorted(
    path.name.removesuffix(".truth.json") for path in (DATA / "prices").glob("*.truth.json")
)


def truth_of(path: Path) -> dict:
    return json.loads(path.with_name(path.name + ".truth.json").read_text(encoding="utf-8"))


@cache
def read(name):
    return read_file(name, (DATA / name).read_bytes())


@pytest.mark.parametrize("name", REPORTS)
def test_nothing_is_wrong_missed_or_asked_without_need(name):
    path = DATA / name
    told = reading_as_json(read(name))
    result = score(truth_of(path), told)
    assert result.wrong == []
    assert result.missed == []
    assert result.needless == []
    assert result.right > 0


@pytest.mark.parametrize("name", REPORTS)
def test_every_value_tells_where_it_stands_and_what_was_printed(name):
    for sample in read(name).samples:
        for value in sample.values:
            assert value.place
            assert value.printed
            assert value.reasons or value.score == 1.0


@pytest.mark.parametrize("name", LISTS)
def test_price_lists_become_rows_of_labs(name):
    path = DATA / "prices" / name
    taken = take_in(name, path.read_bytes())
    wanted = truth_of(path)["packages"]
    assert [(one.package, one.price_usd) for one in taken.packages] == [
        (one["package"], one["price_usd"]) for one in wanted
    ]
    for found, one in zip(taken.packages, wanted, strict=True):
        assert set(found.names) == set(one["tests"])
        assert (found.chemistry, found.working_days) == (one["chemistry"], one["working_days"])


def test_a_list_without_a_name_asks_for_the_laboratory():
    path = DATA / "prices" / "list-one.csv"
    taken = take_in(path.name, path.read_bytes())
    assert [one.key for one in taken.open_questions()] == ["lab"]
