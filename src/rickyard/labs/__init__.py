"""Lab reports in, whatever their layout: every value with its place, and no guess in silence.

Rooms from the ground up: vocabulary, common, reading, tables, understanding, checking, matching,
layouts, prices, intake.
"""
