"""Commands beside the season program: a first folder by asking, the feed table, a storm.

Each answers at once, without planning anything.
"""
