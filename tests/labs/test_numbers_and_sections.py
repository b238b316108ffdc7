"""Numbers beside names, titles of sections, keys in sentences, and amounts by the kilogram."""

from __future__ import annotations

from rickyard.labs.common import FileReading
from rickyard.labs.intake import read_file


def read(text: str) -> FileReading:
    return read_file("report.txt", text.encode())


def names(reading: FileReading) -> list[tuple[str, str]]:
    return [(one.id, one.lab_no) for one in reading.samples]


def sure(reading: FileReading, analyte: str) -> list[tuple[float | None, str, str]]:
    return [
        (one.value, one.unit, one.basis)
        for sample in reading.samples
        for one in sample.values
        if one.analyte == analyte and one.status == "sure"
    ]


def test_a_number_before_a_name_in_quotes_is_that_of_the_laboratory():
    reading = read(
        "DM as received, all else on a dry basis.\n\n"
        '118a "Cow lane": DM 89.7, CP 9.0, ADF 37.0, NDF 62.8\n'
        '118b "Bull lane": DM 86.1, CP 8.2, ADF 37.5, NDF 56.1\n'
    )
    assert names(reading) == [("Cow lane", "118a"), ("Bull lane", "118b")]


def test_a_title_tells_the_basis_of_what_stands_under_it_down_to_the_next():
    reading = read(
        "Part 1. Results of the first lab, on dry matter (DM line: as received)\n\n"
        "  Bale row 1 (EL90):  DM 90.5 %   CP 11.6 %   ADF 39.2 %   NDF 57.8 %\n\n"
        "Part 2. Results of the second lab, all as received\n\n"
        "  Bale row 3 (TZ/2):  DM 83.0 %   CP 11.2 %   ADF 29.8 %   NDF 43.4 %\n"
    )
    assert names(reading) == [("Bale row 1", "EL90"), ("Bale row 3", "TZ/2")]
    assert sure(reading, "cp") == [(11.6, "pct", "dm"), (11.2, "pct", "ar")]


def test_two_statements_over_all_values_leave_the_basis_open():
    reading = read(
        "All results on dry matter.\nAll results as received.\n\n"
        "  Bale row 1 (EL90):  DM 90.5 %   CP 11.6 %   ADF 39.2 %   NDF 57.8 %\n"
        "  Bale row 3 (TZ/2):  DM 83.0 %   CP 11.2 %   ADF 29.8 %   NDF 43.4 %\n"
    )
    assert sure(reading, "cp") == []


def test_sentences_at_the_foot_explain_the_codes_of_headings():
    reading = read(
        "Bag ID            Lab#    MST    XP    XA    AF    NF\n"
        "-------------------------------------------------------\n"
        "Hill clover       88-1   15.6  13.3   7.9  36.7  49.2\n"
        "Lower timothy     88-2   16.5  10.4   9.6  38.2  63.3\n"
        "-------------------------------------------------------\n"
        "MST moisture, per cent of the sample as received. XP crude protein, XA ash,\n"
        "AF acid detergent fibre, NF neutral detergent fibre: all per cent of dry\n"
        "matter. Names are as written on the bags.\n"
    )
    assert sure(reading, "moisture") == [(15.6, "pct", "ar"), (16.5, "pct", "ar")]
    assert sure(reading, "adf") == [(36.7, "pct", "dm"), (38.2, "pct", "dm")]
    assert sure(reading, "ndf") == [(49.2, "pct", "dm"), (63.3, "pct", "dm")]


def test_amounts_by_the_kilogram_and_names_in_dutch_are_read_with_decimal_commas():
    reading = read(
        "Hieronder de uitslagen, van twee monsters.\n"
        "Alle gehalten, behalve de droge stof zelf, zijn per kg droge stof.\n\n"
        "Monster Achterste kamp (labnummer 77120), bemonsterd op 17-06-2025:\n"
        "  - droge stof: 880 g per kg product\n  - ruw eiwit: 128 g\n  - NDF: 540 g\n"
        "  - ADF: 349 g\n  - calcium: 5,6 g\n  - koper: 7,0 mg\n\n"
        "Monster Dijkhooi (labnummer 77121), bemonsterd op 28-07-2025:\n"
        "  - droge stof: 892 g per kg product\n  - ruw eiwit: 126 g\n  - NDF: 528 g\n"
        "  - ADF: 319 g\n  - calcium: 10,3 g\n  - koper: 9,0 mg\n"
    )
    assert names(reading) == [("Achterste kamp", "77120"), ("Dijkhooi", "77121")]
    assert sure(reading, "dm") == [(88.0, "pct", "ar"), (89.2, "pct", "ar")]
    assert sure(reading, "ca") == [(5.6, "g_per_kg", "dm"), (10.3, "g_per_kg", "dm")]
    assert sure(reading, "cu") == [(7.0, "ppm", "dm"), (9.0, "ppm", "dm")]


def test_dry_matter_may_be_told_of_the_sample_in_other_tongues():
    reading = read(
        "Prov: Hö storängen\nTorrsubstans: 84,8 % av provet\nRåprotein: 92 g/kg ts\n"
        "NDF: 605 g/kg ts\nAska: 71 g/kg ts\n"
    )
    assert sure(reading, "dm") == [(84.8, "pct", "ar")]
    assert sure(reading, "ndf") == [(605.0, "g_per_kg", "dm")]


