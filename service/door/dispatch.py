"""The one way from a request to its response: read as its route declares, worked on in its turn, answered."""

from collections.abc import Mapping
from functools import partial

from flask import Response, g, request

from service.door.addresses import canonical_suffix
from service.door.body import NO_BODY, body_of
from service.door.call import Call
from service.door.choice_query import choice_query, find_design
from service.door.errors import NoKey, NoSuchForm, PageNeedsKey, ParameterFault
from service.door.keys import holds_key
from service.door.machine.stages import stage
from service.door.negotiation import negotiate
from service.door.options import options_of
from service.door.query import Parameter, Values, read_link, read_query
from service.door.respond import respond
from service.door.route import Route
from service.door.service import Service
from service.forms.form import Form, OutputOptions
from service.words import say


def dispatch(service: Service, route: Route, **names: str) -> Response:
    """The response to the request at hand. Raises what the route's `problems` name."""
    call = read_call(service, route, names)
    if route.turn is None:
        return respond(route, call, route.view(call))
    return respond(route, call, service.lanes.of(route.turn).do(partial(route.view, call), stage))


def read_call(service: Service, route: Route, names: Mapping[str, str]) -> Call:
    """What is asked for: key, path, query, form, options and body, in this order."""
    has_key = _has_key(service, route)
    if route.accept == "negotiated":
        _refuse_suffix(names.get("code", ""), route.forms)
    choices = _choices(service, names["design"]) if route.takes_choices else ()
    values, faults = _query(route, (*choices, *route.own_parameters, *route.known_parameters))
    chosen = {each.name: values.pop(each.name) for each in choices if each.name in values}
    put_out = {name: said for name, said in values.items() if name not in {each.name for each in route.own_parameters}}
    form = negotiate(request.headers.get("Accept", ""), route.forms) if route.accept == "negotiated" else route.forms[0]
    return Call(
        service=service,
        names=names,
        values=values,
        choices=chosen,
        faults=faults,
        form=form,
        suffix=form.suffix if route.accept == "suffix" else canonical_suffix(form),
        options=options_of(form, put_out, service.settings) if route.has_output_options else OutputOptions(form=form),
        has_key=has_key,
        # Before its turn comes: who lets a body drip holds nobody up.
        body=body_of(request, route.reads, route.body_max, service.bodies) if route.method == "POST" else NO_BODY,
    )


def _has_key(service: Service, route: Route) -> bool:
    """Whether the caller holds a key, where that matters. Raises `NoKey`."""
    if route.key == "none":
        return False
    if route.key == "asked":
        return _has_asked_key(service)
    has_key = holds_key(service.keys, request)
    if route.key == "needed" and not has_key:
        raise NoKey
    return has_key


def _has_asked_key(service: Service) -> bool:
    """Whether the caller of a page holds a key. Raises `PageNeedsKey`, at which a browser asks for one."""
    try:
        if holds_key(service.keys, request, by_password=True):
            return True
    except NoKey as error:
        raise PageNeedsKey("that API key is not known here, or has ended") from error
    raise PageNeedsKey("this page is for the workshop")


def _refuse_suffix(code: str, forms: tuple[Form, ...]) -> None:
    """A code has no dot in it: what has one asks by its suffix for a form that there is not. Raises `NoSuchForm`."""
    if "." in code:
        suffix = code.rpartition(".")[2]
        listed = ", ".join(form.suffix for form in forms)
        raise NoSuchForm(
            say("there is no pattern with the suffix .{suffix}; there are {listed}", suffix=suffix[:40], listed=listed)
        )


def _choices(service: Service, name: str) -> tuple[Parameter, ...]:
    """The choices of a design as parameters; what is wrong with them is told in the design's units."""
    query = choice_query(find_design(service.shop, name), service.shop.defaults.units)
    g.units = query.units
    return query.parameters


def _query(route: Route, parameters: tuple[Parameter, ...]) -> tuple[Values, tuple[ParameterFault, ...]]:
    if route.query == "link":
        return read_link(request.query_string, parameters)
    return read_query(request.query_string, parameters), ()
