"""Letters that turn from one hay to the next, numbers that lead names, and days of each sample."""

from __future__ import annotations

from rickyard.labs.intake import read_file

LETTER = """\
your tests are back. Protein, fibers and nitrate below are all dry matter basis, moisture
is as sampled.

The barn hay (pulled August 21) came back 14.2% moisture, 11.7% crude protein, 39.1% ADF
and 62.0% NDF.

The creek field, same day, is better: moisture 13.8%, crude protein 11.5%, ADF 37.4%, NDF 55.6%.

Now the sudangrass rounds, pulled August 23: moisture 10.2%, crude protein 9.8%, ADF 38.9%, NDF
62.4%, and nitrate 0.88% as the nitrate ion (NO3). Book figure for sudangrass is about 9% protein.
"""


def test_a_letter_turns_to_each_hay_with_an_article() -> None:
    samples = read_file("a.txt", LETTER.encode()).samples
    told = {one.id: {v.analyte: (v.value, v.status) for v in one.values} for one in samples}
    assert list(told) == ["barn hay", "creek field", "sudangrass rounds"]
    assert told["creek field"]["moisture"] == (13.8, "sure")
    assert told["sudangrass rounds"]["nitrate_no3"] == (0.88, "sure")


ORDER = """\
Dear client, results for order {order}. Percent of dry matter; dry matter itself as received.

88-1 Ridge – south, sampled 25 August 2025: dry matter 87.4 %, crude protein 9.8 %, ADF 38.1 %.

88-2 Ridge – north, sampled 26 August 2025: dry matter 88.7 %, crude protein 15.9 %, ADF 30.9 %.
"""


def test_the_number_of_an_order_before_a_name_is_the_laboratorys() -> None:
    first, second = read_file("a.txt", ORDER.format(order=88).encode()).samples
    assert (first.lab_no, first.id) == ("88-1", "Ridge – south")
    assert (second.lab_no, second.id) == ("88-2", "Ridge – north")


def test_without_the_number_of_an_order_it_belongs_to_the_name() -> None:
    first, _ = read_file("a.txt", ORDER.format(order=91).encode()).samples
    assert (first.lab_no, first.id) == ("", "88-1 Ridge – south")


BESIDE = """\
Gorse Common                           Reported August 27, 2025

                       Fescue lot A             Clover mix B
                       Lab no. GC-18            Lab no. GC-19
                       Sampled 8/13/2025        Sampled 8/14/2025
                       As fed     Dry           As fed     Dry
Moisture, %              9.7                     13.0
Crude protein, %         9.2     10.2            12.4     14.2
ADF, %                  33.4     37.0            29.2     33.6
NDF, %                  54.0     59.8            42.3     48.6
"""


def test_each_of_two_samples_side_by_side_keeps_its_own_name_and_day() -> None:
    samples = read_file("a.txt", BESIDE.encode()).samples
    assert [(one.id, one.lab_no, str(one.sampled_on)) for one in samples] == [
        ("Fescue lot A", "GC-18", "2025-08-13"),
        ("Clover mix B", "GC-19", "2025-08-14"),
    ]
