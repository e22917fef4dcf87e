"""The pattern routes: a spec by POST or by its code, answered as JSON, SVG, PNG or PDF."""

from collections.abc import Callable, Hashable, Mapping
from contextlib import nullcontext
from functools import partial
from typing import Any, get_args
from urllib.parse import urlencode

import orjson
from flask import Response, g, request

from service.desk.pipeline import Asked, Budget, Form, Options, View, describe, draw, make, read_asked, read_posted
from service.door.body import json_text
from service.door.caching import entity_tag, names_tag, not_modified, settle
from service.door.errors import NoSuchForm, ParameterFault, QueryError
from service.door.machine.answer_cache import Located, request_key
from service.door.machine.front_cache import CACHED
from service.door.machine.lanes import Lane
from service.door.machine.stages import stage
from service.door.mounting import here
from service.door.negotiation import MEDIA_TYPES, negotiate
from service.door.problems import cached_refusals
from service.door.query import Parameter, a_length, colour, one_of, read_query, whole
from service.door.service import Service
from service.drawing.printed.paper import PaperName
from service.drawing.printed.printed import BenchSheet
from service.schemas.codes import document_of
from service.schemas.json_text import read_json
from service.schemas.spec import UNITS, units_of
from service.settings import Settings
from service.shop.shop import Shop
from service.strap.model.pattern import PieceName
from service.strap.plane.lengths import MM, parse_length

Read = Callable[[object, Shop], Asked]
"""From a JSON document to what it asks for."""

SVG_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox"

_SMALL_WIDTH = 1200
"""Pixels: up to here a PNG is a small answer."""

_BELONGS: Mapping[str, tuple[Form, ...]] = {
    "view": ("svg", "png", "pdf"),
    "piece": ("svg", "png", "pdf"),
    "units": ("json", "svg", "png", "pdf"),
    "dpi": ("png",),
    "width_px": ("png",),
    "height_px": ("png",),
    "background": ("svg", "png", "pdf"),
    "paper": ("pdf",),
    "sheet": ("pdf",),
    "kerf": ("svg", "pdf"),
}
"""The forms that each parameter has a meaning for."""
_VIEWS_OF: Mapping[str, tuple[View, ...]] = {
    "piece": ("pattern", "cutter"),
    "height_px": ("finished",),
    "background": ("finished",),
    "paper": ("pattern",),
    "sheet": ("pattern",),
    "kerf": ("cutter",),
}
"""The views that each of these has a meaning for."""
_REFUSED: Mapping[str, tuple[Form, ...]] = {
    "unknown_piece": ("svg", "png", "pdf"),
    "picture_too_large": ("png",),
    "paper_too_small": ("pdf",),
    "too_many_pages": ("pdf",),
    "kerf_too_wide": ("svg", "pdf"),
}
"""The forms in which each of these can be answered."""
_WIDEST_KERF = 5 * MM


def pattern_parameters(settings: Settings) -> tuple[Parameter, ...]:
    """The query parameters of a pattern, bounded by the settings."""
    return (
        one_of(
            "view",
            "Which drawing: the working drawing, the finished look, or cut lines only for a cutter, in groups mark, "
            "punch and cut (no PNG)",
            *get_args(View),
        ),
        one_of("piece", "One piece of the strap alone", *get_args(PieceName)),
        one_of("units", "Units of all readings, instead of the spec's own", *UNITS),
        whole("dpi", "Resolution of a PNG; not together with width_px", 10, settings.dpi_max),
        whole("width_px", "Width of a PNG in pixels; not together with dpi", 16, settings.width_px_max),
        whole(
            "height_px",
            "Height of a PNG of the finished look, together with width_px: the background fills the frame",
            16,
            settings.width_px_max,
        ),
        colour("background", "Behind the finished look, instead of the shop's: rrggbb, or transparent"),
        one_of("paper", "Paper of a printed pattern; a4 where nothing is said", *get_args(PaperName)),
        one_of(
            "sheet",
            "Whether the bench sheet follows a printed pattern, is left out, or comes alone; one piece alone has none "
            "unless it is asked for",
            *get_args(BenchSheet),
        ),
        a_length("kerf", "How wide the cutter's cut is, up to 5 mm; with view=cutter", _WIDEST_KERF),
    )


