"""Typical composition, book values of an untested lot, and a test among its like."""

import csv
from importlib.resources import files

import pytest

from rickyard.farm import Forage, Maturity
from rickyard.forage.uncertainty.peer_comparison import place
from rickyard.forage.uncertainty.typical import (
    book_measured,
    spread_pct,
    stages,
    typical_values,
)
from rickyard.forage.uncertainty.uncertainty import Z_90, Measured
from rickyard.forage.values.book_values import book_value
from support.rows import each_row

QUANTITIES = ("cp", "adf", "ndf", "tdn", "ca", "p")


def lab(value: float, sd: float = 1.0) -> Measured:
    return Measured.normal(value, sd, "% of dry matter", "")


def test_every_row_has_a_value_and_says_where_it_is_from() -> None:
    rows = typical_values()
    assert len({one.row for one in rows}) > 70
    for one in rows:
        assert one.mean is not None or (one.low is not None and one.high is not None), one
        assert one.evidence in {"seen", "derived", "from memory"}, one
        assert len(one.source) > 5, one
        assert ("from memory" in one.source) == (one.evidence == "from memory"), one
        if one.low is not None and one.high is not None and one.mean is not None:
            assert one.low <= one.mean <= one.high, one


def test_no_quantity_stands_twice_in_a_row() -> None:
    text = files("rickyard.forage").joinpath("data/typical_composition.csv").read_text("utf-8")
    seen = [(row["row"], row["quantity"]) for row in csv.DictReader(text.splitlines())]
    assert len(seen) == len(set(seen))


def test_forages_and_stages_are_those_of_the_program() -> None:
    stages_known = {one.value for one in Maturity} | {"", "weeks_4", "weeks_6", "weeks_8"}
    for one in typical_values():
        assert one.forage in {*(forage.value for forage in Forage), "any"}
        assert one.maturity in stages_known


@pytest.mark.parametrize(
    ("forage", "species", "quantity", "mean", "sd"),
    [
        # SCIRP alfalfa; meadow hay of PMC10188088.
        (Forage.ALFALFA, "alfalfa", "cp", 19.39, 1.65),
        (Forage.ALFALFA, "alfalfa", "ndf", 43.65, 5.53),
        (Forage.COOL_GRASS, "meadow hay", "ndf", 75.53, 0.52),
    ],
)
def test_printed_values(
    forage: Forage, species: str, quantity: str, mean: float, sd: float
) -> None:
    found = [(one.mean, one.sd) for one in typical_values(forage, species, quantity)]
    assert (mean, sd) in found


def test_spreads_are_those_of_the_notes_on_book_values() -> None:
    assert [spread_pct(name) for name in ("ndf", "mg", "nem")] == [15.0, 30.0, 10.0]
    cp = book_measured(10.0, "cp")
    assert (cp.low, cp.high) == pytest.approx((10.0 - Z_90 * 1.5, 10.0 + Z_90 * 1.5))


@each_row("forage", list(Forage))
@each_row("quantity", QUANTITIES)
def test_the_book_value_of_an_untested_lot_is_visibly_wide(forage: Forage, quantity: str) -> None:
    found = book_measured(book_value(forage, f"{quantity}_pct").value, quantity)
    assert found.high - found.low >= 2.0 * Z_90 * 0.0999 * found.value
    assert "book value" in found.reason


def test_the_forage_keeps_stages_apart_from_its_species() -> None:
    assert {one.name for one in stages(Forage.COOL_GRASS, "timothy")} == {"timothy"}
    assert {one.name for one in stages(Forage.COOL_GRASS, "a plant unknown")} == {
        "cool-season grass"
    }
    assert stages(Forage.LEGUME_GRASS) == ()


def test_a_species_unknown_to_the_table_is_compared_with_no_other() -> None:
    assert stages(Forage.SMALL_GRAIN, "cereal rye") == ()
    assert {one.name for one in stages(Forage.SMALL_GRAIN)} == {"oats", "barley", "wheat"}


