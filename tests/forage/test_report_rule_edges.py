"""Each rule for reports just inside and just outside its limit, as the documentation lists it."""

from __future__ import annotations

import numpy as np
import pytest

from rickyard.farm import Forage
from rickyard.forage.plausibility import RULES
from rickyard.forage.plausibility import rule_tests as rules
from rickyard.forage.plausibility.rules import read_formula
from rickyard.forage.values.columns import ReportColumns, plain_columns
from rickyard.forage.values.screens import shipped_screens
from support.rows import each_row

SCREENS = shipped_screens()
NAN = float("nan")


def columns(
    forage: Forage = Forage.COOL_GRASS, wet: bool = False, **values: object
) -> ReportColumns:
    given = {name: np.asarray(value, dtype=np.float64) for name, value in values.items()}
    return plain_columns(forage, given, wet)


def marks(test: str, c: ReportColumns, *arguments: object) -> list[bool]:
    return getattr(rules, test)(c, SCREENS, *arguments).tolist()


def marked(rule: str, cause: str, c: ReportColumns) -> list[bool]:
    """What the table itself says of the first of the rows of a rule with that cause."""
    row = next(one for one in RULES if (one.rule, one.cause) == (rule, cause))
    with np.errstate(invalid="ignore", divide="ignore"):
        return row.broken(c, SCREENS).tolist()


def marked_by(needs: tuple[str, ...], c: ReportColumns, place: int = 0) -> list[bool]:
    """What the table says by one of the rows that need these values."""
    row = [one for one in RULES if one.needs == needs][place]
    with np.errstate(invalid="ignore", divide="ignore"):
        return row.broken(c, SCREENS).tolist()


@each_row(
    ("rule", "cause", "values", "wanted"),
    [
        ("P01", "another unit", {"cp": [99.5, 100, 100.5, NAN]}, [0, 0, 1, 0]),
        ("P01", "mistyped", {"cp": [-0.5, 0, 0.5, NAN]}, [1, 0, 0, 0]),
        ("P02", "mistyped", {"dm": [90, 90, 90], "moisture": [10.19, 10.25, 9.75]}, [0, 1, 1]),
        ("P05", "a share of a part", {"lignin": [30, 30.5, NAN], "adf": [30] * 3}, [0, 1, 0]),
        ("P08", "two values swapped", {"ndfom": [50.19, 50.25], "ndf": [50, 50]}, [0, 1]),
        ("P13", "mistyped", {"rdp": [60, 60, 60], "rup": [41, 41.5, 38.5]}, [0, 1, 1]),
        ("U03", "another unit", {"fe": [0, 0.05, 0.1]}, [0, 1, 0]),
        ("U07", "a share of a part", {"lignin": [20, 21, 25, 26], "adf": [40] * 4}, [0, 1, 1, 0]),
        ("U10", "form of nitrate", {"nitrate": [-1, 0, 1, NAN]}, [0, 1, 1, 0]),
        ("S03", "soil", {"fe": [400, 400.5]}, [0, 1]),
    ],
)
def test_a_limit_itself_is_on_the_side_that_is_documented(
    rule: str, cause: str, values: dict[str, list[float]], wanted: list[int]
) -> None:
    assert marked(rule, cause, columns(**values)) == [one == 1 for one in wanted]


def test_bound_protein_is_read_as_a_share_from_two_to_thirty_five() -> None:
    c = columns(adicp=[1.9, 2.0, 4.0, 35.0, 36.0], cp=[5.0, 5.0, 12.0, 12.0, 12.0])
    assert marked("U04", "a share of a part", c) == [False, True, False, True, False]


def test_a_ph_off_its_scale_is_read_with_its_point() -> None:
    c = columns(ph=[0.0, 0.5, 14.0, 45.0, NAN])
    (row,) = (one for one in RULES if one.needs == ("ph",))
    assert row.broken(c, SCREENS).tolist() == [True, False, False, True, False]
    assert row.proposed is not None
    name, read = row.proposed
    assert name == "ph"
    assert np.array_equal(read(c, SCREENS), [NAN, NAN, NAN, 4.5, NAN], equal_nan=True)


def test_a_digested_share_is_a_part_of_the_fiber() -> None:
    c = columns(ndf=[50.0] * 5, ndfd30=[14.5, 15.0, 29.5, 30.0, 35.0])
    assert marked("U05", "a share of a part", c) == [False, True, True, False, False]
    whole = columns(ndf=[30.0] * 3, ndfd30=[20.5, 21.0, 21.5])
    assert marked("U05", "a share of a part", whole) == [True, True, False]


