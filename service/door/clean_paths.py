"""A page's address with slashes at its end, as people and programs write it: they are sent on to the page."""

import re
from collections.abc import Iterable

from flask import Flask, Response, request

from service.door.mounting import here

_READING = ("GET", "HEAD")


def register_clean_paths(app: Flask, pages: Iterable[str], cache_seconds: int) -> None:
    """Send on who asks for a page with slashes at its end. `pages` are paths as the route table has them."""
    known = re.compile("|".join(_pattern(path) for path in pages if path != "/"))

    def before() -> Response | None:
        clean = request.path.rstrip("/")
        if clean == request.path or request.method not in _READING or not known.fullmatch(clean):
            return None
        query = request.query_string.decode("latin-1")
        return Response(status=308, headers={
            "Location": here(clean) + (f"?{query}" if query else ""),
            "Cache-Control": f"public, max-age={cache_seconds}",
        })  # fmt: skip

    app.before_request(before)


def _pattern(path: str) -> str:
    """The path with harmless names in it: what is sent back in a header holds nothing else."""
    return re.sub(r"\\{\w+\\}", "[A-Za-z0-9_-]+", re.escape(path))
