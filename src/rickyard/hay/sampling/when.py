"""When to sample: not before the hay has settled, and in time for the result to be of use."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Final, Literal

from rickyard.display import Display
from rickyard.farm import Forage, Lot, Package, Storage
from rickyard.forage.hazards import has_cooled
from rickyard.hay.common import WorkCalendar
from rickyard.hay.storage import DRY_RAIN_MM, HEATED_C, heat_step

#: Writes the days of sentences, which are localized with them.
_DATES: Final = Display()

#: Under a roof: three weeks, the sweat is over (Univ. Kentucky, Teutsch: 3 to 4 weeks).
SETTLED_DAYS: Final = 21
#: A sweat at 30 % moisture lasts up to 40 days (Mississippi State P2540); from 20 % on the wait
#: grows in a straight line to that (derived).
SWEAT_DAYS: Final = 40
SWEAT_FROM_PCT: Final = 20.0
SWEAT_TO_PCT: Final = 30.0
#: Baleage and silage: fermented after six weeks (Univ. Georgia C1287; Ohio State).
FERMENTED_DAYS: Final = 42
#: Outside without cover: four to six weeks before feeding starts (common practice); four are
#: best (Univ. Kentucky: 3 to 4 weeks).
OUTSIDE_DAYS: Final = 42
OUTSIDE_BEST_DAYS: Final = 28
#: Wetter than this a sample spoils on its way, % dry matter (South Dakota State: 15 to 20 % of
#: water is wet).
WET_BELOW_DM_PCT: Final = 80.0

#: A test of hay outside holds 90 days of wet season, or six months; inside and under 15 %
#: moisture a year (common practice, no published source).
OUTSIDE_TEST_DAYS: Final = 90
HALF_YEAR_TEST_DAYS: Final = 183
DRY_INSIDE_TEST_DAYS: Final = 365
DRY_INSIDE_FROM_DM_PCT: Final = 85.0
#: Baleage is best fed within nine months (Univ. Georgia); its test is taken to hold as long.
BALEAGE_TEST_DAYS: Final = 274
#: Test again when more than this of a lot is fed and the animals do not do as planned.
FED_SHARE: Final = 0.30

#: What is said of hay that nobody samples. Cool under 120 degF: common practice.
HOT: Final = (
    "it was hot enough to burn: do not touch, core or move it until it is under 120 °F (49 °C), "
    "and call the fire department first; then write down its latest temperature, and test bound "
    "protein"
)

_EXPOSED: Final = (Storage.EXPOSED_GROUND, Storage.EXPOSED_ELEVATED)


#: What a test lacks that tells of worth and not of danger.
BOUND: Final = "bound protein"


@dataclass(frozen=True, slots=True)
class Timing:
    """Days that a result takes. ``lab_working_days`` goes before ``lab_days`` when it is known.

    Defaults by common practice: laboratory 15 days, mail 4, planning 5. A wet sample
    goes by a service that takes two.
    """

    lab_days: int = 15
    mail_days: int = 4
    wet_mail_days: int = 2
    plan_days: int = 5
    lab_working_days: int | None = None


Status = Literal["tested", "due", "later", "late", "unsettled", "hot"]


@dataclass(frozen=True, slots=True)
class SampleDates:
    """When a lot is sampled, and why then.

    ``status`` is ``tested`` while a test still holds; ``due`` when the day has come; ``later``
    when it is ahead; ``late`` when the result comes after it is needed; ``unsettled`` when the
    hay cannot be stable before it is needed, so that it is sampled all the same; ``hot`` while
    its hottest reading says that nobody goes near it, without a day. ``latest`` is
    ``None`` where the test ran out while the hay was being fed. ``good_until`` is the last day an
    existing test holds.
    """

    lot_id: str
    status: Status
    earliest: date | None
    latest: date | None
    sample_on: date | None
    ship_on: date | None
    in_lab_on: date | None
    result_on: date | None
    wet: bool
    good_until: date | None = None
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Since:
    """What happened to a lot since it was sampled, and which tests of hazards its test lacks.

    ``undated`` says that it has a test, of a day that nobody wrote down; ``may_kill`` that a test
    it lacks decides whether it kills, and ``deadly`` that until then it counts as deadly.
    """

    sampled_on: date | None = None
    wetted_on: date | None = None
    heated_on: date | None = None
    share_fed: float = 0.0
    animals_off: bool = False
    for_sale: bool = False
    lacking: str = ""
    undated: bool = False
    may_kill: bool = False
    deadly: bool = False

    @property
    def until_known(self) -> str:
        """Return how it is fed until the result is back.

        Examples
        --------
        >>> Since(may_kill=True, deadly=True).until_known
        'feed none until the result is back'
        """
        if self.deadly:
            return "feed none until the result is back"
        if self.may_kill:
            return "feed no more of it than the program allows until the result is back"
        return "feed it with care until the result is back"


@dataclass(frozen=True, slots=True)
class BoxPlace:
    """What the dates depend on beside the lot: the calendar, the days a result takes, rain."""

    calendar: WorkCalendar
    timing: Timing = field(default_factory=Timing)
    rain_mm_per_year: float | None = None


def is_wet(lot: Lot, dm_pct: float) -> bool:
    """Return whether a sample of the lot spoils on its way and must be kept cold.

    Examples
    --------
    >>> lot = Lot("A", "Rye", Forage.SMALL_GRAIN, Package.BALEAGE, Storage.WRAPPED, 40.0,
    ...           date(2026, 5, 1), date(2026, 5, 1))
    >>> is_wet(lot, 50.0)
    True
    """
    return dm_pct < WET_BELOW_DM_PCT or lot.package is Package.BALEAGE


def earliest_day(lot: Lot, feeding_on: date, *, for_sale: bool = False) -> tuple[date, str]:
    """Return the first day on which a sample speaks for the hay as it will be fed, and the reason.

    Hay outside that is for sale is sampled as close to the sale as to its feeding. From Univ.
    Kentucky (Teutsch); Univ. Georgia C1287; Mississippi State P2540; outside common practice.

    Examples
    --------
    >>> lot = Lot("A", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0,
    ...           date(2026, 6, 1), date(2026, 6, 1))
    >>> earliest_day(lot, date(2026, 12, 15))[0]
    datetime.date(2026, 6, 22)
    """
    if lot.package is Package.BALEAGE or lot.storage is Storage.WRAPPED or is_silage(lot):
        day = lot.baled_on + timedelta(days=FERMENTED_DAYS)
        return day, "let it ferment six weeks"
    moisture = lot.baled_moisture_pct
    wait, why = SETTLED_DAYS, "let hay cure three weeks"
    if moisture is not None and moisture > SWEAT_FROM_PCT:
        over = min(1.0, (moisture - SWEAT_FROM_PCT) / (SWEAT_TO_PCT - SWEAT_FROM_PCT))
        wait = round(SETTLED_DAYS + over * (SWEAT_DAYS - SETTLED_DAYS))
        why = f"baled at {moisture:g}% moisture, it cures for up to {wait} days"
    settled = lot.baled_on + timedelta(days=wait)
    if lot.storage in _EXPOSED or for_sale:
        near = feeding_on - timedelta(days=OUTSIDE_DAYS)
        if near > settled:
            what = "it is sold" if for_sale else "it is fed"
            where = "a sale needs a fresh test" if for_sale else "hay outside keeps weathering"
            return near, f"{where}, so sample no more than six weeks before {what}"
    return settled, why


def is_silage(lot: Lot) -> bool:
    """Return whether a lot is silage, wrapped bales apart.

    Parameters
    ----------
    lot : Lot
        The lot.

    Returns
    -------
    bool
        Whether it comes from a pit, pile or bag.

    Examples
    --------
    >>> is_silage(Lot("A", "Pit", Forage.CORN_SILAGE, Package.LOOSE, Storage.COVERED_GROUND, 9.0,
    ...               date(2026, 9, 1), date(2026, 9, 1)))
    True
    """
    return lot.forage is Forage.CORN_SILAGE


def too_hot_to_touch(lot: Lot) -> bool:
    """Return whether the hottest reading of a lot keeps everybody off it.

    From 150 degF on (Penn State; Purdue; Cornell), until a later reading under 120 degF is written
    down (cool under it: common practice).

    Parameters
    ----------
    lot : Lot
        The lot with its hottest and its latest reading.

    Returns
    -------
    bool
        Whether nobody is to touch it; no reading keeps nobody off.

    Examples
    --------
    >>> from dataclasses import replace
    >>> stack = Lot("A", "Barn", Forage.ALFALFA, Package.ROUND, Storage.ENCLOSED_BARN,
    ...     40.0, date(2026, 6, 1), date(2026, 6, 1), highest_temperature_c=66.0)
    >>> too_hot_to_touch(stack), too_hot_to_touch(replace(stack, latest_temperature_c=24.0))
    (True, False)
    """
    hottest = lot.highest_temperature_c
    return hottest is not None and heat_step(hottest).level == "danger" and not has_cooled(lot)


def latest_day(feeding_on: date, place: BoxPlace, *, wet: bool = False) -> date:
    """Return the last day on which a sample, wet by the faster service, gives a result in time.

    Examples
    --------
    >>> from rickyard.hay.common.calendar import work_calendar
    >>> latest_day(date(2026, 12, 15), BoxPlace(work_calendar("US")))
    datetime.date(2026, 11, 21)
    """
    timing = place.timing
    needed = feeding_on - timedelta(days=timing.plan_days)
    if timing.lab_working_days is None:
        arrives = needed - timedelta(days=timing.lab_days)
    else:
        arrives = place.calendar.before_working_days(needed, timing.lab_working_days)
    return arrives - timedelta(days=timing.wet_mail_days if wet else timing.mail_days)


def good_until(lot: Lot, sampled_on: date, dm_pct: float, rain_mm_per_year: float | None) -> date:
    """Return the last day on which a test of a lot still holds.

    Outside without cover 90 days where it rains 25 in a year or more or nobody knows, else six
    months; dry hay under cover a year, damper hay there half of it (judgement: the year is stated
    for hay under 15 % moisture); baleage nine months. Common practice, consistent with testing hay
    going in and coming out.

    Examples
    --------
    >>> lot = Lot("A", "Hill", Forage.COOL_GRASS, Package.ROUND, Storage.EXPOSED_GROUND, 40.0,
    ...           date(2026, 6, 1), date(2026, 6, 1))
    >>> good_until(lot, date(2026, 9, 1), 87.0, 1000.0)
    datetime.date(2026, 11, 30)
    """
    if lot.storage in _EXPOSED:
        wet_place = rain_mm_per_year is None or rain_mm_per_year >= DRY_RAIN_MM
        days = OUTSIDE_TEST_DAYS if wet_place else HALF_YEAR_TEST_DAYS
    elif is_wet(lot, dm_pct):
        days = BALEAGE_TEST_DAYS
    else:
        dry = dm_pct > DRY_INSIDE_FROM_DM_PCT
        days = DRY_INSIDE_TEST_DAYS if dry else HALF_YEAR_TEST_DAYS
    return sampled_on + timedelta(days=days)


def retest_reason(
    lot: Lot, since: Since, feeding_on: date, dm_pct: float, rain_mm_per_year: float | None
) -> str | None:
    """Say why a lot that has a test is tested again, or ``None`` while the test holds.

    Examples
    --------
    >>> lot = Lot("A", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0,
    ...           date(2026, 6, 1), date(2026, 6, 1))
    >>> retest_reason(lot, Since(date(2026, 7, 1)), date(2026, 12, 1), 88.0, None)
    >>> retest_reason(lot, Since(date(2026, 7, 1), for_sale=True), date(2026, 12, 1), 88.0, None)
    'it is for sale: buyer and seller want a fresh test'
    """
    if since.sampled_on is None:
        return "its test has no date" if since.undated else "it was never tested"
    if since.for_sale:
        return "it is for sale: buyer and seller want a fresh test"
    for when, what in ((since.wetted_on, "got wet"), (since.heated_on, "heated")):
        if when is not None and when >= since.sampled_on:
            return f"it {what} after it was sampled"
    if since.animals_off and since.share_fed > FED_SHARE:
        return "more than 30% of it is fed, and intake or condition is not as planned"
    if good_until(lot, since.sampled_on, dm_pct, rain_mm_per_year) < feeding_on:
        sampled = _DATES.day_year_text(since.sampled_on)
        return f"its test of {sampled} is too old for hay stored this way"
    if since.lacking:
        decides = "says what its protein is worth" if since.lacking == BOUND else "can be dangerous"
        return f"its test lacks {since.lacking}, which {decides}"
    return None


def sample_dates(
    lot: Lot,
    feeding_on: date,
    today: date,
    dm_pct: float,
    place: BoxPlace,
    since: Since | None = None,
) -> SampleDates:
    """Say when a lot is sampled, and why.

    Where the hay cannot be stable before the result is needed, or the last day has passed, it is
    sampled at once, and the reasons say so.

    Examples
    --------
    >>> from rickyard.hay.common.calendar import work_calendar
    >>> lot = Lot("A", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0,
    ...           date(2026, 6, 1), date(2026, 6, 1))
    >>> dates = sample_dates(lot, date(2026, 12, 15), date(2026, 9, 1), 88.0,
    ...                      BoxPlace(work_calendar("US")))
    >>> dates.status, dates.sample_on, dates.latest
    ('due', datetime.date(2026, 9, 1), datetime.date(2026, 11, 21))
    """
    known = since or Since()
    wet = is_wet(lot, dm_pct)
    holds = None
    if known.sampled_on is not None:
        holds = good_until(lot, known.sampled_on, dm_pct, place.rain_mm_per_year)
    # Hay that is being fed wants a test that holds today, not on the day the feeding began.
    again = retest_reason(lot, known, max(feeding_on, today), dm_pct, place.rain_mm_per_year)
    if again is None or too_hot_to_touch(lot):
        # A good test is no leave to go near a stack that may burn.
        hot = too_hot_to_touch(lot)
        reasons = [again or "its test is still good when it is fed", *([HOT] if hot else [])]
        return SampleDates(
            lot.lot_id, "hot" if hot else "tested", None, None, None, None, None, None, wet, holds,
            tuple(reasons),
        )  # fmt: skip
    earliest, why = earliest_day(lot, feeding_on, for_sale=known.for_sale)
    if holds is not None and feeding_on <= holds and feeding_on < today:
        fed = [again, why, f"it is already being fed: {known.until_known}"]
        return _while_fed(lot, fed, max(earliest, today), place, wet, holds, earliest)
    latest = latest_day(feeding_on, place, wet=wet)
    reasons = [again, why]
    status, aim = _aim(lot, earliest, latest, today, feeding_on)
    sample, ship = _shipping(aim, earliest, latest, today, wet, place)
    if sample < earliest:
        status = "unsettled"
        reasons.append(
            "it will not be stable before it is needed (stable from "
            f"{_DATES.day_year_text(earliest)}, needed by {_DATES.day_year_text(latest)}): sample "
            "now, and mark the result so"
        )
    in_lab, result = _arrival(ship, wet, place)
    if sample > latest:
        status = "late"
        reasons.append(
            f"the last day in time was {_DATES.day_year_text(latest)}: {known.until_known}"
        )
    return SampleDates(
        lot.lot_id, status, earliest, latest, sample, ship, in_lab, result, wet, holds,
        (*reasons, *_to_mind(lot, wet)),
    )  # fmt: skip


def _while_fed(
    lot: Lot, why: list[str], aim: date, place: BoxPlace, wet: bool, holds: date, earliest: date
) -> SampleDates:
    """Return the days of a lot whose test held when its feeding began and holds no longer."""
    sample, ship = _shipping(aim, earliest, date.max, aim, wet, place)
    in_lab, result = _arrival(ship, wet, place)
    return SampleDates(
        lot.lot_id, "late", earliest, None, sample, ship, in_lab, result, wet, holds,
        (*why, *_to_mind(lot, wet)),
    )  # fmt: skip


def _to_mind(lot: Lot, wet: bool) -> list[str]:
    """Return what is to be minded of wet forage and of hay that heated."""
    found = []
    if wet:
        found.append("ship wet forage so that it reaches the lab by Friday")
    if lot.highest_temperature_c is not None and lot.highest_temperature_c > HEATED_C:
        found.append(
            "it heated: wait until it has cooled to air temperature, and test bound protein"
        )
    return found


def _aim(
    lot: Lot, earliest: date, latest: date, today: date, feeding_on: date
) -> tuple[Status, date]:
    """Return how things stand, and the day to begin looking from."""
    if max(earliest, today) > latest:
        return "late" if earliest <= today else "unsettled", today
    aim = max(earliest, today)
    if lot.storage in _EXPOSED:
        best = feeding_on - timedelta(days=OUTSIDE_BEST_DAYS)
        aim = min(max(aim, best), latest)
    return ("due" if aim <= today else "later"), aim


def _shipping(
    aim: date, earliest: date, latest: date, today: date, wet: bool, place: BoxPlace
) -> tuple[date, date]:
    """Return the days of sampling and shipping; a wet sample leaves on the day it is taken."""
    if not wet:
        return aim, place.calendar.next_working(aim)  # any day on which the post takes it
    mail = place.timing.wet_mail_days
    later = aim
    while not place.calendar.may_ship_wet(later, mail):
        later += timedelta(days=1)
    if later <= latest:
        return later, later
    sooner = aim
    while sooner >= today:
        if place.calendar.may_ship_wet(sooner, mail):
            return sooner, sooner
        sooner -= timedelta(days=1)
    return later, later


def _arrival(ship: date, wet: bool, place: BoxPlace) -> tuple[date, date]:
    timing, calendar = place.timing, place.calendar
    days = timing.wet_mail_days if wet else timing.mail_days
    in_lab = calendar.next_working(ship + timedelta(days=days))
    if timing.lab_working_days is None:
        return in_lab, in_lab + timedelta(days=timing.lab_days)
    return in_lab, calendar.after_working_days(in_lab, timing.lab_working_days)
