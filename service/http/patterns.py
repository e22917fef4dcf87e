"""The pattern routes: a spec by POST or by its code, answered as JSON, SVG or PNG."""

from collections.abc import Mapping
from typing import Any, get_args
from urllib.parse import urlencode

import orjson
from flask import Response, g, request

from service.http.body import json_body
from service.http.caching import entity_tag, names_tag, not_modified, settle
from service.http.errors import NoSuchForm, ParameterFault, QueryError
from service.http.negotiation import MEDIA_TYPES, negotiate
from service.http.query import Parameter, one_of, read_query, whole
from service.http.service import Service
from service.pipeline import Form, Options, describe, draw, lay_out, read
from service.schemas.codes import document_of
from service.schemas.spec import UNITS, units_of
from service.settings import Settings
from service.strap.pattern import PieceName

SVG_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox"

_BELONGS: Mapping[str, tuple[Form, ...]] = {
    "view": ("svg", "png"),
    "piece": ("svg", "png"),
    "units": ("json", "svg", "png"),
    "dpi": ("png",),
    "width_px": ("png",),
}
"""The forms that each parameter has a meaning for."""


def pattern_parameters(settings: Settings) -> tuple[Parameter, ...]:
    """The query parameters of a pattern, bounded by the settings."""
    return (
        one_of("view", "Which drawing: the working drawing", "pattern"),
        one_of("piece", "One piece of the strap alone", *get_args(PieceName)),
        one_of("units", "Units of all readings, instead of the spec's own", *UNITS),
        whole("dpi", "Resolution of a PNG; not together with width_px", 10, settings.dpi_max),
        whole("width_px", "Width of a PNG in pixels; not together with dpi", 16, settings.width_px_max),
    )


def forms_of(parameter: str) -> tuple[Form, ...]:
    """The forms that a parameter has a meaning for."""
    return _BELONGS[parameter]


def post_pattern(service: Service) -> Response:
    """`POST /v1/patterns`."""
    values = read_query(request.query_string, service.pattern_parameters)
    form = negotiate(request.headers.get("Accept", ""), MEDIA_TYPES)
    options = _options(form, values, service.settings)
    document = json_body(request, service.settings.body_max)
    return _answer(service, document, options, values, _suffix(form))


def get_pattern(service: Service, code: str) -> Response:
    """`GET /v1/patterns/{code}`: the form is negotiated."""
    if "." in code:
        suffix = code.rpartition(".")[2]
        listed = ", ".join(f".{form}" for form in MEDIA_TYPES)
        raise NoSuchForm(f"there is no pattern with the suffix .{suffix[:40]}; there are {listed}")
    values = read_query(request.query_string, service.pattern_parameters)
    form = negotiate(request.headers.get("Accept", ""), MEDIA_TYPES)
    options = _options(form, values, service.settings)
    return _answer(service, document_of(code), options, values, _suffix(form))


def get_pattern_as(service: Service, form: Form, code: str) -> Response:
    """`GET /v1/patterns/{code}.json`, `.svg` and `.png`: the suffix says the form."""
    values = read_query(request.query_string, service.pattern_parameters)
    options = _options(form, values, service.settings)
    return _answer(service, document_of(code), options, values, f".{form}")


def _options(form: Form, values: Mapping[str, Any], settings: Settings) -> Options:
    """The options of an answer. Raises `QueryError` for parameters without a meaning for its form."""
    faults = [
        ParameterFault(name, "without_meaning", f"belongs to {' and '.join(_BELONGS[name])} only, not to {form}")
        for name in values
        if form not in _BELONGS[name]
    ]
    if "dpi" in values and "width_px" in values:
        faults.append(ParameterFault("width_px", "one_of", "give dpi or width_px, not both"))
    if faults:
        raise QueryError(tuple(faults))
    dpi = values.get("dpi")
    if form == "png" and dpi is None and "width_px" not in values:
        dpi = settings.dpi_default
    return Options(
        form=form,
        units=values.get("units"),
        piece=values.get("piece"),
        dpi=dpi,
        width_px=values.get("width_px"),
    )


def _suffix(form: Form) -> str:
    """The suffix with which a URL gives this negotiated form to everybody; JSON is what one without gives."""
    return "" if form == "json" else f".{form}"


def _answer(service: Service, document: object, options: Options, values: Mapping[str, Any], suffix: str) -> Response:
    g.document, g.units = document, units_of(document, service.shop.defaults.units)
    spec, code = read(document, service.shop)
    tag = entity_tag(service.stamp, code.encode(), repr(options).encode())
    response = Response(content_type=MEDIA_TYPES[options.form])
    _head(service, response, _location(code, suffix, values))
    if names_tag(request, tag):
        response.set_etag(tag)
        return not_modified(response)
    pattern = lay_out(spec, service.shop)
    units = options.units or g.units
    if options.form == "json":
        response.set_data(orjson.dumps(describe(pattern, code, service.shop, units)))
    else:
        response.set_data(draw(pattern, service.shop, options, units, service.settings.pixels_max))
    return settle(request, response, tag)


def _head(service: Service, response: Response, location: str) -> None:
    """The headers of a good answer, which a 304 carries as well."""
    headers = response.headers
    headers["Cache-Control"] = f"public, max-age={service.settings.cache_seconds}"
    headers["Vary"] = "Accept"
    if len(location) <= service.settings.url_max:
        headers["Content-Location"] = location
    if response.mimetype == MEDIA_TYPES["svg"]:
        headers["Content-Security-Policy"] = SVG_POLICY


def _location(code: str, suffix: str, values: Mapping[str, Any]) -> str:
    """The canonical URL of this answer: the spec's code, the form's suffix, the parameters in one order."""
    query = urlencode([(name, values[name]) for name in _BELONGS if name in values])
    return f"/v1/patterns/{code}{suffix}" + (f"?{query}" if query else "")
