"""Letters: values that stand inside sentences, and the names of the samples they tell of."""

# fmt: off
from rickyard.labs.letters.beside import values_beside
from rickyard.labs.letters.forms import with_forms_told
from rickyard.labs.letters.numbered import numbered_by_name
from rickyard.labs.letters.prose import is_tabular, prose_samples
from rickyard.labs.letters.quoted import sentences, without_older
from rickyard.labs.letters.runs import with_means_alone
from rickyard.labs.letters.told import labels_in

__all__ = [
    "is_tabular", "labels_in", "numbered_by_name", "prose_samples", "sentences", "values_beside",
    "with_forms_told", "with_means_alone", "without_older",
]
