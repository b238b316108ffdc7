"""The energy of walking and grazing, by equation; the plain factors are in ``maintenance``."""

from __future__ import annotations