@each_row(
    ("formula", "wanted"),
    [
        ("4 * a", [32.0, 80.0]),
        ("a / 4 + b - 1", [6.0, 34.0]),
        ("a * none / 100", [NAN, NAN]),
        ("abs(-a - b)", [13.0, 50.0]),
        ("0 < a - 2 * b / 4 <= 5.5", [True, True]),
        ("a > 10 or b < 5", [False, True]),
        ("with_point('a', 8, 10)", [NAN, 2.0]),
    ],
)
def test_a_formula_of_the_table_is_plain_arithmetic(formula: str, wanted: list[float]) -> None:
    c = columns(a=[8.0, 20.0], b=[5.0, 30.0])
    assert np.array_equal(read_formula(formula)(c, SCREENS), wanted, equal_nan=True)


def test_a_formula_holds_no_more_than_arithmetic() -> None:
    with pytest.raises(ValueError, match="cannot hold 'a if b else c'"):
        read_formula("a if b else c")


def test_every_formula_of_the_table_can_be_worked_out() -> None:
    c = columns(**{name: [90.0] for rule in RULES for name in rule.needs})
    with np.errstate(invalid="ignore", divide="ignore"):
        for rule in RULES:
            formulas = [rule.broken, *rule.told.values()]
            if rule.proposed is not None:
                formulas.append(rule.proposed[1])
            assert all(np.shape(one(c, SCREENS)) in ((1,), ()) for one in formulas), rule


def test_columns_on_two_bases_agree_within_what_rounding_takes() -> None:
    """Half of a hundredth is a copy; 0.06, or 1.5 % of a larger value, is rounding."""
    c = columns(
        dm=[50.0] * 7,
        a=[2.0, 2.0, 10.0, 10.0, 2.0, 2.0, 0.0],
        a_ar=[1.05, 1.065, 5.14, 5.16, 2.0045, 2.0055, 0.06],
    )
    apart = [False, True, False, True, True, True, False]
    copied = [False, False, False, False, True, False, False]
    over = [False, False, False, False, False, True, False]
    assert marks("columns_apart", c, "a", "copied") == copied
    assert marks("columns_apart", c, "a", "swapped") == over
    rest = [a and not (b or d) for a, b, d in zip(apart, copied, over, strict=True)]
    assert marks("columns_apart", c, "a", "other") == rest


def test_fiber_is_swapped_where_each_fits_the_range_of_the_other() -> None:
    grass = columns(adf=[60.0, 40.25, 39.5, 39.75, 90.0], ndf=[38.0, 40.0, 40.0, 40.0, 38.0])
    broken = [
        one or other
        for one, other in zip(
            marks("fiber", grass, False, True), marks("fiber", grass, False, False), strict=True
        )
    ]
    # In grass ADF is below NDF by half a point at least, in pure legumes above it by no more.
    assert broken == [True, True, False, True, True]
    legume = columns(Forage.ALFALFA, adf=[40.5, 40.75], ndf=[40.0, 40.0])
    broken = [
        one or other
        for one, other in zip(
            marks("fiber", legume, True, True), marks("fiber", legume, True, False), strict=True
        )
    ]
    assert broken == [False, True]
    assert marks("fiber", legume, False, True) == [False, False]


def test_what_is_left_undigested_is_not_below_what_48_hours_leave() -> None:
    c = columns(ndf=[50.0] * 4, undf240=[25.0, 25.0, 25.0, 55.0], ndfd48=[52.0, 52.5, 53.0, 10.0])
    assert marked_by(("undf240", "ndf", "ndfd48"), c) == [False, True, True, False]


def test_sugars_and_starch_are_within_nfc_by_three_points() -> None:
    c = columns(starch=[10.0, 10.0, 10.0], wsc=[13.0, 13.25, 12.0], nfc=[20.0, 20.0, 20.0])
    assert marked_by(("starch", "wsc", "nfc"), c) == [False, True, False]


def test_nitrogen_and_protein_are_one_number_in_two_forms() -> None:
    c = columns(cp=[12.5, 12.75, 2.0, 2.04, 2.1], n=[2.0, 2.0, 2.0, 2.0, 2.0])
    assert marked_by(("cp", "n"), c) == [False, False, True, True, False]
    assert marked_by(("cp", "n"), c, 1) == [False, True, False, False, True]
    near = columns(cp=[12.69, 12.71, 12.31, 12.29], n=[2.0] * 4)
    assert marked_by(("cp", "n"), near, 1) == [False, True, False, True]