def drawn_problems(*forms: Form) -> tuple[str, ...]:
    """The codes of what can be refused of a drawing in any of these forms."""
    return tuple(code for code, of in _REFUSED.items() if any(form in of for form in forms))


def forms_of(parameter: str) -> tuple[Form, ...]:
    """The forms that a parameter has a meaning for."""
    return _BELONGS[parameter]


def post_pattern(service: Service) -> Response:
    """`POST /v1/patterns`."""
    values = read_query(request.query_string, service.pattern_parameters)
    form = negotiate(request.headers.get("Accept", ""), MEDIA_TYPES)
    options = options_of(form, values, service.settings)
    text = json_text(request, service.settings.body_max, service.bodies)
    return answer(service, text, lambda: read_json(text), options, values, suffix_of(form), read_posted)


def get_pattern(service: Service, code: str) -> Response:
    """`GET /v1/patterns/{code}`: the form is negotiated."""
    if "." in code:
        suffix = code.rpartition(".")[2]
        listed = ", ".join(f".{form}" for form in MEDIA_TYPES)
        raise NoSuchForm(f"there is no pattern with the suffix .{suffix[:40]}; there are {listed}")
    values = read_query(request.query_string, service.pattern_parameters)
    form = negotiate(request.headers.get("Accept", ""), MEDIA_TYPES)
    options = options_of(form, values, service.settings)
    return answer(service, code.encode(), lambda: document_of(code), options, values, suffix_of(form))


def get_pattern_as(service: Service, form: Form, code: str) -> Response:
    """`GET /v1/patterns/{code}.json`, `.svg` and `.png`: the suffix says the form."""
    values = read_query(request.query_string, service.pattern_parameters)
    options = options_of(form, values, service.settings)
    return answer(service, code.encode(), lambda: document_of(code), options, values, f".{form}")


def options_of(form: Form, values: Mapping[str, Any], settings: Settings) -> Options:
    """The options of an answer. Raises `QueryError` for parameters without a meaning for its form."""
    faults = [
        ParameterFault(name, "without_meaning", f"belongs to {' and '.join(_BELONGS[name])} only, not to {form}")
        for name in values
        if form not in _BELONGS[name]
    ]
    if "dpi" in values and "width_px" in values:
        faults.append(ParameterFault("width_px", "one_of", "give dpi or width_px, not both"))
    faults += _misplaced(form, values)
    if faults:
        raise QueryError(tuple(faults))
    view: View = values.get("view", "pattern")
    dpi, width_px = values.get("dpi"), values.get("width_px")
    if form == "png" and dpi is None and width_px is None:
        dpi, width_px = _default_size(view, settings)
    return Options(
        form=form,
        view=view,
        units=values.get("units"),
        piece=values.get("piece"),
        dpi=dpi,
        width_px=width_px,
        height_px=values.get("height_px"),
        background=values.get("background"),
        paper=values.get("paper", "a4"),
        sheet=values.get("sheet", "false" if "piece" in values else "true"),
        kerf=parse_length(values["kerf"], "mm") if "kerf" in values else 0,
    )


def _default_size(view: View, settings: Settings) -> tuple[int | None, int | None]:
    """Resolution and width of a PNG where the caller names neither."""
    if view == "pattern":
        return settings.dpi_default, None
    return None, min(settings.width_px_default, settings.width_px_max)


def _misplaced(form: Form, values: Mapping[str, Any]) -> list[ParameterFault]:
    """Parameters that another view has a meaning for, a view without this form, and a height without its width."""
    view = values.get("view", "pattern")
    faults = [
        ParameterFault(name, "without_meaning", f"belongs to view={' and view='.join(views)} only, not to view={view}")
        for name, views in _VIEWS_OF.items()
        if name in values and view not in views
    ]
    if view == "cutter" and form == "png":
        faults.append(ParameterFault("view", "without_meaning", "cut lines come as svg and pdf only, not as png"))
    if "height_px" in values and "width_px" not in values:
        faults.append(ParameterFault("height_px", "one_of", "give width_px as well: the two make the frame"))
    return faults


