"""What the trail says, in words: who did what, when on the farm's clock."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Final

from rickyard.book.acting import zone_of
from rickyard.book.keeping import Gone
from rickyard.book.trails.reading import TrailEntry
from rickyard.display import Display, clean

#: What was done, by the service that did it.
_DONE: Final[Mapping[str, str]] = {
    "import": "brought in or began the farm",
    "write farm": "wrote what the farm is called or where it is",
    "write season": "wrote the season",
    "begin season": "began a season",
    "write lot": "wrote a lot",
    "write group": "wrote a group",
    "write feed": "wrote a feed or its price",
    "take intake": "took what the log says that stock eat",
    "give back intake": "gave back what the log said that stock eat",
    "count lot": "counted a lot",
    "weigh lot": "weighed bales of a lot",
    "probe lot": "took the temperature of a lot",
    "bring in report": "brought in a laboratory's file",
    "use report": "used a report",
    "take out lot": "took out a lot",
    "take out group": "took out a group",
    "take out feed": "took out a feed",
    "add fed": "noted what was fed",
    "add moves": "noted what became of bales",
    "add weather": "noted the weather",
    "add needs": "stated a need",
    "add labs": "wrote a laboratory's price",
    "add wishes": "wrote a wish",
    "add stacks": "drew where a lot stands",
    "take core": "cored a bale",
    "undo core": "took a core back",
    "send sample": "sent a sample",
    "undo fed": "took back what was noted as fed",
    "undo moves": "took back what was noted of bales",
    "undo weather": "took back weather",
    "undo needs": "took back a stated need",
    "undo labs": "took back a laboratory's price",
    "undo wishes": "took back a wish",
    "undo stacks": "drew a stack anew, or took it off the drawing",
    "write prices": "wrote a feed's price, on several farms at once",
    "write labs": "wrote a laboratory's price, on several farms at once",
    "plan": "had a program worked out",
    "stop plan": "stopped a program being worked out",
    "adopt": "chose the program to feed by",
    "let in": "let somebody in",
    "end membership": "ended what somebody may do",
    "invite": "invited somebody",
    "end invitation": "took back an invitation",
    "share lot": "made a link that shows a lot",
    "share season": "made a link that shows the season",
    "end share": "ended a link",
}


def done_text(service: str) -> str:
    """Return what a service did, for a line; a name that has no words stands as it is.

    Examples
    --------
    >>> done_text("add fed")
    'noted what was fed'
    """
    return _DONE.get(service, service)


def line_text(entry: TrailEntry, time_zone: str, display: Display) -> str:
    """Return a line of the trail.

    Parameters
    ----------
    entry : TrailEntry
        The line.
    time_zone : str
        That of the farm; empty for that of this computer.
    display : Display
        How days are written.

    Returns
    -------
    str
        When, who, what, on what.
    """
    who = clean(entry.who) or "This computer"
    about = f": {clean(entry.about)}" if entry.about else ""
    when = _when(entry.at, time_zone, display)
    return f"{when}, {who} {done_text(entry.service)}{about}"


def gone_text(gone: Gone, display: Display) -> str:
    """Return that a farm was deleted, when and by whom; its clock is gone with it.

    Parameters
    ----------
    gone : Gone
        The farm.
    display : Display
        How days are written.

    Returns
    -------
    str
        A line.
    """
    who = f" by {clean(gone.who)}" if gone.who else ""
    return f"{_when(gone.at, 'UTC', display)} UTC, {clean(gone.name)} was deleted{who}"


def _when(at: datetime, time_zone: str, display: Display) -> str:
    then = at.astimezone(zone_of(time_zone))
    return f"{display.day_year_text(then.date())}, {display.clock_text(then.time())}"
