"""What a terminal shows of many farms: a page of an office, and a line for each result."""

# fmt: off
from rickyard.cli.show_many.office import print_office
from rickyard.cli.show_many.results import print_results

__all__ = ["print_office", "print_results"]
