"""Invented laboratory reports with their truth, to measure a reader of reports.

Laboratories, farms, layouts and numbers are made up. Every file comes with the truth beside it:
what is printed, in the analytes, units and bases of Rickyard, and what a careful person can and
cannot decide from it. A share of another part has that part as its basis (``ndfd30`` of ``ndf``,
``soluble_cp`` of ``cp``), an index has none, and a basis that is printed nowhere is null.

Write a set with ``python -m tests.labs.corpus OUT --set open`` from the top of the repository.
Whoever works on a reader looks at the open set alone; the kept set has other layouts and shows
what the reader makes of reports that nobody has seen. Another ``--seed`` gives other numbers.
"""
