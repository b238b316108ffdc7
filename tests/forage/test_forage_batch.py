"""Many reports at once read as each of them alone."""

import numpy as np
import pytest

from rickyard.farm import Forage
from rickyard.forage.batch.batch import LEVELS, BatchReading, read_batch
from rickyard.forage.batch.batch_indices import TDN_METHODS
from rickyard.forage.energy.indices import (
    relative_feed_value,
    relative_forage_quality_grass,
    relative_forage_quality_legume,
)
from rickyard.forage.energy.lot_energy import lot_energy
from rickyard.forage.plausibility.plausibility import RULES, broken_rules, error_rows
from rickyard.forage.values.classes import CLASSED
from rickyard.forage.values.columns import FORAGES, ReportColumns, plain_columns

#: Mean and standard deviation of a wide mixture of hays. [% DM; ppm; NDFD % of NDF]
SPREAD = {
    "dm": (88.0, 3.0),
    "cp": (12.0, 4.0),
    "adf": (37.0, 5.0),
    "ndf": (57.0, 9.0),
    "lignin": (5.5, 1.5),
    "ash": (8.0, 2.0),
    "ee": (2.4, 0.5),
    "ndicp": (3.4, 0.8),
    "adicp": (1.2, 0.6),
    "ndfd48": (52.0, 8.0),
    "starch": (1.8, 0.8),
    "wsc": (9.0, 3.0),
    "tdn": (57.0, 5.0),
    "rfv": (105.0, 20.0),
    "ca": (0.6, 0.3),
    "p": (0.25, 0.08),
    "mg": (0.2, 0.06),
    "k": (2.0, 0.6),
    "s": (0.2, 0.05),
    "na": (0.05, 0.02),
    "cl": (0.5, 0.2),
    "nitrate_no3n": (600.0, 700.0),
    "cu": (8.0, 3.0),
    "mo": (2.0, 1.0),
    "se": (0.15, 0.08),
    "ergovaline": (0.3, 0.2),
    "mold": (800_000.0, 900_000.0),
    "ph": (4.8, 0.6),
    "butyric": (0.4, 0.3),
    "aflatoxin": (0.05, 0.1),
    "don": (3.0, 3.0),
}
ROWS = 700


def district(rows: int = ROWS, seed: int = 1, missing: float = 0.15) -> ReportColumns:
    rng = np.random.default_rng(seed)
    values = {}
    for name, (mean, sd) in SPREAD.items():
        column = rng.normal(mean, sd, rows)
        column[rng.random(rows) < missing] = np.nan
        values[name] = column
    codes = rng.integers(0, len(FORAGES), rows)
    return ReportColumns(codes.astype(np.intp), rng.random(rows) < 0.2, values)


@pytest.fixture(scope="module")
def columns() -> ReportColumns:
    return district()


@pytest.fixture(scope="module")
def batch(columns: ReportColumns) -> BatchReading:
    return read_batch(columns, rows_at_once=256)


def test_the_rules_are_broken_as_in_one_piece(columns: ReportColumns, batch: BatchReading) -> None:
    whole = {place: np.flatnonzero(rows) for place, rows in broken_rules(columns).items()}
    expected = {place: rows.tolist() for place, rows in whole.items() if rows.size}
    assert {place: rows.tolist() for place, rows in batch.broken.items()} == expected
    assert len(expected) > 50
    error = LEVELS.index("error")
    assert np.array_equal(batch.level == error, error_rows(columns))
    assert {LEVELS[place] for place in np.unique(batch.level)} >= {"", "warning", "error"}


def test_the_level_is_that_of_the_gravest_rule(batch: BatchReading) -> None:
    level = np.zeros(len(batch), dtype=np.int8)
    for place, rows in batch.broken.items():
        level[rows] = np.maximum(level[rows], LEVELS.index(RULES[place].level))
    assert np.array_equal(level, batch.level)


def test_blocks_change_nothing(columns: ReportColumns, batch: BatchReading) -> None:
    other = read_batch(columns, rows_at_once=ROWS)
    for name, values in batch.indices.items():
        assert np.array_equal(values, other.indices[name], equal_nan=True), name
    for name, classes in batch.classes.items():
        assert np.array_equal(classes, other.classes[name]), name
    assert np.array_equal(batch.level, other.level)


def test_a_row_reads_as_it_does_alone(columns: ReportColumns, batch: BatchReading) -> None:
    for row in range(0, ROWS, 23):
        one = slice(row, row + 1)
        values = {name: column[one] for name, column in columns.values.items()}
        alone = read_batch(ReportColumns(columns.forage[one], columns.wet[one], values))
        for name, index in batch.indices.items():
            mine = alone.indices.get(name, np.array([np.nan]))
            assert np.array_equal(index[one], mine, equal_nan=True), (row, name)
        assert alone.level[0] == batch.level[row]


