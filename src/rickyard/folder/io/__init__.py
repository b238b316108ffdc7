"""Reading a farm folder whole, writing it whole, and describing its layout.

Nothing is half read or half written.
"""

# fmt: off
from rickyard.folder.io import write
from rickyard.folder.io.layout import as_written, folder_texts
from rickyard.folder.io.read import read_folder, read_wishes
from rickyard.folder.io.settings import SETTINGS_FILE

__all__ = ["SETTINGS_FILE", "as_written", "folder_texts", "read_folder", "read_wishes", "write"]
