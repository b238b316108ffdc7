"""Bales, storage loss, feeding loss, hay need and money."""