def test_indices_are_those_of_the_single_functions(
    columns: ReportColumns, batch: BatchReading
) -> None:
    told = 0
    for row in range(ROWS):
        forage = FORAGES[columns.forage[row]]
        cp, adf, ndf, ndfd, ash, ee, bound = (
            float(columns[name][row])
            for name in ("cp", "adf", "ndf", "ndfd48", "ash", "ee", "ndicp")
        )
        if forage in (Forage.CORN_SILAGE, Forage.STRAW):
            assert np.isnan(batch.indices["rfv"][row])
            continue
        if min(cp, adf, ndf) <= 0.0 or np.isnan([cp, adf, ndf, ndfd, ash, ee, bound]).any():
            continue
        assert batch.indices["rfv"][row] == relative_feed_value(adf, ndf)
        if forage in (Forage.ALFALFA, Forage.CLOVER, Forage.LEGUME_GRASS):
            expected = relative_forage_quality_legume(cp, ndf, ndfd, ash, ee, bound)
        else:
            expected = relative_forage_quality_grass(cp, adf, ndf, ndfd, ash, ee, bound)
        assert batch.indices["rfq"][row] == pytest.approx(expected, rel=1e-12, nan_ok=True)
        told += 1
    assert told > 150


def test_tdn_and_its_method_are_those_of_a_lot(columns: ReportColumns, batch: BatchReading) -> None:
    told = 0
    for row in range(ROWS):
        method = batch.indices["tdn_method"][row]
        values = {
            name: float(columns[name][row])
            for name in ("tdn", "cp", "adf", "ndf", "lignin", "ash", "ee", "ndicp", "adicp")
            if np.isfinite(columns[name][row])
        }
        if np.isnan(method) or min(values.values()) <= 0.0:
            continue
        energy = lot_energy("one", FORAGES[columns.forage[row]], values)
        assert TDN_METHODS[int(method)] is energy.method
        assert batch.indices["tdn_pct"][row] == pytest.approx(energy.tdn_pct, rel=1e-12)
        nem = batch.indices["nem_mcal_per_kg"][row]
        assert nem == pytest.approx(energy.nem_mcal_per_kg, rel=1e-12)
        told += 1
    assert told > 500


def test_grades_are_those_of_the_tables(columns: ReportColumns, batch: BatchReading) -> None:
    hazards = 0
    for name, one in CLASSED.items():
        if name not in batch.classes:
            continue
        hazards += len(one.forages) == len(FORAGES)
        source = batch.indices.get(one.what)
        source = one.factor * (columns.values[one.what] if source is None else source)
        for row in range(0, ROWS, 7):
            place = batch.classes[name][row]
            if (
                FORAGES[columns.forage[row]] not in one.forages
                or np.isnan(source[row])
                or (one.wet_only and not columns.wet[row])
            ):
                assert place == -1, (name, row)
            else:
                label = one.table.label(float(source[row]))
                assert one.table.labels[place] == label, (name, row)
    assert hazards >= 22


def test_nothing_given_reads_as_nothing() -> None:
    empty = read_batch(plain_columns(Forage.ALFALFA, {"cp": np.full(4, np.nan)}))
    assert empty.level.tolist() == [0, 0, 0, 0]
    assert not empty.broken
    assert all(np.isnan(values).all() for values in empty.indices.values())


def test_no_reports_at_all() -> None:
    none = read_batch(plain_columns(Forage.ALFALFA, {"cp": np.array([])}))
    assert len(none) == 0
    assert not none.broken


def test_impossible_values_give_no_index_but_are_told() -> None:
    values = {"adf": np.array([30.0, 30.0]), "ndf": np.array([-1.0, 40.0])}
    read = read_batch(plain_columns(Forage.ALFALFA, values))
    assert np.isnan(read.indices["rfv"]).tolist() == [True, False]
    assert LEVELS[read.level[0]] == "error"


def test_copper_is_told_for_sheep_beside_less_than_1_ppm_of_molybdenum() -> None:
    """Common practice, no published source."""
    block = {"cu": np.full(3, 16.0), "mo": np.array([0.99, 1.0, np.nan])}
    told = read_batch(plain_columns(Forage.COOL_GRASS, block)).indices["cu_with_little_mo_ppm"]
    assert np.array_equal(told, [16.0, np.nan, np.nan], equal_nan=True)
