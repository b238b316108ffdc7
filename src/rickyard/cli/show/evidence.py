"""Every need of a group over the season, and how each number is known, in the terminal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from rich.console import Console

from rickyard.cli.show import parts
from rickyard.farm import Group
from rickyard.stock.common import NeedSeries
from rickyard.types import FloatArray

#: Needs with a field of their own, by name in the output: words, unit, factor from the field.
_FIELDS: Final = {
    "nem_maintenance_mcal": ("energy to live", "Mcal NEm", 1.0),
    "nem_cold_mcal": ("energy for cold and mud", "Mcal NEm", 1.0),
    "nem_lactation_mcal": ("energy for milk", "Mcal NEm", 1.0),
    "nem_pregnancy_mcal": ("energy for the calf", "Mcal NEm", 1.0),
    "nem_condition_mcal": ("energy for condition", "Mcal NEm", 1.0),
    "retained_energy_mcal": ("energy kept in gain", "Mcal NEg", 1.0),
    "energy_mcal": ("metabolizable energy", "Mcal", 1.0),
    "tdn_kg": ("total digestible nutrients", "g", 1000.0),
    "mp_g": ("metabolizable protein", "g", 1.0),
    "cp_kg": ("crude protein", "g", 1000.0),
    "ca_kg": ("calcium", "g", 1000.0),
    "p_kg": ("phosphorus", "g", 1000.0),
}
_WORDS: Final = {
    "usual_hay_dm": "dry matter of a usual hay",
    "mg": "magnesium",
    "k": "potassium",
    "na": "sodium",
    "cl": "chloride",
    "s": "sulfur",
    "cu": "copper",
    "zn": "zinc",
    "mn": "manganese",
    "se": "selenium",
    "fe": "iron",
    "co": "cobalt",
    "i": "iodine",
    "salt": "salt",
    "vitamin_a": "vitamin A",
    "vitamin_d": "vitamin D",
    "vitamin_e": "vitamin E",
    "water": "water",
}
_UNITS: Final = {"iu": "IU", "l": "L", "pct": "%"}


def print_evidence(group: Group, series: NeedSeries, console: Console) -> None:
    """Print every need of a group over its season, how each is known, and what was assumed."""
    parts.heading(console, f"{group.name}: each need a day, and how it is known")
    table = parts.columns(
        "need", ">least", ">most", "unit", "at most in the diet", "how it is known"
    )
    for name, (words, unit, values) in _needs(series).items():
        here = values[series.present]
        known = here[~np.isnan(here)]
        if known.size == 0 or not np.any(known):
            continue
        table.add_row(
            words,
            _figure(float(known.min())),
            _figure(float(known.max())),
            unit,
            _tolerated(name, series.most),
            series.evidence.get(name, ""),
        )
    console.print(table)
    taken = [f"{one.sentence} ({one.source})" for one in series.assumptions]
    parts.sentences(console, f"{group.name}: assumptions", taken)


def _needs(series: NeedSeries) -> dict[str, tuple[str, str, FloatArray]]:
    found: dict[str, tuple[str, str, FloatArray]] = {}
    for name, (words, unit, factor) in _FIELDS.items():
        values = getattr(series, name)
        if name == "energy_mcal" and series.energy_basis == "de":
            words = "digestible energy"  # of horses
        if values is not None:
            found[name] = (words, unit, factor * values)
    for name, values in series.more.items():
        plain, _, unit = name.rpartition("_")
        words = _WORDS.get(plain, plain.replace("_", " "))
        found[name] = (words, _UNITS.get(unit, unit), values)
    return found


def _tolerated(name: str, most: Mapping[str, FloatArray]) -> str:
    symbol = name.rpartition("_")[0]
    for unit in ("pct", "ppm"):
        values = most.get(f"{symbol}_{unit}")
        if values is not None:
            return f"{values.min():g} {_UNITS.get(unit, unit)}"
    return ""


def _figure(value: float) -> str:
    if abs(value) >= 100.0:
        return f"{value:,.0f}"
    return f"{value:.1f}" if abs(value) >= 10.0 else f"{value:.2f}"
