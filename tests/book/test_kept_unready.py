"""What is not known yet is kept, and nothing is planned before it is."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from rickyard.book import records
from rickyard.book.base import BookPlace
from rickyard.book.folders import farm_of, take_in
from rickyard.book.folders.trip import FolderRefused
from rickyard.book.services import (
    add_line,
    ask_plan,
    export_farm,
    plan_work,
    read_things,
    write_thing,
)
from rickyard.book.working.working import work_once
from rickyard.farm import FedRow
from rickyard.folder import FolderFaults, read_folder
from rickyard.service import CannotWorkOut
from rickyard.service.sections import stock_needs
from support.farm_folders import GOOD, write_texts

UNWEIGHED = {"bale_weight_kg": None, "bale_diameter_m": None, "bale_width_m": None}


@pytest.fixture
def season(book: BookPlace, tmp_path: Path) -> Any:
    return take_in(write_texts(tmp_path / "good", dict(GOOD))).season


@pytest.mark.parametrize(
    ("kind", "name", "unknown", "told"),
    [
        ("lot", "A1", UNWEIGHED, "neither the weight nor the size of a round bale is known"),
        ("group", "STOCK", {"age_months": None}, "a group of class stocker needs age_months"),
    ],
)
def test_what_is_not_known_yet_is_kept_and_planning_says_what_is_missing(
    kind: str, name: str, unknown: dict[str, None], told: str, season: Any, tmp_path: Path
) -> None:
    things = read_things(None, season.id, kind)
    thing, seen, item = next(one for one in things if getattr(one[2], f"{kind}_id") == name)
    done = write_thing(None, season.id, kind, replace(item, **unknown), thing=thing, seen=seen)
    assert [told in one for one in done.questions] == [True]
    kept = farm_of(season)
    # What is noted of it, and what becomes of the rest, goes on; a line does not ask again.
    day = kept.fed[0].day
    assert add_line(None, season.id, "fed", FedRow(day, "A1", "STOCK", bales=1.0)).questions == ()
    ask_plan(None, season.id, 0.01)
    work_once("w")
    work = plan_work(None, season.id)
    assert work is not None
    assert (work.state, told in work.told) == (records.FAILED, True)
    export_farm(None, season.id, tmp_path / "out")
    with pytest.raises(FolderFaults, match=told):
        read_folder(tmp_path / "out")
    read = read_folder(tmp_path / "out", to_keep=True)
    assert (read.farm, len(read.missing)) == (farm_of(season), 1)
    with pytest.raises(FolderRefused, match=told):
        take_in(tmp_path / "out")
    if kind == "group":
        with pytest.raises(CannotWorkOut, match=r"Stockers: .* without age_months"):
            stock_needs(kept)


def test_what_is_wrong_is_refused_beside_what_is_missing(tmp_path: Path) -> None:
    lots = (
        GOOD["lots.csv"]
        .replace('"1,150",60,60', ",,")
        .replace("B2,Tarp fescue,cool_grass", "B2,Tarp fescue,cool_gras")
    )
    folder = write_texts(tmp_path / "bad", {**GOOD, "lots.csv": lots})
    with pytest.raises(FolderFaults, match="cool_gras"):
        read_folder(folder, to_keep=True)
