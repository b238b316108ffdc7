"""Pages of PDF with text at places, the same bytes every time."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path

import reportlab
from PIL import Image, ImageDraw
from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

LETTER = (612.0, 792.0)
Row = Sequence[str | None]


class Paper:
    """A PDF whose places are counted in points from the top left."""

    def __init__(
        self,
        size: tuple[float, float] = LETTER,
        password: str | None = None,
        turned: bool = False,
    ) -> None:
        """Begin; on turned pages the text runs upward and a viewer turns the page upright."""
        self._held = io.BytesIO()
        lock = StandardEncryption(password, "owner-of-this", strength=128) if password else None
        # The library exchanges the sides of the sheet itself where a page is turned.
        self.canvas = Canvas(self._held, pagesize=size, invariant=1, encrypt=lock)
        self.width, self.height = size
        self.turned = turned
        self._begin()

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: float = 9,
        font: str = "Helvetica",
        align: str = "left",
    ) -> None:
        self.canvas.setFont(font, size)
        draw = {
            "left": self.canvas.drawString,
            "right": self.canvas.drawRightString,
            "center": self.canvas.drawCentredString,
        }[align]
        draw(x, self.height - y, words)

    def upright(self, x: float, y: float, words: str, size: float = 8) -> None:
        """Write words that run upward."""
        self.canvas.saveState()
        self.canvas.translate(x, self.height - y)
        self.canvas.rotate(90)
        self.canvas.setFont("Helvetica", size)
        self.canvas.drawString(0, 0, words)
        self.canvas.restoreState()

    def table(
        self,
        x: float,
        y: float,
        widths: Sequence[float],
        rows: Sequence[Row],
        step: float = 14,
        size: float = 9,
        bold: int = 1,
        lines: bool = False,
    ) -> float:
        """Write rows, the first column to the left, others to the right; return the place below."""
        for place, row in enumerate(rows):
            at = x
            font = "Helvetica-Bold" if place < bold else "Helvetica"
            for column, (words, width) in enumerate(zip(row, widths, strict=False)):
                if words and column == 0:
                    self.text(at, y, words, size, font)
                elif words:
                    self.text(at + width - 4, y, words, size, font, "right")
                at += width
            if lines:
                self.line(x, y + 3, x + sum(widths), y + 3)
            y += step
        return y

    def line(self, x: float, y: float, to_x: float, to_y: float) -> None:
        self.canvas.setLineWidth(0.4)
        self.canvas.line(x, self.height - y, to_x, self.height - to_y)

    def ligatures(self) -> str:
        """Return a font that has the joined letters of older typesetting."""
        if "Joined" not in pdfmetrics.getRegisteredFontNames():
            at = Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"
            pdfmetrics.registerFont(TTFont("Joined", str(at)))
        return "Joined"

    def picture(self, words: Sequence[str]) -> None:
        """Fill the page with a picture of words, as a scanner would."""
        image = Image.new("L", (850, 1100), 250)
        pen = ImageDraw.Draw(image)
        for place, line in enumerate(words):
            pen.text((80, 90 + 28 * place), line, fill=25)
        self.canvas.drawImage(ImageReader(image), 0, 0, self.width, self.height)

    def next_page(self) -> None:
        self.canvas.showPage()
        self._begin()

    def _begin(self) -> None:
        if self.turned:
            self.canvas.setPageRotation(90)
            self.canvas.translate(self.height, 0)
            self.canvas.rotate(90)

    def content(self) -> bytes:
        self.canvas.showPage()
        self.canvas.save()
        return self._held.getvalue()
