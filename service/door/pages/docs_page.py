"""The pages of the docs: the OpenAPI document, the chapter on rules. Plain HTML and CSS, no script, no other host."""

import hashlib
import json
import re
from base64 import b64encode
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from html import unescape
from pathlib import Path
from typing import Any

from markupsafe import Markup, escape

from service.door.pages.rendering import render
from service.workshop.rule_book import Entry

_STYLE = Path(__file__).with_name("docs.css").read_text(encoding="utf-8")
_POLICY = (
    f"default-src 'none'; style-src 'sha256-{b64encode(hashlib.sha256(_STYLE.encode()).digest()).decode()}'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""The pages' own style by digest, and nothing else."""
_IMAGES = "; img-src data:"
_SVG = "data:image/svg+xml;base64,"
_REF = "#/components/"
_QUOTED = re.compile(r"`([^`]+)`")

Json = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class HtmlPage:
    """A page as it is sent, with its Content-Security-Policy."""

    content: bytes
    policy: str


def docs_page(content: bytes) -> HtmlPage:
    """The page for an OpenAPI document."""
    document = json.loads(content)
    groups = [(tag["name"], list(_operations(document, tag["name"]))) for tag in document["tags"]]
    html = render(
        "docs.html",
        info=document["info"],
        style=Markup(_STYLE),  # noqa: S704 # a file of ours, which holds no `<`
        groups=groups,
        schemas=document["components"]["schemas"],
        problems=document["x-problems"],
        resolved=lambda part: _resolved(document, part),
        quoted=_quoted,
        as_json=lambda value: json.dumps(value, indent=2, ensure_ascii=False),
    )
    return HtmlPage(html.encode(), _POLICY)


def rules_page(book: Iterable[Entry], folder: Path) -> HtmlPage:
    """The chapter on the rules of the bench; `folder` has the figure of each."""
    html = render(
        "rules.html",
        style=Markup(_STYLE),  # noqa: S704 # a file of ours, which holds no `<`
        rules=[(entry, _figure(folder / f"{entry.name}.svg")) for entry in book],
        quoted=_quoted,
    )
    return HtmlPage(html.encode(), f"{_POLICY}{_IMAGES}")


def _figure(path: Path) -> tuple[str, str]:
    """A figure as a `data:` address (RFC 2397), and what its letters are, which it says itself."""
    content = path.read_bytes()
    described = content.decode().partition("<desc")[2].partition(">")[2].partition("</desc>")[0]
    return _SVG + b64encode(content).decode(), unescape(described)


def _operations(document: Json, tag: str) -> Iterator[tuple[str, str, Json]]:
    """The path, the method and the rest of each operation of a group, in the document's order."""
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            if tag in operation["tags"]:
                yield path, method, operation


def _resolved(document: Json, part: Json) -> Json:
    reference = part.get("$ref", "")
    if not reference.startswith(_REF):
        return part
    kind, name = reference.removeprefix(_REF).split("/")
    resolved: Json = document["components"][kind][name]
    return resolved


def _quoted(text: str) -> Markup:
    """A text with what stands in backticks as code."""
    return Markup(_QUOTED.sub(r"<code>\1</code>", str(escape(text))))  # noqa: S704 # escaped before
