"""What planning several winters together says: the plain, frozen result."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rickyard.farm import Assumption, Farm, Winter
from rickyard.program.result.result import SeasonProgram
from rickyard.tables import Tabular


class NoWinters(ValueError):  # noqa: N818 - named for what is missing, as a person says it
    """The farm folder tells nothing of winters; the message says what to write."""


@dataclass(frozen=True, slots=True)
class Bought:
    """A feed to buy: as fed kilograms and what they cost."""

    feed_id: str
    name: str
    as_fed_kg: float
    cost_usd: float


@dataclass(frozen=True, slots=True)
class WinterProgram:
    """What one winter asks for after the decisions of autumn.

    ``cost_usd`` is money for the whole season, autumn included; ``penalty_usd`` is what shortages
    were priced at and not money. ``normal_only_usd`` and ``normal_only_penalty_usd`` are the same
    for one who had planned for the normal winter alone, ``None`` where that cannot be kept to.
    ``cash_short_usd`` is what is spent beyond the cash limit. ``hay_after_kg_dm`` is the dry
    matter of hay fed once the winter is known, ``hay_left_kg_dm`` what is left of the lots at the
    end. ``program`` is a season program of ``farm``, in which what was bought in autumn is a feed
    in the yard.
    """

    winter: Winter
    chance_pct: float
    cost_usd: float
    penalty_usd: float
    normal_only_usd: float | None
    normal_only_penalty_usd: float | None
    cash_short_usd: float
    bought_later: tuple[Bought, ...]
    hay_after_kg_dm: float
    hay_left_kg_dm: float
    program: SeasonProgram
    farm: Farm


@dataclass(frozen=True, slots=True, repr=False)
class WinterPrograms(Tabular):
    """The winters planned together.

    ``known_on`` is the first day that can be fed by what the winter is. ``hold_back_kg_dm`` is hay
    that a severe winter takes beyond a normal one after that day, and ``reserve_days`` the same
    in days of hay for the stock of the last day, as ``Season.reserve_days`` counts them.
    ``expected_usd`` and ``expected_penalty_usd`` weigh the winters by their chances, and
    ``bound_usd`` is a proven lower limit of both together, to a hundred-thousandth.
    ``normal_only_usd`` is what is expected when the normal winter alone is planned for, penalties
    included; ``None`` where that plan cannot be kept to in another winter.
    """

    farm: Farm
    known_on: date
    known_on_stated: bool
    expected_usd: float
    expected_penalty_usd: float
    bound_usd: float
    normal_only_usd: float | None
    autumn: tuple[Bought, ...]
    hold_back_kg_dm: float
    reserve_days: float
    winters: tuple[WinterProgram, ...]
    assumptions: tuple[Assumption, ...]

    def of(self, winter: Winter) -> WinterProgram:
        """Return the program of a winter.

        Raises ``KeyError`` if the winter has no chance here.
        """
        for one in self.winters:
            if one.winter is winter:
                return one
        raise KeyError(winter)

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return (
            ("farm", self.farm.name),
            ("expected cost", f"${self.expected_usd:,.0f}"),
            ("winter known on", f"{self.known_on}"),
            ("hold back", f"{self.hold_back_kg_dm:,.0f} kg of dry matter"),
        )
