"""Write the migration that the tables of the record book lack: ``python tools/migrations.py NAME``.

NAME says what the step does, in words joined by underscores. ``--check`` only says whether a step
is missing. What is written is read by hand before it is kept: a new table needs its guard.
"""

from __future__ import annotations

import sys

from django.core.management import call_command

from rickyard.book.base import LABEL, make_ready


def main(arguments: list[str]) -> int:
    """Write or look for the missing step; return 1 where one is missing and none was written."""
    make_ready()
    if not arguments:
        print(__doc__)
        return 2
    if arguments[0] == "--check":
        try:
            call_command("makemigrations", LABEL, check=True, dry_run=True, verbosity=1)
        except SystemExit:
            return 1
        return 0
    call_command("makemigrations", LABEL, name=arguments[0], verbosity=1)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
