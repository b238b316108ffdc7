"""Set up Rickyard beside itself and run it: ``python3 start.py demo`` or ``python3 start.py test``.

Needs nothing but Python 3.11 or newer and a package index that pip can reach. What is done stands
in ``tools/starting.py``: this file holds nothing that a Python of any age cannot read.
"""

import sys

# Older Pythons must get this far to read the sentence: nothing that Python 2 does not know.
if sys.version_info < (3, 11):  # noqa: UP036 - the one place that must judge an older Python
    sys.exit(
        "Rickyard needs Python 3.11 or newer, and this is Python %d.%d.%d.\n"  # noqa: UP031
        "Install a newer Python (python.org/downloads, or your system's package manager),\n"
        "then run this again with it, for example: python3.12 start.py demo"
        % tuple(sys.version_info[:3])
    )

from tools.starting import main

if __name__ == "__main__":
    # A Windows console in an old code page must not end the program over a degree sign.
    for stream in (sys.stdout, sys.stderr):
        stream.reconfigure(encoding="utf-8", errors="replace")  # type: ignore[union-attr]
    sys.exit(main(sys.argv[1:]))
