"""What an office does across farms: a letter to one, laboratories' and feeds' prices of all.

A view here parses, calls services, and renders.
"""

# fmt: off
from rickyard.web.offices.labs import labs, package
from rickyard.web.offices.letter import letter
from rickyard.web.offices.prices import price, prices

__all__ = ["labs", "letter", "package", "price", "prices"]
