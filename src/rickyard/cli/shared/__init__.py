"""What subcommands share: reading a folder, dates, files to write, the line while work goes on.

Exit codes and options stand here once.
"""

# fmt: off
from rickyard.cli.shared.common import (
    EXIT_FOLDER, EXIT_INTERRUPTED, EXIT_USAGE, STDOUT, answering, aside, exit_code, fail,
    file_option, json_option, open_folder, say, terminal, to_file, write_stdout, write_text,
)
from rickyard.cli.shared.days import DayOption, Number, QuantityOption
from rickyard.cli.shared.farms import AnswerFile, CalendarFile, Farms, PDF, farm_folders_argument
from rickyard.cli.shared.plain import plain
from rickyard.cli.shared.planning import (
    check_chart, draw_assurance, effort_option, line_of_work, new_program, plan_file_option,
    plan_options, program_for, request_of, seconds_option, weekly_option, working, yes_option,
)

__all__ = [
    "AnswerFile", "CalendarFile", "DayOption", "EXIT_FOLDER", "EXIT_INTERRUPTED", "EXIT_USAGE",
    "Farms", "Number", "PDF", "QuantityOption", "STDOUT", "answering", "aside", "check_chart",
    "draw_assurance", "effort_option", "exit_code", "fail", "farm_folders_argument", "file_option",
    "json_option", "line_of_work", "new_program", "open_folder", "plain", "plan_file_option",
    "plan_options", "program_for", "request_of", "say", "seconds_option", "terminal", "to_file",
    "weekly_option", "working", "write_stdout", "write_text", "yes_option",
]
