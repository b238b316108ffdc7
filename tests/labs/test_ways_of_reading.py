"""A file is read in the way in which it was written, and no other way is sure of its numbers."""

from __future__ import annotations

import pytest

from rickyard.labs.intake import read_file


def sure(sample):
    return {(v.analyte, v.basis): v.value for v in sample.values if v.status == "sure"}


def test_decimal_commas_beside_semicolons_part_no_cells():
    text = "".join(
        f"Échantillon:;{name}\nNo labo:;Q37{n}\nConstituant;/MS;Unité\nHumidité;12,5;%\n"
        "Lignine ADL;5,1;%\nADF;39,8;%\nCu;8,8;mg/kg\nPhosphore;0,21;%\n\n"
        for n, name in enumerate(("Pré haut", "Pré bas"))
    )
    for sample in read_file("a.csv", text.encode()).samples:
        assert sure(sample) == {
            ("moisture", "ar"): 12.5, ("lignin", "dm"): 5.1, ("adf", "dm"): 39.8,
            ("cu", "dm"): 8.8, ("p", "dm"): 0.21,
        }  # fmt: skip


def test_a_table_that_is_not_understood_is_not_read_as_sentences():
    text = (
        "Nazwa;Q;Xyz;Abc;Jedn.;Cel\nPole;Q44;K;18,1;g/kg;19,7\nPole;Q44;Zn;27;mg/kg;28\n"
        "Pole;Q44;Cu;6,0;mg/kg;7,1\nPole;Q44;Fe;190;mg/kg;210\n"
    )
    reading = read_file("a.csv", text.encode())
    assert not any(sure(sample) for sample in reading.samples)


def test_a_column_of_goals_before_the_samples_gives_no_values():
    text = (
        "Provmärkning\tRiktvärde\tNorra\tSödra\nLab.nr\t\tQ66\tQ69\nTs-halt (%)\t77,9\t90,0\t85,5\n"
        "Kalcium [% av TS]\t1,46\t1,40\t0,79\nNDF (% av TS)\t40,5\t43,9\t48,2\n"
    )
    for sample in read_file("a.csv", text.encode()).samples:
        assert sample.id in ("Norra", "Södra")
        assert sure(sample)["ca", "dm"] in (1.4, 0.79)


@pytest.mark.parametrize("behind", ["%", "g/kg"])
def test_two_units_near_a_value_are_asked(behind):
    text = f"Sample,Unit,West,East\nProtein (g/kg DM),{behind},122,152\nADF % DM,%,35.1,33.1\n"
    for sample in read_file("a.csv", text.encode()).samples:
        assert (("cp", "dm") in sure(sample)) is (behind == "g/kg")


@pytest.mark.parametrize("name", ["As fed pile", "Wet corner", "Fresh Pond", "Dry Creek"])
def test_the_name_of_a_sample_is_no_basis(name):
    text = (
        f"Sample,{name},Hill\nLab no,771,772\nProtein %,12.2,15.2\nADF %,35.1,33.1\n"
        "Ca %,0.41,0.52\nAll results on dry matter.\n"
    )
    first = read_file("a.csv", text.encode()).samples[0]
    assert first.id == name
    assert sure(first) == {("cp", "dm"): 12.2, ("adf", "dm"): 35.1, ("ca", "dm"): 0.41}


def test_a_report_that_contradicts_itself_is_read_in_its_own_way_and_asked():
    rows = (
        f"{name},Q40{n},{test},{number},g/kg,i. d. TM"
        for n, name in enumerate(("Hof Süd", "Hof Nord"))
        for test, number in (("ADL", "61.3"), ("ADF", "294.6"), ("Asche", "103.9"))
    )
    heads = "Probe,Lab.-Nr.,Untersuchung,Messwert,Dimension,Bezug"
    text = "\n".join(("Ergebnisse in der Frischmasse", "", heads, *rows))
    first, second = read_file("a.csv", text.encode()).samples
    assert (first.id, second.id) == ("Hof Süd", "Hof Nord")
    assert not sure(first)
    assert [one.value for one in first.values] == [61.3, 294.6, 103.9]


def test_a_number_on_a_bag_under_two_rows_of_heads_is_not_parted():
    text = (
        "Bezeichnung      Labornummer  Ca (g/kg)  Zink (mg/kg)\n"
        "                                   % TM          % TM\n"
        "Fresh Pond       Q6280              4,3            34\n"
        "K 12             Q6289              8,3            26\n"
    )
    assert [one.id for one in read_file("a.txt", text.encode()).samples] == ["Fresh Pond", "K 12"]


def test_short_words_for_dry_matter_under_a_name_are_its_basis():
    text = (
        "Prov,Lab.nr,Vatten,Cu,NDF,Cu,NDF\n,,färskvara,TS,TS,färskvara,färskvara\n"
        ",,%,mg/kg,%,mg/kg,%\nNorra,Q1,17.0,4.8,64.6,4.0,53.6\nSödra,Q2,11.3,6.5,42.0,5.7,37.2\n"
    )
    first = read_file("a.csv", text.encode()).samples[0]
    assert sure(first) == {
        ("moisture", "ar"): 17.0, ("cu", "dm"): 4.8, ("ndf", "dm"): 64.6,
        ("cu", "ar"): 4.0, ("ndf", "ar"): 53.6,
    }  # fmt: skip
