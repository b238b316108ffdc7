"""The version of the program, in a file that nothing else has to be loaded for."""

__version__ = "0.1.0"
