"""From weekly amounts to what a helper puts out: deliveries, days, step-ups, changes of hay.

Whole bales with carry-forward, and the cautions that belong beside them.
"""

# fmt: off
from rickyard.program.feedout import diet_cautions, transitions
from rickyard.program.feedout.deliveries import with_deliveries
from rickyard.program.feedout.diet_cautions import program_cautions
from rickyard.program.feedout.transitions import change_cautions

__all__ = ["change_cautions", "diet_cautions", "program_cautions", "transitions", "with_deliveries"]
