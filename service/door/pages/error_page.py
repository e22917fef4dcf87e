"""An error as a person meets it: a page in plain words, in the shop's look, with a way back.

Whoever prefers anything to HTML gets the problem, and so does everybody under `/v1`.
"""

from collections.abc import Iterator, Mapping
from http import HTTPStatus

from flask import Request, Response

from service.door.negotiation import prefers_html
from service.door.pages.rendering import render
from service.door.pages.shop_pages import BUYERS, HTML, PAGE_POLICY
from service.near_names import near_names
from service.schemas.answers.problem import ProblemBeginsDocument
from service.shop.designs import Design
from service.shop.shop import Shop
from service.words import say

_PASSING = frozenset((HTTPStatus.TOO_MANY_REQUESTS, HTTPStatus.INTERNAL_SERVER_ERROR, HTTPStatus.SERVICE_UNAVAILABLE))
_WORDS: Mapping[str, tuple[str, str]] = {
    "not_found": ("There is nothing at this address", "The link may be old, or a part of it got lost on the way."),
    "unknown_design": ("This design is not here", "It may have another name now, or may not be made any more."),
    "key_needed": ("This page is for the workshop", "It opens with a key of the shop’s, which your browser asks for."),
    "method_not_allowed": ("This page can only be looked at", "What sent you here asked for something else."),
    "url_too_long": ("This address is too long", "Choose again from the design’s own page; its address is short."),
    "too_often": ("One moment, please", "A lot was asked for from where you are."),
    "busy": ("One moment, please", "Many people are looking at straps just now."),
    "not_ready": ("One moment, please", "This shop’s pages are not ready yet."),
    "internal_error": ("Something went wrong here", "The fault is ours, and nothing of yours is lost."),
}
"""Heading and sentence of what a person is likely to meet, by the problem's code."""


def is_for_people(path: str) -> bool:
    """Whether a path is one that a person may follow a link to, rather than the interface of programs."""
    return path != "/v1" and not path.startswith("/v1/")


def wants_page(request: Request) -> bool:
    """Whether an error is shown as a page: to a browser, on a path for people."""
    return is_for_people(request.path) and prefers_html(request.headers.get("Accept", ""))


def error_page(problem: ProblemBeginsDocument, path: str, wait: str | None, shop: Shop, root: str) -> Response:
    """The page that tells a problem. `wait` is its `Retry-After` in seconds, `root` the path that we lie below."""
    known = _WORDS.get(problem["code"])
    heading, sentence = map(say, known) if known else (problem["title"], f"{problem['detail']}.")
    html = render(
        "error.html",
        shop=shop.name,
        root=root,
        face=BUYERS,
        heading=heading,
        lines=[sentence, *_advice(problem, wait)],
        is_passing=problem["status"] in _PASSING,
        meant=_meant(path, shop) if problem["code"] == "unknown_design" else None,
    )
    response = Response(html, problem["status"], content_type=HTML)
    response.headers["Content-Security-Policy"] = PAGE_POLICY
    return response


def _advice(problem: ProblemBeginsDocument, wait: str | None) -> Iterator[str]:
    if problem["status"] in _PASSING:
        seconds = say("Please try again in {seconds} s.", seconds=wait)
        yield seconds if wait and wait != "1" else say("Please try again in a moment.")
    if problem["status"] == HTTPStatus.INTERNAL_SERVER_ERROR:
        yield say("If it happens again, tell us this number: {number}", number=problem["request_id"])


def _meant(path: str, shop: Shop) -> Design | None:
    """The design whose name is nearest to the one that was asked for, if one is near."""
    asked = path.rpartition("/")[2].replace("-", "_")
    return next((shop.designs[name] for name in near_names(asked, shop.designs)), None)
