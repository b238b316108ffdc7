"""The signs of a PDF page: upright ones in lines, and texts that stand turned among them."""

from __future__ import annotations

import ctypes
import math
from collections import Counter, defaultdict
from dataclasses import dataclass

import pypdfium2
import pypdfium2.raw as pdfium

from rickyard.labs.common import Refused
from rickyard.labs.parsing.limits import MOST_CELLS

#: Signs whose feet differ by less than this part of their height stand in one line.
_LINE_TOLERANCE = 0.45
#: Lines of one turned text are not further apart than this, in heights of a letter.
_LINE_PITCH = 1.35
#: Between two words of turned text there is this much, in heights of a letter.
_TURNED_GAP = 0.35
_STEPS = 4
#: Letters with which a ligature begins; each of its letters is told with the box of the whole.
_LIGATED = "fT"
#: A text is slanted that is further than this from upright or lying. [rad]
_SLANTED = 0.2
#: Between two words of slanted text there is this much between the starts of two signs.
_SLANTED_STEP = 1.1


@dataclass(slots=True)
class Sign:
    """A sign where it stands; ``spaced`` tells that a space was written before it."""

    text: str
    x0: float
    x1: float
    foot: float
    height: float
    spaced: bool = False


@dataclass(slots=True)
class TurnedText:
    """A text that stands turned: the part of the page that it covers, seen upright."""

    text: str
    x0: float
    x1: float
    foot: float
    head: float


@dataclass(slots=True)
class _Raw:
    text: str
    box: tuple[float, float, float, float]
    angle: float
    spaced: bool
    start: tuple[float, float]

    @property
    def turn(self) -> int:
        return round(self.angle / (math.pi / 2)) % _STEPS

    @property
    def slanted(self) -> bool:
        quarter = self.angle % (math.pi / 2)
        return min(quarter, math.pi / 2 - quarter) > _SLANTED


def signs_of(page: pypdfium2.PdfPage) -> tuple[list[Sign], list[TurnedText]]:
    """Return the signs that stand as most of the page does, and the texts that stand turned.

    Raises
    ------
    Refused
        If the page holds more than any report.
    """
    raw = _raw(page)
    turns = Counter(one.turn for one in raw if not one.slanted)
    if not turns:
        return [], []
    main = turns.most_common(1)[0][0]
    signs, others, slanted = [], defaultdict(list), defaultdict(list)
    for one in raw:
        if one.slanted:
            slanted[round(one.angle, 1)].append(one)
        elif one.turn == main:
            signs.append(_upright(one.text, one.box, main, one.spaced))
        else:
            others[one.turn].append(one)
    turned = [text for turn, group in others.items() for text in _lying(group, turn, main)]
    if main == 0:
        turned += [text for angle, group in slanted.items() for text in _slanting(group, angle)]
    return signs, turned


def _raw(page: pypdfium2.PdfPage) -> list[_Raw]:
    text = page.get_textpage()
    count = text.count_chars()
    if count > MOST_CELLS:
        raise Refused("A page of the PDF holds more text than any report.")
    raw: list[_Raw] = []
    box = pdfium.FS_RECTF()
    x, y = ctypes.c_double(), ctypes.c_double()
    spaced = False
    for place in range(count):
        code = pdfium.FPDFText_GetUnicode(text, place)
        if code in (0, 0xFFFE, 0xFFFF) or pdfium.FPDFText_IsGenerated(text, place) == 1:
            continue
        sign = chr(code) if code < 0x110000 and not 0xD800 <= code < 0xE000 else ""
        if not sign.strip():
            spaced = True
            continue
        if not pdfium.FPDFText_GetLooseCharBox(text, place, ctypes.byref(box)):
            continue
        edges = (box.left, box.right, box.bottom, box.top)
        if not all(map(math.isfinite, edges)):
            continue
        angle = max(pdfium.FPDFText_GetCharAngle(text, place), 0.0)
        start = (box.left, box.bottom)
        quarter = angle % (math.pi / 2)
        if min(quarter, math.pi / 2 - quarter) > _SLANTED and pdfium.FPDFText_GetCharOrigin(
            text, place, ctypes.byref(x), ctypes.byref(y)
        ):
            start = (x.value, y.value)
        if raw and not spaced and raw[-1].box == edges and raw[-1].text[0] in _LIGATED:
            raw[-1].text += sign  # one glyph for several letters
            continue
        raw.append(_Raw(sign, edges, angle, spaced, start))
        spaced = False
    return raw


