"""What a person does in the record book, one thing at a time.

Pages, commands and phones call the same services. Each checks who asks and what is said by the
rules of the farm folder, writes in one transaction with its line in the trail, and returns what
happened.
"""

# fmt: off
from typing import TYPE_CHECKING

from rickyard.doors import at_first_use

if TYPE_CHECKING:
    from rickyard.book.services import programs
    from rickyard.book.services.dangers import danger_key, standing_dangers
    from rickyard.book.services.done import Done, season_there, who_wrote
    from rickyard.book.services.farms import FarmThere, list_farms
    from rickyard.book.services.invitations import (
        accept_invitation, end_invitation, invitation_of, invite, join, read_invitations,
        read_people,
    )
    from rickyard.book.services.ledgers import add_line, read_lines, undo_line
    from rickyard.book.services.people import (
        end_membership, let_in, members_of, read_trail, somebody,
    )
    from rickyard.book.services.programs import (
        KeptProgram, USUAL, adopt, ask_plan, keep_program, plan_work, planned_in, planned_of,
        read_program, read_program_before, stop_plan,
    )
    from rickyard.book.services.reading import (
        Count, GroupFact, export_farm, read_counts, read_farm, read_group_facts, whole_farm,
        whole_farms,
    )
    from rickyard.book.services.reports import (
        FileKept, LARGEST_REPORT, ReadingKept, keep_report, read_report, reading_kept, reports_kept,
        use_report,
    )
    from rickyard.book.services.rules import look_at
    from rickyard.book.services.seasons import Next, begin_season, next_season
    from rickyard.book.services.starting import start_farm
    from rickyard.book.services.things import (
        count_lot, probe_lot, read_things, take_out, weigh_lot, write_farm, write_season,
        write_thing,
    )

__getattr__ = at_first_use(__name__, {
    "": "programs",
    "dangers": "danger_key standing_dangers",
    "done": "Done season_there who_wrote",
    "farms": "FarmThere list_farms",
    "invitations": "accept_invitation end_invitation invitation_of invite join read_invitations"
    " read_people",
    "ledgers": "add_line read_lines undo_line",
    "people": "end_membership let_in members_of read_trail somebody",
    "programs": "KeptProgram USUAL adopt ask_plan keep_program plan_work planned_in planned_of"
    " read_program read_program_before stop_plan",
    "reading": "Count GroupFact export_farm read_counts read_farm read_group_facts whole_farm"
    " whole_farms",
    "reports": "FileKept LARGEST_REPORT ReadingKept keep_report read_report reading_kept"
    " reports_kept use_report",
    "rules": "look_at",
    "seasons": "Next begin_season next_season",
    "starting": "start_farm",
    "things": "count_lot probe_lot read_things take_out weigh_lot write_farm write_season"
    " write_thing",
})

__all__ = [
    "Count", "Done", "FarmThere", "FileKept", "GroupFact", "KeptProgram", "LARGEST_REPORT", "Next",
    "ReadingKept", "USUAL", "accept_invitation", "add_line", "adopt", "ask_plan", "begin_season",
    "count_lot", "danger_key", "end_invitation", "end_membership", "export_farm", "invitation_of",
    "invite", "join", "keep_program", "keep_report", "let_in", "list_farms", "look_at",
    "members_of", "next_season", "plan_work", "planned_in", "planned_of", "probe_lot", "programs",
    "read_counts", "read_farm", "read_group_facts", "read_invitations", "read_lines", "read_people",
    "read_program", "read_program_before", "read_report", "read_things", "read_trail",
    "reading_kept", "reports_kept", "season_there", "somebody", "standing_dangers", "start_farm",
    "stop_plan", "take_out", "undo_line", "use_report", "weigh_lot", "who_wrote", "whole_farm",
    "whole_farms", "write_farm", "write_season", "write_thing",
]
