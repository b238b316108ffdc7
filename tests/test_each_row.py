"""A test of many rows looks at each of them and names every one that fails."""

from __future__ import annotations

import pytest

from support.rows import MOST_TOLD, each_row


def test_every_row_is_looked_at_and_every_one_that_fails_is_named() -> None:
    seen = list[tuple[int, str]]()

    @each_row(["number", "word"], [(1, "hay"), (2, "straw"), (3, "silage")])
    def test(number: int, word: str, more: int) -> None:
        seen.append((number, word))
        assert number + more != 2, "too few"
        if word == "silage":
            pytest.fail("too wet")

    with pytest.raises(AssertionError) as caught:
        test(more=1)
    assert seen == [(1, "hay"), (2, "straw"), (3, "silage")]
    assert str(caught.value).splitlines()[0] == "2 of 3 rows fail."
    assert "\n1-hay: AssertionError: too few" in str(caught.value)
    assert "\n3-silage: Failed: too wet" in str(caught.value)
    assert "straw" not in str(caught.value)


def test_rows_within_rows_are_all_looked_at() -> None:
    seen = set[tuple[int, int]]()

    @each_row("a", [1, 2])
    @each_row("b", [3, 4])
    def test(a: int, b: int) -> None:
        seen.add((a, b))
        assert (a, b) != (2, 3)

    with pytest.raises(
        AssertionError, match=r"1 of 2 rows fail[^(]*2: Assert[^(]*1 of 2 rows fail[^(]*3: "
    ):
        test()
    assert len(seen) == 4


def test_no_row_is_no_pass_and_of_very_many_the_names_are_told() -> None:
    @each_row("a", [])
    def nothing(a: int) -> None:
        """Look at nothing."""

    @each_row("a", range(50), ids=lambda one: f"row {one}")
    def test(a: int) -> None:
        raise ValueError("wrong")

    with pytest.raises(AssertionError, match="there is no row"):
        nothing()
    with pytest.raises(AssertionError) as caught:
        test()
    assert str(caught.value).count("wrong") == MOST_TOLD
    assert "row 49" in str(caught.value)
