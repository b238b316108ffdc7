"""How the tables of the record book came to be, step by step; a step that went out stays as it is.

Written by ``tools/migrations.py`` and read by hand before they are kept. A new step goes into
``later``, where Django looks for steps too.
"""

from pathlib import Path

__path__.append(str(Path(__file__).parent / "later"))
