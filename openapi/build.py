"""Writes `openapi.json` from the route table, the schemas and the examples, and the chapter on rules with its figures.

`python -m openapi.build` writes both; with `--release` it takes the document for the released one too, against which
later changes are held.
"""

import json
import sys
from pathlib import Path
from typing import get_args

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin

from openapi import rules
from openapi.answers import answers
from openapi.breaking import RELEASED
from openapi.operations import operation
from openapi.request_schemas import attributes, finish, length_schema, name_of
from service.door.problems import PROBLEMS
from service.door.route import Group
from service.door.routes import routes
from service.schemas.answers.members import Json
from service.schemas.comparison import ComparisonRequestSchema
from service.schemas.cut_plan import CutPlanRequestSchema
from service.schemas.quote import QuoteRequestSchema
from service.schemas.spec import SpecSchema
from service.schemas.work_order import WorkOrderRequestSchema
from service.settings import Settings

HERE = Path(__file__).parent
DOCUMENT = HERE / "openapi.json"
DESCRIPTION = HERE / "description.md"

TITLE = "Strap patterns"
VERSION = "1"
"""Of the interface: the heading of its part in `CHANGELOG.md`."""
_HEADERS: dict[str, Json] = {
    "ETag": {"description": "Strong entity tag.", "schema": {"type": "string"}},
    "Cache-Control": {"description": "How long the answer may be kept.", "schema": {"type": "string"}},
    "Content-Location": {
        "description": "The answer's own URL, by code; left out where that would be too long.",
        "schema": {"type": "string", "format": "uri-reference"},
    },
    "Link": {"description": "The canonical URL of a design as chosen.", "schema": {"type": "string"}},
    "X-Request-Id": {"description": "The caller's request id, or a new one.", "schema": {"type": "string"}},
}


_KEY: Json = {
    "type": "http",
    "scheme": "bearer",
    "description": "Asked for where whoever runs the service has given out keys. Then cut plans, work orders and "
    "comparisons need one, and costs and purchase prices are shown to who has one; a key that is not known is answered "
    "401. Where none were given out everything is open, so a key is nowhere required by this document: `{}` stands "
    "beside `key`.",
}


_SERVERS: list[Json] = [{"url": "/", "description": "The host, and the path, that this document was got from."}]
_NO_KEY: list[Json] = [{}]
"""What no operation says otherwise of needs no key."""


def build() -> Json:
    """The whole document."""
    plugin = MarshmallowPlugin(schema_name_resolver=name_of)
    spec = APISpec(
        TITLE,
        VERSION,
        "3.1.0",
        plugins=[plugin],
        info={
            "description": DESCRIPTION.read_text(encoding="utf-8").strip(),
            "license": {"name": "MIT", "identifier": "MIT"},
        },
        servers=_SERVERS,
        security=_NO_KEY,
    )
    converter = plugin.converter
    if converter is None:
        raise RuntimeError("the plugin has no converter")
    converter.add_attribute_function(attributes)  # type: ignore[no-untyped-call] # apispec has not typed it
    spec.components.schema("Length", length_schema())
    spec.components.schema("Spec", schema=SpecSchema)
    spec.components.schema("QuoteRequest", schema=QuoteRequestSchema)
    spec.components.schema("CutPlanRequest", schema=CutPlanRequestSchema)
    spec.components.schema("WorkOrderRequest", schema=WorkOrderRequestSchema)
    spec.components.schema("ComparisonRequest", schema=ComparisonRequestSchema)
    for group in get_args(Group):
        spec.tag({"name": group})
    for name, schema in answers().items():
        spec.components.schema(name, schema)
    for name, header in _HEADERS.items():
        spec.components.header(name, header)
    spec.components.security_scheme("key", _KEY)
    for route in routes(Settings()):
        spec.path(route.path, operations={route.method.lower(): operation(route)})
    document: Json = spec.to_dict() | {"x-problems": _problem_list()}
    finish(document["components"]["schemas"])
    return document


def text() -> str:
    """The document as it is kept: keys sorted, indented."""
    return json.dumps(build(), indent=2, sort_keys=True, ensure_ascii=False) + "\n"


def _problem_list() -> list[Json]:
    kinds = sorted(PROBLEMS.values(), key=lambda kind: (kind.status, kind.code))
    return [{"status": kind.status, "code": kind.code, "title": kind.title} for kind in kinds]


if __name__ == "__main__":
    DOCUMENT.write_text(text(), encoding="utf-8")
    rules.write()
    if "--release" in sys.argv:
        RELEASED.write_text(text(), encoding="utf-8")
