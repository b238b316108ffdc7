"""What an office does across farms: a letter to one of them.

A view here parses, calls services, and renders.
"""

# fmt: off
from rickyard.web.offices.letter import letter

__all__ = ["letter"]
