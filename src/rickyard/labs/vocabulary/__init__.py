"""Words of the trade: analytes, units, bases, fields of a sample, numbers and days as printed.

Nothing here knows of pages or tables; every other room of this package may use it.
"""
