"""An error as a person meets it: a page in plain words, in the shop's look, with a way back.

Whoever prefers anything to HTML gets the problem, and so does everybody under `/v1`.
"""

from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from html import escape
from http import HTTPStatus
from typing import Any

from flask import Request, Response

from service.door.negotiation import prefers_html
from service.door.pages.shop_pages import HTML, PAGE_POLICY, whole_page
from service.shop.shop import Shop

_NO_INDEX = '<meta name="robots" content="noindex">\n'
_PASSING = frozenset((HTTPStatus.TOO_MANY_REQUESTS, HTTPStatus.INTERNAL_SERVER_ERROR, HTTPStatus.SERVICE_UNAVAILABLE))
_WORDS: Mapping[str, tuple[str, str]] = {
    "not_found": ("There is nothing at this address", "The link may be old, or a part of it got lost on the way."),
    "unknown_design": ("This design is not here", "It may have another name now, or may not be made any more."),
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


def error_page(problem: Mapping[str, Any], path: str, wait: str | None, shop: Shop, root: str) -> Response:
    """The page that tells a problem. `wait` is its `Retry-After` in seconds, `root` the path that we lie below."""
    heading, sentence = _WORDS.get(problem["code"], (problem["title"], f"{problem['detail']}."))
    lines = [sentence, *_advice(problem, wait)]
    body = "\n".join(
        [
            f"<h1>{escape(heading)}</h1>",
            *(f'<p class="lead">{escape(line)}</p>' for line in lines),
            f'<ul class="ways">{"".join(_ways(problem, path, shop, root))}</ul>',
        ]
    )
    html = whole_page(f"{heading} · {shop.name}", shop.name, _NO_INDEX, body, root)
    response = Response(html, problem["status"], content_type=HTML)
    response.headers["Content-Security-Policy"] = PAGE_POLICY
    return response


def _advice(problem: Mapping[str, Any], wait: str | None) -> Iterator[str]:
    if problem["status"] in _PASSING:
        yield f"Please try again in {wait} s." if wait and wait != "1" else "Please try again in a moment."
    if problem["status"] == HTTPStatus.INTERNAL_SERVER_ERROR:
        yield f"If it happens again, tell us this number: {problem['request_id']}"


def _ways(problem: Mapping[str, Any], path: str, shop: Shop, root: str) -> Iterator[str]:
    if problem["status"] in _PASSING:
        yield '<li><a href="">Try again</a></li>'  # the address of this very page, whatever stands in it
    if problem["code"] == "unknown_design":
        asked = path.rpartition("/")[2].lower().replace("-", "_")
        for name in get_close_matches(asked, shop.designs, n=1):
            title = escape(shop.designs[name].title)
            yield f'<li>Did you mean <a href="{root}/designs/{escape(name)}">{title}</a>?</li>'
    yield f'<li><a href="{root}/">All designs</a></li>'
