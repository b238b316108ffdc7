"""Charts as SVG: the season's ribbon, the yard, needs, the price of assurance.

One canvas with one hand; no words of its own.
"""

# fmt: off
from rickyard.sheets.charts import svg
from rickyard.sheets.charts.assurance_chart import assurance_chart_svg
from rickyard.sheets.charts.charts import enough_hay_svg
from rickyard.sheets.charts.needs_chart import needs_chart_svg
from rickyard.sheets.charts.outcome_chart import outcome_svg
from rickyard.sheets.charts.ribbon import ribbon_svgs
from rickyard.sheets.charts.svg import span_words
from rickyard.sheets.charts.verdict import verdict_svg
from rickyard.sheets.charts.wall import wall_parts

__all__ = [
    "assurance_chart_svg", "enough_hay_svg", "needs_chart_svg", "outcome_svg", "ribbon_svgs",
    "span_words", "svg", "verdict_svg", "wall_parts",
]
