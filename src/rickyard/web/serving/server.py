"""The server: started for one person of this computer, ready when it says so, ended by Ctrl-C."""

from __future__ import annotations

import gc
import http.client
import multiprocessing
import os
import re
import secrets
import socket
import ssl
import sys
import threading
import time
from collections.abc import Callable
from functools import partial
from typing import Final

from granian import Granian
from granian.constants import Interfaces, SSLProtocols

from rickyard.book.base import BookPlace, BookProblem, opened_book
from rickyard.web.serving.application import FOR_ONE, Access, answering, make_application
from rickyard.web.serving.worker import Watched

HOST: Final = "127.0.0.1"

#: A page is worked out by one processor of a process; more threads only wait for the database.
_THREADS: Final = 4

#: More processes than these only wait for the database. (common practice, no published source)
_MOST_PROCESSES: Final = 8

#: The port that need not be said. It is that of browsers for HTTPS.
_HTTPS: Final = 443

#: A server that does not answer by then is not coming up. [s]
_LONGEST_START: Final = 60.0


#: An office's server listens to every network of its computer.
_EVERYWHERE: Final = "0.0.0.0"


def free_port(port: int, at: str = HOST) -> int:
    """Return a port on which nothing listens.

    Parameters
    ----------
    port : int
        The port that is wanted; 0 for any.
    at : str
        The address of this computer.

    Returns
    -------
    int
        The port.

    Raises
    ------
    BookProblem
        If something listens there already.
    """
    with socket.socket() as one:
        if sys.platform != "win32":
            # What a server before this one has closed a moment ago holds its port no more.
            one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            one.bind((at, port))
        except OSError as error:
            raise BookProblem(
                f"Port {port} of this computer is taken, perhaps by another rickyard serve "
                f"({error.strerror}). Stop that, or name another port with --port."
            ) from error
        return int(one.getsockname()[1])


def usual_processes(place: BookPlace, access: Access = FOR_ONE) -> int:
    """Return how many processes answer for pages where nobody says.

    Parameters
    ----------
    place : BookPlace
        The book.
    access : Access
        Who may reach the pages.

    Returns
    -------
    int
        As many as there are processors, no more than eight; for one person at most two, so that a
        page that takes long holds up no other. On Windows one: there processes cannot share the
        door at which browsers knock.
    """
    if sys.platform == "win32":
        return 1
    most = _MOST_PROCESSES if place.is_server or access.is_shared else 2
    return min(os.cpu_count() or 1, most)


def serve(
    place: BookPlace,
    port: int,
    ready: Callable[[str], None],
    access: Access = FOR_ONE,
    processes: int | None = None,
) -> None:
    """Serve a book until it is told to stop.

    Parameters
    ----------
    place : BookPlace
        The book; its tables are up to date.
    port : int
        The port; 0 for any that is free.
    ready : callable
        Told the address once pages are answered.
    access : Access
        Who may reach the pages.
    processes : int, optional
        How many processes answer for pages; `usual_processes` if left out.

    Raises
    ------
    BookProblem
        If the port is taken, or an office shares the book without HTTPS.
    """
    _look_at(access)
    at = _EVERYWHERE if access.certificate else HOST
    port = free_port(port, at)
    server = Granian(
        "rickyard.web",
        address=at,
        port=port,
        ssl_cert=access.certificate,
        ssl_key=access.key,
        ssl_protocol_min=SSLProtocols.tls12,
        interface=Interfaces.WSGI,
        workers=processes or usual_processes(place, access),
        blocking_threads=_THREADS,
        respawn_failed_workers=True,
        workers_kill_timeout=10,
        log_enabled=False,
    )
    told = place, secrets.token_urlsafe(64), access
    load = partial(answering, *told)
    if multiprocessing.get_start_method() == "fork":
        # What is loaded before the processes part is loaded, and read, once for all of them.
        load()
        load = partial(make_application, *told)
        # What is there now stays, and is not looked through for what is no longer used.
        gc.collect()
        gc.freeze()
    with Watched(place):
        threading.Thread(target=_say_when_ready, args=(port, ready, access), daemon=True).start()
        server.serve(target_loader=load, wrap_loader=False)
    # Those who answered were told to end, not to close: whoever is last puts a file in order.
    with opened_book(place, create=False):
        pass


#: A name as certificates have it, or an address: letters, digits and hyphens between dots
#: (RFC 1123, 2.1), or what stands in brackets (RFC 3986, 3.2.2).
_NAME: Final = re.compile(
    r"(?!-)[a-z0-9-]{1,63}(?<!-)(\.(?!-)[a-z0-9-]{1,63}(?<!-))*|\[[0-9a-f:.]+\]", re.IGNORECASE
)


def _look_at(access: Access) -> None:
    """Refuse to share a book where what goes over the network could be read or changed."""
    if not access.is_shared:
        return
    if not _NAME.fullmatch(access.host):
        raise BookProblem(
            f'"{access.host}" is no name that a browser can reach. Write after --host the name '
            "that stands in the certificate and nothing else, as hay.example.org: no https:// "
            "before it, no port behind it, and letters of other alphabets as the certificate "
            "spells them (xn--...)."
        )
    if access.behind_proxy:
        return
    if access.certificate is None or access.key is None:
        raise BookProblem(
            "A book is shared over HTTPS alone, for passwords go over the network. Name the files "
            f"of a certificate for {access.host} with --certificate and --key: an authority such "
            "as that of your office or county gives one out, or a free public one. Where another "
            "server on this computer ends HTTPS, say --behind-proxy."
        )
    for path in (access.certificate, access.key):
        if not path.is_file():
            raise BookProblem(f"{path}: there is no such file. Check --certificate and --key.")
    try:
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(
            access.certificate, access.key, password=_ask_nobody
        )
    except (OSError, ValueError) as error:
        raise BookProblem(
            f"{access.certificate} and {access.key}: are no certificate and its key ({error}). "
            "Check that both are in the PEM form and belong together, and that the key has no "
            "password."
        ) from error


def _ask_nobody() -> str:
    """Return no password for a key: there is nobody at a server to be asked."""
    return ""


def _say_when_ready(port: int, ready: Callable[[str], None], access: Access) -> None:
    end = time.monotonic() + _LONGEST_START
    while time.monotonic() < end:
        connection = _connection(port, secure=access.certificate is not None)
        try:
            connection.request("HEAD", "/start", headers={"Host": access.host or HOST})
            connection.getresponse()
        except OSError:
            time.sleep(0.05)
        else:
            ready(_address(port, access))
            return
        finally:
            connection.close()


def _connection(port: int, *, secure: bool) -> http.client.HTTPConnection:
    if not secure:
        return http.client.HTTPConnection(HOST, port, timeout=_LONGEST_START)
    # This asks itself whether it is there: the certificate is for another name than this address.
    context = ssl.create_default_context()
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    return http.client.HTTPSConnection(HOST, port, timeout=_LONGEST_START, context=context)


def _address(port: int, access: Access) -> str:
    if not access.is_shared:
        return f"http://{HOST}:{port}/"
    return (
        f"https://{access.host}/"
        if port == _HTTPS or access.behind_proxy
        else (f"https://{access.host}:{port}/")
    )
