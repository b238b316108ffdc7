"""Invented laboratory reports with their truth, to measure a reader of reports.

Laboratories, farms, layouts and numbers are made up. Every file comes with the truth beside it:
what is printed, in the analytes, units and bases of Rickyard, and what a careful person can and
cannot decide from it.
"""
