"""The server: started for one person of this computer, ready when it says so, ended by Ctrl-C."""

from __future__ import annotations

import http.client
import secrets
import socket
import threading
import time
from collections.abc import Callable
from functools import partial
from typing import Final

from granian import Granian
from granian.constants import Interfaces

from rickyard.book.base import BookPlace, BookProblem
from rickyard.web.serving.application import make_application
from rickyard.web.serving.worker import Watched

HOST: Final = "127.0.0.1"

#: A page is worked out by one processor; more threads only wait for the database.
_THREADS: Final = 4

#: A server that does not answer by then is not coming up. [s]
_LONGEST_START: Final = 60.0


def free_port(port: int) -> int:
    """Return a port on which nothing listens.

    Parameters
    ----------
    port : int
        The port that is wanted; 0 for any.

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
        try:
            one.bind((HOST, port))
        except OSError as error:
            raise BookProblem(
                f"Port {port} of this computer is taken, perhaps by another rickyard serve "
                f"({error.strerror}). Stop that, or name another port with --port."
            ) from error
        return int(one.getsockname()[1])


def serve(place: BookPlace, port: int, ready: Callable[[str], None]) -> None:
    """Serve a book until it is told to stop.

    Parameters
    ----------
    place : BookPlace
        The book; its tables are up to date.
    port : int
        The port; 0 for any that is free.
    ready : callable
        Told the address once pages are answered.

    Raises
    ------
    BookProblem
        If the port is taken.
    """
    port = free_port(port)
    server = Granian(
        "rickyard.web",
        address=HOST,
        port=port,
        interface=Interfaces.WSGI,
        workers=1,
        blocking_threads=_THREADS,
        respawn_failed_workers=True,
        workers_kill_timeout=10,
        log_enabled=False,
    )
    load = partial(make_application, place, secrets.token_urlsafe(64))
    with Watched(place):
        threading.Thread(target=_say_when_ready, args=(port, ready), daemon=True).start()
        server.serve(target_loader=load, wrap_loader=False)


def _say_when_ready(port: int, ready: Callable[[str], None]) -> None:
    end = time.monotonic() + _LONGEST_START
    while time.monotonic() < end:
        connection = http.client.HTTPConnection(HOST, port, timeout=_LONGEST_START)
        try:
            connection.request("HEAD", "/")
            connection.getresponse()
        except OSError:
            time.sleep(0.05)
        else:
            ready(f"http://{HOST}:{port}/")
            return
        finally:
            connection.close()