@pytest.mark.parametrize(
    ("cp", "ndf", "verdict"),
    [(16.0, 52.0, "leafier"), (12.5, 61.0, "usual"), (8.5, 70.0, "stemmier")],
)
def test_orchardgrass_in_early_bloom(cp: float, ndf: float, verdict: str) -> None:
    found = place(Forage.COOL_GRASS, "orchardgrass", Maturity.EARLY_BLOOM, lab(cp), lab(ndf, 2.0))
    assert found is not None
    assert (found.verdict, found.stage_given) == (verdict, True)
    words = {"usual": "about as leafy as usual"}.get(verdict, f"{verdict} than usual")
    assert f"{words} for orchardgrass in early bloom" in found.sentence
    assert "in the dry matter" in found.sentence
    assert "from memory" in found.sentence


def test_without_a_stage_the_nearest_fiber_stands_in() -> None:
    found = place(Forage.WARM_GRASS, "bermudagrass", None, lab(14.0), lab(72.5, 2.0))
    assert found is not None
    assert found.stage.maturity == "weeks_6"
    assert (found.verdict, found.stage_given) == ("leafier", False)
    assert found.usual_cp_pct == pytest.approx(10.2)  # 12 at 68 % NDF, 10 at 73 %
    assert found.sentence.startswith("By its fiber it is nearest to bermudagrass cut at 6 weeks")


def test_between_two_stages_both_are_named() -> None:
    found = place(Forage.WARM_GRASS, "bermudagrass", None, lab(9.4), lab(69.7, 2.0))
    assert found is not None
    assert found.verdict == "usual"
    assert "between bermudagrass cut at 4 weeks and bermudagrass cut at 6 weeks" in found.sentence


def test_beyond_the_last_stage_its_protein_stands() -> None:
    found = place(Forage.WARM_GRASS, "bermudagrass", None, lab(8.0), lab(80.0, 2.0))
    assert found is not None
    assert (found.usual_cp_pct, found.stage.maturity) == (8.0, "weeks_8")


def test_an_uncertain_test_is_less_often_called_unusual() -> None:
    sure = place(Forage.COOL_GRASS, "timothy", None, lab(10.0, 0.3), lab(63.5, 1.0))
    unsure = place(Forage.COOL_GRASS, "timothy", None, lab(10.0, 2.0), lab(63.5, 3.0))
    assert sure is not None
    assert unsure is not None
    assert (sure.verdict, unsure.verdict) == ("leafier", "usual")


@pytest.mark.parametrize(
    ("forage", "species", "cp", "ndf", "words"),
    [
        (Forage.CORN_SILAGE, "corn", 7.8, 40.0, "about as high in protein as usual for"),
        (Forage.STRAW, "oat", 8.5, 73.0, "higher in protein than usual for"),
    ],
)
def test_silage_and_straw_are_not_called_leafy(
    forage: Forage, species: str, cp: float, ndf: float, words: str
) -> None:
    found = place(forage, species, None, lab(cp, 0.5), lab(ndf))
    assert found is not None
    assert words in found.sentence
    assert "leaf" not in found.sentence


def test_nothing_to_compare_with_says_nothing() -> None:
    assert place(Forage.LEGUME_GRASS, "", None, lab(14.0), lab(52.0)) is None


@pytest.mark.parametrize(
    ("distance", "verdict"),
    [(1.0, "leafier"), (0.99, "usual"), (-0.99, "usual"), (-1.0, "stemmier")],
)
def test_leaf_is_unusual_from_one_standard_deviation(
    distance: float, verdict: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    room = "rickyard.forage.uncertainty.peer_comparison"
    monkeypatch.setattr(f"{room}._distance", lambda value, usual, quantity: distance)
    found = place(Forage.COOL_GRASS, "timothy", None, lab(10.0), lab(63.5))
    assert found is not None
    assert (found.leafiness, found.verdict) == (distance, verdict)
