"""The pages as a WSGI application: Django set up by code, files of style beside it."""

from __future__ import annotations

import hashlib
import os
import threading
import weakref
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from importlib.resources import files
from multiprocessing import parent_process
from pathlib import Path
from typing import Any, Final

from django.conf import settings
from django.core.handlers.wsgi import WSGIHandler
from django.template.loader import get_template
from whitenoise import WhiteNoise

from rickyard.book.base import BookPlace, join_book, make_ready
from rickyard.web.guarding import keep_journal
from rickyard.web.languages import LANGUAGES
from rickyard.web.serving.compressed import laid_out
from rickyard.web.serving.headers import POLICY

_HERE: Final = Path(__file__).resolve().parents[1]
STATIC: Final = _HERE / "static"
#: What swaps parts of pages, as it is shipped with django-htmx.
HTMX: Final = Path(str(files("django_htmx"))) / "static" / "django_htmx" / "htmx-2.min.js"

#: Who may be spoken to by name: this computer alone. Another name in a request is refused, so that
#: no page of the world can reach the book through a name that it made point here.
HOSTS: Final = ("127.0.0.1", "localhost", "[::1]")

#: What Django would have on a public server, and why not here: without a certificate there is no
#: HTTPS to insist on, and what goes to this computer itself leaves it nowhere.
NOT_ON_LOOPBACK: Final = ("security.W004", "security.W008", "security.W016")

#: A name is told to browsers as one for HTTPS alone; names below it may be of other servers.
NOT_OF_ONE_NAME: Final = ("security.W005", "security.W021")

#: No other server is told which page of the book led to it.
_REFERRER: Final = "same-origin"

#: For so long. [s]
_YEAR: Final = 365 * 86_400


@dataclass(frozen=True, slots=True)
class Access:
    """Who may reach the pages: this computer alone, or whoever has an account, by a name.

    ``host`` is that name, empty for one person on this computer. ``certificate`` and ``key`` are
    files for HTTPS; with ``behind_proxy`` another server on this computer ends HTTPS.
    """

    host: str = ""
    certificate: Path | None = None
    key: Path | None = None
    behind_proxy: bool = False

    @property
    def is_shared(self) -> bool:
        """Return whether people sign in."""
        return bool(self.host)


#: One person on this computer.
FOR_ONE: Final = Access()


def static_prefix() -> str:
    """Return the address under which the files of style lie; it changes whenever one of them does.

    Returns
    -------
    str
        As ``/static/0123456789ab/``.
    """
    digest = hashlib.sha256(HTMX.read_bytes())
    for path in sorted(one for one in STATIC.rglob("*") if one.is_file()):
        digest.update(path.relative_to(STATIC).as_posix().encode() + path.read_bytes())
    return f"/static/{digest.hexdigest()[:12]}/"


