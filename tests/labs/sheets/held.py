"""A reading held against the sheet that it was made of."""

from __future__ import annotations

from dataclasses import dataclass, field

from rickyard.labs.common import FileReading, Sample, Value

from .chance import Sheet
from .content import UNITS

_KIND = {"pct": "share", "g_per_kg": "share", "ppm": "ppm"}


@dataclass
class Held:
    """How many values are right, asked about and missed, and what is wrong in silence."""

    right: int = 0
    asked: int = 0
    missed: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)


def held(sheet: Sheet, reading: FileReading) -> Held:
    """Return how a reading compares with its sheet."""
    result = Held()
    left = dict(sheet.content.truth)
    for sample in reading.samples:
        bag = _bag_of(sheet, sample)
        sure = [one for one in sample.values if one.status == "sure"]
        if bag is None:
            if sure:
                result.wrong.append(f"no such sample: {sample.name} with {len(sure)} values")
            result.asked += len(sample.values) - len(sure)
            continue
        _fields(result, sheet, bag, sample)
        for value in sample.values:
            key = (bag, value.analyte, value.basis)
            if value.status != "sure":
                hit = next((k for k in left if k[:2] == key[:2]), None)
                result.asked += hit is not None
                left.pop(key if key in left else hit or key, None)
            elif key not in sheet.content.truth or not _same(sheet, key, value):
                told = sheet.content.truth.get(key)
                result.wrong.append(
                    f"{sample.name}: {value.analyte} {value.value} {value.unit} {value.basis} "
                    f"({value.place}), printed {told}"
                )
                left.pop(key, None)
            else:
                result.right += 1
                left.pop(key, None)
                if sheet.places and value.place != sheet.places[key]:
                    result.wrong.append(f"{sample.name}: {value.analyte} from {value.place}, "
                                        f"stands at {sheet.places[key]}")  # fmt: skip
    result.missed.extend(f"{sheet.content.bags[k[0]].name}: {k[1]} {k[2]} {v}"
                         for k, v in left.items())  # fmt: skip
    return result


def _bag_of(sheet: Sheet, sample: Sample) -> int | None:
    for number, bag in enumerate(sheet.content.bags):
        if sample.id == bag.name or sample.lab_no == bag.number:
            return number
    return 0 if len(sheet.content.bags) == 1 and not (sample.id or sample.lab_no) else None


def _fields(result: Held, sheet: Sheet, number: int, sample: Sample) -> None:
    bag = sheet.content.bags[number]
    for name, found, printed in (
        ("id", sample.id, bag.name), ("lab_no", sample.lab_no, bag.number),
        ("sampled_on", sample.sampled_on, bag.day),
    ):  # fmt: skip
        if found and found != printed and name not in sample.asked:
            result.wrong.append(f"{bag.name}: {name} {found}, printed {printed}")


def _same(sheet: Sheet, key: tuple[int, str, str], value: Value) -> bool:
    text, unit = sheet.content.truth[key]
    if value.value is None or value.op != "=":
        return False
    number = float(text)
    if unit != value.unit:
        if (unit in ("", "ppm")) or value.unit in ("", "ppm"):
            return False
        number *= UNITS[value.unit][1] / UNITS[unit][1]
    return abs(number - value.value) <= 1e-6 * max(1.0, abs(number)) + (
        0.0 if unit == value.unit else 0.51 * 10.0 ** -len(text.partition(".")[2])
    )
