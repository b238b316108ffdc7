"""The farm folder: read it whole or not at all, write it back exactly."""

from rickyard.folder.faults import Fault, FolderFaults
from rickyard.folder.layout import Layout
from rickyard.folder.read import FarmFolder, read_folder, read_wishes
from rickyard.folder.write import FolderInUse, write_folder

__all__ = [
    "FarmFolder",
    "Fault",
    "FolderFaults",
    "FolderInUse",
    "Layout",
    "read_folder",
    "read_wishes",
    "write_folder",
]
