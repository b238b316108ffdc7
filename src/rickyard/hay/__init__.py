"""Hay as a thing: bales, sampling, storage, feeding, money and the yard.

Rooms from the ground up: common, bales, precision, storage, sampling, feeding, money, yard.
"""
