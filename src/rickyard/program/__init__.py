"""The season: from a farm to a program that carries its stock through the winter.

Rooms from the ground up: result, solver, inputs, problem, model, search, days, feedout, explain,
ask, planning; winters, compare and audit stand beside them. Import from a room, not from here.
"""
