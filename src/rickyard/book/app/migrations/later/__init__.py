"""The steps of the record book's tables from 0014 on; Django finds them beside the first ones.

Written by ``tools/migrations.py`` and read by hand before they are kept.
"""
