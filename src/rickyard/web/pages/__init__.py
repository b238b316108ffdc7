"""Pages by their addresses: each reads what was asked, calls a service, and shows its answer."""

# fmt: off
from rickyard.web.pages import paper
from rickyard.web.pages.faults import fault

__all__ = ["fault", "paper"]
