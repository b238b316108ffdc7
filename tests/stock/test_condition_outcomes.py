"""What condition and weight lead to, by printed rows, and what additives may do."""

import pytest

from rickyard.forage.values.nitrate import nitrate_mix_share_pct
from rickyard.quantities import OutOfRange
from rickyard.stock.herd import additives, condition_change, diet_change
from rickyard.stock.herd.reproduction import expected_outcome, printed_outcome
from rickyard.stock.minerals.water import TDS_CLASSES, dissolved_solids_class
from support.rows import each_row


def test_a_row_that_is_not_printed_is_refused_and_read_between_only_when_asked() -> None:
    with pytest.raises(OutOfRange, match="rows at 4, 5, 6, 7"):
        printed_outcome("michigan_pregnant_60d", 4.5)
    with pytest.raises(OutOfRange, match="no row"):
        printed_outcome("nowhere", 5.0)
    assert expected_outcome("michigan_pregnant_60d", 2.0) == 24.0
    assert expected_outcome("heifer_puberty", 57.5) == pytest.approx(69.0)


def test_the_kansas_table_of_gain_before_calving() -> None:
    # 80 lb a score and 100 lb of calf: the five printed cells, pounds a day.
    cells = {(3, 120): 2.2, (4, 120): 1.5, (5, 120): 0.8, (3, 200): 1.3, (3, 100): 2.6}
    for (now, days), printed in cells.items():
        gain = condition_change.gain_for_score_kg(float(now), 5.0, 80.0, 100.0, float(days))
        assert gain == pytest.approx(printed, abs=0.06)
    with pytest.raises(OutOfRange, match="at least one day"):
        condition_change.gain_for_score_kg(4.0, 5.0, 80.0, 100.0, 0.0)


def test_monensin_is_not_told_for_a_few_days_and_never_takes_gain() -> None:
    with pytest.raises(OutOfRange, match="30 days"):
        additives.monensin_gain_kg(29.0)
    assert additives.monensin_gain_kg(400.0) == 0.0


def test_changes_take_whole_steps() -> None:
    assert diet_change.days_to_amount(0.0, 5.2, 0.5) == 11
    assert diet_change.days_to_amount(3.0, 2.0, 0.5) == 0
    for bad in (lambda: diet_change.days_to_amount(0.0, 1.0, 0.0),
                lambda: diet_change.new_share_pct(1, 25.0, 0)):  # fmt: skip
        with pytest.raises(OutOfRange):
            bad()


def test_nothing_dilutes_what_is_at_the_limit_already() -> None:
    assert nitrate_mix_share_pct(900.0, 100.0, 1000.0) == 100.0
    with pytest.raises(OutOfRange, match="nothing dilutes"):
        nitrate_mix_share_pct(2400.0, 1000.0, 1000.0)


@each_row(
    ("ppm", "place"),
    [(0.0, 0), (999.0, 0), (1000.0, 1), (2999.0, 1), (4999.0, 2), (6999.0, 3), (7000.0, 4),
     (10000.0, 4), (10001.0, 5)],
)  # fmt: skip
def test_water_falls_into_the_printed_bands(ppm: float, place: int) -> None:
    assert dissolved_solids_class(ppm) == TDS_CLASSES[place]
    with pytest.raises(OutOfRange):
        dissolved_solids_class(-1.0)