def test_minerals_together_are_within_ash_by_a_point() -> None:
    c = columns(ca=[1.0] * 3, p=[0.5] * 3, k=[2.0] * 3, mg=[0.5, 0.75, NAN], ash=[3.0] * 3)
    assert marks("minerals_over_ash", c) == [False, True, False]


def whole(nfc: list[float], **more: list[float]) -> ReportColumns:
    """Parts that leave 20 % beside the protein bound in fiber, which is printed as 4 %."""
    usual = {"cp": 14.0, "ndf": 56.0, "ee": 2.0, "ash": 8.0, "ndicp": 4.0, "nfc": 0.0}
    rows = {name: [value] * len(nfc) for name, value in usual.items()} | {"nfc": nfc} | more
    return columns(**rows)


def test_carbohydrate_by_difference_is_counted_in_both_ways() -> None:
    assert rules.left(whole([24.0]), SCREENS).tolist() == [24.0]
    assert rules.total(whole([25.0]), SCREENS).tolist() == [101.0]
    # Without a value of its own it is 7 % of the fiber.
    unknown = whole([24.0], ndicp=[NAN])
    assert rules.left(unknown, SCREENS)[0] == pytest.approx(20.0 + 0.07 * 56.0)


def test_a_sum_is_off_by_one_to_three_points() -> None:
    c = whole([24.0, 25.0, 25.25, 27.0, 27.25, 23.0, 22.75, 21.0, 20.0])
    assert marks("sum_off", c) == [False, False, True, True, False, False, True, False, False]


def test_carbohydrate_is_off_by_three_points_by_either_way() -> None:
    c = whole([24.0, 27.0, 27.25, 17.0, 16.75, 20.0])
    assert marks("nfc_off", c) == [False, False, True, False, True, False]


def test_a_sum_that_is_the_dry_matter_was_printed_as_received() -> None:
    c = whole([12.0, 12.0, 12.0, 22.0], dm=[88.0, 86.0, 85.75, 98.0])
    assert marks("sum_is_dry_matter", c) == [True, True, False, False]
    assert marks("nfc_off", c) == [False, False, True, False]


def test_what_is_left_is_too_little_little_or_much() -> None:
    def with_ash(
        *ash: float, forage: Forage = Forage.COOL_GRASS, wet: bool = False
    ) -> ReportColumns:
        rows = {"cp": 14.0, "ndf": 56.0, "ee": 2.0, "ndicp": 4.0}
        return columns(forage, wet, ash=list(ash), **{k: [v] * len(ash) for k, v in rows.items()})

    # 32 % less the ash is left.
    c = with_ash(34.0, 34.25, 27.0, 27.25, -13.0, -13.25)
    assert marked_by(("cp", "ndf", "ee", "ash"), c) == [False, True, False, False, False, False]
    assert marks("little_left", c) == [True, False, False, True, False, False]
    assert marks("much_left", c) == [False, False, False, False, False, True]
    assert not any(marks("little_left", with_ash(30.0, forage=Forage.STRAW)))
    assert marks("much_left", with_ash(-28.0, -28.25, wet=True)) == [False, True]
    assert marks("much_left", with_ash(-28.0, forage=Forage.SMALL_GRAIN)) == [False]


def test_relative_feed_value_follows_from_the_fiber_within_five() -> None:
    """Full bloom, ADF 41 and NDF 53, is 100 (Rohweder 1978)."""
    computed = float(rules.rfv(columns(adf=[36.0], ndf=[56.0]), SCREENS)[0])
    off = columns(
        adf=[36.0] * 4,
        ndf=[56.0] * 4,
        rfv=[computed + 4.9, computed + 5.1, computed - 4.9, computed - 5.1],
    )
    assert marks("rfv_other", off) == [False, True, False, True]
    swapped = float(rules.rfv(columns(adf=[56.0], ndf=[36.0]), SCREENS)[0])
    wrong = columns(adf=[36.0], ndf=[56.0], rfv=[swapped])
    assert marks("rfv_swapped", wrong) == [True]
    assert marks("rfv_other", wrong) == [False]


def test_relative_feed_value_of_values_as_received() -> None:
    dry = float(rules.rfv(columns(adf=[40.0], ndf=[60.0]), SCREENS)[0])
    c = columns(adf=[20.0] * 3, ndf=[30.0] * 3, dm=[50.0, 99.5, 0.0], rfv=[dry] * 3)
    assert marks("rfv_as_received", c) == [True, False, False]
    assert marks("rfv_other", c) == [False, True, True]


