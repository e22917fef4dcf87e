"""The page that shows the OpenAPI document to people: plain HTML and CSS, no script, no other host."""

import hashlib
import json
import re
from base64 import b64encode
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from markupsafe import Markup, escape

from service.door.pages.rendering import render

_STYLE = Path(__file__).with_name("docs.css").read_text(encoding="utf-8")
_REF = "#/components/"
_QUOTED = re.compile(r"`([^`]+)`")

Json = Mapping[str, Any]


def docs_page(content: bytes) -> bytes:
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
    return html.encode()


def page_policy(page: bytes) -> str:
    """The page's Content-Security-Policy: its own style by digest, and nothing else."""
    style = page.partition(b"<style>")[2].partition(b"</style>")[0]
    digest = b64encode(hashlib.sha256(style).digest()).decode()
    return (
        f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )


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
