"""Words of the trade: analytes, units, bases, fields of a sample, numbers and days as printed.

Nothing here knows of pages or tables; every other room of this package may use it.
"""

# fmt: off
from rickyard.labs.vocabulary import labels, numbers
from rickyard.labs.vocabulary.beside import field_of, is_aside, method_in, year_in
from rickyard.labs.vocabulary.days import DayOrder, day_order, printed_day, serial_day
from rickyard.labs.vocabulary.envelope import fits, in_canonical, units_that_fit
from rickyard.labs.vocabulary.labels import LONGEST_LABEL, Label, label_of, settled_basis
from rickyard.labs.vocabulary.named import (
    as_called, as_numbered, is_own_check, like_own_check, may_be_called,
)
from rickyard.labs.vocabulary.numbers import ABSENT, Comma, Op, Printed, comma_of, printed
from rickyard.labs.vocabulary.sentences import (
    ABOUT_SAMPLE_ABROAD, EXCEPT_WATER, OF_ALL_ABROAD, STATES_ABROAD, STATING, TELLING_ABROAD,
    is_word_of_reports, without_water,
)
from rickyard.labs.vocabulary.texts import (
    FOOTNOTE_MARKS, distance, marks_of, phrases, plain, unaccented,
)
from rickyard.labs.vocabulary.units import (
    OTHER_BASIS, basis_in, basis_of_title, both_bases, in_vocabulary, is_only_basis, is_only_unit,
    without_received, written_in,
)

__all__ = [
    "ABOUT_SAMPLE_ABROAD", "ABSENT", "Comma", "DayOrder", "EXCEPT_WATER", "FOOTNOTE_MARKS",
    "LONGEST_LABEL", "Label", "OF_ALL_ABROAD", "OTHER_BASIS", "Op", "Printed", "STATES_ABROAD",
    "STATING", "TELLING_ABROAD", "as_called", "as_numbered", "basis_in", "basis_of_title",
    "both_bases", "comma_of", "day_order", "distance", "field_of", "fits", "in_canonical",
    "in_vocabulary", "is_aside", "is_only_basis", "is_only_unit", "is_own_check",
    "is_word_of_reports", "label_of", "labels", "like_own_check", "marks_of", "may_be_called",
    "method_in", "numbers", "phrases", "plain", "printed", "printed_day", "serial_day",
    "settled_basis", "unaccented", "units_that_fit", "without_received", "without_water",
    "written_in", "year_in",
]
