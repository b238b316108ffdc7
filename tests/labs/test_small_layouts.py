"""Layouts in small: each holds West 40 and perhaps East 40, and is read without a doubt."""

from __future__ import annotations

from pathlib import Path
from typing import Final

import pytest

from rickyard.labs.intake import read_file

SMALL: Final = sorted((Path(__file__).parent / "data" / "small").iterdir())
NAMES: Final = (("West 40", "771"), ("East 40", "772"))
#: What the two samples hold, in percent; dry matter as received, the others on dry matter.
DRY: Final = (
    {"dm": 88.1, "cp": 12.2, "adf": 35.1, "ndf": 55.5, "ca": 0.45},
    {"dm": 86.1, "cp": 15.2, "adf": 33.1, "ndf": 48.5, "ca": 0.95},
)
WET: Final = (
    {"moisture": 11.9, "cp": 10.7, "adf": 30.9, "ndf": 48.9, "ca": 0.40},
    {"moisture": 13.9, "cp": 13.1, "adf": 28.5, "ndf": 41.8, "ca": 0.82},
)


@pytest.mark.parametrize("path", SMALL, ids=lambda path: path.stem)
def test_every_value_of_a_small_layout_is_read_and_nothing_else(path: Path) -> None:
    reading = read_file(path.name, path.read_bytes())
    assert not reading.refused
    assert [(one.id, one.lab_no) for one in reading.samples] == list(NAMES[: len(reading.samples)])
    for sample, dry, wet in zip(reading.samples, DRY, WET, strict=False):
        assert {value.status for value in sample.values} == {"sure"}
        for value in sample.values:
            known = dry if value.basis == "dm" or value.analyte == "dm" else wet
            assert value.value is not None
            percent = value.value / (10.0 if value.unit == "g_per_kg" else 1.0)
            assert percent == pytest.approx(known[value.analyte])
        found = {(value.analyte, value.basis) for value in sample.values}
        assert found >= {(name, "dm") for name in dry if name != "dm"}
        assert found & {("dm", "ar"), ("moisture", "ar")}
