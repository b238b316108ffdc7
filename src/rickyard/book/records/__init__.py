"""What stands in the record book: its tables, as classes.

Nothing is changed or taken away once it is written. What can be edited is written anew as a whole,
with the next revision; a mistake in a ledger is undone by a line that names it.
"""

# fmt: off
from rickyard.book.records.accounts import Account, Invitation, SignInTry, SignedIn
from rickyard.book.records.columns import item_of, items_of, plain_values
from rickyard.book.records.files import Reading, SeasonText, SourceFile
from rickyard.book.records.ledgers import Feeding, LabPrice, Move, Need, Stack, Weather, Wish
from rickyard.book.records.programs import Adoption, DONE, FAILED, Program, RUNNING, WAITING, Work
from rickyard.book.records.samples import Core, Sample, Shipment
from rickyard.book.records.shares import Share
from rickyard.book.records.summaries import OF_PROGRAM, OF_YARD, Summary
from rickyard.book.records.things import (
    FarmState, Feed, FeedState, Group, GroupState, Lot, LotState, Report, ReportState, ReportValue,
    Season, SeasonState,
)
from rickyard.book.records.trail import Farm, Leaving, Membership, Office, Person, TrailLine

__all__ = [
    "Account", "Adoption", "Core", "DONE", "FAILED", "Farm", "FarmState", "Feed", "FeedState",
    "Feeding", "Group", "GroupState", "Invitation", "LabPrice", "Leaving", "Lot", "LotState",
    "Membership", "Move", "Need", "OF_PROGRAM", "OF_YARD", "Office", "Person", "Program", "RUNNING",
    "Reading", "Report", "ReportState", "ReportValue", "Sample", "Season", "SeasonState",
    "SeasonText", "Share", "Shipment", "SignInTry", "SignedIn", "SourceFile", "Stack", "Summary",
    "TrailLine", "WAITING", "Weather", "Wish", "Work", "item_of", "items_of", "plain_values",
]
