"""Charts as SVG: the wall of bales, the season's ribbon, needs, the price of assurance.

One canvas with one hand; hardly any words of its own.
"""

from rickyard.sheets.charts.assurance_chart import (
    assurance_chart_svg,
)
from rickyard.sheets.charts.charts import (
    enough_hay_svg,
)
from rickyard.sheets.charts.days import (
    span_words,
)
from rickyard.sheets.charts.needs_chart import (
    needs_chart_svg,
)
from rickyard.sheets.charts.ribbon import (
    Ribbon,
    ribbon_svgs,
)
from rickyard.sheets.charts.verdict import (
    verdict_svg,
)
from rickyard.sheets.charts.wall import (
    dangerous_lots,
)

__all__ = [
    "Ribbon",
    "assurance_chart_svg",
    "dangerous_lots",
    "enough_hay_svg",
    "needs_chart_svg",
    "ribbon_svgs",
    "span_words",
    "verdict_svg",
]
