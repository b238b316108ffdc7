"""When to sample: year ends, leap days, holidays, clock changes, both hemispheres."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.farm import Forage, Lot, Package, Storage
from rickyard.hay.common.calendar import WorkCalendar, work_calendar
from rickyard.hay.sampling import when
from rickyard.quantities import OutOfRange
from support.rows import each_row

BARN = Lot(
    "A", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0,
    date(2026, 6, 1), date(2026, 6, 1),
)  # fmt: skip
OUTSIDE = replace(BARN, lot_id="B", storage=Storage.EXPOSED_GROUND)
BALEAGE = replace(BARN, lot_id="C", package=Package.BALEAGE, storage=Storage.WRAPPED)
US, AU = work_calendar("US"), work_calendar("AU-NSW")
PLACE = when.BoxPlace(US)
FEEDING = date(2026, 12, 15)


def test_the_worked_example() -> None:
    """Feeding starts 15 December: the latest day is 21 November."""
    assert when.latest_day(FEEDING, PLACE) == date(2026, 11, 21)


@each_row(
    ("lot", "feeding", "earliest"),
    [
        (BARN, FEEDING, date(2026, 6, 22)),
        (BALEAGE, FEEDING, date(2026, 7, 13)),
        (OUTSIDE, FEEDING, date(2026, 11, 3)),
        (replace(BARN, baled_moisture_pct=25.0), FEEDING, date(2026, 7, 1)),
        (replace(BARN, baled_moisture_pct=35.0), FEEDING, date(2026, 7, 11)),
        # across the year's end, and across a leap day and a year without one
        (replace(BARN, baled_on=date(2026, 12, 20)), date(2027, 3, 1), date(2027, 1, 10)),
        (OUTSIDE, date(2027, 1, 20), date(2026, 12, 9)),
        (replace(BALEAGE, baled_on=date(2028, 1, 25)), date(2028, 6, 1), date(2028, 3, 7)),
        (replace(BALEAGE, baled_on=date(2027, 1, 25)), date(2027, 6, 1), date(2027, 3, 8)),
        # southern hemisphere: made in December, fed in June
        (replace(BARN, baled_on=date(2026, 12, 1)), date(2027, 6, 1), date(2026, 12, 22)),
        (replace(OUTSIDE, baled_on=date(2026, 12, 1)), date(2027, 6, 1), date(2027, 4, 20)),
    ],
)
def test_the_first_day_follows_the_hay(lot: Lot, feeding: date, earliest: date) -> None:
    assert when.earliest_day(lot, feeding)[0] == earliest


@pytest.mark.parametrize(
    ("feeding", "latest"),
    [
        (date(2027, 1, 10), date(2026, 12, 17)),
        (date(2028, 3, 10), date(2028, 2, 15)),
        (date(2027, 3, 10), date(2027, 2, 14)),
        (date(2026, 11, 10), date(2026, 10, 17)),  # the clocks change on 1 November 2026
        (date(2027, 3, 30), date(2027, 3, 6)),  # and on 14 March 2027
    ],
)
def test_the_last_day_is_24_days_before_feeding(feeding: date, latest: date) -> None:
    assert when.latest_day(feeding, PLACE) == latest
    assert (feeding - latest).days == 24


@given(st.dates(date(2000, 1, 1), date(2099, 12, 31)))
def test_days_are_whole_days_whatever_the_clock_does(feeding: date) -> None:
    assert (feeding - when.latest_day(feeding, PLACE)).days == 24
    assert (feeding - when.latest_day(feeding, PLACE, wet=True)).days == 22


def test_working_days_of_a_laboratory_pass_over_thanksgiving() -> None:
    place = when.BoxPlace(US, when.Timing(lab_working_days=5))
    # Needed on 27 November 2026, a Friday: 27, 25, 24, 23 and 20 November are the working days.
    assert when.latest_day(date(2026, 12, 2), place) == date(2026, 11, 15)
    assert US.after_working_days(date(2026, 11, 25), 1) == date(2026, 11, 27)


@each_row(
    ("day", "may"),
    [
        (date(2026, 9, 8), True),  # a Tuesday
        (date(2026, 9, 9), True),
        (date(2026, 9, 7), False),  # Labor Day, a Monday
        (date(2026, 9, 10), False),  # a Thursday
        (date(2026, 9, 11), False),
        (date(2026, 9, 12), False),
        (date(2026, 9, 13), False),
        (date(2026, 11, 24), False),  # the Tuesday before Thanksgiving: it would lie over
        (date(2026, 11, 25), False),
        (date(2026, 11, 23), True),
        (date(2026, 12, 23), False),
        (date(2026, 12, 30), False),  # New Year's Day is the Friday
        (date(2026, 12, 28), True),
    ],
)
def test_wet_forage_is_shipped_to_be_there_by_friday(day: date, may: bool) -> None:
    assert US.may_ship_wet(day, 2) is may


def test_wet_forage_is_not_shipped_on_a_thursday_however_quick_the_mail() -> None:
    assert US.may_ship_wet(date(2026, 9, 9), 1)
    assert not US.may_ship_wet(date(2026, 9, 10), 1)


def test_holidays_are_those_of_the_country() -> None:
    queens_birthday = date(2027, 6, 14)  # second Monday of June in New South Wales
    assert not AU.works(queens_birthday)
    assert US.works(queens_birthday)
    assert not work_calendar("CA").works(date(2026, 7, 1))
    assert work_calendar("").works(date(2026, 12, 25))
    with pytest.raises(OutOfRange, match="US-KY"):
        work_calendar("ZZ")
    with pytest.raises(OutOfRange):
        work_calendar("US-QQ")


LOTS = st.sampled_from([BARN, OUTSIDE, BALEAGE])
SPAN = st.integers(0, 500)


@given(
    LOTS, st.dates(date(2019, 12, 1), date(2029, 3, 31)), SPAN, SPAN, st.booleans(),
    st.sampled_from([US, AU, WorkCalendar(frozenset())]),
)  # fmt: skip
def test_dates_are_in_order_and_conflicts_are_told(
    lot: Lot, baled: date, until_feeding: int, until_today: int, wet: bool, calendar: WorkCalendar
) -> None:
    lot = replace(lot, baled_on=baled)
    feeding, today = baled + timedelta(days=until_feeding), baled + timedelta(days=until_today)
    dm = 50.0 if wet or lot.package is Package.BALEAGE else 88.0
    dates = when.sample_dates(lot, feeding, today, dm, when.BoxPlace(calendar))
    assert dates.sample_on is not None
    assert dates.ship_on is not None
    assert dates.in_lab_on is not None
    assert dates.earliest is not None
    assert dates.latest is not None
    assert today <= dates.sample_on <= dates.ship_on < dates.in_lab_on
    assert calendar.works(dates.in_lab_on)
    if dates.wet:
        assert dates.ship_on.weekday() <= 2
        assert dates.in_lab_on.isocalendar()[:2] == dates.ship_on.isocalendar()[:2]
    else:
        assert calendar.works(dates.ship_on)
    told = " ".join(dates.reasons)
    assert ("sample now" in told) == (dates.sample_on < dates.earliest)
    assert ("feed it with care" in told) == (dates.sample_on > dates.latest)
    assert (dates.status == "late") == (dates.sample_on > dates.latest)
    if dates.status == "later":
        assert dates.sample_on > today
    if dates.status in ("due", "later"):
        assert dates.earliest <= dates.sample_on <= dates.latest


def test_hay_that_cannot_settle_in_time_is_sampled_now_and_flagged() -> None:
    fresh = replace(BALEAGE, baled_on=date(2026, 9, 1))
    dates = when.sample_dates(fresh, date(2026, 10, 20), date(2026, 9, 22), 45.0, PLACE)
    assert (dates.status, dates.sample_on) == ("unsettled", date(2026, 9, 22))
    assert "will not be stable before it is needed" in dates.reasons[2]


def test_wet_forage_waits_for_monday_or_goes_before_the_weekend() -> None:
    thursday = date(2026, 9, 10)
    waits = when.sample_dates(BALEAGE, date(2026, 12, 1), thursday, 45.0, PLACE)
    assert waits.ship_on == date(2026, 9, 14)
    friday = when.sample_dates(BALEAGE, date(2026, 12, 1), date(2026, 9, 11), 45.0, PLACE)
    assert friday.ship_on == date(2026, 9, 14)
    # The last day in time is a Friday: the Wednesday before it is the day.
    feeding = date(2026, 10, 17)
    last = when.latest_day(feeding, PLACE, wet=True)
    assert last.weekday() == 4
    sooner = when.sample_dates(BALEAGE, feeding, last - timedelta(days=8), 45.0, PLACE)
    assert sooner.ship_on is not None
    assert sooner.ship_on <= last


def test_hay_outside_is_sampled_four_weeks_before_feeding() -> None:
    dates = when.sample_dates(OUTSIDE, FEEDING, date(2026, 8, 1), 87.0, PLACE)
    assert (dates.status, dates.sample_on) == ("later", FEEDING - timedelta(days=28))


SAMPLED = date(2026, 7, 1)


@each_row(
    ("lot", "since", "dm", "rain", "word"),
    [
        (BARN, when.Since(SAMPLED), 88.0, 1000.0, None),
        (BARN, when.Since(), 88.0, 1000.0, "never"),
        (BARN, when.Since(SAMPLED, for_sale=True), 88.0, 1000.0, "for sale"),
        (BARN, when.Since(SAMPLED, wetted_on=date(2026, 8, 1)), 88.0, 1000.0, "got wet"),
        (BARN, when.Since(SAMPLED, wetted_on=date(2026, 6, 20)), 88.0, 1000.0, None),
        (BARN, when.Since(SAMPLED, wetted_on=SAMPLED), 88.0, 1000.0, "got wet"),
        (BARN, when.Since(undated=True), 88.0, 1000.0, "no date"),
        (BARN, when.Since(SAMPLED, heated_on=date(2026, 7, 9)), 88.0, 1000.0, "heated"),
        (BARN, when.Since(SAMPLED, share_fed=0.4, animals_off=True), 88.0, 1000.0, "30%"),
        (BARN, when.Since(SAMPLED, share_fed=0.3, animals_off=True), 88.0, 1000.0, None),
        (BARN, when.Since(SAMPLED, share_fed=0.9), 88.0, 1000.0, None),
        (OUTSIDE, when.Since(SAMPLED), 87.0, 1000.0, "too old"),
        (OUTSIDE, when.Since(SAMPLED), 87.0, 400.0, None),
        (OUTSIDE, when.Since(date(2026, 10, 1)), 87.0, None, None),
        (BARN, when.Since(date(2025, 12, 14)), 88.0, 1000.0, "too old"),
        (BARN, when.Since(date(2025, 12, 15)), 88.0, 1000.0, None),
    ],
)
def test_a_test_is_repeated_for_a_reason(
    lot: Lot, since: when.Since, dm: float, rain: float | None, word: str | None
) -> None:
    reason = when.retest_reason(lot, since, FEEDING, dm, rain)
    assert (reason is None) if word is None else (reason is not None and word in reason)


def test_a_test_that_holds_needs_no_day() -> None:
    dates = when.sample_dates(BARN, FEEDING, SAMPLED, 88.0, PLACE, when.Since(SAMPLED))
    assert (dates.status, dates.sample_on) == ("tested", None)
    assert dates.good_until == date(2027, 7, 1)


def test_a_test_that_runs_out_while_the_hay_is_fed_no_longer_holds() -> None:
    """Sampled on 12 October, hay outside where it rains: good to 10 January, fed to May."""
    since = when.Since(sampled_on=date(2026, 10, 12))
    started = date(2026, 11, 2)
    last = when.sample_dates(OUTSIDE, started, date(2027, 1, 10), 87.0, PLACE, since)
    assert (last.status, last.good_until) == ("tested", date(2027, 1, 10))
    over = when.sample_dates(OUTSIDE, started, date(2027, 1, 11), 87.0, PLACE, since)
    assert (over.status, over.sample_on, over.latest) == ("late", date(2027, 1, 11), None)
    assert "too old" in over.reasons[0]
    assert any("already being fed" in reason for reason in over.reasons)


def test_wet_forage_tested_again_while_it_is_fed_still_ships_early_in_the_week() -> None:
    since = when.Since(sampled_on=date(2026, 7, 20), wetted_on=date(2026, 12, 3))
    dates = when.sample_dates(BALEAGE, date(2026, 11, 2), date(2026, 12, 3), 50.0, PLACE, since)
    assert (dates.status, dates.sample_on) == ("late", date(2026, 12, 7))  # a Monday


@each_row(
    ("lot", "dm", "rain", "days"),
    [
        (OUTSIDE, 87.0, 25.0 * 25.4, 90),
        (OUTSIDE, 87.0, 634.9, 183),
        (OUTSIDE, 87.0, None, 90),
        (BARN, 85.1, None, 365),
        (BARN, 85.0, None, 183),
        (BARN, 80.0, None, 183),
        (BARN, 79.9, None, 274),
        (BALEAGE, 88.0, None, 274),
    ],
)
def test_a_test_holds_by_how_the_hay_is_kept(
    lot: Lot, dm: float, rain: float | None, days: int
) -> None:
    """Common practice: three months in the rain, a year for dry hay inside, nine for baleage."""
    assert when.good_until(lot, SAMPLED, dm, rain) == SAMPLED + timedelta(days=days)


def test_hay_sweats_above_20_percent_and_hay_outside_weathers_after_it_has_settled() -> None:
    for moisture, word in ((20.0, "three weeks"), (20.1, "20.1%")):
        sweated = replace(BARN, baled_moisture_pct=moisture)
        assert word in when.earliest_day(sweated, FEEDING)[1]
    settled = OUTSIDE.baled_on + timedelta(days=21)
    for feeding, word in ((42, "three weeks"), (43, "weathering")):
        assert word in when.earliest_day(OUTSIDE, settled + timedelta(days=feeding))[1]


@pytest.mark.parametrize(("hot_c", "told"), [(None, False), (54.4, False), (54.5, True)])
def test_bound_protein_is_asked_of_hay_that_was_above_130_degrees(
    hot_c: float | None, told: bool
) -> None:
    hot = replace(BARN, highest_temperature_c=hot_c)
    found = when.sample_dates(hot, FEEDING, date(2026, 9, 1), 88.0, PLACE)
    assert any("bound protein" in one for one in found.reasons) is told


def test_hay_is_late_only_after_its_last_day_and_due_from_its_first() -> None:
    earliest, latest = date(2026, 6, 22), date(2026, 11, 21)
    for today, status in (
        (earliest - timedelta(days=1), "later"),
        (earliest, "due"),
        (latest, "due"),
        (latest + timedelta(days=1), "late"),
    ):
        assert when.sample_dates(BARN, FEEDING, today, 88.0, PLACE).status == status


def test_a_stack_that_may_burn_is_not_sampled() -> None:
    """Nobody goes near it from 150 degF on (Penn State; Purdue; Cornell)."""
    hot = replace(BARN, highest_temperature_c=78.0)
    dates = when.sample_dates(hot, FEEDING, date(2026, 11, 30), 88.0, PLACE)
    assert (dates.status, dates.sample_on) == ("hot", None)
    assert "do not touch" in dates.reasons[-1]
    # Until it was read again under 120 degF (49 degC).
    for latest_c, status in ((50.0, "hot"), (48.8, "due")):
        cooled = replace(hot, latest_temperature_c=latest_c)
        again = when.sample_dates(cooled, FEEDING, date(2026, 11, 20), 88.0, PLACE)
        assert (again.status == "hot") is (status == "hot")
        assert (again.sample_on is None) is (status == "hot")
    # A test that is still good is no leave to go near it.
    tested = when.Since(sampled_on=date(2026, 11, 20))
    for stack, status in ((hot, "hot"), (BARN, "tested")):
        found = when.sample_dates(stack, FEEDING, date(2026, 11, 30), 88.0, PLACE, tested)
        assert found.status == status


@each_row(
    ("since", "told"),
    [
        (when.Since(may_kill=True, deadly=True), "feed none until the result is back"),
        (when.Since(may_kill=True), "no more of it than the program allows"),
        (when.Since(), "feed it with care"),
    ],
)
def test_hay_that_counts_as_deadly_is_not_fed_until_the_result(
    since: when.Since, told: str
) -> None:
    """Unknown counted as high: judgement, no published source."""
    dates = when.sample_dates(BARN, FEEDING, date(2026, 12, 1), 88.0, PLACE, since)
    assert any(told in reason for reason in dates.reasons)
