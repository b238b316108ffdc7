"""The tags of templates: parts that are swapped, and ``url`` with each address worked out once.

To find the address of a page by its name takes longer than all else of a row of a long list.
"""

from __future__ import annotations

from typing import Any, Final

from django.template import Library
from django.template.defaulttags import URLNode
from django.template.defaulttags import url as parsed
from django.urls import get_script_prefix, reverse
from django.utils.html import conditional_escape

from rickyard.service import Held
from rickyard.web.serving.parts import looks_again, part, swaps

register: Final = Library()

#: Addresses by the prefix of the server, the name of the page and the parts as they are written.
_held: Final = Held[tuple[Any, ...], str](16_384)


class _Address(URLNode):
    """An address by the name of its page and its parts in their order."""

    def render(self, context: Any) -> str:
        """Return it."""
        if self.kwargs or self.asvar:
            return str(super().render(context))
        name, *parts = (one.resolve(context) for one in (self.view_name, *self.args))
        key = (get_script_prefix(), name, *map(str, parts))
        found = _held.of([key])
        if key not in found:
            # What is held of a farm is dropped with it, and the name of a farm is in its addresses.
            found = {key: conditional_escape(reverse(name, args=parts))}
            _held.hold(found)
        return found[key]


def url(parser: Any, token: Any) -> _Address:
    """Return what stands in a template for an address."""
    one = parsed(parser, token)
    return _Address(one.view_name, one.args, one.kwargs, one.asvar)


register.tag("url", url)
register.tag("part", part)
register.tag("along", part)
register.simple_tag(swaps)
register.simple_tag(looks_again)
