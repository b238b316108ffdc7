"""Rickyard: know each lot of hay, and feed it to the stock it suits at the least cost."""

__version__ = "0.1.0"
