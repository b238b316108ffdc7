"""Water by class of cattle: the printed cells, and what lies between and outside them."""

import numpy as np
import pytest

from rickyard.quantities import LITRE_PER_US_GALLON, UNITS, OutOfRange
from rickyard.stock.minerals.water import GALLONS, drinking_water_litres
from support.rows import each_row


def at_f(animal: str, fahrenheit: float) -> float:
    litres = drinking_water_litres(animal, UNITS["degF"].to_canonical(fahrenheit))
    return float(litres) / LITRE_PER_US_GALLON


#: Gallons a head and day at 70, 80 and 90 °F: Beef Magazine, Watch summer water (from NRC 1996
#: and Winchester & Morris 1956).
PRINTED = {
    "calf_500lb": (6.5, 7.4, 10.6),
    "growing_800lb": (9.3, 10.6, 14.0),
    "finishing_800lb": (10.8, 12.3, 16.5),
    "pregnant_heifer_750lb": (9.0, 10.3, 14.6),
    "dry_pregnant_cow": (10.8, 12.4, 17.6),
    "lactating_cow": (16.3, 17.9, 21.6),
    "mature_bull": (12.7, 14.6, 19.5),
}


def test_every_class_of_the_table_is_known() -> None:
    assert list(GALLONS) == list(PRINTED)


@each_row("animal", list(PRINTED))
def test_every_printed_cell_comes_back(animal: str) -> None:
    found = [at_f(animal, fahrenheit) for fahrenheit in (70.0, 80.0, 90.0)]
    assert found == pytest.approx(PRINTED[animal])


@each_row("animal", list(GALLONS))
def test_warmer_never_drinks_less(animal: str) -> None:
    celsius = np.linspace(-30.0, 32.0, 200)
    litres = drinking_water_litres(animal, celsius)
    assert np.all(np.diff(litres) >= 0.0)
    assert litres[0] == pytest.approx(0.70 * GALLONS[animal][0] * LITRE_PER_US_GALLON)


def test_between_two_columns_lies_halfway_and_below_one_percent_a_degree() -> None:
    assert at_f("dry_pregnant_cow", 75.0) == pytest.approx(11.6)
    assert at_f("dry_pregnant_cow", 50.0) == pytest.approx(8.64)


def test_what_is_not_printed_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"32\.2"):
        drinking_water_litres("mature_bull", 35.0)
    with pytest.raises(OutOfRange, match="lactating_cow"):
        drinking_water_litres("unicorn", 25.0)
