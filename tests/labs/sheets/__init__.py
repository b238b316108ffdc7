"""Sheets of results laid out by chance, each with what stands in it and where."""
