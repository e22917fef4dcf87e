"""The page that shows the OpenAPI document to people: plain HTML and CSS, no script, no other host."""

import hashlib
import json
import re
from base64 import b64encode
from collections.abc import Iterator, Mapping
from html import escape
from pathlib import Path
from typing import Any

_STYLE = Path(__file__).with_name("docs.css").read_text(encoding="utf-8")
_REF = "#/components/"
_QUOTED = re.compile(r"`([^`]+)`")

Json = Mapping[str, Any]


def docs_page(content: bytes) -> bytes:
    """The page for an OpenAPI document."""
    document = json.loads(content)
    info = document["info"]
    body = "\n".join(
        [
            f"<header><h1>{escape(info['title'])}</h1>{_paragraphs(info['description'])}</header>",
            f"<nav aria-label='Contents'>{_contents(document)}</nav>",
            "<main>",
            *_operations(document),
            *_schemas(document),
            *_problems(document),
            "</main>",
        ]
    )
    head = (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="color-scheme" content="light dark">\n'
        f"<title>{escape(info['title'])}</title>\n<style>{_STYLE}</style>\n</head>\n"
    )
    return f"{head}<body>\n{body}\n</body>\n</html>\n".encode()


def page_policy(page: bytes) -> str:
    """The page's Content-Security-Policy: its own style by digest, and nothing else."""
    style = page.partition(b"<style>")[2].partition(b"</style>")[0]
    digest = b64encode(hashlib.sha256(style).digest()).decode()
    return (
        f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )


def _contents(document: Json) -> str:
    links = [
        f'<li><a href="#{escape(operation["operationId"])}">{_method(method)} {escape(path)}</a></li>'
        for tag in _tags(document)
        for path, method, operation in _each_operation(document, tag)
    ]
    links += ['<li><a href="#schemas">Schemas</a></li>', '<li><a href="#problems">Problems</a></li>']
    return f"<ul>{''.join(links)}</ul>"


def _each_operation(document: Json, tag: str) -> Iterator[tuple[str, str, Json]]:
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            if tag in operation["tags"]:
                yield path, method, operation


def _tags(document: Json) -> list[str]:
    """The groups of operations, in the document's order."""
    return [tag["name"] for tag in document["tags"]]


def _method(method: str) -> str:
    return f'<b class="method">{method.upper()}</b>'


def _operations(document: Json) -> Iterator[str]:
    for number, tag in enumerate(_tags(document)):
        yield f'<section aria-labelledby="group-{number}"><h2 id="group-{number}">{escape(tag)}</h2>'
        for path, method, operation in _each_operation(document, tag):
            yield f'<article id="{escape(operation["operationId"])}">'
            yield f"<h3>{_method(method)} <code>{escape(path)}</code></h3>"
            yield _paragraphs(operation["summary"] + ".")
            yield from _body(operation)
            yield from _parameters(document, operation)
            yield from _answers(document, operation)
            yield "</article>"
        yield "</section>"


def _parameters(document: Json, operation: Json) -> Iterator[str]:
    parameters = [_resolved(document, each) for each in operation.get("parameters", ())]
    if parameters:
        rows = (
            [f"<code>{escape(each['name'])}</code>", each["in"], _type(each["schema"]), _inline(each)]
            for each in parameters
        )
        yield _table(("parameter", "in", "values", "what it does"), rows)


def _body(operation: Json) -> Iterator[str]:
    content = operation.get("requestBody", {}).get("content", {})
    for media_type, body in content.items():
        yield f"<p>Body: {_type(body['schema'])} as <code>{escape(media_type)}</code>. Examples:</p>"
        for example in body.get("examples", {}).values():
            text = escape(json.dumps(example["value"], indent=2, ensure_ascii=False))
            summary = escape(example["summary"])
            yield f"<details><summary>{summary}</summary><pre tabindex='0'>{text}</pre></details>"


def _answers(document: Json, operation: Json) -> Iterator[str]:
    rows = []
    for status, answer in operation["responses"].items():
        resolved = _resolved(document, answer)
        content = resolved.get("content", {})
        forms = ", ".join(f"<code>{escape(form)}</code>" for form in content)
        rows.append([f"<code>{status}</code>", _inline(resolved), forms])
    yield _table(("status", "meaning", "as"), rows)


def _schemas(document: Json) -> Iterator[str]:
    yield "<section aria-labelledby='schemas'><h2 id='schemas'>Schemas</h2>"
    for name, schema in document["components"]["schemas"].items():
        yield f'<article id="schema-{escape(name)}"><h3>{escape(name)}</h3>{_inline(schema)}'
        required = schema.get("required", ())
        rows = [
            [_member(key, required=key in required), _type(each), _inline(each)]
            for key, each in schema.get("properties", {}).items()
        ]
        yield _table(("member", "values", "meaning"), rows) if rows else f"<p>{_type(schema)}</p>"
        yield "</article>"
    yield "</section>"


def _member(name: str, *, required: bool) -> str:
    return f"<code>{escape(name)}</code>" + (" <i>required</i>" if required else "")


def _problems(document: Json) -> Iterator[str]:
    yield "<section aria-labelledby='problems'><h2 id='problems'>Problems</h2>"
    yield "<p>Every error is <code>application/problem+json</code> with one of these codes.</p>"
    rows = (
        [
            f'<code id="problem-{each["code"]}">{each["code"]}</code>',
            str(each["status"]),
            escape(each["title"]),
        ]
        for each in document["x-problems"]
    )
    yield _table(("code", "status", "meaning"), rows)
    yield "</section>"


def _type(schema: Json) -> str:
    """What a schema allows, in a few words, with links to the named ones; null is told of elsewhere."""
    if "$ref" in schema:
        name = escape(schema["$ref"].rpartition("/")[2])
        return f'<a href="#schema-{name}">{name}</a>'
    if "enum" in schema:
        return ", ".join(f"<code>{escape(str(each))}</code>" for each in schema["enum"] if each is not None)
    if "anyOf" in schema:
        return " or ".join(_type(each) for each in schema["anyOf"] if each != {"type": "null"})
    if schema.get("type") == "array":
        return f"list of {_type(schema.get('items', {}))}"
    words = (("minimum", "from"), ("maximum", "to"), ("maxLength", "of length up to"))
    bounds = [f"{word} {schema[key]}" for key, word in words if key in schema]
    return escape(" ".join([_kind(schema.get("type", "any value")), *bounds]))


def _kind(kinds: str | list[str]) -> str:
    return kinds if isinstance(kinds, str) else " or ".join(kind for kind in kinds if kind != "null")


def _resolved(document: Json, part: Json) -> Json:
    reference = part.get("$ref", "")
    if not reference.startswith(_REF):
        return part
    kind, name = reference.removeprefix(_REF).split("/")
    resolved: Json = document["components"][kind][name]
    return resolved


def _table(heads: tuple[str, ...], rows: Any) -> str:
    head = "".join(f'<th scope="col">{each}</th>' for each in heads)
    body = "".join("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>" for row in rows)
    table = f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
    return f'<div class="table" tabindex="0" role="group" aria-label="Table of {heads[0]}">{table}</div>'


def _inline(part: Json) -> str:
    return _code(escape(part.get("description", "")))


def _paragraphs(text: str) -> str:
    return "".join(f"<p>{_code(escape(each))}</p>" for each in text.split("\n\n"))


def _code(text: str) -> str:
    return _QUOTED.sub(r"<code>\1</code>", text)
