"""Commands of the record book: farm folders in and out, backups, and the doctor.

Each is loaded when it is called, and only then a database.
"""
