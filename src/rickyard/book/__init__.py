"""The record book: what a farm and its office know, entered once and never lost.

Tables in a database behind the plain objects of a farm: SQLite on one computer, PostgreSQL where an
office shares it. Nothing below imports it; the command line does.
"""
