"""What stands in the yard on a day, and a rough figure of whether it lasts, in sentences."""

from __future__ import annotations

from typing import Final

from rickyard.display import Display, count_text
from rickyard.hay.precision import two_sided_z
from rickyard.hay.yard import Outlook, YardPage
from rickyard.quantities import KG_PER_TONNE

#: The interval that stands beside a mass.
CONFIDENCE: Final = 0.90

#: What the rough figure of need does not count; where it is counted stands between the two.
_LEFT_OUT: Final = (
    "It counts hay alone, so grain and other bought feed and grazing make the need smaller: "
)
_ASK_THERE: Final = "says whether there is enough, before you buy hay or sell animals."


def stands_sentence(page: YardPage, display: Display) -> str:
    """Return what stands in the yard.

    Parameters
    ----------
    page : YardPage
        The yard on a day.
    display : Display
        The reader's units.

    Returns
    -------
    str
        Bales, and tons as fed and of dry matter, with half of the 90% range.
    """
    reach = two_sided_z(CONFIDENCE) * page.dry_se_kg / KG_PER_TONNE
    return (
        f"{count_text(page.bales, 'bale')}: {display.tons_text(page.as_fed_kg / KG_PER_TONNE)} as "
        f"fed, {display.tons_text(page.dry_kg / KG_PER_TONNE)} dry matter (give or take "
        f"{display.tons_text(reach)})."
    )


def outlook_sentence(told: Outlook, display: Display, surer: str = "rickyard plan") -> str:
    """Return whether what stands lasts, by a rough figure, and what that leaves out.

    Parameters
    ----------
    told : Outlook
        Need, reserve and what is over.
    display : Display
        The reader's units.
    surer : str
        What the reader can ask to be surer, at the terminal a command.

    Returns
    -------
    str
        Three or four sentences.
    """
    tons = {
        name: display.tons_text(getattr(told, name) / KG_PER_TONNE)
        for name in ("need_kg", "reserve_kg", "buy_kg")
    }
    left_out = f"{_LEFT_OUT}{surer} {_ASK_THERE}"
    start = (
        f"Rough figure: to {display.day_year_text(told.until)} the animals need about "
        f"{tons['need_kg']} of dry matter from the yard, and {tons['reserve_kg']} in reserve"
    )
    if told.over_kg >= 0.0:
        over = display.tons_text(told.over_kg / KG_PER_TONNE)
        return f"{start}: {over} more than both are on hand. {left_out}"
    out = (
        ""
        if told.out_on is None
        else f" The yard is down to the reserve on {display.day_year_text(told.out_on)}."
    )
    return f"{start}: {tons['buy_kg']} more than is on hand.{out} {left_out}"
