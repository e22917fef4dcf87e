"""Where this service lies at its host: at the root, or below a path that a proxy takes away before it asks.

The path is that of the public URL, or what a trusted proxy says by `X-Forwarded-Prefix`. It is the WSGI environment's
`SCRIPT_NAME` (PEP 3333), and stands before every path that goes out: in pages, headers, JSON and problems.
"""

import re
from collections.abc import Callable, Collection, Iterable
from typing import Any
from urllib.parse import urlsplit

from flask import Flask, request
from werkzeug.middleware.proxy_fix import ProxyFix

from service.allowed import BASE_PATH
from service.door.hosts import plain
from service.settings import Settings

_PATH = re.compile(BASE_PATH)
_LONGEST = 200

Environment = dict[str, Any]
Application = Callable[[Environment, Callable[..., Any]], Iterable[bytes]]


def here(path: str) -> str:
    """A path of this service as others ask for it."""
    return request.script_root + path


def origin_of(settings: Settings) -> str:
    """Scheme and host by which others reach this service: no host gets here that is not answered for."""
    if settings.public_url:
        parts = urlsplit(settings.public_url)
        return f"{parts.scheme}://{parts.netloc}"
    return f"{request.scheme}://{plain(request.environ['HTTP_HOST'])}"


class Mounted:
    """A WSGI application below a path. It answers whether the proxy took the path away or not.

    Not so the `inner` paths, for health and figures: a proxy refuses them by their names, which with something before
    them would be others.
    """

    def __init__(self, app: Application, base: str, inner: Collection[str], own: Collection[str]) -> None:
        self._app, self._base, self._inner = app, base, inner
        # A path that begins as one of ours could be either, so it is taken as it stands.
        self._strips = bool(base) and base.split("/")[1] not in {path.split("/")[1] for path in own}

    def __call__(self, environ: Environment, start: Callable[..., Any]) -> Iterable[bytes]:
        """Pass a request on with its base path in `SCRIPT_NAME` and without it in `PATH_INFO`."""
        given = environ.get("SCRIPT_NAME", "").rstrip("/")
        path = environ.get("PATH_INFO", "")
        environ["SCRIPT_NAME"] = self._base or (given if len(given) <= _LONGEST and _PATH.fullmatch(given) else "")
        if self._strips and path.startswith(f"{self._base}/"):
            rest = path[len(self._base) :]
            if rest.rstrip("/") not in self._inner:
                environ["PATH_INFO"] = rest
        return self._app(environ, start)


def mount(app: Flask, settings: Settings, inner: Collection[str], own: Collection[str]) -> None:
    """Put an app below its base path, behind as many proxies as the settings trust, in what they are believed."""
    base = urlsplit(settings.public_url or "").path
    app.wsgi_app = Mounted(app.wsgi_app, base, inner, own)  # type: ignore[method-assign,assignment]
    if settings.proxies:
        believed = dict.fromkeys(settings.forwarded or (), settings.proxies)
        app.wsgi_app = ProxyFix(  # type: ignore[method-assign]
            app.wsgi_app,
            x_for=settings.proxies,
            x_proto=believed.get("proto", 0),
            x_host=believed.get("host", 0),
            x_prefix=believed.get("prefix", 0),
        )
