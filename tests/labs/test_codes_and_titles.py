"""What looks like a basis, a name or a sample, and is none."""

from __future__ import annotations

import pytest

from rickyard.labs.common import Sample
from rickyard.labs.intake import read_file
from rickyard.labs.vocabulary import label_of, written_in

#: The order of a laboratory whose letters are those of "as fed".
ORDER = """Fen bench,,order AF60,,
Reported,,2025-09-11,,
,,,,
Sample,,Rack 1,Rack 2,Rack 3
Lab no.,,AF60-1,AF60-2,AF60-3
AS RECEIVED,,,,
Moisture,%,13.8,15.4,14.0
Crude protein,%,11.5,7.2,16.5
ON DRY MATTER,,,,
Crude protein,%,13.3,8.5,19.2
ADF,%,36.6,36.9,31.4
NDF,%,54.4,60.8,39.1
"""
PAIRS = """ MILL BENCH                                             PAGE  1
 ACCT 20718        LAB NO  F-118823        RECEIVED 15-SEP-25
 SAMPLE ID   MEADOW 7, 2ND CUT             SAMPLED  11-SEP-25
 KIND        GRASS HAY                     REPORTED 18-SEP-25

                                   AS-FED      DRY
                                    BASIS    BASIS
 MOISTURE, %                         10.9
 DRY MATTER, %                       89.1    100.0
 CRUDE PROTEIN, %                     9.4     10.6
 ACID DETERGENT FIBER, %             31.6     35.5
 NEUTRAL DETERGENT FIBER, %          51.8     58.1
"""
RANGE = """No.,Field,Dry matter %,CP % DM,ADF % DM,NDF % DM
771,West 40,88.1,12.2,35.1,57.0
772,East 40,86.1,15.2,33.1,48.0
,Average,87.1,13.7,34.1,52.5
,Lowest,86.1,12.2,33.1,48.0
,Highest,88.1,15.2,35.1,57.0
"""
TITLE = """Bench\t\tReport of 19-08-2025
Results on dry matter

Test\tUnit\tRV 6640\tRV 6641
Name of the parcel\t\tLong field\tBehind the dike
Crude protein\t%\t10.1\t10.8
NDF\t%\t55.7\t60.6
ADF\t%\t33.7\t38.0
"""
BOTH_WATERS = """Lot,Test no.,"Moisture, as is",Dry matter,"Crude protein, DM","ADF, DM"
Big bale A,7001,9.6%,90.4%,20.4%,33.2%
Big bale B,7002,12.4%,87.6%,16.9%,33.9%
"""


