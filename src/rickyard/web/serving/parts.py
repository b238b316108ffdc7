"""A named part of a page in place of the whole, for a script that puts it where it belongs.

Every view renders its whole page, and every act leads to one. Who asks by htmx says which part is
to be swapped: it is cut out of that very page, so that a part never says what the page does not.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, Final

from django.template import Node, NodeList
from django.template.base import FilterExpression
from django.template.exceptions import TemplateSyntaxError
from django.utils.cache import patch_vary_headers
from django.utils.html import conditional_escape, format_html
from django_htmx.http import HttpResponseClientRedirect

from rickyard.web.asked import part_asked

_MARKS: Final = re.compile(r"<!--/?(?:part|along) [^>]*-->")
_ALONG: Final = re.compile(
    r"<!--along (?P<name>[^>]*)-->(?P<told>.*?)<!--/along (?P=name)-->", re.S
)
_TITLE: Final = re.compile(r"<title>.*?</title>", re.S)
_BEGINS: Final = re.compile(r"<[a-z]+")


class Part(Node):
    """A part of a page that can be swapped by itself, or goes along with each that is."""

    def __init__(self, kind: str, name: FilterExpression, within: NodeList) -> None:
        self.kind, self.name, self.nodelist = kind, name, within

    def render(self, context: Any) -> str:
        """Return it, marked where a part is asked for."""
        told = str(self.nodelist.render(context))
        if not part_asked(getattr(context, "request", None)):
            return told
        name = conditional_escape(self.name.resolve(context))
        return f"<!--{self.kind} {name}-->{told}<!--/{self.kind} {name}-->"


def part(parser: Any, token: Any) -> Part:
    """Return what stands in a template between ``part`` or ``along`` and its end."""
    kind, *names = token.split_contents()
    if len(names) != 1:
        raise TemplateSyntaxError(f"{kind} takes the id of its element")
    within = parser.parse((f"end{kind}",))
    parser.delete_first_token()
    return Part(kind, parser.compile_filter(names[0]), within)


class Parts:
    """Cuts the part that is asked for out of a page that is done."""

    def __init__(self, answer: Callable[[Any], Any]) -> None:
        self._answer = answer

    def __call__(self, request: Any) -> Any:
        """Return the whole page, the part of it, or where there is none the way to the page."""
        answer = self._answer(request)
        patch_vary_headers(answer, ("HX-Request", "HX-Target"))
        name = part_asked(request)
        is_page = answer.headers.get("Content-Type", "").startswith("text/html")
        is_whole = is_page and answer.content and "HX-Retarget" not in answer.headers
        if not name or not is_whole:
            return answer
        told = _cut(answer.content.decode(), name)
        if told is None:
            # What was done led to another page. A browser goes there itself, once.
            return HttpResponseClientRedirect(request.get_full_path())
        answer.content = told.encode()
        if answer.has_header("Content-Length"):
            answer.headers["Content-Length"] = str(len(answer.content))
        return answer


def _cut(page: str, name: str) -> str | None:
    """Return a part of a page, its title, and what goes along with each part.

    Examples
    --------
    >>> _cut("<title>Hay</title><!--part a--><p id=a>8</p><!--/part a--> 9", "a")
    '<title>Hay</title><p id=a>8</p>'
    >>> _cut("<p>9</p>", "a") is None
    True
    """
    begins, ends = f"<!--part {name}-->", f"<!--/part {name}-->"
    if begins not in page:
        return None
    told = page.partition(begins)[2].partition(ends)[0]
    title = _TITLE.search(page)
    along = [
        _BEGINS.sub(lambda found: f'{found[0]} hx-swap-oob="true"', one["told"].strip(), count=1)
        for one in _ALONG.finditer(page)
        if one[0] not in told
    ]
    return _MARKS.sub("", "".join((title[0] if title else "", told, *along)))


def swaps(name: str, kept: str = "") -> Any:
    """Return what makes a form or a link swap a part and stay on its page, where a script runs.

    Parameters
    ----------
    name : str
        The id of the part.
    kept : str
        ``"address"`` where what is asked belongs into the address of the page.

    Returns
    -------
    SafeString
        Attributes.
    """
    return format_html(
        'hx-boost="true" hx-target="#{}" hx-swap="outerHTML" hx-push-url="{}"',
        name,
        "true" if kept == "address" else "false",
    )


def looks_again(name: str, seconds: int) -> Any:
    """Return what looks again for a part while work goes on; the part without it ends that.

    Parameters
    ----------
    name : str
        The id of the part.
    seconds : int
        How often; 0 for never.

    Returns
    -------
    SafeString
        An element.
    """
    if not seconds:
        return ""
    return format_html(
        '<span hidden data-again hx-get="" hx-trigger="every {}s" hx-target="#{}" '
        'hx-swap="outerHTML"></span>',
        seconds,
        name,
    )
