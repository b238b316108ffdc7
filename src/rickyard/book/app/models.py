"""Where Django looks for tables: they are defined in the room of records."""

import rickyard.book.records  # noqa: F401 - defining the tables is what it is imported for
