"""Tables and lines of a page: which label, heading and field belongs to which value.

What is found keeps every hint that stands around it; ``understanding`` settles it.
"""
