"""Which tests take seconds.

They are begun first: begun last, one process would wait at the end while another is at them.
"""

from __future__ import annotations

#: Files, tests of files, and cases of tests, each by how its name begins.
BEGUN_FIRST = (
    "tests/service/test_same_bytes.py",
    "tests/docs/test_how_to_tasks.py",
    "tests/cli/test_cli.py::test_demo_keeps_what_a_person_changed",
    "tests/cli/test_cli_plan.py",
    "tests/program/test_plan_season.py::test_curved_rows_settle_quickly_on_a_large_farm",
    "tests/program/test_season_corners.py",
    "tests/program/test_random_farms_agree.py",
    "tests/program/test_plan_worst.py",
    "tests/faults/test_fuzzing.py",
    "tests/faults/test_newcomers.py",
    "tests/faults/test_first_use_long_answers.py",
    "tests/test_rooms.py::test_the_doors_are_what_the_tool_writes",
    "tests/test_rooms.py::test_no_circle_between_rooms",
    "tests/test_words.py",
    "tests/book/test_kills.py",
    "tests/book/test_book_tables.py",
    "tests/book/test_truths_services.py",
    "tests/labs/test_journey.py",
    "tests/test_as_recorded.py::test_answers_are_those_recorded[tampered-1]",
    "tests/test_as_recorded_solved.py",
    "tests/web/test_serving.py",
    "tests/web/journeys/test_season_journeys.py",
    "tests/web/journeys/test_yard_journeys.py",
)
