"""Headers of every page: nothing from elsewhere, nothing inline, in no frame, kept by nobody."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

#: No script or style within a page, no address outside this server.
POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; "
    "img-src 'self'; connect-src 'self'; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'"
)


class Headers:
    """Gives every answer the headers that a browser holds it to."""

    def __init__(self, answer: Callable[[Any], Any]) -> None:
        self._answer = answer

    def __call__(self, request: Any) -> Any:
        """Return the answer with its headers."""
        answer = self._answer(request)
        answer.headers["Content-Security-Policy"] = POLICY
        answer.headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=()"
        answer.headers["Cache-Control"] = "no-store"
        return answer