def _sure(sample: Sample) -> dict[tuple[str, str], float | None]:
    return {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"}


def test_the_number_of_an_order_is_no_basis() -> None:
    reading = read_file("a.csv", ORDER.encode())
    first = reading.samples[0]
    assert [one.id for one in reading.samples] == ["Rack 1", "Rack 2", "Rack 3"]
    assert _sure(first)["cp", "ar"] == 11.5
    assert _sure(first)["cp", "dm"] == 13.3
    assert _sure(first)["adf", "dm"] == 36.6
    assert ("adf", "ar") not in _sure(first)


def test_a_day_in_the_row_of_a_number_is_no_second_number() -> None:
    (sample,) = read_file("a.txt", PAIRS.encode()).samples
    assert (sample.id, sample.lab_no) == ("MEADOW 7, 2ND CUT", "F-118823")
    assert _sure(sample)["cp", "ar"] == 9.4
    assert _sure(sample)["cp", "dm"] == 10.6


def test_the_lowest_and_the_highest_of_all_are_no_samples() -> None:
    samples = read_file("a.csv", RANGE.encode()).samples
    assert [one.id for one in samples] == ["West 40", "East 40"]


def test_the_day_of_the_report_over_a_column_is_not_the_name_of_its_sample() -> None:
    samples = read_file("a.tsv", TITLE.encode()).samples
    assert [one.id for one in samples] == ["Long field", "Behind the dike"]


def test_dry_matter_beside_moisture_is_no_second_moisture() -> None:
    samples = read_file("a.csv", BOTH_WATERS.encode()).samples
    assert [_sure(one)["moisture", "ar"] for one in samples] == [9.6, 12.4]
    assert [_sure(one)["dm", "ar"] for one in samples] == [90.4, 87.6]


@pytest.mark.parametrize(
    ("text", "basis"),
    [("AF60-1", ""), ("lot DM12", ""), ("Crude protein AF", "ar"), ("100%DM", "dm"), ("ASB", "ar")],
)
def test_letters_before_a_number_are_no_basis(text: str, basis: str) -> None:
    assert written_in(text).basis == basis


def test_nitrate_in_feed_is_nitrate() -> None:
    label = label_of("NO3-N in feed (ppm DM)")
    assert label is not None
    assert (label.candidates, label.unit, label.basis) == (("nitrate_no3n",), "ppm", "dm")


#: What a label that is not known is printed in is no label, and no day is a name.
TURNED = """Futterlabor Tal;;;;
Probennummer;;G-1107;G-1108;Zielwert
Bezeichnung;;Heu Hangwiese;Heu Talwiese;
Entnahme;;12.06.2025;19.06.2025;
Eingang;;03.07.2025;03.07.2025;
Trockenmasse;%;89,4;90,4;> 86
Rohprotein;g/kg TM;92;103;110-150
Rohfaser;g/kg TM;304;299;260-300
Spelzen;g/kg TM;33;35;
ADF;g/kg TM;342;336;
aNDF;g/kg TM;590;555;< 550
"""
SECTIONS = """; results file

[SAMPLE 1]
number = EF-091
name = Barn hay
dm_pct_ar = 89.1
cp_pct_dm = 10.3
adf_pct_dm = 37.2
ndf_pct_dm = 60.3

[SAMPLE 2]
number = EF-092
name = Field edge
dm_pct_ar = 88.1
cp_pct_dm = 11.3
adf_pct_dm = 36.2
ndf_pct_dm = 59.3
"""


def test_a_unit_behind_a_label_that_is_not_known_is_no_dry_matter() -> None:
    samples = read_file("a.csv", TURNED.encode()).samples
    assert [(one.id, one.lab_no) for one in samples] == [
        ("Heu Hangwiese", "G-1107"),
        ("Heu Talwiese", "G-1108"),
    ]
    assert [str(one.sampled_on) for one in samples] == ["2025-06-12", "2025-06-19"]
    assert _sure(samples[0]) == {
        ("dm", "ar"): 89.4, ("cp", "dm"): 92.0, ("adf", "dm"): 342.0, ("ndf", "dm"): 590.0
    }  # fmt: skip


def test_a_section_that_names_its_sample_inside_is_not_its_name() -> None:
    samples = read_file("a.txt", SECTIONS.encode()).samples
    assert [one.id for one in samples] == ["Barn hay", "Field edge"]


@pytest.mark.parametrize(
    ("text", "unit"), [("NEL_DM_MCALLB", "mcal_per_lb"), ("NEM MCALKG", "mcal_per_kg")]
)
def test_energy_in_a_heading_run_together(text: str, unit: str) -> None:
    label = label_of(text)
    assert label is not None
    assert label.unit == unit


GROWER = """Gates extension office - hay sample results
Grower: L. Brothers     Phone: 555-0119     Grower ID: 0883
All results are on the dry matter basis, in percent.

==========================================
Sample FG-1408   Windmill quarter, 1st cutting

  Dry matter, as received .......... 84.3 %
  Crude protein .................... 19.9 %
  ADF .............................. 30.8 %

==========================================
Sample FG-1409   Orchardgrass, lane side

  Dry matter, as received .......... 89.8 %
  Crude protein .................... 9.7 %
  ADF .............................. 40.3 %
"""


def test_the_number_of_the_grower_is_not_the_name_of_the_first_sample() -> None:
    samples = read_file("a.txt", GROWER.encode()).samples
    assert [one.id for one in samples] == [
        "Windmill quarter, 1st cutting",
        "Orchardgrass, lane side",
    ]
