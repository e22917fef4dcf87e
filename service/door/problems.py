"""Every error as `application/problem+json` (RFC 9457): one table from error to status, code and title."""

import logging
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from http import HTTPStatus

import orjson
from flask import Flask, Response, g, request
from werkzeug.exceptions import (
    BadRequest,
    HTTPException,
    MethodNotAllowed,
    NotFound,
    RequestEntityTooLarge,
)

from service.desk.ordering import OrdersRefused
from service.desk.pipeline import CannotMake
from service.desk.sealing import ShopChanged
from service.desk.selling import ChoiceRefused
from service.door.errors import (
    BodyLate,
    Busy,
    DoorError,
    FormatNotOffered,
    NoKey,
    NoPricesHere,
    NoSuchDesign,
    NoSuchForm,
    NotAcceptable,
    NotEmbeddable,
    NotReady,
    ParameterFault,
    QueryError,
    TookTooLong,
    TooOften,
    UnknownHost,
    UrlTooLong,
    WrongEncoding,
    WrongMediaType,
)
from service.door.machine.answer_cache import AnswerCache, request_key
from service.door.machine.metrics import FAULTS, REFUSALS
from service.door.mounting import here
from service.door.pages.error_page import error_page, is_for_people, wants_page
from service.door.problem_members import members
from service.drawing.cutting.layers import KerfTooWide
from service.drawing.parts.chosen import UnknownPiece
from service.drawing.printed.document import TooManyPages
from service.drawing.printed.pages import PaperTooSmall
from service.drawing.worn.closed import HoleNotWorn
from service.forms.raster import PictureTooLarge
from service.schemas.answers.problem import ProblemBeginsDocument
from service.schemas.codes import CodeError
from service.schemas.comparison import ComparisonError
from service.schemas.csv_text import CsvError
from service.schemas.json_text import JsonError
from service.schemas.mistakes import LONGEST_SHOWN
from service.schemas.order_rows import RowFault
from service.schemas.orders import OrdersError
from service.schemas.spec import SpecError
from service.shop.shop import Shop, Units
from service.shop_file import ShopFileError
from service.strap.errors import Fault
from service.words import say
from service.workshop.quote import NoPrices

PROBLEM_TYPE = "application/problem+json"
_LOG = logging.getLogger("service.door")


@dataclass(frozen=True, slots=True)
class Kind:
    """What an error is to a caller: its status, its stable code and the title of all its kind."""

    status: int
    code: str
    title: str


