"""Printed energies held against the printed TDN, to find one in another unit than stated."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rickyard.forage.values import word_of
from rickyard.labs.common import Question, Sample, Value
from rickyard.labs.science import energies_of_tdn
from rickyard.labs.understanding import UNIT_WORDS
from rickyard.labs.vocabulary import in_canonical

#: Laboratories compute energies from TDN or fiber in several ways, which differ by less than
#: the first factor on forages, and seldom by more than the second; pounds and kilograms differ
#: by 2.2, megajoules by 4.2. Common practice, no published source.
MOST_FACTOR: Final = 1.45
SELDOM_FACTOR: Final = 1.15
#: Energies that are off by the same cause are off by factors that differ by less than this.
_ALIKE_FACTOR: Final = 1.25
_NEG_MOST_APART: Final = 0.35  # [Mcal/kg], where a factor would mean little
_NEG_MOST_FACTOR: Final = 1.9
_NEG_SMALL: Final = 0.3  # [Mcal/kg]
#: Below this the energy for gain is that of straw, which has more fiber and less TDN than these.
#: Common practice, no published source. [Mcal/kg], [%], [%]
_LEAST_GAIN: Final = 0.14
_MOST_ADF: Final = 44.0
_LEAST_TDN: Final = 50.0
_TDN_HELD: Final = (30.0, 90.0)
_UNITS: Final = ("mcal_per_lb", "mcal_per_kg", "mj_per_kg")


@dataclass(frozen=True, slots=True)
class _Held:
    """An energy with what the TDN makes of it, in Mcal/kg."""

    value: Value
    printed: float
    should: float

    @property
    def factor(self) -> float:
        """Return how many times as much is printed as the TDN makes."""
        return self.printed / self.should if self.should > 0.0 and self.printed > 0.0 else 0.0


def check_energy(sample: Sample) -> None:
    """Ask about energies that do not belong to the TDN of the sample, or a TDN to its energies."""
    _held_to_tdn(sample)
    _small_gain(sample)


def _small_gain(sample: Sample) -> None:
    """Ask about an energy for gain as small as that of straw, in a forage that is none.

    NEg of forages reaches down to nothing, so its own limits do not tell a figure in Mcal/lb
    that is printed under MJ/kg.
    """
    for value in sample.values:
        if value.analyte != "neg" or value.value is None or value.status != "sure":
            continue
        per_kg = in_canonical("neg", value.value, value.unit)
        fiber, tdn = sample.of("adf", value.basis), sample.of("tdn", value.basis)
        fine = (
            fiber is not None
            and fiber.value is not None
            and fiber.unit == "pct"
            and 0.0 < fiber.value < _MOST_ADF
        ) or (tdn is not None and tdn.value is not None and tdn.value > _LEAST_TDN)
        if per_kg is None or per_kg >= _LEAST_GAIN or not fine:
            continue
        value.doubt("so little energy for gain is that of straw")
        sample.questions.append(
            Question(
                f"{sample.name}: {value.printed} {UNIT_WORDS[value.unit]} {word_of('neg')} is as "
                "little as in straw, and the fiber or the TDN is not that of straw. In Mcal/lb it "
                "would be a usual figure. Ask the laboratory for the unit.",
                "energy neg",
                ("neg", "nem"),
                ("as printed", "a number", "leave out"),
            )
        )


def _held_to_tdn(sample: Sample) -> None:
    tdn = sample.of("tdn", "dm")
    if tdn is None or tdn.value is None or tdn.unit != "pct" or tdn.status != "sure":
        return
    if not _TDN_HELD[0] <= tdn.value <= _TDN_HELD[1]:
        return
    held = []
    for name, should in energies_of_tdn(tdn.value).items():
        value = sample.of(name, "dm")
        if value is None or value.value is None or value.status != "sure":
            continue
        per_kg = in_canonical(name, value.value, value.unit)
        if per_kg is not None:
            held.append(_Held(value, per_kg, should))
    if _tdn_is_odd(sample, tdn, held):
        return
    for one in held:
        if not _near(one.value.analyte, one.printed, one.should):
            _odd_energy(sample, tdn, one)


def _tdn_is_odd(sample: Sample, tdn: Value, held: list[_Held]) -> bool:
    """Ask about the TDN where energies agree with one another and not with it."""
    steady = [one for one in held if one.value.analyte != "neg" and one.factor > 0.0]
    if not steady:
        return False
    low, high = min(one.factor for one in steady), max(one.factor for one in steady)
    apart = low > SELDOM_FACTOR or high < 1.0 / SELDOM_FACTOR
    alike = high / low < _ALIKE_FACTOR
    another_unit = high > 1.9 or low < 1.0 / 1.9
    if not apart or not alike or another_unit:
        return False
    several = len(steady) > 1
    if several:
        tdn.doubt("the energies printed with it do not belong to it")
    names = tuple(one.value.analyte for one in held)
    first = steady[0]
    sample.questions.append(
        Question(
            f"{sample.name}: {tdn.printed} % TDN makes about {first.should:.2f} Mcal/kg "
            f"{word_of(first.value.analyte)}, and {first.value.printed} "
            f"{UNIT_WORDS[first.value.unit]} is printed. Is a figure of the TDN mistyped, or is "
            "one of them as received?",
            "tdn and energy",
            ("tdn", *names),
            ("as printed", "a number", "leave out"),
        )
    )
    return True


def _odd_energy(sample: Sample, tdn: Value, one: _Held) -> None:
    value, name = one.value, one.value.analyte
    value.doubt(f"it does not belong to {tdn.printed} % TDN")
    assert value.value is not None
    others = [
        UNIT_WORDS[unit]
        for unit in _UNITS
        if unit != value.unit
        and _near(name, in_canonical(name, value.value, unit) or 0.0, one.should)
    ]
    hint = f"; in {others[0]} it would" if others else ""
    sample.questions.append(
        Question(
            f"{sample.name}: {value.printed} {UNIT_WORDS[value.unit]} {word_of(name)} does not "
            f"belong to {tdn.printed} % TDN, which makes about {one.should:.2f} Mcal/kg{hint}. "
            "Ask the laboratory for the unit.",
            f"energy {name}",
            (name,),
            ("as printed", "a number", "leave out"),
        )
    )


def _near(name: str, value: float, should: float) -> bool:
    if name == "neg":
        small = value <= _NEG_SMALL or should <= _NEG_SMALL
        return abs(value - should) <= _NEG_MOST_APART and (
            small or 1.0 / _NEG_MOST_FACTOR <= value / should <= _NEG_MOST_FACTOR
        )
    return value > 0.0 and 1.0 / MOST_FACTOR <= value / should <= MOST_FACTOR
