"""Words that only the printed sheets say. ``PAGE`` in one stands for the number of a page."""

from __future__ import annotations

from typing import Final

from rickyard.display import Display, listed

#: Where the sheet that is set knows the number of the page, and Python does not.
PAGE: Final = "{page}"

FORAGE: Final = "Hay and forage"
NO_FORAGE: Final = "no hay or forage"
GRAZED: Final = "grazed"
LAST_BALE: Final = "last bale lasts"
STEP_UPS_TITLE: Final = "Step up day by day"
CHANGES_TITLE: Final = "Change hay over several days"
KEEP_BACK: Final = "The amounts above change at once: keep some of the old hay back to mix in."
DANGERS_TITLE: Final = "Read before feeding"
MARKED: Final = f"▲ beside a name: read its danger on page {PAGE} before it is fed."
SELL_HEADS: Final = ("Sell on the first day", "as fed", "bales", "brings")
BUY_HEADS: Final = ("Buy", "as fed", "loads", "price", "cost")

PLANNED: Final = "planned, total"


def dangers_lead(count: int) -> str:
    """Say first that there are dangers.

    >>> dangers_lead(1)
    '1 danger: read it below before feeding'
    """
    if count == 1:
        return "1 danger: read it below before feeding"
    return f"{count} dangers: read them below before feeding"


def amounts_note(display: Display) -> str:
    """Say what the figures of the daily amounts count."""
    unit = display.mass_unit_words
    return (
        f"As fed, with what is wasted at the feeder: {unit} a head and day, then whole bales a "
        f"week or {unit} a day for the group. Where there is a range, the amount moves from week "
        "to week: the weekly list has each week's."
    )


def step_up_note(display: Display) -> str:
    """Say how to read a step-up, and what it is for."""
    unit = display.mass_unit_words
    return (
        f"Upper line: {unit} for the whole group that day; lower line: a head. Too much too fast "
        "makes stock ill or kills. Stop and call a veterinarian when they go off feed, scour or "
        "bloat."
    )


def change_of_hay(group: str, span: str, before: list[str], after: str, shares: list[int]) -> str:
    """Say how one hay follows another.

    >>> change_of_hay("Cows", "Jan 4–7", ["Late fescue"], "Orchardgrass", [25, 50, 75, 100])
    'Cows, Jan 4–7: from Late fescue to Orchardgrass. New hay each day: 25, 50, 75, 100%.'
    >>> change_of_hay("Bulls", "Jan 4–7", ["Late fescue"], "Orchardgrass", [60, 60, 60, 60])
    'Bulls, Jan 4–7: from Late fescue to Orchardgrass, at once: mix and weigh as the list says.'
    """
    # Part of a mix weighed for its nitrate: one hay takes the other's place in it on the first day.
    if len(set(shares)) == 1:
        way = "at once: mix and weigh as the list says"
        return f"{group}, {span}: from {listed(before)} to {after}, {way}."
    steps = ", ".join(str(one) for one in shares)
    return f"{group}, {span}: from {listed(before)} to {after}. New hay each day: {steps}%."


def changes_on(day: str, why: str) -> str:
    """Say why a ration begins.

    >>> changes_on("Dec 14", "They need more by now.")
    'Changes on Dec 14: They need more by now.'
    """
    return f"Changes on {day}: {why}"


def all_season(name: str, each: str, whole: str, unit: str) -> str:
    """Say what a group is given alike all season.

    >>> all_season("Winter mineral", "0.19", "12", "lb")
    'All season: Winter mineral, 0.19 lb a head a day, 12 lb total.'
    """
    return f"All season: {name}, {each} {unit} a head a day, {whole} {unit} total."


def bales_a_week(bales: tuple[int, ...], period_days: int) -> str:
    """Return whole bales per period for a column that is headed so.

    >>> bales_a_week((5, 5), 7), bales_a_week((2, 3, 2), 7), bales_a_week((0, 1, 1, 0, 1), 7)
    ('5', '2–3', '3 in 5 weeks')
    >>> bales_a_week((0,), 7)
    'last bale lasts'
    """
    least, most, total = min(bales), max(bales), sum(bales)
    if total == 0:
        return LAST_BALE
    if least == most:
        return f"{most:,}"
    if least > 0:
        return f"{least:,}–{most:,}"
    weeks = len(bales) * period_days
    span = f"{len(bales)} weeks" if period_days == 7 else f"{weeks} days"
    return f"{total:,} in {span}"
