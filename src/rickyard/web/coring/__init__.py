"""A lot cored bale by bale, on a page for gloved hands, and its sample sent."""

# fmt: off
from rickyard.web.coring.views import core, core_back, cored, cores, sent

__all__ = ["core", "core_back", "cored", "cores", "sent"]
