"""Which hosts are answered for: one that a caller made up may end in no link, no snippet and no cache.

Always this machine's own names, at any port; then what the settings name. A host is what `Host` says (RFC 9110,
section 7.2), in small letters and without a port that its scheme implies.
"""

import re
from urllib.parse import urlsplit

from werkzeug.exceptions import BadRequest

from service.allowed import ANY_HOST
from service.door.errors import UnknownHost
from service.settings import Settings

_LOOPBACK = re.compile(r"(localhost|127\.0\.0\.1|\[::1\])(:[0-9]{1,5})?")
_IMPLIED = re.compile(r":(80|443)$")
_EVERYWHERE = ("", "0.0.0.0", "[::]", "::")  # noqa: S104 # nothing is bound here: these are no names of a host


def known_hosts(settings: Settings) -> frozenset[str]:
    """The hosts that the settings name: of the public URL, the listed ones, and the address listened at."""
    named = [*(settings.hosts or ()), urlsplit(settings.public_url or "").netloc]
    address = settings.bind.rpartition(":")[0]
    if address not in _EVERYWHERE and not settings.bind.startswith("unix:"):
        named.append(settings.bind)
    return frozenset(plain(each) for each in named if each)


def plain(host: str) -> str:
    """A host as it is compared, and as links are built on it."""
    return _IMPLIED.sub("", host.lower())


def is_known(host: str, known: frozenset[str]) -> bool:
    """Whether a host is answered for."""
    named = plain(host)
    return named in known or ANY_HOST in known or _LOOPBACK.fullmatch(named) is not None


def require_known(host: str, known: frozenset[str]) -> None:
    """Pass a host that is answered for. Raises `UnknownHost`, or `BadRequest` where none is said (RFC 9112, 3.2)."""
    if not host:
        raise BadRequest("a request has to name its host")
    if not is_known(host, known):
        raise UnknownHost
