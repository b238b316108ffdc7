"""The terminal: parse what was typed, call one service, show what came back.

Rooms from the ground up: show, show_many, shared, commands; main lists the commands.
"""
