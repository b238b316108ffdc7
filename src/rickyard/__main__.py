"""``python -m rickyard`` is the same as ``rickyard``."""

import sys

try:
    from rickyard.cli.main import main

    main()
except KeyboardInterrupt:
    # Before the command itself can say so.
    sys.exit(130)
