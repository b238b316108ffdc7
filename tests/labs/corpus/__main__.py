"""Write a set of the corpus: ``python -m tests.labs.corpus OUT --set open``."""

from __future__ import annotations

import argparse
from pathlib import Path

from .sets import SETS, write


def main() -> None:
    reader = argparse.ArgumentParser(prog="corpus", description=__doc__)
    reader.add_argument("out", type=Path, help="folder that is written to")
    reader.add_argument("--set", choices=sorted(SETS), required=True, help="which layouts")
    reader.add_argument("--seed", type=int, default=1, help="other numbers in the same layouts")
    asked = reader.parse_args()
    files, layouts = write(asked.out, asked.set, asked.seed)
    print(f"{files} files in {layouts} layouts written to {asked.out}")


if __name__ == "__main__":
    main()
