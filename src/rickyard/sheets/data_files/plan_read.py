"""A plan written to a file before, read back as far as it is compared with another."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any, Final

from rickyard.program.compare import Facts, Fed, Missing
from rickyard.program.result import SCHEMA_VERSION

#: Plans of these generations are read: the first one told the time a program took beside the rest,
#: and nothing else was dropped since. A later one may have dropped or changed keys.
GENERATION: Final = SCHEMA_VERSION.split(".", maxsplit=1)[0]
GENERATIONS: Final = ("1", GENERATION)


class NotAPlan(ValueError):  # noqa: N818 - named for what happened, as a person says it
    """A file that does not hold a plan this program can read; the message says what to do."""


def read_plan(path: Path, label: str = "") -> Facts:
    """Read a plan that was written as JSON.

    Parameters
    ----------
    path : pathlib.Path
        The file.
    label : str
        What to call it in a comparison; the name of the file by default.

    Returns
    -------
    Facts
        What of the plan is compared.

    Raises
    ------
    NotAPlan
        If the file cannot be read, is no plan, or was written in another generation of the
        format.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise NotAPlan(f"{path}: cannot be read ({error.strerror}).") from error
    except UnicodeDecodeError as error:
        raise NotAPlan(f"{path}: {_WRITE_ONE}") from error
    try:
        document = json.loads(text, parse_constant=_finite, parse_float=_finite)
    except (ValueError, RecursionError) as error:
        raise NotAPlan(f"{path}: {_WRITE_ONE}") from error
    if not isinstance(document, Mapping) or "schema_version" not in document:
        raise NotAPlan(f"{path}: {_WRITE_ONE}")
    version = str(document["schema_version"])
    if version.split(".", maxsplit=1)[0] not in GENERATIONS:
        raise NotAPlan(
            f"{path}: this plan is written in version {version} of the format, and this program "
            f"reads version {GENERATION}. Make the plan again with this program and compare that."
        )
    try:
        return _facts(document, label or path.stem)
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise NotAPlan(
            f"{path}: the plan is not whole ({type(error).__name__}: {error}). Make it again with "
            "rickyard plan FOLDER --json FILE."
        ) from error


def _finite(text: str) -> float:
    """Read a number, and refuse what is none: the program writes no NaN and nothing endless."""
    number = float(text)
    if not math.isfinite(number):
        raise ValueError(text)
    return number


_WRITE_ONE: Final = "is not a plan. Write one with rickyard plan FOLDER --json FILE."


def _facts(document: Mapping[str, Any], label: str) -> Facts:
    costs = {str(kind): float(usd) for kind, usd in document["costs"].items() if kind != "total"}
    sources = document["sources"]
    return Facts(
        label=label,
        farm_name=str(document["farm"]),
        start=date.fromisoformat(document["season"]["start"]),
        end=date.fromisoformat(document["season"]["end"]),
        status=str(document["status"]),
        cost=float(document["cost"]),
        gap=float(document["gap"]),
        costs=costs,
        names={str(one["source"]): str(one["name"]) for one in sources},
        # A plan written before grazing was told apart says of forage alone.
        hays=frozenset(
            str(one["source"]) for one in sources if one.get("is_hay", one["is_forage"])
        ),
        lots=tuple(str(lot["lot"]) for lot in document["lots"]),
        dm_frac={str(one["source"]): float(one["dm_pct"]) / 100.0 for one in sources},
        usd_per_kg={
            str(one["source"]): float(one["usd_per_kg_dm"]) * float(one["dm_pct"]) / 100.0
            for one in sources
        },
        left_t={str(lot["lot"]): float(lot["left_t"]) for lot in document["lots"]},
        bought_kg={str(one["feed"]): float(one["as_fed_kg"]) for one in document["purchases"]},
        bought_usd={str(one["feed"]): float(one["cost_usd"]) for one in document["purchases"]},
        missing=tuple(
            Missing(
                str(one["group"]),
                str(one["nutrient"]),
                str(one["unit"]),
                date.fromisoformat(one["start"]),
                date.fromisoformat(one["end"]),
                None if one["most_per_head_day"] is None else float(one["most_per_head_day"]),
                float(one["total"]),
                str(one["sentence"]),
            )
            for one in document["shortages"]
        ),
        feeding=tuple(
            Fed(
                str(row["group"]),
                str(row["source"]),
                date.fromisoformat(row["start"]),
                int(row["days"]),
                float(row["offered_kg"]),
            )
            for row in document["feeding"]
        ),
    )
