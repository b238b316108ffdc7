"""Printed energies held against the printed TDN, to find one in another unit than stated."""

from __future__ import annotations

from typing import Final

from rickyard.labs.bridge import energies_of_tdn, word_of
from rickyard.labs.shapes import Question, Sample
from rickyard.labs.understanding.envelope import in_canonical
from rickyard.labs.understanding.settle import UNIT_WORDS

#: Laboratories compute energies from TDN or fiber in several ways, which differ by less than
#: this factor on forages; pounds and kilograms differ by 2.2, megajoules by 4.2. Common practice,
#: no published source.
MOST_FACTOR: Final = 1.45
_NEG_MOST_APART: Final = 0.35  # [Mcal/kg], where a factor would mean little


def check_energy(sample: Sample) -> None:
    """Ask about energies that do not belong to the TDN of the sample."""
    tdn = sample.of("tdn", "dm")
    if tdn is None or tdn.value is None or tdn.unit != "pct" or not 30.0 <= tdn.value <= 90.0:
        return
    expected = energies_of_tdn(tdn.value)
    for name, should in expected.items():
        value = sample.of(name, "dm")
        if value is None or value.value is None or value.status != "sure":
            continue
        per_kg = in_canonical(name, value.value, value.unit)
        if per_kg is None or _near(name, per_kg, should):
            continue
        value.doubt(f"it does not belong to {tdn.printed} % TDN")
        others = [
            UNIT_WORDS[unit]
            for unit in ("mcal_per_lb", "mcal_per_kg", "mj_per_kg")
            if unit != value.unit
            and _near(name, in_canonical(name, value.value, unit) or 0.0, should)
        ]
        hint = f"; in {others[0]} it would" if others else ""
        sample.questions.append(
            Question(
                f"{sample.name}: {value.printed} {UNIT_WORDS[value.unit]} {word_of(name)} does "
                f"not belong to {tdn.printed} % TDN, which makes about {should:.2f} Mcal/kg"
                f"{hint}. Ask the laboratory for the unit.",
                f"energy {name}",
                (name,),
                ("mcal_per_lb", "mcal_per_kg", "mj_per_kg", "leave out"),
            )
        )


def _near(name: str, value: float, should: float) -> bool:
    if name == "neg":
        return abs(value - should) <= _NEG_MOST_APART and (
            value <= 0.3 or should <= 0.3 or 1 / 1.9 <= value / should <= 1.9
        )
    return value > 0.0 and 1.0 / MOST_FACTOR <= value / should <= MOST_FACTOR