PROBLEMS: Mapping[type[Exception], Kind] = {
    JsonError: Kind(400, "not_json", "The body is not JSON that is read here"),
    CsvError: Kind(400, "not_csv", "The body is not CSV that is read here"),
    BadRequest: Kind(400, "bad_request", "The request cannot be read"),
    NoKey: Kind(401, "key_needed", "An API key is needed"),
    CodeError: Kind(404, "unknown_code", "That is no pattern's code"),
    NoSuchDesign: Kind(404, "unknown_design", "There is no such design"),
    NoSuchForm: Kind(404, "unknown_form", "There is no such form of a pattern"),
    NoPricesHere: Kind(404, "no_prices", "This shop has no prices"),
    NotEmbeddable: Kind(404, "not_embeddable", "There is no picture of that address"),
    NotFound: Kind(404, "not_found", "There is nothing at this path"),
    MethodNotAllowed: Kind(405, "method_not_allowed", "This path does not take that method"),
    NotAcceptable: Kind(406, "not_acceptable", "There is no form that the caller accepts"),
    BodyLate: Kind(408, "request_timeout", "The body did not come in time"),
    RequestEntityTooLarge: Kind(413, "body_too_long", "The body is too long"),
    ShopChanged: Kind(409, "shop_changed", "The shop would make another strap today"),
    UrlTooLong: Kind(414, "url_too_long", "The URL is too long"),
    WrongMediaType: Kind(415, "wrong_media_type", "The body is of no media type that is read here"),
    WrongEncoding: Kind(415, "wrong_content_encoding", "The body's content coding is not read here"),
    UnknownHost: Kind(421, "unknown_host", "That host is not answered for here"),
    QueryError: Kind(422, "query_unreadable", "The query cannot be read"),
    OrdersError: Kind(422, "orders_unreadable", "The orders cannot be read"),
    SpecError: Kind(422, "spec_unreadable", "The spec cannot be read"),
    ChoiceRefused: Kind(422, "choice_refused", "The design cannot be made as chosen"),
    OrdersRefused: Kind(422, "orders_refused", "Some of the orders cannot be made"),
    ComparisonError: Kind(422, "comparison_unreadable", "The comparison cannot be read"),
    ShopFileError: Kind(422, "shop_file_unusable", "That shop file cannot be used"),
    NoPrices: Kind(422, "no_price", "This shop has no price for that"),
    CannotMake: Kind(422, "cannot_be_made", "The strap cannot be made like this"),
    UnknownPiece: Kind(422, "unknown_piece", "The strap has no such piece"),
    PictureTooLarge: Kind(422, "picture_too_large", "The picture would be too large"),
    PaperTooSmall: Kind(422, "paper_too_small", "The paper is too small"),
    TooManyPages: Kind(422, "too_many_pages", "The document would have too many pages"),
    KerfTooWide: Kind(422, "kerf_too_wide", "The kerf is too wide"),
    HoleNotWorn: Kind(422, "hole_not_worn", "The strap is not worn at that hole"),
    TooOften: Kind(429, "too_often", "The caller asks too often"),
    FormatNotOffered: Kind(501, "format_not_offered", "That format is not spoken here"),
    Busy: Kind(503, "busy", "Too much is being made at the moment"),
    TookTooLong: Kind(503, "took_too_long", "That takes too long to make"),
    NotReady: Kind(503, "not_ready", "The service is not ready"),
    Exception: Kind(500, "internal_error", "Something went wrong here"),
}
"""The most particular class of an error that stands here decides."""


def register_problems(app: Flask, shop: Shop) -> Callable[[Exception], Response]:
    """Answer every error of the app, and of the framework, as a problem or its page; and what makes those answers."""

    def answer(error: Exception) -> Response:
        ready = getattr(error, "response", None)
        return ready if isinstance(ready, Response) else _response(error, shop)

    app.register_error_handler(Exception, answer)
    return answer


def kind_of(error: Exception) -> Kind:
    """The table's entry for an error; one is made for the framework's rarer errors."""
    for each in type(error).__mro__:
        if each in PROBLEMS and not (each is Exception and isinstance(error, HTTPException)):
            return PROBLEMS[each]
    status = getattr(error, "code", None) or 500
    return Kind(status, f"http_{status}", getattr(error, "name", "Error"))


def type_of(kind: Kind) -> str:
    """The problem's type: where the documentation page tells about it."""
    return here(f"/docs#problem-{kind.code}")


@dataclass(frozen=True, slots=True)
class Problem:
    """All of an answer to an error but what belongs to one request. `members` is a JSON object of its own members."""

    kind: Kind
    detail: str
    members: bytes
    faults: frozenset[str]
    """The codes of what is wrong with a strap, to be counted."""


