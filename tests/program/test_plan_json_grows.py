"""What read a plan of version 1.0 reads one of today: keys are added, one went, none changes."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

from rickyard.program.result.result import SCHEMA_VERSION
from rickyard.sheets.data_files.plan_schema import plan_schema
from support.rows import each_row

#: Every key of version 1.0, with what the schema said of its values.
OLD: Final[dict[str, dict[str, Any]]] = json.loads(
    (Path(__file__).parent / "plan_keys_1_0.json").read_text(encoding="utf-8")
)

#: What is short of the whole farm (reserve, cash) has no head to be counted by: null, and only
#: on farms with rules that version 1.0 did not know.
WIDER: Final = {"shortages[].most_per_head_day": ["number", "null"]}

SAID: Final = ("type", "enum", "format", "pattern", "minimum")


def today(schema: dict[str, Any], before: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    for key, part in schema["properties"].items():
        path = f"{before}{key}"
        yield path, {name: part[name] for name in SAID if name in part}
        inner = part.get("items", part)
        if "properties" in inner:
            yield from today(inner, f"{path}{'[]' if 'items' in part else ''}.")


NOW: Final = dict(today(plan_schema()))


#: The time a program took is no part of it since version 2.0.
GONE: Final = {"seconds"}


def test_the_second_generation_goes_on() -> None:
    assert SCHEMA_VERSION.split(".")[0] == "2"
    assert len(OLD) == 133
    assert GONE.isdisjoint(NOW)


@each_row("key", [key for key in OLD if key not in GONE])
def test_a_key_of_the_first_version_is_there_and_means_the_same(key: str) -> None:
    assert key in NOW, f"{key} is gone"
    then = dict(OLD[key])
    if key in WIDER:
        then["type"] = WIDER[key]
    assert NOW[key] == then


def test_keys_of_the_first_version_keep_their_order() -> None:
    assert [key for key in NOW if key in OLD] == [key for key in OLD if key not in GONE]
