"""What a forage is worth and what is dangerous in it: pure functions on published equations.

Rooms from the ground up: values, energy, plausibility, hazards, uncertainty, reading, batch.
"""