def suffix_of(form: Form) -> str:
    """The suffix with which a URL gives this negotiated form to everybody; JSON is what one without gives."""
    return "" if form == "json" else f".{form}"


def answer(
    service: Service,
    source: bytes,
    document: Callable[[], object],
    options: Options,
    values: Mapping[str, Any],
    suffix: str,
    read: Read = read_asked,
) -> Response:
    """The answer for a spec: kept from before, or made.

    `source` is what the caller sent, all of it that says what strap is meant; `document` and `read` read that, and
    are not called where the same was asked before.
    """
    key = request_key(source, options, suffix)
    with stage("cache"):
        found = service.cache.located(key)
    refused = cached_refusals(service.cache, source, service.shop.defaults.units)
    with nullcontext() if found else refused:
        asked_for = partial(service.deadline.run, lambda: _read(service, document(), read))
        return _answer(service, key, found, asked_for, options, values, suffix)


def _answer(
    service: Service,
    key: Hashable,
    found: Located | None,
    asked_for: Callable[[], Asked],
    options: Options,
    values: Mapping[str, Any],
    suffix: str,
) -> Response:
    asked = None
    if found is None:
        _lane(service, options).refuse_if_full()
        asked = asked_for()
        found = _found(service, asked.address, options, values, suffix)
    response = Response(content_type=MEDIA_TYPES[options.form])
    _head(service, response, found.location)
    if names_tag(request, found.tag):
        response.set_etag(found.tag)
        return not_modified(response)
    content = service.cache.content(found.tag)
    g.cache = "hit" if content is not None else "miss"
    if content is None:
        asked = asked or asked_for()
        content = _lane(service, options).do(partial(_make, service, asked, options), stage)
    if asked:
        service.cache.put(key, found, content)
    request.environ[CACHED] = (found.tag, request.endpoint)
    response.set_data(content)
    return settle(request, response, found.tag)


def _read(service: Service, document: object, read: Read) -> Asked:
    with stage("read"):
        g.document, g.units = document, units_of(document, service.shop.defaults.units)
        asked = read(document, service.shop)
        g.units = asked.spec.units or service.shop.defaults.units
        return asked


def _found(service: Service, code: str, options: Options, values: Mapping[str, Any], suffix: str) -> Located:
    tag = entity_tag(service.stamp, code.encode(), repr(options).encode())
    return Located(tag, _location(code, suffix, values))


def _lane(service: Service, options: Options) -> Lane:
    """A large picture takes a turn among the large ones, so that small answers need not wait for it."""
    small = options.form in ("json", "svg") or (options.form == "png" and 0 < (options.width_px or 0) <= _SMALL_WIDTH)
    return service.lanes.small if small else service.lanes.large


def _make(service: Service, asked: Asked, options: Options) -> bytes:
    with stage("solve"):
        pattern = make(asked, service.shop)
    units = options.units or g.units
    if options.form == "json":
        with stage("encode"):
            return orjson.dumps(describe(pattern, asked.code, service.shop, units))
    budget = Budget(pixels=service.settings.pixels_max, pages=service.settings.pages_max)
    return draw(pattern, service.shop, options, units, budget, stage)


def _head(service: Service, response: Response, location: str) -> None:
    """The headers of a good answer, which a 304 carries as well."""
    headers = response.headers
    headers["Cache-Control"] = f"public, max-age={service.settings.cache_seconds}"
    headers["Vary"] = "Accept"
    location = here(location)
    if len(location) <= service.settings.url_max:
        headers["Content-Location"] = location
    if response.mimetype == MEDIA_TYPES["svg"]:
        headers["Content-Security-Policy"] = SVG_POLICY
        headers["Cross-Origin-Embedder-Policy"] = "require-corp"  # else an isolated page may not show it in a frame


def _location(code: str, suffix: str, values: Mapping[str, Any]) -> str:
    """The canonical URL of this answer: the spec's code, the form's suffix, the parameters in one order."""
    query = urlencode([(name, values[name]) for name in _BELONGS if name in values])
    return f"/v1/patterns/{code}{suffix}" + (f"?{query}" if query else "")
