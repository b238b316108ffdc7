"""How a bale is cored: the face, the angle, the depth, and how not to get hurt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rickyard.farm import Package, Storage
from rickyard.hay.sampling.cores import DEPTH_PER_DIAMETER, core_depth_m
from rickyard.quantities import M_PER_IN

#: Depths for want of a better rule: the full probe in squares, a quarter of the diameter in
#: rounds.
SQUARE_DEPTH_M: Final = 18.0 * M_PER_IN
USUAL_ROUND_DIAMETER_M: Final = 60.0 * M_PER_IN
LOOSE_DEPTH_M: Final = 18.0 * M_PER_IN
#: Weathered skin of a round bale that stood outside uncovered: Collins 1995, 4.4 in for sisal
#: twine; plastic mesh 2.1.
WEATHERED_M: Final = 4.0 * M_PER_IN
_UNCOVERED: Final = (Storage.EXPOSED_GROUND, Storage.EXPOSED_ELEVATED)


@dataclass(frozen=True, slots=True)
class Probing:
    """Where the probe goes into a bale, at which angle, and how deep.

    A silage pit is not probed: ``taken`` is ``scoop`` there, and there is no depth.
    """

    face: str
    angle: str
    depth_m: float | None
    notes: tuple[str, ...]
    source: str
    taken: str = "core"

    @property
    def cautions(self) -> tuple[str, ...]:
        """Return what to take care of: the face of a silo only where silage is taken from one."""
        return CAUTIONS if self.taken == "scoop" else CAUTIONS[:-1]


_SQUARE_END: Final = "the center of the end (the butt), between the strings, away from the edges"
_LARGE_END: Final = "the end, at a different spot on the face of each bale"
_ROUND_SIDE: Final = "the curved side at half its height, toward the middle; never the flat end"
_STRAIGHT: Final = "straight in, at a right angle to the face"


def probing_of(
    package: Package, storage: Storage, diameter_m: float | None = None, *, silage: bool = False
) -> Probing:
    """Say how the bales of a lot are cored: face, angle, depth and what to mind.

    A weathered skin changes the depth in round bales, which is derived. From Univ. Georgia C1287
    and Univ. Kentucky; North Dakota State AS1064 (never the flat end); Putnam & Orloff.

    Examples
    --------
    >>> way = probing_of(Package.ROUND, Storage.EXPOSED_GROUND, 60 * 0.0254)
    >>> round(way.depth_m / 0.0254, 1)
    16.1
    """
    if package is Package.SMALL_SQUARE:
        note = "From the side the tip slides past the stems: core the end only."
        return Probing(_SQUARE_END, _STRAIGHT, SQUARE_DEPTH_M, (note,), "Undersander; UGA C1287")
    if package is Package.LARGE_SQUARE:
        note = "The edges dry first: do not keep to one spot on the face."
        source = "California 1999 trial of big bales (abstract)"
        return Probing(_LARGE_END, _STRAIGHT, SQUARE_DEPTH_M, (note,), source)
    if package is Package.LOOSE and silage:
        return _silage(storage)
    if package is Package.LOOSE:
        face = "many places and heights in the stack"
        return Probing(face, _STRAIGHT, LOOSE_DEPTH_M, (), "Beef Cattle Research Council, Canada")
    return _round(package, storage, diameter_m)


def _silage(storage: Storage) -> Probing:
    if storage is Storage.WRAPPED:
        face = "the side of the bag, at points along its whole length"
        note = "Close each hole at once with UV-resistant silage tape."
        return Probing(face, _STRAIGHT, LOOSE_DEPTH_M, (note,), "Sampling guide, Stratford")
    face = "silage knocked down by the loader, from many places in the pile on the ground"
    note = (
        "Never take it from the face itself: a face can fall. Use a scoop: fingers let the fines "
        "through."
    )
    source = "Univ. Wisconsin; Bolsen, Hay & Forage Grower"
    return Probing(face, "with a scoop, not by hand", None, (note,), source, "scoop")


def _round(package: Package, storage: Storage, diameter_m: float | None) -> Probing:
    diameter = USUAL_ROUND_DIAMETER_M if diameter_m is None else diameter_m
    notes = []
    if package is Package.BALEAGE:
        depth = DEPTH_PER_DIAMETER * diameter
        notes.append(
            "Through the film; close each hole at once with two pieces of UV-resistant silage tape."
        )
    elif storage in _UNCOVERED:
        depth = float(core_depth_m(diameter, WEATHERED_M))
        notes.append(
            "Core through the weathered rind: it will be offered too. Leave out only black rot "
            "that no animal will eat."
        )
    else:
        depth = DEPTH_PER_DIAMETER * diameter
    notes.append("Brush off the outer half inch first.")
    return Probing(_ROUND_SIDE, _STRAIGHT, depth, tuple(notes), "UGA C1287; NDSU AS1064")


#: Printed on every sampling sheet, the last where it is of silage. Common practice; the hot stack
#: by Lindquist, Michigan State.
CAUTIONS: Final = (
    "The tip and plunger are sharp: wear gloves and push away from your body.",
    "A probe that binds spins the drill: use the side handle, low gear and both hands. Stop if it "
    "smells hot.",
    "Never core under a leaning or undercut face, never climb a loose stack, and work in pairs.",
    "Never stand on a hot stack: it may be burned out below. Take its temperature before you "
    "core, and call the fire department at 150 °F (66 °C) or more.",
    "Near a tractor: engine off, keys out.",
    "Mold dust makes farmer's lung: wear an N95 mask or better.",
    "At a silage face stay back three times its height; take the sample from the loader bucket "
    "on the ground, and never alone. Keep away from a silo in its first three weeks (gas).",
)

#: What to do with the cores: Putnam & Orloff, National Forage Testing Association.
HANDLING: Final = (
    "Put all cores of the lot in a clean bucket, then bag and send all of it, fines too; do not "
    "split it by hand.",
    "Press out the air, seal the bag, and label it in permanent marker.",
)
SCOOP_HANDLING: Final = (
    "Mix the scoops in a clean tub and quarter them down to 1 to 2 pounds (450 to 900 g).",
    HANDLING[1],
)
DRY_HANDLING: Final = "Keep it cool and out of the sun, never on a dashboard."
WET_HANDLING: Final = "Cool or freeze it at once, and ship it frozen with an ice pack."
