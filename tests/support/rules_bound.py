"""What the rules of safety keep from the groups of a farm, and all that is said of it."""

from __future__ import annotations

from rickyard.farm import Caution, Farm
from rickyard.safety.binding import Binding, bindings
from rickyard.safety.told import rule_cautions
from rickyard.stock.herd import cautions as herd_cautions


def bars(farm: Farm) -> tuple[Binding, ...]:
    """Return what is kept from a group altogether, always or on some days."""
    return tuple(one for one in bindings(farm) if one.bars)


def all_cautions(farm: Farm) -> tuple[Caution, ...]:
    """Return the cautions of rules and of classes together."""
    return (*rule_cautions(farm, bindings(farm)), *herd_cautions(farm))
