"""``python -m rickyard`` is the same as ``rickyard``."""

from rickyard.cli.main import main

main()
