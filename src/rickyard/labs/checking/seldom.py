"""Numbers that forages have so seldom that a slip of the point or of the form is likelier."""

from __future__ import annotations

from typing import Final

from rickyard.forage.values import word_of
from rickyard.kinds import Forage
from rickyard.labs.checking.forages import forage_of, is_wet
from rickyard.labs.common import Question, Sample, Value
from rickyard.labs.vocabulary import in_canonical

#: Forages hold seldom more than this on dry matter; common practice, no published source.
#: [% or ppm]
SELDOM_MORE: Final = {
    "p": 0.6,
    "mg": 0.75,
    "k": 4.6,
    "s": 0.7,
    "na": 1.5,
    "cl": 2.5,
    "fe": 4000.0,
    "mn": 700.0,
    "zn": 140.0,
    "cu": 60.0,
    "mo": 12.0,
    "se": 5.0,
    "co": 5.0,
}
#: Only legumes hold more calcium, and only cereals and silages of grain more starch. [% DM]
_MOST_CALCIUM: Final = {True: 2.6, False: 1.4}
_MOST_STARCH_OF_HAY: Final = 9.0
_LEGUMES: Final = (Forage.ALFALFA, Forage.CLOVER, Forage.LEGUME_GRASS)
_OF_GRAIN: Final = (Forage.CORN_SILAGE, Forage.SMALL_GRAIN, Forage.SUMMER_ANNUAL)
#: Hay wetter than this heats, silage drier is none; common practice, no published source.
#: [% dry matter]
_LEAST_OF_HAY: Final = 72.0
_MOST_OF_SILAGE: Final = 80.0
_MOST_OF_CORN_SILAGE: Final = 58.0
#: More phosphorus than calcium, where there is so much of it. [% DM]
_MUCH_PHOSPHORUS: Final = 0.34
_LESS_CALCIUM: Final = 0.8
_FORMS: Final = {"p": "as P2O5 it would be {:.2f} % phosphorus", "k": "is it K2O?"}
_P_OF_P2O5: Final = 0.4364


def check_seldom(sample: Sample) -> None:
    """Ask about minerals, starch and dry matter that forages have very seldom."""
    forage = forage_of(sample.forage_words) or forage_of(sample.id)
    for name, most in SELDOM_MORE.items():
        _more(sample, name, most)
    if forage is not None:
        _more(sample, "ca", _MOST_CALCIUM[forage in _LEGUMES])
        if forage not in _OF_GRAIN:
            _more(sample, "starch", _MOST_STARCH_OF_HAY)
    _calcium_and_phosphorus(sample)
    _dry_matter(sample, forage)


def _sure(sample: Sample, name: str) -> Value | None:
    value = sample.of(name, "dm")
    if value is None or value.status != "sure" or value.value is None or value.op != "=":
        return None
    return value


def _more(sample: Sample, name: str, most: float) -> None:
    value = _sure(sample, name)
    if value is None or value.value is None:
        return
    number = in_canonical(name, value.value, value.unit)
    if number is None or number <= most or _is_asked(sample, name):
        return
    form = _FORMS.get(name, "").format(number * _P_OF_P2O5)
    _ask(
        sample,
        f"{value.printed} {word_of(name)} is more than forage holds but very seldom. Is a point in "
        f"the wrong place, or is it in another unit{'; ' + form if form else ''}?",
        (name,),
    )


def _is_asked(sample: Sample, *names: str) -> bool:
    return any(one.level == "open" and set(one.analytes) & set(names) for one in sample.questions)


def _ask(sample: Sample, text: str, names: tuple[str, ...]) -> None:
    sample.questions.append(
        Question(
            f"{sample.name}: {text} Ask the laboratory.",
            f"seldom {' '.join(names)} {sample.name}",
            names,
            ("as printed", "a number", "leave out"),
        )
    )


def _calcium_and_phosphorus(sample: Sample) -> None:
    calcium, phosphorus = _sure(sample, "ca"), _sure(sample, "p")
    if calcium is None or phosphorus is None or _is_asked(sample, "ca", "p"):
        return
    much = in_canonical("p", phosphorus.value or 0.0, phosphorus.unit) or 0.0
    less = in_canonical("ca", calcium.value or 0.0, calcium.unit) or 0.0
    if much >= _MUCH_PHOSPHORUS and less < _LESS_CALCIUM * much:
        _ask(
            sample,
            f"{calcium.printed} calcium beside {phosphorus.printed} phosphorus: forages hold more "
            "calcium than phosphorus. Were the two exchanged?",
            ("ca", "p"),
        )


def _dry_matter(sample: Sample, forage: Forage | None) -> None:
    value = sample.of("dm") or sample.of("moisture")
    if value is None or value.value is None or value.status != "sure":
        return
    dry = value.value if value.analyte == "dm" else 100.0 - value.value
    wet = is_wet(sample.forage_words)
    if wet is None and not sample.forage_words:
        wet = is_wet(sample.id)
    names = tuple(name for name in ("dm", "moisture") if sample.of(name))
    if _is_asked(sample, *names):
        return
    if wet is False and dry < _LEAST_OF_HAY:
        _ask(sample, f"{dry:g} % dry matter is that of no hay that keeps.", names)
    elif forage is Forage.CORN_SILAGE and dry > _MOST_OF_CORN_SILAGE:
        _ask(
            sample,
            f"{dry:g} % dry matter is that of no corn silage. Were dry matter and moisture "
            "exchanged?",
            names,
        )
    elif wet and dry > _MOST_OF_SILAGE:
        _ask(sample, f"{dry:g} % dry matter is that of hay and of no silage.", names)
