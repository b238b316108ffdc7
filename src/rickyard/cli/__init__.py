"""The terminal: parse, call, show."""
