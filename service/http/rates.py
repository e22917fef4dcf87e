"""How often one caller may ask: counted in memory by each process, or in Redis for many machines."""

import time
from collections.abc import Callable, Collection
from ipaddress import IPv6Address, ip_address

from flask import Flask, Response, request
from flask_limiter import Limiter, RequestLimit

from service.http.errors import TooOften
from service.settings import Settings

_REDIS_OPTIONS: dict[str, str | int] = {"socket_connect_timeout": 1, "socket_timeout": 1}
_MEMORY = "memory://"


def register_rates(
    app: Flask, settings: Settings, exempt: Collection[str], problem: Callable[[Exception], Response]
) -> None:
    """Put the limit before every route but the exempt ones. Where Redis is away, each process counts for itself."""
    if not settings.rate_per_minute:
        return

    def breached(limit: RequestLimit) -> Response:
        seconds = min(60, max(1, round(limit.reset_at - time.time())))
        return problem(TooOften(settings.rate_per_minute, seconds))

    Limiter(
        caller,
        app=app,
        application_limits=[f"{settings.rate_per_minute} per minute"],
        application_limits_exempt_when=lambda: request.endpoint in exempt,
        storage_uri=settings.rate_store,
        storage_options={} if settings.rate_store == _MEMORY else _REDIS_OPTIONS,
        strategy="fixed-window",
        in_memory_fallback_enabled=settings.rate_store != _MEMORY,
        key_prefix="strap",
        on_breach=breached,
    )


def caller() -> str:
    """Who asks: an address; of IPv6 the network that one household gets (RFC 6177: a /64 at least)."""
    try:
        address = ip_address(request.remote_addr or "")
    except ValueError:
        return "nobody"
    if isinstance(address, IPv6Address):
        return address.exploded[:19]
    return str(address)
