"""Protein that is too low for the fiber beside it: nitrogen, or a point in the wrong place."""

from __future__ import annotations

from typing import Final

from rickyard.labs.common import Question, Sample

#: Only straw and very old grass hold so little protein, and they are mostly fiber. Common
#: practice, no published source. [% DM]
LOW_PROTEIN: Final = 4.6
LEAST_FIBER_OF_STRAW: Final = 66.0
_PROTEIN_PER_NITROGEN: Final = 6.25  # by definition of crude protein


def check_protein(sample: Sample) -> None:
    """Ask about protein as low as that of straw in a forage with less fiber than straw."""
    protein, fiber = sample.of("cp", "dm"), sample.of("ndf", "dm")
    if protein is None or fiber is None or protein.value is None or fiber.value is None:
        return
    if protein.status != "sure" or fiber.status != "sure" or protein.op != "=":
        return
    in_pct = {"pct": 1.0, "g_per_kg": 0.1}
    dry, wall = protein.value * in_pct[protein.unit], fiber.value * in_pct[fiber.unit]
    if dry >= LOW_PROTEIN or wall >= LEAST_FIBER_OF_STRAW:
        return
    protein.doubt("so little protein does not belong to so little fiber")
    sample.questions.append(
        Question(
            f"{sample.name}: {protein.printed} protein with {fiber.printed} NDF: as little as in "
            f"straw, but with less fiber. If it is nitrogen, the protein is "
            f"{dry * _PROTEIN_PER_NITROGEN:.1f} %. Ask the laboratory.",
            "low protein",
            ("cp",),
            ("as printed", "a number", "leave out"),
        )
    )
