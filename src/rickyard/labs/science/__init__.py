"""What labs take from the science and the farm folder of the program, through one file.

So labs can be followed by itself.
"""

# fmt: off
from rickyard.labs.science.bridge import ANALYTE_SPECS, energies_of_tdn, read_farm_folder, told_rule

__all__ = ["ANALYTE_SPECS", "energies_of_tdn", "read_farm_folder", "told_rule"]