def test_a_key_that_is_a_table_tells_the_marks_behind_headings():
    text = (
        "Labornr.;Bezeichnung;TM [A];Rohprotein [B];ADF [B];NEL [C]\n"
        "KM 5120;Deichwiese;884;112;367;5,60\nKM 5121;Haferheu;843;180;304;6,11\n\n"
        "Zeichen;Einheit;Bezug\n[A];g/kg;Frischmasse (wie eingegangen)\n"
        "[B];g/kg;Trockenmasse\n[C];MJ/kg;Trockenmasse\n"
    )
    reading = read(text)
    assert sure(reading, "cp") == [(112.0, "g_per_kg", "dm"), (180.0, "g_per_kg", "dm")]
    assert sure(reading, "nel") == [(5.6, "mj_per_kg", "dm"), (6.11, "mj_per_kg", "dm")]


def test_a_key_in_one_cell_explains_the_codes_before_rows():
    text = (
        "code,basis,HT-1,HT-2\nM,R,15.0,15.8\nX1,D,8.4,17.9\nX2,D,35.5,33.2\nX3,D,56.9,41.7\n\n"
        '"Key","M moisture %; X1 crude protein %; X2 ADF %; X3 NDF %"\n'
        '"Basis","R as received; D dry matter"\n'
    )
    assert sure(read(text), "cp") == [(8.4, "pct", "dm"), (17.9, "pct", "dm")]


def test_a_sentence_with_commas_over_a_table_heads_none_of_its_columns():
    text = (
        "Hay sent to two rooms, fall 2025 (all results % or ppm of dry matter; DM as received)\n"
        "Lab no,Sample,DM %,CP %,ADF %,NDF %,NO3 ppm\nC18,Lot A,85.4,11.4,37.1,54.8,602\n"
        "C19,Lot B,88.9,18.1,29.5,40.9,1315\n"
    )
    assert sure(read(text), "cp") == [(11.4, "pct", "dm"), (18.1, "pct", "dm")]


def test_quoted_lines_that_begin_with_a_number_are_no_limits():
    text = (
        "Thank you, these came today.\n\n> West 40 (Q4711):\n> 87.5 % dry matter\n"
        "> 11.2 % crude protein, dry\n> 36.0 % ADF, dry\n> 55.1 % NDF, dry\n"
    )
    (dry,) = [one for one in read(text).samples[0].values if one.analyte == "dm"]
    assert (dry.value, dry.op) == (87.5, "=")


def test_several_samples_without_a_name_are_asked():
    block = "DM: {0} %\nCP, % DM: {1}\nADF, % DM: {2}\n\n"
    reading = read(block.format(88.1, 11.2, 36.0) + block.format(86.4, 9.4, 38.8))
    assert len(reading.samples) == 2
    assert {value.status for one in reading.samples for value in one.values} == {"ask"}


def test_a_number_is_that_of_one_label_of_a_sentence():
    text = "Long lane (EL74): Dry Matter (DM) 85.1 % Moisture content 14.9 % Total ash 6.5 % dry\n"
    reading = read(text)
    assert sure(reading, "moisture") == [(14.9, "pct", "ar")]
    assert sure(reading, "ash")[0][0] == 6.5
    assert names(reading) == [("Long lane", "EL74")]


def test_a_line_whose_value_is_not_understood_is_asked():
    text = "Sample: West\nMoisture: 11.2 %\nProtein: 12.1 % zorblex\nADF: 33.1 % of DM\n"
    (sample,) = read(text).samples
    assert any("12.1 % zorblex" in one.text for one in sample.questions)


def test_a_short_number_of_a_series_before_names_is_asked_for():
    text = "Sample,DM %,CP % DM,ADF % DM\nEL48 North,88.1,11.2,36.0\nEL49 South,86.4,9.4,38.8\n"
    reading = read(text)
    assert names(reading) == [("EL48 North", ""), ("EL49 South", "")]
    assert [one.asked for one in reading.samples] == [{"id"}, {"id"}]
    assert any(one.key == "name or number" for one in reading.samples[0].questions)


def test_a_list_of_units_over_a_table_heads_none_of_its_columns():
    text = (
        "Units: Dry matter, Acid detergent fiber, Potassium, Lignin in percent; Zn in mg/kg.\n\n"
        "Bag:                     Stone lane\nLab no.:                      Q3872\n"
        "Analysis                         AR  dry matter basis\n"
        "Dry matter                     86.9\nAcid detergent fiber           31.2      35.9\n"
        "Potassium                      1.48      1.70\n"
        "Zn                               28        32\n"
        "Lignin                          5.0       5.7\n"
    )
    assert (1.48, "pct", "ar") in sure(read(text), "k")
    assert all(unit != "ppm" for _, unit, _ in sure(read(text), "k"))


def test_lines_of_one_value_each_are_of_one_sample_wherever_the_value_stands():
    block = (
        "Sample {0} (Lab no. {1}), Sampled 2025-07-28:\nDM: {2}\nWater: {3}\n"
        "Starch (100% DM): 1.2\nPhosphorus (100% DM): 0.19\nADF (100% DM): 36.4\n\n"
    )
    text = "From: results desk\nTo: hay desk\nSubject: your hay\n\nForage analysis\n\n"
    text += block.format("Stone barn", "25-121", 85.6, 14.4)
    text += block.format("Cedar barn", "25-122", 84.8, 15.2)
    assert names(read(text)) == [("Stone barn", "25-121"), ("Cedar barn", "25-122")]
