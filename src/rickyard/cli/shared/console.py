"""The console that the commands print on: what is printed cannot steer the terminal."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console, ConsoleOptions, RenderableType
from rich.segment import Segment

from rickyard.cli.shared.plain import plain


class PlainConsole(Console):
    """A console that shows control characters of the text instead of sending them on."""

    def render(
        self, renderable: RenderableType, options: ConsoleOptions | None = None
    ) -> Iterable[Segment]:
        """Return what is printed; styles are the console's own and stay."""
        for segment in super().render(renderable, options):
            text = plain(segment.text)
            if segment.control or text == segment.text:
                yield segment
            else:
                yield Segment(text, segment.style)
