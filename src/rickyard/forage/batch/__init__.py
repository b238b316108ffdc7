"""The same science over a district's reports at once, as arrays.

Equal to the single reading value by value; a test holds the two together.
"""
