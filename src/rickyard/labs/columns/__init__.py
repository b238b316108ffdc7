"""Which of several columns or rows are results of this report, by the words over them.

Runs of one sample, what a correction took back, what stands beside "Your sample" for comparison.
Nothing here knows of places or pages. Others use what is listed here.
"""

# fmt: off
from rickyard.labs.columns.compared import is_amended, is_now, is_yours, not_replaced, own_beside
from rickyard.labs.columns.runs import counts_runs, is_of_runs, is_run, means_instead, run_behind

__all__ = [
    "counts_runs", "is_amended", "is_now", "is_of_runs", "is_run", "is_yours", "means_instead",
    "not_replaced", "own_beside", "run_behind",
]
