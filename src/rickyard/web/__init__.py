"""Pages of the record book for a browser: what stands, what is dangerous, what is good for whom.

A page asks one service and shows what it says; it works nothing out and asks no database. Nothing
below imports it; the command line does.
"""
