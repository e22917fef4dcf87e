"""gunicorn's threaded worker, with patience that costs no thread: one is given to a request once all of it is there.

Left alone, gunicorn gives a thread to whoever connects, and waits in it for a head without an end, for a caller who
does not take the answer, and in its only loop for one who does not close. Here the loop itself gathers heads and
bodies from all callers at once, each within its time and all within a bound of memory.
"""

import contextlib
import errno
import socket
import time
from collections.abc import Iterator
from functools import partial
from http import HTTPStatus
from selectors import EVENT_READ
from typing import Any

from gunicorn import util
from gunicorn.workers.gthread import TConn, ThreadWorker

from service.server.arriving import Arriving
from service.settings import settings_at_start

_AT_ONCE = 65_536
_HELD_MAX = 33_554_432
"""Bytes that a worker holds of requests that are not whole yet; beyond it whoever has sent the most goes first."""
_LEAVING_SECONDS = 2.0
_LOOK_SECONDS = 0.25
_SEND_BUFFER = 262_144
"""What the system takes of an answer for a slow reader (bytes), so that most answers never hold a thread for one."""


class LateBody:
    """A body that did not come in time. `failed` tells gunicorn that the connection has no next request."""

    failed = True

    def read(self, _size: int | None = None) -> bytes:
        """Raise what a socket raises that waited in vain."""
        raise TimeoutError("the body did not come in time")

    readline = readinto = read


class Connection(TConn):  # type: ignore[misc] # gunicorn's classes have no types
    """One caller's connection, and what has come on it of a request that has no thread yet."""

    def __init__(self, worker: "PatientWorker", client: socket.socket, address: Any, server: Any) -> None:
        super().__init__(worker.cfg, client, address, server)
        cfg, settings = worker.cfg, worker.limits
        head_max = cfg.limit_request_line + cfg.limit_request_fields * (cfg.limit_request_field_size + 2)
        self.arriving = Arriving(head_max, settings.orders_body_max + 1)
        self.since = 0.0
        self.late = False
        self._worker, self._send_seconds = worker, settings.send_seconds

    def init(self) -> None:
        """Make the parser, give it what came, and bound how long the answer may take to be taken."""
        super().init()
        came = self.arriving.take()
        if came:
            self.parser.unreader.unread(came)
        self.sock.settimeout(self._send_seconds)

    def read_ahead(self) -> bytes:
        """What came behind the last request."""
        ahead: bytes = self.parser.unreader.take_buffered() if self.parser else b""
        return ahead

    def close(self, graceful: bool = False) -> None:  # noqa: FBT001, FBT002 # gunicorn's own signature
        """Close; gracefully means: once the caller has taken all and closes too (RFC 9112, section 9.6)."""
        if graceful:
            self._worker.see_off(self)
        else:
            super().close()


