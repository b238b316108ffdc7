"""What sentences, keys and titles of a report tell of values that stand elsewhere on it."""

# fmt: off
from rickyard.labs.legends.codes_in_lines import with_codes_apart
from rickyard.labs.legends.groups import ENERGIES
from rickyard.labs.legends.legend import Legend, legend_of
from rickyard.labs.legends.sections import tell_sections
from rickyard.labs.legends.units_listed import units_listed

__all__ = ["ENERGIES", "Legend", "legend_of", "tell_sections", "units_listed", "with_codes_apart"]