def test_a_fraction_is_above_nothing_and_up_to_its_limit() -> None:
    limit = rules.FRACTION_UP_TO
    c = columns(dm=[0.0, 0.5, limit, limit * 1.05])
    assert marks("fraction", c, "dm") == [False, True, True, False]


def test_protein_below_the_usual_that_is_usual_times_six_and_a_quarter_is_nitrogen() -> None:
    c = columns(cp=[2.0, 4.6, 0.2])
    assert marks("nitrogen", c) == [True, False, False]


def test_a_mineral_above_ten_percent_is_in_another_unit() -> None:
    c = columns(ca=[10.0, 10.5, 5000.0, 50.0])
    assert marks("mineral", c, "ca") == [False, True, True, True]
    assert rules.mineral_read(c, SCREENS, "ca").tolist() == [1.0, 1.05, 0.5, 5.0]


def test_net_energy_per_pound_is_told_by_its_ratio_to_tdn() -> None:
    per_kg = float(rules.nem_by_tdn(columns(tdn=[56.0]), SCREENS)[0])
    pound = 0.45359237
    times = [1.0, 1.25, 0.8, pound, 1.0 / pound, 0.7, pound * 1.3]
    c = columns(tdn=[56.0] * len(times), nem=[per_kg * one for one in times])
    assert marks("net_energy", c)[3:5] == [True, True]
    assert not any(marks("net_energy", c)[:3])
    assert marks("net_energy", c)[6] is False
    assert rules.net_energy_read(c, SCREENS)[3] == pytest.approx(per_kg)
    assert rules.net_energy_read(c, SCREENS)[4] == pytest.approx(per_kg)
    without = columns(tdn=[56.0] * 3, nem_unitless=[per_kg, per_kg * pound, per_kg * 3.0])
    assert marks("unitless", without, True) == [True, True, False]
    assert marks("unitless", without, False) == [False, False, True]
    assert rules.unitless_read(without, SCREENS)[:2] == pytest.approx([per_kg, per_kg])


def test_dry_matter_says_which_way_round_it_was_printed() -> None:
    limit = rules.FRACTION_UP_TO
    c = columns(dm=[limit, 24.0, 25.0, 49.5, 50.0, 80.0])
    assert marks("dm_is_moisture", c) == [False, True, False, False, False, False]
    assert marks("hay_is_wet", c) == [False, False, True, True, False, False]
    wet = columns(wet=True, dm=[24.0, 75.0, 75.5])
    assert marks("silage_is_dry", wet) == [False, False, True]
    assert marks("dm_is_moisture", wet) == [False, False, False]
    dried = rules.DRIED_SAMPLE_ABOVE_DM_PCT
    assert marks("dried", columns(dm=[dried, dried + 0.25])) == [False, True]


def test_two_forms_of_nitrate_agree_within_a_twentieth() -> None:
    by_nitrogen = rules.NO3_PER_NO3N * 1000.0
    c = columns(
        nitrate_no3n=[1000.0] * 4,
        nitrate_no3=[by_nitrogen * one for one in (1.049, 1.051, 0.951, 0.949)],
    )
    assert marks("forms_differ", c) == [False, True, False, True]
    assert rules.if_no3(c, SCREENS)[0] == pytest.approx(1000.0 / rules.NO3_PER_NO3N)
    last = rules.NITRATE_FORM_ASKED_ABOVE_PPM
    assert marks("much_nitrate", columns(nitrate_no3n=[last, last + 1.0])) == [False, True]


@pytest.mark.parametrize("quantity", ["cp", "ndf", "adf", "ash"])
def test_a_value_on_a_limit_of_a_screen_is_inside_it(quantity: str) -> None:
    row = SCREENS.row(Forage.COOL_GRASS, quantity)
    assert row is not None
    least, most = row.hard_low, row.hard_high
    c = columns(
        **{
            quantity: [
                least,
                least - 0.125,
                row.low - 0.125,
                row.low,
                row.high,
                row.high + 0.125,
                most,
            ]
        }
    )
    assert marks("unusual", c, quantity) == [True, False, True, False, False, True, True]
    assert marks("beyond", c, quantity) == [False, True, False, False, False, False, False]
    assert marks("below_usual", c, quantity) == [True, True, True, False, False, False, False]
    assert marks("above_usual", c, quantity) == [False, False, False, False, False, True, True]
