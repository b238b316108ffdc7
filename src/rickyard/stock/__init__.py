"""What animals need, species by species, from published equations and tables.

Rooms from the ground up: common, equations, minerals, cold, beef, sheep, goats, horses,
dairy, camelids, and herd, the door to all of them.
"""
