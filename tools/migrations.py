"""Write the migration that the tables of the record book lack: ``python tools/migrations.py NAME``.

NAME says what the step does, in words joined by underscores. ``--check`` only says whether a step
is missing. What is written is read by hand before it is kept: a new table needs its guard.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from django.core.management import call_command

from rickyard.book.base import LABEL, make_ready

#: Where the steps lie.
STEPS = Path(__file__).resolve().parents[1] / "src" / "rickyard" / "book" / "app" / "migrations"


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
    before = set(STEPS.glob("*.py"))
    call_command("makemigrations", LABEL, name=arguments[0], verbosity=1)
    for made in set(STEPS.glob("*.py")) - before:
        path = made.rename(STEPS / "later" / made.name)
        path.write_text(written_so(path.read_text("utf-8"), arguments[0]), "utf-8")
        subprocess.run([sys.executable, "-m", "ruff", "check", "-q", "--fix", path], check=True)
        subprocess.run([sys.executable, "-m", "ruff", "format", "-q", path], check=True)
    return 0


def written_so(text: str, name: str) -> str:
    """Return a step as all files here are written: with its purpose and its types.

    Parameters
    ----------
    text : str
        The step as Django writes it.
    name : str
        What the step does.

    Returns
    -------
    str
        The step.
    """
    purpose = f'"""{name.replace("_", " ").capitalize()}."""'
    body = text.partition("\n")[2]
    body = body.replace("(migrations.Migration):\n", f"(migrations.Migration):\n    {purpose}\n")
    for part in ("dependencies", "operations"):
        body = body.replace(f"    {part} = [", f"    {part}: ClassVar = [")
    return f"{purpose}\n\nfrom typing import ClassVar\n{body}"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
