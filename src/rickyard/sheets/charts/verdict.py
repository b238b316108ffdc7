"""The mark of the answer: a danger where there is one, else a rick that is whole or not.

All filled is enough; a hollow roof is enough hay with a need not met; roof and upper course
dashed is hay that runs short.
"""

from __future__ import annotations

from typing import Final, Literal

from rickyard.sheets.charts import svg
from rickyard.sheets.charts.canvas import INK, PAPER, Canvas

_SIZE: Final = 44.0

#: Corners of roof, upper and lower course, on a board of 24 by 24.
_ROOF: Final = ((12.0, 2.5), (22.0, 9.5), (2.0, 9.5))
_UPPER: Final = ((4.0, 11.0), (20.0, 11.0), (20.0, 15.5), (4.0, 15.5))
_LOWER: Final = ((4.0, 17.0), (20.0, 17.0), (20.0, 21.5), (4.0, 21.5))

Mark = Literal["danger", "enough", "no_stock", "hay_short", "need_short", "unfinished"]
_DESCRIBED: Final[dict[Mark, str]] = {
    "danger": "Danger",
    "enough": "Enough",
    "no_stock": "No stock to feed",
    "hay_short": "Hay runs short",
    "need_short": "A need is not met",
    "unfinished": "Not finished",
}


def verdict_svg(mark: Mark) -> str:
    """Draw the mark that stands beside the answer.

    Parameters
    ----------
    mark : Mark
        What stands beside the answer.

    Returns
    -------
    str
        A picture, as SVG.
    """
    canvas = Canvas(_SIZE, _SIZE, _DESCRIBED[mark])
    if mark == "danger":
        canvas.danger(1.0, _SIZE / 2, _SIZE - 2.0)
        return canvas.svg()
    hollow = {"need_short": (_ROOF,), "unfinished": (_ROOF,), "hay_short": (_ROOF, _UPPER)}
    hollow_parts = hollow.get(mark, ())
    for part in (_ROOF, _UPPER, _LOWER):
        corners = [(x * _SIZE / 24.0, y * _SIZE / 24.0) for x, y in part]
        dashed = part in hollow_parts and mark == "hay_short"
        if dashed:
            for (x, y), (x2, y2) in zip(corners, [*corners[1:], corners[0]], strict=True):
                canvas.line(x, y, x2, y2, thickness=1.6, dashed=True)
        else:
            fill = PAPER if part in hollow_parts else INK
            canvas.shape(svg.outline(corners), fill, INK, 1.4)
    return canvas.svg()
