"""What a terminal shows, one file a screen.

Rich text from results; decides nothing.
"""

# fmt: off
from rickyard.cli.show import parts
from rickyard.cli.show.compare import print_comparison, print_fed
from rickyard.cli.show.evidence import print_evidence
from rickyard.cli.show.needs import NeedsRow, print_needs
from rickyard.cli.show.parts import cautions
from rickyard.cli.show.plan import print_program, print_short_program, print_winters
from rickyard.cli.show.price import print_hay_price, print_storage_prices
from rickyard.cli.show.read import print_readings
from rickyard.cli.show.sampling import print_sampling
from rickyard.cli.show.week import print_week
from rickyard.cli.show.what_if import print_answers
from rickyard.cli.show.why import print_why
from rickyard.cli.show.yard import print_yard

__all__ = [
    "NeedsRow", "cautions", "parts", "print_answers", "print_comparison", "print_evidence",
    "print_fed", "print_hay_price", "print_needs", "print_program", "print_readings",
    "print_sampling", "print_short_program", "print_storage_prices", "print_week", "print_why",
    "print_winters", "print_yard",
]
