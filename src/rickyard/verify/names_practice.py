"""Names of the check file of common practice: what the program says where people do as they do."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date
from typing import Final

from rickyard.farm import Forage, Lot, Package, Storage
from rickyard.hay.common import calendar
from rickyard.hay.sampling import analyses, cores, probing, when
from rickyard.program.explain import worth_of_tests
from rickyard.quantities import convert
from rickyard.verify.names_sampling import core_g
from rickyard.verify.quantity import Inputs, Quantity

_LEAST: Final = ("dm", "cp", "adf", "ndf")


def _lot(forage: str, drought: bool | None = None) -> Lot:
    day = date(2026, 6, 1)
    stands = Storage.ENCLOSED_BARN
    lot = Lot("A", "Barn", Forage(forage), Package.ROUND, stands, 40.0, day, day)
    return replace(lot, drought=drought)


def _bags(q: Inputs) -> float:
    """Return the gallon freezer bags that all cores of a lot fill together."""
    return math.ceil(float(cores.bag_volume_ml(q["cores"] * core_g(q))) / cores.GALLON_ML)


def _least_tests(q: Inputs) -> str:
    wanted = {one.test for one in analyses.wanted_tests(_lot(q["forage"]), ())}
    return " ".join(one for one in _LEAST if one in wanted)


def _nitrate_too(q: Inputs) -> str:
    wanted = analyses.wanted_tests(_lot(q["forage"], q["drought"]), ())
    return "yes" if any(one.test == "nitrate" for one in wanted) else "no"


def _may_ship_wet(q: Inputs) -> str:
    places = calendar.work_calendar("")
    day = date.fromisoformat(q["day"])
    return "yes" if places.may_ship_wet(day, when.Timing().wet_mail_days) else "no"


PRACTICE: Final[dict[str, Quantity]] = {
    "practice_bales_cored": lambda q: float(cores.PRACTICE_CORES),
    "protocol_bales_cored": lambda q: float(cores.PROTOCOL_CORES),
    "square_core_depth": lambda q: convert(probing.SQUARE_DEPTH_M, "m", "in"),
    "bags_of_a_lot": _bags,
    "wet_sample_may_leave": _may_ship_wet,
    "days_of_laboratory_at_least": lambda q: "yes" if when.Timing().lab_days >= q["days"] else "no",
    "basic_test_fee": lambda q: worth_of_tests.COMMON_FEE_USD,
    "least_tests": _least_tests,
    "nitrate_asked_for": _nitrate_too,
}