def _upright(
    text: str, box: tuple[float, float, float, float], turn: int, spaced: bool = False
) -> Sign:
    """Return a sign as it stands when the page is held so that its text is upright."""
    x0, x1, foot, head = _seen(box, turn)
    return Sign(text, x0, x1, foot, max(head - foot, 1.0), spaced)


def _seen(box: tuple[float, float, float, float], turn: int) -> tuple[float, float, float, float]:
    """Return left, right, foot and head of a box of the page that is held turned."""
    left, right, bottom, top = box
    if turn == 0:
        return left, right, bottom, top
    if turn == 1:
        return -top, -bottom, left, right
    if turn == 2:
        return -right, -left, -top, -bottom
    return bottom, top, -right, -left


def lines_of(signs: list[Sign]) -> list[list[Sign]]:
    """Return signs in lines from top to bottom."""
    lines: list[list[Sign]] = []
    for sign in sorted(signs, key=lambda one: (-one.foot, one.x0)):
        for line in reversed(lines[-3:]):
            if abs(line[0].foot - sign.foot) <= _LINE_TOLERANCE * min(line[0].height, sign.height):
                line.append(sign)
                break
        else:
            lines.append([sign])
    return lines


def _lying(group: list[_Raw], turn: int, main: int) -> list[TurnedText]:
    """Return the texts that stand a quarter turned; lines right under one another are one."""
    signs = [_upright(one.text, one.box, turn, one.spaced) for one in group]
    made: list[tuple[str, list[float]]] = []
    for line in lines_of(signs):
        for text, box in _texts_of(sorted(line, key=lambda one: one.x0)):
            above = next((one for one in reversed(made) if _under(one[1], box)), None)
            if above is None:
                made.append((text, box))
            else:
                made.remove(above)
                low = [min(a, b) for a, b in zip(above[1], box, strict=True)]
                high = [max(a, b) for a, b in zip(above[1], box, strict=True)]
                made.append((f"{above[0]} {text}", [low[0], high[1], low[2], high[3]]))
    back = (main - turn) % _STEPS
    found = []
    for text, (x0, x1, foot, head) in made:
        left, right, low_edge, high_edge = _seen((x0, x1, foot, head), back)
        found.append(TurnedText(text, left, right, low_edge, high_edge))
    return found


def _texts_of(line: list[Sign]) -> list[tuple[str, list[float]]]:
    """Return the texts of a line with left, right, foot and head."""
    made: list[tuple[str, list[float]]] = []
    for sign in line:
        head = sign.foot + sign.height
        gap = sign.x0 - made[-1][1][1] if made else math.inf
        if gap > 2.0 * sign.height:
            made.append((sign.text, [sign.x0, sign.x1, sign.foot, head]))
            continue
        text, box = made[-1]
        between = " " if sign.spaced or gap > _TURNED_GAP * sign.height else ""
        made[-1] = (
            text + between + sign.text,
            [box[0], max(box[1], sign.x1), min(box[2], sign.foot), max(box[3], head)],
        )
    return made


def _under(above: list[float], below: list[float]) -> bool:
    """Return whether a text goes on with the one right above it."""
    height = min(above[3] - above[2], below[3] - below[2])
    near = 0.0 < above[2] - below[2] <= _LINE_PITCH * height
    starts = abs(above[0] - below[0]) <= height
    middle = abs(above[0] + above[1] - below[0] - below[1]) <= height
    return near and (starts or middle)


def _slanting(group: list[_Raw], angle: float) -> list[TurnedText]:
    """Return slanted texts, each over the place where it begins."""
    cos, sin = math.cos(angle), -math.sin(angle)  # angles of signs run clockwise
    placed = sorted(
        (
            round(-one.start[0] * sin + one.start[1] * cos),
            one.start[0] * cos + one.start[1] * sin,
            n,
        )
        for n, one in enumerate(group)
    )
    found: list[TurnedText] = []
    before: tuple[int, float] | None = None
    for line, along, n in placed:
        one = group[n]
        size = max(one.box[3] - one.box[2], 1.0)
        if before is None or abs(before[0] - line) > 1 or along - before[1] > 3.0 * size:
            x, y = one.start
            found.append(TurnedText(one.text, x - size / 2, x + size / 2, y, y + size))
        else:
            gap = one.spaced or along - before[1] > _SLANTED_STEP * size
            found[-1].text += (" " if gap else "") + one.text
        before = (line, along)
    return found
