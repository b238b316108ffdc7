"""Published check values evaluated against the public functions."""
