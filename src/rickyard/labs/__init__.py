"""Lab reports in, whatever their layout: every value with its place, and no guess in silence.

Rooms from the ground up: common, science, parsing, vocabulary, reading, tables, understanding,
checking, matching, layouts, prices, intake.
"""
