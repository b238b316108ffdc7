"""Hold what was read from a laboratory's file against its truth.

The truth of ``NAME`` stands in ``NAME.truth.json``: samples with every printed value in the words
of ``reports.csv`` and what is expected of it: ``sure``, ``ask``, ``refuse``, ``any`` or ``absent``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

#: Units of one kind, with what one of them is in the first.
_UNITS = {
    "pct": ("share", 1.0),
    "g_per_kg": ("share", 0.1),
    "ppm": ("share", 1e-4),
    "ppb": ("share", 1e-7),
    "mcal_per_kg": ("energy", 1.0),
    "mcal_per_lb": ("energy", 2.20462262),
    "mcal_per_cwt": ("energy", 0.0220462262),
    "mj_per_kg": ("energy", 1 / 4.184),
    "cfu_per_g": ("count", 1.0),
}
_WITHOUT_NUMBER = ("nd", "tntc", "none")


@dataclass
class Score:
    """How many values were right, and in words what was not."""

    right: int = 0
    asked: int = 0
    needless: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    missed: list[str] = field(default_factory=list)


def score(truth: dict[str, Any], told: dict[str, Any]) -> Score:
    """Return how a reading as JSON compares with the truth of its file."""
    result = Score()
    if told["refused"]:
        if truth["expect_file"] == "read":
            result.missed.append(f"refused: {told['refused']}")
        return result
    left = list(told["samples"])
    for wanted in truth["samples"]:
        found = next((one for one in left if _same_sample(wanted, one)), None)
        if found is None:
            result.missed.append(f"sample {wanted['id'] or wanted['lab_no']}")
            continue
        left.remove(found)
        _score_sample(result, wanted, found)
    for one in left:
        if any(value["status"] == "sure" for value in one["values"]):
            result.wrong.append(f"a sample that is not there: {one['id']}")
    return result


def _plain(text: str | None) -> str:
    return " ".join((text or "").split()).casefold()


def _same_sample(wanted: dict[str, Any], found: dict[str, Any]) -> bool:
    ids = {_plain(one) for one in (wanted["id"], *wanted.get("id_also", ())) if one}
    numbers = {_plain(one) for one in (wanted["lab_no"], *wanted.get("lab_no_also", ())) if one}
    if numbers and found["lab_no"]:
        return _plain(found["lab_no"]) in numbers
    return _plain(found["id"]) in ids if ids else not found["id"]


def _score_sample(result: Score, wanted: dict[str, Any], found: dict[str, Any]) -> None:
    where = wanted["id"] or wanted["lab_no"]
    left = list(wanted["values"])
    for value in found["values"]:
        same = [
            one
            for one in left
            if one["analyte"] == value["analyte"] and (one["basis"] or None) == value["basis"]
        ]
        told = f"{where}: {value['analyte']} {value['printed']} {value['unit']} {value['basis']}"
        if value["status"] != "sure":
            same = same or [one for one in left if one["analyte"] == value["analyte"]]
            if not same:
                continue
            left.remove(same[0])
            result.asked += 1
            if same[0]["expect"] == "sure":
                result.needless.append(told)
            continue
        hit = next((one for one in same if _same_value(one, value)), None)
        if hit is None or hit["expect"] in ("ask", "refuse"):
            if not any(_same_value(one, value) for one in wanted["optional"]):
                result.wrong.append(told)
        else:
            result.right += 1
        left = [one for one in left if one is not hit and one not in same[:1]]
    result.missed.extend(
        f"{where}: {one['analyte']} {one['printed']}" for one in left if one["expect"] != "absent"
    )
    _score_beside(result, wanted, found)


def _score_beside(result: Score, wanted: dict[str, Any], found: dict[str, Any]) -> None:
    open_ones = set(found["asked"])
    for name in ("id", "lab_no", "sampled_on", "received_on", "reported_on"):
        if name in wanted.get("meta_any", ()) or not found[name]:
            continue
        also = wanted.get(f"{name}_also", ())
        if _plain(found[name]) not in {_plain(wanted[name]), *map(_plain, also)}:
            result.wrong.append(f"{name} {found[name]}, printed {wanted[name]}")
        if name in wanted["ask"] and name not in open_ones:
            result.wrong.append(f"{name} {found[name]} must be asked")
    doubted = {one for question in found["questions"] for one in question["analytes"]}
    doubted |= {value["analyte"] for value in found["values"] if value["status"] != "sure"}
    for planted in wanted["planted"]:
        if not doubted & set(planted["analytes"]):
            result.wrong.append(f"swallowed: {planted['what']}")


def _same_value(wanted: dict[str, Any], value: dict[str, Any]) -> bool:
    if wanted["op"] in _WITHOUT_NUMBER or wanted["value"] is None:
        return value["value"] is None
    if value["value"] is None or value["op"] != wanted["op"]:
        return False
    if wanted["unit"] == value["unit"]:
        return abs(wanted["value"] - value["value"]) <= 1e-6 * max(1.0, abs(wanted["value"]))
    mine, other = _UNITS.get(wanted["unit"]), _UNITS.get(value["unit"])
    if mine is None or other is None or mine[0] != other[0]:
        return False
    places = re.search(r"[.,](\d+)$", wanted["printed"])
    half = 0.5 * 10.0 ** -(len(places[1]) if places else 0)
    return abs(wanted["value"] * mine[1] - value["value"] * other[1]) <= half * mine[1]
