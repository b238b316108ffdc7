"""Which bale is next while a sample is taken."""

import random

from hypothesis import given
from hypothesis import strategies as st

from rickyard.hay.sampling import Tried, coring


def test_a_spare_steps_into_the_place_of_a_bale_that_will_not_be_cored() -> None:
    now = coring([3, 8, 15], [20, 6], 1, [Tried(3, went_in=False)])
    assert (now.bale, now.instead, now.order) == (20, 6, (20, 8, 15))
    again = coring([3, 8, 15], [20, 6], 1, [Tried(3, went_in=False), Tried(20, went_in=False)])
    assert (again.bale, again.instead, again.refused) == (6, None, {3, 20})


def test_where_no_spare_is_left_the_others_are_cored_and_the_sample_is_not_whole() -> None:
    tried = [Tried(3, went_in=False), Tried(8, went_in=True)]
    now = coring([3, 8], [], 1, tried)
    assert (now.bale, now.taken, now.wanted, now.is_whole) == (None, 1, 2, False)


def test_a_bale_that_gives_two_cores_is_next_until_it_gave_them() -> None:
    now = coring([3, 8], [20], 2, [Tried(3, went_in=True)])
    assert (now.bale, now.taken, now.wanted, now.done) == (3, 1, 4, frozenset())
    assert coring([3, 8], [20], 2, [Tried(3, went_in=True)] * 2).bale == 8


@given(st.integers(1, 30), st.integers(0, 30), st.integers(1, 3), st.randoms(use_true_random=False))
def test_who_follows_the_sheet_ends_with_cores_of_bales_that_chance_drew(
    drawn: int, spares: int, each: int, luck: random.Random
) -> None:
    bales = luck.sample(range(1, 200), drawn + spares)
    tried: list[Tried] = []
    now = coring(bales[:drawn], bales[drawn:], each, tried)
    while now.bale is not None:
        tried.append(Tried(now.bale, went_in=luck.random() < 0.7))
        luck.shuffle(tried)
        now = coring(bales[:drawn], bales[drawn:], each, tried)
    assert {one.bale for one in tried} <= set(bales)
    assert now.taken <= now.wanted
    assert now.is_whole or len(now.refused) > spares
