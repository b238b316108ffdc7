"""What subcommands share: reading a folder, dates, files to write, the line while work goes on.

Exit codes and options stand here once.
"""

from rickyard.cli.shared.assurance import (
    draw_assurance,
)
from rickyard.cli.shared.changes import (
    Asked,
    NotUnderstood,
    changes_of,
)
from rickyard.cli.shared.common import (
    EXIT_FOLDER,
    EXIT_RECHECK,
    EXIT_USAGE,
    fail,
    farm_folder_argument,
    load_farm,
    terminal,
    within_range,
    write_whole,
)
from rickyard.cli.shared.days import (
    DayOption,
    QuantityOption,
    dry_matter_of,
    write_calendar,
    write_stdout,
)
from rickyard.cli.shared.numbers import (
    Number,
)
from rickyard.cli.shared.planning import (
    Stopper,
    check_day,
    checked_program,
    effort_option,
    search_options,
    seconds_option,
    winters_of,
)

__all__ = [
    "EXIT_FOLDER",
    "EXIT_RECHECK",
    "EXIT_USAGE",
    "Asked",
    "DayOption",
    "NotUnderstood",
    "Number",
    "QuantityOption",
    "Stopper",
    "changes_of",
    "check_day",
    "checked_program",
    "draw_assurance",
    "dry_matter_of",
    "effort_option",
    "fail",
    "farm_folder_argument",
    "load_farm",
    "search_options",
    "seconds_option",
    "terminal",
    "winters_of",
    "within_range",
    "write_calendar",
    "write_stdout",
    "write_whole",
]