def web_settings(secret: str, access: Access) -> Mapping[str, Any]:
    """Return what Django is to know beside the book.

    Parameters
    ----------
    secret : str
        What forms are sealed with; new at each start, known to nobody.
    access : Access
        Who may reach the pages.

    Returns
    -------
    mapping
        Settings by name.
    """
    shared = access.is_shared
    return {
        "RICKYARD_SHARED": shared,
        "RICKYARD_BEHIND_PROXY": access.behind_proxy,
        "SECRET_KEY": secret,
        "DEBUG": False,
        "ALLOWED_HOSTS": [access.host] if shared else list(HOSTS),
        "ROOT_URLCONF": "rickyard.web.pages.addresses",
        "MIDDLEWARE": [
            "rickyard.web.guarding.journal.Journal",
            # What a page holds that nobody may guess is another on each: the seals of its forms.
            "django.middleware.gzip.GZipMiddleware",
            "rickyard.web.serving.headers.Headers",
            "django_htmx.middleware.HtmxMiddleware",
            "rickyard.web.serving.parts.Parts",
            "rickyard.web.languages.choosing.Languages",
            "django.middleware.security.SecurityMiddleware",
            "django.middleware.common.CommonMiddleware",
            "django.middleware.csrf.CsrfViewMiddleware",
            "django.middleware.clickjacking.XFrameOptionsMiddleware",
            "rickyard.web.pages.persons.Persons",
            "rickyard.web.guarding.limits.Limits",
            "rickyard.web.pages.faults.Faults",
        ],
        "TEMPLATES": [
            {
                "BACKEND": "django.template.backends.django.DjangoTemplates",
                "DIRS": [_HERE / "templates"],
                "OPTIONS": {"builtins": ["rickyard.web.serving.tags"]},
            }
        ],
        "STATIC_URL": static_prefix(),
        "LANGUAGES": LANGUAGES,
        "LANGUAGE_CODE": LANGUAGES[0][0],
        "LANGUAGE_COOKIE_NAME": "language",
        "SECURE_SSL_REDIRECT": shared,
        "SECURE_HSTS_SECONDS": _YEAR if shared else 0,
        "SECURE_PROXY_SSL_HEADER": (
            ("HTTP_X_FORWARDED_PROTO", "https") if access.behind_proxy else None
        ),
        "CSRF_COOKIE_SECURE": shared,
        "CSRF_COOKIE_NAME": "__Host-csrf" if shared else "csrftoken",
        "CSRF_COOKIE_HTTPONLY": True,
        "CSRF_COOKIE_SAMESITE": "Strict",
        "CSRF_FAILURE_VIEW": "rickyard.web.pages.faults.refused",
        "SECURE_REFERRER_POLICY": _REFERRER,
        "X_FRAME_OPTIONS": "DENY",
        "DATA_UPLOAD_MAX_MEMORY_SIZE": 1_000_000,
        "SILENCED_SYSTEM_CHECKS": list(NOT_OF_ONE_NAME if shared else NOT_ON_LOOPBACK),
    }


def make_application(place: BookPlace, secret: str, access: Access = FOR_ONE) -> Any:
    """Return the application that shows one book.

    Parameters
    ----------
    place : BookPlace
        Where the book is; its tables are up to date.
    secret : str
        What forms are sealed with.
    access : Access
        Who may reach the pages.

    Returns
    -------
    WSGI application
        To be called by a server.
    """
    _end_with_parent()
    make_ready()
    for name, value in web_settings(secret, access).items():
        setattr(settings, name, value)
    join_book(place, stay=True)
    keep_journal(shared=access.is_shared)
    pages = WSGIHandler()
    style = laid_out({**{one.name: one for one in STATIC.iterdir()}, "htmx.js": HTMX})
    serving = WhiteNoise(
        pages,
        root=style.name,
        prefix=static_prefix(),
        immutable_file_test=lambda path, url: True,
        allow_all_origins=False,
        add_headers_function=partial(_add_headers, shared=access.is_shared),
    )
    # The folder is there as long as what sends it.
    weakref.finalize(serving, style.cleanup)
    return serving


def answering(place: BookPlace, secret: str, access: Access) -> Any:
    """Return the application with all that pages are made of loaded, so that no page waits for it.

    The farms that were written last are read too.

    Parameters
    ----------
    place, secret, access
        As in `make_application`.

    Returns
    -------
    WSGI application
        To be called by a server.
    """
    application = make_application(place, secret, access)
    import_module(str(settings.ROOT_URLCONF))
    templates = _HERE / "templates"
    for path in sorted(templates.rglob("*.html")):
        get_template(path.relative_to(templates).as_posix())
    import_module("rickyard.web.serving.ahead").read_ahead()
    return application


def _add_headers(headers: Any, *_: str, shared: bool) -> None:
    """Give a file of style the headers that every page has from Django."""
    headers["X-Content-Type-Options"] = "nosniff"
    headers["Referrer-Policy"] = _REFERRER
    headers["Content-Security-Policy"] = POLICY
    if shared:
        headers["Strict-Transport-Security"] = f"max-age={_YEAR}"


def _end_with_parent() -> None:
    """End this process when the one that started it is gone, so that no half of a server stays."""
    parent = parent_process()
    if parent is not None:

        def watch() -> None:
            parent.join()
            os._exit(0)

        threading.Thread(target=watch, daemon=True).start()