class Refused(Exception):  # it is no error of its own: it says again what another said
    """What cannot be made, as it was told to somebody before."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.detail)
        self.problem = problem


@contextmanager
def cached_refusals(cache: AnswerCache[Problem], source: bytes, units: Units) -> Iterator[None]:
    """What is found inside that cannot be made is told at once when the same `source` asks again.

    Raises `Refused`. Finding out what would help is most of the work on a refusal.
    """
    key = request_key(source, "refused")
    known = cache.refusal(key)
    if known is not None:
        g.cache = "hit"
        raise Refused(known)
    try:
        yield
    except CannotMake as error:
        problem = problem_of(error, g.get("units", units))
        cache.put_refusal(key, problem, len(problem.members))
        raise Refused(problem) from error


def problem_of(error: Exception, units: Units) -> Problem:
    """What is told of an error, its readings in `units`."""
    if isinstance(error, Refused):
        return error.problem
    faults = error.faults if isinstance(error, CannotMake) else ()
    return Problem(
        kind=kind_of(error),
        detail=_detail(error),
        members=orjson.dumps(members(error, units)),
        faults=frozenset(fault.code for fault in faults),
    )


def _response(error: Exception, shop: Shop) -> Response:
    problem = problem_of(error, g.get("units", shop.defaults.units))
    kind, headers = problem.kind, _headers(error)
    g.problem = kind.code
    _count(problem)
    if kind.status == HTTPStatus.INTERNAL_SERVER_ERROR or isinstance(error, NotReady | TookTooLong):
        _LOG.error("answered %s to request %s", kind.status, g.get("request_id"), exc_info=error)
    body = _body(problem)
    if wants_page(request):
        response = error_page(body, request.path, headers.get("Retry-After"), shop, request.script_root)
    else:
        content = _joined(orjson.dumps(body), problem.members)
        response = Response(content, kind.status, content_type=PROBLEM_TYPE)
    response.headers["Cache-Control"] = "no-store"
    response.headers.update(headers)
    if is_for_people(request.path):
        response.vary.add("Accept")
    return response


def _body(problem: Problem) -> ProblemBeginsDocument:
    """What every problem says."""
    return {
        "type": type_of(problem.kind),
        "title": problem.kind.title,
        "status": problem.kind.status,
        "detail": problem.detail,
        "code": problem.kind.code,
        "request_id": g.get("request_id"),
    }


def _joined(one: bytes, other: bytes) -> bytes:
    """Two JSON objects, the first not empty, as one."""
    return one if other == b"{}" else one[:-1] + b"," + other[1:]


def _count(problem: Problem) -> None:
    REFUSALS.labels(problem.kind.code).inc()
    for code in problem.faults:
        FAULTS.labels(code).inc()


def _detail(error: Exception) -> str:
    if isinstance(error, NotFound):
        return say("there is nothing at this path; {docs} lists what there is", docs=here("/docs"))
    if isinstance(error, MethodNotAllowed):
        return say("this path takes {methods}", methods=_methods(error))
    if isinstance(error, HTTPException):
        return error.description or error.name
    if kind_of(error).status == HTTPStatus.INTERNAL_SERVER_ERROR:
        return "the fault is ours; please tell us the request id"
    if isinstance(error, SpecError | CannotMake | QueryError | ShopFileError):
        return _first(error)
    return str(getattr(error, "detail", None) or getattr(error, "reason", None) or error)


def _first(error: SpecError | CannotMake | QueryError | ShopFileError) -> str:
    """The first fault, with its place where its sentence does not name it, and how many more there are."""
    fault, *rest = error.faults
    place = fault.parameter if isinstance(fault, ParameterFault) else _place(fault)
    names_itself = not place or isinstance(error, CannotMake)
    sentence = fault.detail if names_itself else f"{place[:LONGEST_SHOWN]}: {fault.detail}"
    return say("{opener} (and {more} more, see errors)", opener=sentence, more=len(rest)) if rest else sentence


def _place(fault: Fault) -> str:
    """Where in the caller's document or table it is."""
    if not isinstance(fault, RowFault):
        return ".".join(fault.path)
    if fault.column is None:
        return say("row {row}", row=fault.row)
    return say("row {row}, {column}", row=fault.row, column=fault.column)


def _methods(error: MethodNotAllowed) -> str:
    return ", ".join(sorted(error.valid_methods or ()))


def _headers(error: Exception) -> dict[str, str]:
    """What the error itself wants in the answer: `Allow`, `Location`, `Accept`."""
    if isinstance(error, DoorError):
        return error.headers
    if isinstance(error, MethodNotAllowed):
        return {"Allow": _methods(error)}
    if isinstance(error, HTTPException):
        return {name: value for name, value in error.get_headers() if name != "Content-Type"}
    return {}
