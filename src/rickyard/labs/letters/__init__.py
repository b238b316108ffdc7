"""Letters: values that stand inside sentences, and the names of the samples they tell of."""

# fmt: off
from rickyard.labs.letters.prose import prose_samples

__all__ = ["prose_samples"]
