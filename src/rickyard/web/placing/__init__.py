"""Where hay stands: the yard drawn to scale, and its stacks placed by mouse, touch, key or form.

Above the words and drawings of pages; the addresses lead here.
"""

# fmt: off
from rickyard.web.placing.views import place, place_back, yard_map

__all__ = ["place", "place_back", "yard_map"]
