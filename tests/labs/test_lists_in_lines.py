"""Lists of values in a line: what stands before them names the sample, and shifts no number."""

from __future__ import annotations

import pytest

from rickyard.labs.common import FileReading
from rickyard.labs.intake import read_file

_SAID = "All on a dry matter basis, moisture as received\n\n"


def _reading(text: str) -> FileReading:
    return read_file("a.txt", text.encode())


def _told(text: str) -> dict[str, dict[str, float | None]]:
    return {
        one.id: {v.analyte: v.value for v in one.values if v.status == "sure"}
        for one in _reading(text).samples
    }


_FIRST = {"moisture": 15.8, "cp": 11.5, "adf": 38.8, "ndf": 56.3, "cu": 7.0}
_SECOND = {"moisture": 16.4, "cp": 19.7, "adf": 30.3, "ndf": 47.4, "cu": 10.0}


def _line(values: dict[str, float], sign: str) -> str:
    names = ("Moisture", "CP", "ADF", "NDF", "Cu")
    units = ("%", "%", "%", "%", " ppm")
    return ", ".join(
        f"{name}{sign}{value:g}{unit}"
        for name, value, unit in zip(names, values.values(), units, strict=True)
    )


@pytest.mark.parametrize("sign", [": ", "=", " "])
@pytest.mark.parametrize(
    "lead",
    ["Sample: {0}  Lab no: {1}  ", "{0} ({1}): ", "Lab no: {1}  Sample: {0}  ",
     "Sample: {0}; Lab no: {1}; "],
)  # fmt: skip
@pytest.mark.parametrize("names", [("Alfalfa east", "Zinc mine road"), ("Grass, east", "1st crop")])
def test_fields_and_values_of_a_line_belong_to_its_own_sample(
    names: tuple[str, str], lead: str, sign: str
) -> None:
    lines = [
        lead.format(name, number) + _line(values, sign)
        for name, number, values in zip(names, ("UG-5658", "UG-5659"), (_FIRST, _SECOND),
                                        strict=True)
    ]  # fmt: skip
    text = _SAID + "\n".join(lines) + "\n"
    assert _told(text) == {names[0]: _FIRST, names[1]: _SECOND}
    assert [one.lab_no for one in _reading(text).samples] == ["UG-5658", "UG-5659"]


def test_a_number_before_the_first_label_shifts_no_value() -> None:
    text = f"{_SAID}Lab no UG-5658  {_line(_FIRST, ' ')}\n"
    values = {v.analyte: v.value for v in _reading(text).samples[0].values if v.status == "sure"}
    assert values.items() <= _FIRST.items()


@pytest.mark.parametrize(
    "said",
    ["your results are below (dry matter basis, moisture as received).",
     "the results follow (moisture as received, dry matter basis)."],
)  # fmt: skip
@pytest.mark.parametrize("quote", ["", "> "])
def test_a_mail_says_its_basis_in_brackets_and_may_be_quoted(quote: str, said: str) -> None:
    text = f"Hello,\n{said}\n\n" + "\n".join(
        f"{quote}{line}"
        for line in (
            "1st crop (lab no. UG-7803)", "  Moisture: 11.4 %", "  Protein, crude: 14.7 %",
            "  ADF: 35.6 %", "  NDF: 55.4 %", "", "Stack 12 (lab no. UG-7804)",
            "  Moisture: 15.5 %", "  Protein: 17.6 %", "  ADF: 30.8 %", "  NDF: 47.5 %",
        )
    )  # fmt: skip
    assert _told(text) == {
        "1st crop": {"moisture": 11.4, "cp": 14.7, "adf": 35.6, "ndf": 55.4},
        "Stack 12": {"moisture": 15.5, "cp": 17.6, "adf": 30.8, "ndf": 47.5},
    }


@pytest.mark.parametrize("beside", ["Limit", "Goal", "Typical", "Last year", "Average"])
@pytest.mark.parametrize("row", [0, 1, 2])
def test_what_is_beside_the_samples_may_head_any_row_over_them(beside: str, row: int) -> None:
    over = [["Kind", "oat hay", "mixed hay"], ["PO", "708", "906"],
            ["Sample ID", "Field 22", "Ash grove"]]  # fmt: skip
    over[row].append(beside)
    lines = [*over, ["Moisture %", "11.9", "16.4", "14.0"], ["CP %", "14.4", "17.1", "12.0"],
             ["ADF %", "34.2", "33.2", "36.0"], ["NDF %", "50.2", "49.8", "55.0"]]  # fmt: skip
    text = _SAID.replace(", ", " but ") + "\n".join(",".join(one) for one in lines)
    assert list(_told(text)) == ["Field 22", "Ash grove"]


@pytest.mark.parametrize(("dry", "fresh"), [("Dried", "As Received"), ("100% DM %", "AR %"),
                                            ("Sec", "Tel quel"), ("Seco", "Tal cual")])  # fmt: skip
def test_one_word_may_be_the_basis_of_a_column(dry: str, fresh: str) -> None:
    text = (
        f"Sample,Sandhill\nTest,{dry},{fresh}\nMoisture,,12.0\nCrude Protein %,13.3,11.7\n"
        "ADF %,36.2,31.9\nNDF %,55.1,48.5\n"
    )
    (one,) = read_file("a.csv", text.encode()).samples
    assert {(v.analyte, v.basis): v.value for v in one.values if v.status == "sure"} == {
        ("moisture", "ar"): 12.0, ("cp", "dm"): 13.3, ("cp", "ar"): 11.7, ("adf", "dm"): 36.2,
        ("adf", "ar"): 31.9, ("ndf", "dm"): 55.1, ("ndf", "ar"): 48.5,
    }  # fmt: skip
