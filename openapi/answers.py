"""JSON Schemas of the answers, made from their declarations (`service.schemas.answers`)."""

from collections.abc import Callable
from types import UnionType
from typing import Annotated, Any, Literal, NotRequired, Union, get_args, get_origin, get_type_hints, is_typeddict

from service.schemas.answers.comparison import ComparisonDocument
from service.schemas.answers.cut_plan import CutPlanDocument
from service.schemas.answers.designs import (
    ChoiceDocument,
    ChoicesDocument,
    DesignDocument,
    DesignInShortDocument,
    DesignsDocument,
    OEmbedDocument,
)
from service.schemas.answers.materials import MaterialsDocument
from service.schemas.answers.members import AtLeast, Json, Keyword, Named, SealedStrapDocument, TermsDocument
from service.schemas.answers.pattern import (
    CheckDocument,
    FeatureDocument,
    FinishedDocument,
    HardwareDocument,
    PatternDocument,
    PieceDocument,
    StitchLineDocument,
    WornDocument,
)
from service.schemas.answers.problem import (
    ChangedDocument,
    ChangeDocument,
    FaultDocument,
    MovedDocument,
    ProblemDocument,
    RemedyDocument,
)
from service.schemas.answers.quote import PriceDocument, QuoteDocument, QuoteWithoutCostsDocument
from service.schemas.answers.shop import HealthDocument, ShopDocument
from service.schemas.answers.steps import GoodsDocument, StepDocument
from service.schemas.answers.variation import VariedDocument
from service.schemas.answers.work_order import TagDocument, TaskDocument, WorkOrderDocument

_NAMED: tuple[type, ...] = (
    ChangeDocument,
    ChangedDocument,
    CheckDocument,
    ChoiceDocument,
    ChoicesDocument,
    ComparisonDocument,
    CutPlanDocument,
    DesignDocument,
    DesignInShortDocument,
    DesignsDocument,
    FaultDocument,
    FeatureDocument,
    FinishedDocument,
    GoodsDocument,
    HardwareDocument,
    HealthDocument,
    MaterialsDocument,
    MovedDocument,
    OEmbedDocument,
    PatternDocument,
    PieceDocument,
    PriceDocument,
    ProblemDocument,
    QuoteDocument,
    QuoteWithoutCostsDocument,
    RemedyDocument,
    SealedStrapDocument,
    ShopDocument,
    StepDocument,
    StitchLineDocument,
    TagDocument,
    TaskDocument,
    TermsDocument,
    VariedDocument,
    WorkOrderDocument,
    WornDocument,
)
"""What the document has by name; every other object stands where it is used."""

_PLAIN = {str: "string", int: "integer", float: "number", bool: "boolean", type(None): "null"}

OPEN_API: Json = {
    "type": "object",
    "description": "An OpenAPI 3.1 document.",
    "required": ["openapi", "paths"],
}


def answers() -> dict[str, Json]:
    """Every answer's schema, by its name in the document."""
    return {_name(each): _object(each) for each in _NAMED} | {"OpenApi": OPEN_API}


def ref(name: str) -> Json:
    """A reference to a schema of the document."""
    return {"$ref": f"#/components/schemas/{name}"}


def schema_of(declared: Any) -> Json:
    """The schema of a declared type. Raises `TypeError` for one that answers do not have."""
    if declared in _PLAIN:
        return {"type": _PLAIN[declared]}
    if is_typeddict(declared):
        return ref(_name(declared)) if declared in _NAMED else _object(declared)
    write = _WRITERS.get(get_origin(declared))
    if write is None:
        raise TypeError(f"no schema of {declared!r}")
    return write(*get_args(declared))


def _name(declared: type) -> str:
    return declared.__name__.removesuffix("Document")


def _object(declared: type) -> Json:
    """An object with the declared members and no others."""
    return {
        "description": " ".join((declared.__doc__ or "").split()),
        **_members(declared),
        "additionalProperties": False,
    }


def _members(declared: type) -> Json:
    members = get_type_hints(declared, include_extras=True)
    required = [name for name in members if name in declared.__required_keys__]  # type: ignore[attr-defined]
    return {
        "type": "object",
        "properties": {name: schema_of(each) for name, each in members.items()},
        "required": required,
    }


def _annotated(declared: Any, *more: object) -> Json:
    """A type with what is said of it: the last sentence, every keyword, and another schema in its place."""
    schema = schema_of(declared)
    for each in more:
        if isinstance(each, str):
            schema |= {"description": each}
        elif isinstance(each, Keyword):
            schema |= {each.name: each.value}
        elif isinstance(each, Named):
            schema = ref(each.name)
        elif isinstance(each, AtLeast):
            schema = _members(each.declared)
    return schema


def _map(_names: Any, values: Any) -> Json:
    return {"type": "object"} | ({} if values is Any else {"additionalProperties": schema_of(values)})


def _one_of(*parts: Any) -> Json:
    """Several forms as one: words of one list, plain types of one list, or any of the schemas."""
    forms = [schema_of(part) for part in parts]
    if all("enum" in form for form in forms):
        return {"type": "string", "enum": [word for form in forms for word in form["enum"]]}
    if all(form.keys() == {"type"} for form in forms):
        return {"type": [form["type"] for form in forms]}
    return {"anyOf": forms}


_WRITERS: dict[Any, Callable[..., Json]] = {
    NotRequired: schema_of,
    Annotated: _annotated,
    Literal: lambda *words: {"type": "string", "enum": list(words)},
    list: lambda items: {"type": "array", "items": schema_of(items)},
    dict: _map,
    Union: _one_of,
    UnionType: _one_of,
}
"""By what a type is made of, from its parts to its schema."""
