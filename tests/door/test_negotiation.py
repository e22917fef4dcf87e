"""Choosing a form by `Accept`. The rules are those of RFC 9110, section 12.5.1."""

import pytest

from service.door.errors import NotAcceptable
from service.door.negotiation import negotiate
from service.forms.data import JSON
from service.forms.png import PNG
from service.forms.svg import SVG

ALL = (JSON, SVG, PNG)


@pytest.mark.parametrize(
    ("accept", "expected"),
    [
        ("", "json"),
        ("   ", "json"),
        ("*/*", "json"),
        ("application/*", "json"),
        ("image/*", "svg"),
        ("image/png", "png"),
        ("IMAGE/PNG", "png"),
        ("image/png, image/svg+xml;q=0.9", "png"),
        ("image/svg+xml;q=0.5, image/png;q=0.8, */*;q=0.1", "png"),
        ("application/json;q=0, */*", "svg"),
        ("*/*;q=0.5, application/json;q=0.2", "svg"),
        ("image/*;q=0.3, image/png;q=0.7, application/json;q=0.5", "png"),
        ("image/*, image/svg+xml;q=0", "png"),
        ("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", "json"),
        ("image/avif,image/webp,image/apng,image/svg+xml,image/*,*/*;q=0.8", "svg"),
        ("application/json; charset=utf-8", "json"),
        ("application/json;v=2, image/png;q=0.1", "png"),
        ("nonsense, image/png", "png"),
        ("image/png;q=nan, application/json", "json"),
        (" , ,application/json", "json"),
    ],
)
def test_the_form_that_is_liked_best(accept, expected):
    assert negotiate(accept, ALL).name == expected


@pytest.mark.parametrize(
    "accept", ["application/pdf", "text/*", "image/png;q=0", "*/*;q=0", "nonsense", "image", "*/png", "json"]
)
def test_nothing_that_is_liked_is_refused(accept):
    with pytest.raises(NotAcceptable, match="application/json, image/svg"):
        negotiate(accept, ALL)


def test_only_what_is_offered_is_given():
    assert negotiate("image/png, application/json;q=0.1", (JSON,)) is JSON
