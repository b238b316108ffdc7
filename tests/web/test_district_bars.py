"""Bars of the pages of all farms: each stands for the figure beside it, on its table's scale."""

import re
from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

from rickyard.book.district import FarmStands
from rickyard.book.district.told import ProgramTold
from rickyard.book.services import FarmThere
from rickyard.web.shown.district import district_shown, short_shown

DAY = date(2026, 12, 1)
AT = datetime(2026, 12, 1, tzinfo=UTC)


def farm(name: str, *, missing_t: float = 0.0, left_t: float = 0.0, days: int = 100) -> FarmStands:
    """Return a farm with a program to a hundred days hence; ``days`` until something lacks."""
    there = FarmThere(
        uuid4(), uuid4(), name, "", "us", "", DAY - timedelta(days=30), DAY + timedelta(days=100)
    )
    short_on = DAY + timedelta(days=days) if missing_t else None
    kind = "hay_short" if missing_t else "enough"
    program = ProgramTold(
        kind=kind, sentence="Told.", short_on=short_on, missing_t=missing_t, left_t=left_t,
        threats=(),
    )  # fmt: skip
    return FarmStands(there, DAY, AT, program, AT, None, (), (), "")


STANDS = {
    "a": farm("A", missing_t=40.0, days=25),
    "b": farm("B", missing_t=10.0, days=-5),
    "c": farm("C", left_t=60.0),
    "d": farm("D", left_t=15.0),
}


def widths(drawn: str, css: str) -> list[float]:
    """Return how wide the rectangles of a kind are."""
    return [float(one) for one in re.findall(rf'class="{css}"[^>]* width="([\d.]+)"', drawn)]


def test_short_and_left_are_each_drawn_on_one_scale() -> None:
    shown = short_shown(STANDS)
    lacks = {one.name: widths(one.drawing, "b-miss") for one in shown.short}
    assert lacks["A"][0] == 4 * lacks["B"][0]
    left = {one.name: widths(one.drawing, "ok-up") for one in shown.enough}
    assert left["C"][0] == 4 * left["D"][0] == lacks["A"][0]


def test_straw_goes_as_far_as_the_hay_lasts() -> None:
    rows = {one.name: one.drawing for one in district_shown(STANDS).rows}
    (whole,) = widths(rows["C"], "eaten")
    (lasts,), (lacks,) = widths(rows["A"], "eaten"), widths(rows["A"], "b-miss")
    assert (lasts, lacks) == (whole / 4, whole * 3 / 4)
    # What ran out before today is drawn from today on.
    assert widths(rows["B"], "eaten") == [0.0]
    assert widths(rows["C"], "b-miss") == widths(rows["A"], "ok-up") == []
    assert 3.9 < widths(rows["C"], "ok-up")[0] / widths(rows["D"], "ok-up")[0] < 4.1


def test_no_bar_stands_where_it_is_not_known_how_long_the_hay_lasts() -> None:
    unknown = FarmStands(STANDS["a"].there, DAY, AT, None, None, None, (), (), "It has faults.")
    assert [one.drawing for one in district_shown({"x": unknown}).rows] == [""]
