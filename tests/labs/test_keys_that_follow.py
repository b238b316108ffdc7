"""Keys whose basis holds for all that follow, and names that go on in the next line."""

from __future__ import annotations

from rickyard.labs.intake import read_file

SURVEY = """\
Heronry - stack survey, summer 2025

Stack                              MO     CP    ADF    NDF    NEM      P    NN

Bottom stack next to the old     11.3   10.0   34.4   55.4   0.63   0.23   124
ferry landing
Bottom 2                         12.4   10.7   38.3   61.2   0.58   0.29   635
Bottom 3                         15.5   13.0   34.4   50.5   0.63   0.28   540

MO moisture, % as received. All following on the dry matter:
CP crude protein, %. ADF acid detergent fiber, %. NDF neutral detergent fiber, %.
NEM net energy for maintenance, Mcal per pound. P phosphorus, %.
NN nitrate nitrogen (NO3-N), ppm.
"""


def test_a_key_gives_its_basis_to_all_codes_that_follow() -> None:
    first, second, _ = read_file("a.txt", SURVEY.encode()).samples
    assert first.id == "Bottom stack next to the old ferry landing"
    assert second.id == "Bottom 2"
    told = {v.analyte: (v.value, v.unit, v.basis, v.status) for v in second.values}
    assert told["moisture"] == (12.4, "pct", "ar", "sure")
    assert told["adf"] == (38.3, "pct", "dm", "sure")
    assert told["nem"] == (0.58, "mcal_per_lb", "dm", "sure")
    assert told["nitrate_no3n"] == (635.0, "ppm", "dm", "sure")