class PatientWorker(ThreadWorker):  # type: ignore[misc] # gunicorn's classes have no types
    """The worker. All but `handle` and `handle_request` runs in its one loop, so nothing here needs a lock."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.limits = settings_at_start()
        self._arriving: dict[Connection, None] = {}  # the one that waits longest first
        self._leaving: dict[Connection, float] = {}
        self._held = 0
        self._looked = 0.0
        self._stopping: float | None = None

    def accept(self, listener: socket.socket) -> None:
        """Take on a caller; where there is no room left, one goes who was idle or is slow."""
        try:
            client, address = listener.accept()
        except (BlockingIOError, ConnectionAbortedError):
            return
        except OSError as error:
            if error.errno not in (errno.EMFILE, errno.ENFILE):
                raise
            self._make_room()  # the system has no file left for another caller
            return
        if client.family != socket.AF_UNIX:
            client.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, _SEND_BUFFER)
        self.nr_conns += 1
        if self.nr_conns >= self.worker_connections:
            self._make_room()
        self.enqueue_req(Connection(self, client, address, listener.getsockname()))

    def enqueue_req(self, conn: Connection) -> None:
        """Give a thread to the next request of a connection, once it is there."""
        conn.sock.settimeout(0)
        conn.since = time.monotonic()
        ahead = conn.read_ahead()
        if ahead and conn.arriving.add(ahead):
            self._hand_over(conn)
            return
        self._held += len(ahead)
        self._arriving[conn] = None
        self.poller.register(conn.sock, EVENT_READ, partial(self._on_more, conn))
        self._on_more(conn, conn.sock)

    def _on_more(self, conn: Connection, sock: socket.socket) -> None:
        if conn not in self._arriving:  # it was ended by another event of the same round
            return
        try:
            more = sock.recv(_AT_ONCE)
        except BlockingIOError:
            return
        except OSError:
            more = b""
        if not more and not conn.arriving.has_head:
            self._end(conn)
            return
        had_head = conn.arriving.has_head
        self._held += len(more)
        if conn.arriving.add(more) or not more:  # who closes in the middle of a body is told so by the app
            self._stop_waiting(conn)
            self._hand_over(conn)
        elif conn.arriving.has_head and not had_head:
            conn.since = time.monotonic()
            self._arriving[conn] = self._arriving.pop(conn)
        while self._held > _HELD_MAX:
            self._end(max(self._arriving, key=lambda each: len(each.arriving)))

    def _hand_over(self, conn: Connection) -> None:
        conn.data_ready = True
        super().enqueue_req(conn)

    def _stop_waiting(self, conn: Connection) -> None:
        del self._arriving[conn]
        self._held -= len(conn.arriving)
        with contextlib.suppress(OSError, KeyError, ValueError):
            self.poller.unregister(conn.sock)

    def _end(self, conn: Connection) -> None:
        """Close a connection whose request was never whole."""
        self._stop_waiting(conn)
        self.nr_conns -= 1
        conn.close()

    def _make_room(self) -> None:
        if self.keepalived_conns:
            self.keepalived_conns[0].timeout = 0.0
            self.murder_keepalived()
        elif self._arriving:
            self._end(next(iter(self._arriving)))

    def murder_pending(self) -> None:
        """End what is beyond its time: heads, bodies, and callers who do not close. The loop asks at every turn."""
        now = time.monotonic()
        if now - self._looked < _LOOK_SECONDS:
            return
        self._looked = now
        if not self.alive and self._stopping is None:
            self._stopping = now
        for conn in list(self._late(now)):
            self._give_up(conn)
        for conn, until in list(self._leaving.items()):
            if until <= now:
                self._leave(conn)

    def _late(self, now: float) -> Iterator[Connection]:
        for conn in self._arriving:
            seconds = self.limits.body_seconds if conn.arriving.has_head else self.limits.head_seconds
            silent = self._stopping is not None and not conn.arriving
            if now - conn.since >= seconds or (silent and now - (self._stopping or now) >= _LEAVING_SECONDS):
                yield conn

    def _give_up(self, conn: Connection) -> None:
        """Answer 408 to what did not come in time (RFC 9110, section 15.5.9); close on who never said a word.

        Of a late body the app says so, since it has read the head.
        """
        if not conn.arriving:
            self._end(conn)
            return
        has_head = conn.arriving.has_head
        self._stop_waiting(conn)
        if has_head:
            conn.late = True
            self._hand_over(conn)
            return
        self.nr_conns -= 1
        with contextlib.suppress(OSError):
            util.write_error(conn.sock, HTTPStatus.REQUEST_TIMEOUT, "Request Timeout", "")
        conn.close(graceful=True)

    def handle_request(self, req: Any, conn: Connection) -> Any:
        """Answer a request; one whose body is late reads of it that it is."""
        if conn.late:
            req.body = LateBody()
            req.force_close()
        return super().handle_request(req, conn)

    def see_off(self, conn: Connection) -> None:
        """Close once the caller does, or after a moment: what it still sends is thrown away meanwhile."""
        try:
            conn.sock.settimeout(0)
            conn.sock.shutdown(socket.SHUT_WR)
            self.poller.register(conn.sock, EVENT_READ, partial(self._on_leaving, conn))
        except (OSError, ValueError, KeyError):
            util.close(conn.sock)
            return
        self.nr_conns += 1
        self._leaving[conn] = time.monotonic() + _LEAVING_SECONDS

    def _on_leaving(self, conn: Connection, sock: socket.socket) -> None:
        if conn not in self._leaving:
            return
        try:
            rest = sock.recv(_AT_ONCE)
        except BlockingIOError:
            return
        except OSError:
            rest = b""
        if not rest:
            self._leave(conn)

    def _leave(self, conn: Connection) -> None:
        del self._leaving[conn]
        with contextlib.suppress(OSError, KeyError, ValueError):
            self.poller.unregister(conn.sock)
        self.nr_conns -= 1
        util.close(conn.sock)
