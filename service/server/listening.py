"""Whether there is a place to listen at, asked once before all else is loaded: one line says what is wrong with it."""

import errno
import os
import socket
import time
from collections.abc import Mapping

from service.settings import PREFIX, SettingsError
from service.words import say

_PATIENCE_SECONDS = 2.0
_WHY = {
    errno.EADDRINUSE: "another program listens there already; stop that, or name another port",
    errno.EADDRNOTAVAIL: "this machine has no such address",
    errno.EACCES: "this user may not listen there; ports from 1024 on are free to all",
}


def require_place(bind: str, environment: Mapping[str, str] = os.environ) -> None:
    """Pass an address HOST:PORT that can be listened at. Raises `SettingsError` where it cannot.

    A socket in the file system is the server's to judge, and one that systemd hands over is bound already.
    """
    if bind.startswith("unix:") or "LISTEN_FDS" in environment:
        return
    host, _, port = bind.rpartition(":")
    try:
        _persist(host.strip("[]"), int(port))
    except OSError as error:
        why = _WHY.get(error.errno or 0) or error.strerror or str(error)
        raise SettingsError(
            (say("{prefix}BIND: {bind} cannot be listened at: {why}", prefix=PREFIX, bind=bind, why=why),)
        ) from None


def _persist(host: str, port: int) -> None:
    """Try until what ended a moment ago has let go of the port as well. Raises `OSError`."""
    until = time.monotonic() + _PATIENCE_SECONDS
    while True:
        try:
            return _try(host, port)
        except OSError as error:
            if error.errno != errno.EADDRINUSE or time.monotonic() > until:
                raise
        time.sleep(0.1)


def _try(host: str, port: int) -> None:
    """Bind as the server will, and let go again. Raises `OSError`."""
    family, kind, protocol, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
    with socket.socket(family, kind, protocol) as tried:
        tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        tried.bind(address)
