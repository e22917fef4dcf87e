"""How often one caller may ask, and how many wrong keys he may show: counted for all workers of an instance together.

Where nobody has made a place for that, each process counts for itself; in Redis, machines count together.
"""

import re
import sqlite3
import time
from collections.abc import Callable, Collection
from functools import lru_cache
from ipaddress import IPv6Address, ip_address

from flask import Flask, Response, request
from flask_limiter import Limiter, RequestLimit
from limits import RateLimitItemPerMinute
from limits.storage import MemoryStorage
from limits.strategies import FixedWindowRateLimiter

from service.door.errors import TooOften
from service.door.machine.shared_counts import SharedCounts, shared_place
from service.settings import Settings

_REDIS_OPTIONS: dict[str, str | int] = {"socket_connect_timeout": 1, "socket_timeout": 1}
_MEMORY = "memory://"
_NODE = re.compile(r"(?:\[(?P<ipv6>[^]]+)]|(?P<ipv4>[0-9.]+))(?::(?:[0-9]{1,5}|_[A-Za-z0-9._-]+))?")
"""An address as proxies may write it (RFC 7239, section 6): with a port, and of IPv6 in brackets."""


def register_rates(
    app: Flask, settings: Settings, exempt: Collection[str], problem: Callable[[Exception], Response]
) -> None:
    """Put the limit before every route but the exempt ones. Where its store is away, each process counts for itself."""
    if not settings.rate_per_minute:
        return

    def breached(limit: RequestLimit) -> Response:
        return problem(TooOften(settings.rate_per_minute, _seconds_until(limit.reset_at)))

    store = (shared_place() or _MEMORY) if settings.rate_store == _MEMORY else settings.rate_store
    Limiter(
        caller,
        app=app,
        application_limits=[f"{settings.rate_per_minute}/minute"],
        application_limits_cost=_cost,
        application_limits_exempt_when=lambda: request.endpoint in exempt,
        storage_uri=store,
        storage_options=_REDIS_OPTIONS if store == settings.rate_store != _MEMORY else {},
        strategy="fixed-window",
        in_memory_fallback_enabled=store != _MEMORY,
        key_prefix="strap",
        on_breach=breached,
    )


def _cost() -> int:
    """As how many requests the one at hand counts: a strap before and after something is turned is two patterns."""
    return 2 if "vary" in request.args else 1


def caller() -> str:
    """Who asks: an address; of IPv6 the network that one household gets (RFC 6177: a /64 at least).

    A port that a proxy told with it says nothing of who it is.
    Whoever listens at all addresses sees IPv4 callers as `::ffff:` and their address (RFC 4291, section 2.5.5.2).
    """
    return _network(request.remote_addr or "")


@lru_cache(maxsize=1024)
def _network(told: str) -> str:
    """What one caller is known by, of what a server or a proxy told of his address."""
    node = _NODE.fullmatch(told)
    try:
        address = ip_address((node["ipv6"] or node["ipv4"]) if node else told)
    except ValueError:
        return "nobody"
    if not isinstance(address, IPv6Address):
        return str(address)
    return str(address.ipv4_mapped or address.exploded[:19])


class Guesses:
    """How many wrong keys each caller has shown within a minute."""

    def __init__(self, per_minute: int) -> None:
        self._limit = RateLimitItemPerMinute(per_minute, namespace="strap-keys")
        place = shared_place()
        self._own = FixedWindowRateLimiter(MemoryStorage())
        self._shared = FixedWindowRateLimiter(SharedCounts(place)) if place else self._own

    def require_patience(self, who: str) -> None:
        """Pass who has not shown too many. Raises `TooOften`, whatever key is shown now: else guessing would go on."""
        limiter = self._limiter(who)
        if limiter.test(self._limit, who):
            return
        seconds = _seconds_until(limiter.get_window_stats(self._limit, who).reset_time)
        raise TooOften(self._limit.amount, seconds, "show a wrong key")

    def count(self, who: str) -> None:
        """Count one wrong key."""
        self._limiter(who).hit(self._limit, who)

    def _limiter(self, who: str) -> FixedWindowRateLimiter:
        """The counts of all workers; this one's alone while those cannot be had."""
        try:
            self._shared.test(self._limit, who)
        except sqlite3.Error:
            return self._own
        return self._shared


def _seconds_until(moment: float) -> int:
    return min(60, max(1, round(moment - time.time())))
