"""Days on which the post moves and laboratories work: weekends and the holidays of a country."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from rickyard.quantities import OutOfRange

_SATURDAY: Final = 5
_WEDNESDAY: Final = 2
_ONE: Final = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class WorkCalendar:
    """Working days of a place. ``country`` is empty where only weekends are known."""

    holidays: Container[date]
    country: str = ""

    def works(self, day: date) -> bool:
        """Return whether post and laboratories work on a day."""
        return day.weekday() < _SATURDAY and day not in self.holidays

    def next_working(self, day: date) -> date:
        """Return the day, or the first working day after it."""
        while not self.works(day):
            day += _ONE
        return day

    def after_working_days(self, day: date, count: int) -> date:
        """Return the day on which so many working days have passed since ``day``."""
        for _ in range(count):
            day = self.next_working(day + _ONE)
        return day

    def before_working_days(self, day: date, count: int) -> date:
        """Return the latest day after which so many working days lie up to ``day``."""
        for _ in range(count):
            while not self.works(day):
                day -= _ONE
            day -= _ONE
        return day

    def may_ship_wet(self, day: date, mail_days: int) -> bool:
        """Return whether a wet sample shipped on a day is in the laboratory by Friday.

        Monday to Wednesday, and no weekend or holiday until it is there: Rusche, South Dakota
        State; Australian state feed laboratory.
        """
        way = [day + timedelta(days=passed) for passed in range(mail_days + 1)]
        return day.weekday() <= _WEDNESDAY and all(self.works(one) for one in way)


def work_calendar(country: str = "") -> WorkCalendar:
    """Return the working days of a country.

    Parameters
    ----------
    country : str
        Two letters, and its state or province after a hyphen: ``US``, ``US-KY``, ``AU-NSW``. Empty
        where only weekends are to count. Another raises ``OutOfRange``.

    Returns
    -------
    WorkCalendar
        The calendar, for any year.

    Examples
    --------
    >>> work_calendar("US").works(date(2026, 11, 26))
    False
    >>> work_calendar("").works(date(2026, 11, 26))
    True
    """
    if not country.strip():
        return WorkCalendar(frozenset())
    # The calendars of every country are loaded by those only who ask for one.
    import holidays

    code, _, part = country.strip().upper().partition("-")
    try:
        known = holidays.country_holidays(code, subdiv=part or None)
    except NotImplementedError:
        raise OutOfRange(
            f'no holidays are known for "{country}": write two letters of the country, and its '
            "state or province after a hyphen, such as US-KY."
        ) from None
    return WorkCalendar(known, country.strip().upper())
