"""Who goes short first: the table of the order, by class, stage and condition."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from rickyard.animals import CLASSES
from rickyard.farm import AnimalClass, Farm, Group, Season
from rickyard.safety.shortage_order import places_of, shortage_places
from support.rows import each_row

FARM = Farm("Home", Season(date(2026, 11, 1), date(2027, 6, 1)))
DAY = date(2027, 1, 15)


def row_of(animal: AnimalClass, days: int | None = None, **what: object) -> str:
    """Return the row of a group that gives birth in so many days."""
    birth = None if days is None else DAY + timedelta(days=days)
    group = Group("g", "G", animal, 5, 300.0, calving_on=birth)
    group = replace(group, **what)  # type: ignore[arg-type]
    (found,) = places_of(FARM, group, [DAY], [1])
    return found.row_id


@each_row(
    ("found", "animal", "days", "what"),
    [
        ("grown", AnimalClass.COW, 90, {}),
        ("fleshy", AnimalClass.COW, 90, {"condition_score": 6.0}),
        ("grown", AnimalClass.COW, 90, {"condition_score": 5.0}),
        ("thin", AnimalClass.COW, 90, {"condition_score": 4.0}),
        ("birth-cattle", AnimalClass.COW, 59, {"condition_score": 7.0}),
        ("birth-small-stock", AnimalClass.EWE, 41, {}),
        ("grown", AnimalClass.DOE, 50, {}),
        ("birth-equids", AnimalClass.MARE, 80, {"condition_score": 8.0}),
        ("birth-camelids", AnimalClass.LLAMA, 80, {}),
        ("nursing", AnimalClass.COW, -30, {"condition_score": 7.0}),
        # Milk of the young before counts where their needs do: only if its weaning is known.
        ("nursing", AnimalClass.COW, 200, {"weaning_on": DAY + timedelta(days=9)}),
        ("grown", AnimalClass.COW, 200, {}),
        ("first-calf", AnimalClass.BRED_HEIFER, 90, {"condition_score": 7.0}),
        ("light-calves", AnimalClass.STOCKER, None, {"weight_kg": 181.0}),
        ("young-for-sale", AnimalClass.STOCKER, None, {"weight_kg": 182.0}),
        ("young-to-keep", AnimalClass.REPLACEMENT_HEIFER, None, {}),
        (
            "breeding-heifers",
            AnimalClass.REPLACEMENT_HEIFER,
            None,
            {"breeding_on": DAY + timedelta(days=119)},
        ),
        (
            "breeding-small-stock",
            AnimalClass.EWE,
            None,
            {"breeding_on": DAY + timedelta(days=20)},
        ),
        ("males", AnimalClass.BULL, None, {"condition_score": 5.0}),
        ("fleshy", AnimalClass.BULL, None, {"condition_score": 7.0}),
        ("young-horses", AnimalClass.YOUNG_HORSE, None, {"condition_score": 7.0}),
        ("horses", AnimalClass.DONKEY, None, {}),
        ("fleshy", AnimalClass.HORSE, None, {"condition_score": 7.0}),
    ],
)
def test_the_row_of_the_order(
    found: str, animal: AnimalClass, days: int | None, what: dict[str, object]
) -> None:
    assert row_of(animal, days, **what) == found


def test_every_class_has_a_place_thin_before_fleshy_never() -> None:
    by_id = {one.row_id: one for one in shortage_places()}
    for animal in CLASSES:
        thin, kept, fat = (by_id[row_of(animal, condition_score=one)] for one in (3.5, 5.0, 7.0))
        assert thin.weight >= kept.weight >= fat.weight


def test_weights_rise_with_the_place_and_each_row_has_its_source() -> None:
    rows = sorted(shortage_places(), key=lambda one: one.place)
    assert [one.weight for one in rows] == sorted(one.weight for one in rows)
    assert len({(one.place, one.weight) for one in rows}) == 5
    assert all(one.source and one.because and one.evidence for one in rows)
