"""Colons that stand before values, headings in two tongues, and what is said of the water alone."""

from __future__ import annotations

import pytest

from rickyard.labs.intake import read_file
from rickyard.labs.vocabulary import label_of


def sure(text: str) -> dict[str, dict[tuple[str, str], float | None]]:
    """Return the sure values of each sample of a text by its name."""
    return {
        one.id: {(v.analyte, v.basis): v.value for v in one.values if v.status == "sure"}
        for one in read_file("a.txt", text.encode()).samples
    }


@pytest.mark.parametrize("title", ["--- dry matter basis ---", "Dry matter basis", "DRY BASIS"])
def test_a_basis_between_lines_with_colons_holds_for_those_under_it(title: str) -> None:
    text = (
        "Sample            : Bunker 3\nDry matter        : 32.3 % as fed\n"
        f"{title}\nCrude protein     : 9.0 %\nADF               : 27.8 %\n"
        "NDF               : 46.6 %\n"
    )
    assert sure(text) == {
        "Bunker 3": {
            ("dm", "ar"): 32.3, ("cp", "dm"): 9.0, ("adf", "dm"): 27.8, ("ndf", "dm"): 46.6,
        }
    }  # fmt: skip


@pytest.mark.parametrize(
    ("heading", "candidates", "basis"),
    [
        ("ADF (% BS / DM)", ("adf",), "dm"),
        ("Protéine brute / Crude protein (% MS / DM)", ("cp",), "dm"),
        ("Matière sèche / Dry matter (% TQS / as fed)", ("dm",), ""),
        ("ENl / NEl (Mcal/kg BS / DM)", ("nel",), "dm"),
    ],
)
def test_a_heading_in_two_tongues_tells_its_basis_once(
    heading: str, candidates: tuple[str, ...], basis: str
) -> None:
    found = label_of(heading)
    assert found is not None
    assert (found.candidates, found.basis) == (candidates, basis)


def test_what_a_title_says_of_the_water_alone_holds_for_nothing_else() -> None:
    text = (
        "MS em % da matéria natural; demais em % da MS\n\n"
        "Nº    Amostra            MS      PB     FDN     FDA\n"
        "71/1  Silagem de milho   38,7     8,7    39,9    24,5\n"
        "71/2  Feno tifton        90,6    11,0    67,4    35,5\n"
    )
    assert sure(text) == {
        "Silagem de milho": {
            ("dm", "ar"): 38.7, ("cp", "dm"): 8.7, ("ndf", "dm"): 39.9, ("adf", "dm"): 24.5,
        },
        "Feno tifton": {
            ("dm", "ar"): 90.6, ("cp", "dm"): 11.0, ("ndf", "dm"): 67.4, ("adf", "dm"): 35.5,
        },
    }  # fmt: skip


@pytest.mark.parametrize("head", ["Plot", "Entry"])
def test_plots_and_entries_are_named_by_their_number(head: str) -> None:
    text = (
        f"{head},Treatment,DM %,CP % DM,ADF % DM,NDF % DM\n"
        "101,Early,84.6,10.0,34.5,56.4\n102,Mid,89.1,11.2,34.3,55.5\n"
    )
    assert [*sure(text)] == ["101", "102"]
