"""Which form an answer takes: by suffix, else by `Accept` (RFC 9110, section 12.5.1)."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from werkzeug.http import parse_list_header, parse_options_header

from service.door.errors import NotAcceptable
from service.forms.form import Form
from service.words import say

_HARMLESS: tuple[dict[str, str], ...] = ({}, {"charset": "utf-8"})


@dataclass(frozen=True, slots=True)
class Range:
    """One media range of an `Accept` header: `text/*` has subtype `*`."""

    type: str
    subtype: str
    quality: float

    def match(self, media_type: str) -> int:
        """How closely this range names a media type: 0 not, 1 as anything, 2 by its type, 3 exactly."""
        kind, _, subtype = media_type.partition("/")
        if (self.type, self.subtype) == (kind, subtype):
            return 3
        if self.subtype != "*":
            return 0
        return {kind: 2, "*": 1}.get(self.type, 0)


@lru_cache(maxsize=256)
def negotiate(accept: str, offered: tuple[Form, ...]) -> Form:
    """The form that a caller likes best; no header, or an empty one, likes everything alike.

    Raises `NotAcceptable`, which lists what there is.
    """
    if not accept.strip():
        return offered[0]
    ranges = _ranges(accept)
    liked = max(offered, key=lambda form: _quality(form.media_type, ranges))
    if _quality(liked.media_type, ranges) > 0:
        return liked
    listed = ", ".join(form.media_type for form in offered)
    raise NotAcceptable(say("nothing here is what Accept asks for; there is {listed}", listed=listed))


def prefers_html(accept: str) -> bool:
    """Whether a caller likes a page better than any JSON, as browsers do for what stands in their address line."""
    ranges = _ranges(accept)
    json = max(_quality(media_type, ranges) for media_type in ("application/json", "application/problem+json"))
    return _quality("text/html", ranges) > json


def _ranges(accept: str) -> list[Range]:
    found = []
    for part in parse_list_header(accept):
        name, parameters = parse_options_header(part)
        quality = _weight(parameters.pop("q", "1"))
        kind, slash, subtype = name.strip().lower().partition("/")
        known = {key.lower(): value.lower() for key, value in parameters.items()}
        if slash and quality is not None and known in _HARMLESS:
            found.append(Range(kind, subtype, quality))
    return found


def _weight(text: str) -> float | None:
    try:
        weight = float(text)
    except ValueError:
        return None
    return weight if 0 <= weight <= 1 else None


def _quality(media_type: str, ranges: Iterable[Range]) -> float:
    """The quality that the closest matching range gives, 0 where none matches."""
    matches = [(each.match(media_type), each.quality) for each in ranges]
    closest, quality = max(matches, default=(0, 0.0))
    return quality if closest else 0.0
