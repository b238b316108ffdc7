"""The server of the pages: settings made by code, headers, files of style, start and stop.

Speaks to this computer alone.
"""

# fmt: off
from rickyard.web.serving.application import Access, make_application
from rickyard.web.serving.server import serve

__all__ = ["Access", "make_application", "serve"]
