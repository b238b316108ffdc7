"""The farm folder: read it whole or not at all, write it back exactly."""

from rickyard.folder.io.layout import Layout, as_written, folder_texts
from rickyard.folder.io.read import FarmFolder, read_folder, read_wishes
from rickyard.folder.io.settings import is_american
from rickyard.folder.io.write import FolderInUse, write_folder
from rickyard.folder.tables.faults import Fault, FolderFaults

__all__ = [
    "FarmFolder",
    "Fault",
    "FolderFaults",
    "FolderInUse",
    "Layout",
    "as_written",
    "folder_texts",
    "is_american",
    "read_folder",
    "read_wishes",
    "write_folder",
]
