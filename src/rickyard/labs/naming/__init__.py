"""What names and numbers of the samples of a file tell when held against one another."""

# fmt: off
from rickyard.labs.naming.orders import number_by_order
from rickyard.labs.naming.strangers import doubt_strangers

__all__ = ["doubt_strangers", "number_by_order"]
