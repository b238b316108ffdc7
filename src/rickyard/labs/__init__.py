"""Lab reports in: a file of any layout becomes checked reports, with every guess visible.

Others use ``read_file`` of ``intake``, and ``reading_as_json``.
"""

from __future__ import annotations

from rickyard.labs.as_json import reading_as_json
from rickyard.labs.intake import read_file
from rickyard.labs.shapes import FileReading, Question, Sample, Value

__all__ = ["FileReading", "Question", "Sample", "Value", "read_file", "reading_as_json"]
