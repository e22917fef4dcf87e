"""What would break a caller between two OpenAPI documents.

A caller's old request must still be taken, and the answer must still be one that the old document describes. So a
request may only widen and an answer may only narrow, except that an answer may gain members and values of a list
(`CHANGELOG.md` tells callers to pass over what they do not know).

References: OpenAPI 3.1.0 for the parts of a document, JSON Schema 2020-12 for what each keyword allows.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

Json = Mapping[str, Any]
Way = Literal["request", "answer"]

HERE = Path(__file__).parent
RELEASED = HERE / "released.json"
"""The document as it was last tagged."""
CHANGELOG = HERE / "CHANGELOG.md"

METHODS = ("get", "put", "post", "delete", "options", "head", "patch", "trace")
_LOWER_BOUNDS = ("minimum", "exclusiveMinimum", "minLength", "minItems")
_UPPER_BOUNDS = ("maximum", "exclusiveMaximum", "maxLength", "maxItems")
_SAID_OTHERWISE = ("pattern", "format", "const")
"""Keywords whose change is always breaking, since what two of them allow is not compared."""


@dataclass(frozen=True, slots=True)
class Breaking:
    """One change that breaks a caller: the place, as it is noted in the changelog, and what happened there."""

    where: str
    what: str


def breaking_changes(before: Json, after: Json) -> tuple[Breaking, ...]:
    """Every breaking change from one document to the next, in the order of the older one."""
    found = _Documents(before, after).operations()
    return tuple(dict.fromkeys(found))


def unreleased(changelog: str, released: Json) -> str:
    """The part of a changelog above the version of the released document."""
    return changelog.partition(f"\n## {released['info']['version']}\n")[0]


@dataclass(slots=True)
class _Documents:
    before: Json
    after: Json
    met: set[tuple[str, str, Way]] = field(default_factory=set)
    """Pairs of references under comparison or compared: schemas may hold themselves."""

    def operations(self) -> Iterator[Breaking]:
        for path, item in self.before["paths"].items():
            later = self.after["paths"].get(path, {})
            for method in (name for name in METHODS if name in item):
                where = f"{method.upper()} {path}"
                if method in later:
                    yield from self._operation(where, item[method], later[method])
                else:
                    yield Breaking(where, "is gone")

    def _operation(self, where: str, before: Json, after: Json) -> Iterator[Breaking]:
        yield from self._parameters(where, before, after)
        yield from self._request(f"{where} request", before.get("requestBody"), after.get("requestBody"))
        for status, answer in before["responses"].items():
            there = f"{where} {status}"
            if status not in after["responses"]:
                yield Breaking(there, "is gone")
            else:
                yield from self._content(there, "answer", answer, after["responses"][status])

    def _parameters(self, where: str, before: Json, after: Json) -> Iterator[Breaking]:
        earlier, later = (
            {(each["in"], each["name"]): each for each in operation.get("parameters", ())}
            for operation in (before, after)
        )
        for (place, name), parameter in earlier.items():
            there = f"{where} {place} {name}"
            if (place, name) not in later:
                yield Breaking(there, "is gone")
            else:
                yield from self._schema(there, "request", parameter["schema"], later[place, name]["schema"])
        for (place, name), parameter in later.items():
            must = parameter.get("required", False)
            if must and not earlier.get((place, name), {}).get("required", False):
                yield Breaking(f"{where} {place} {name}", "must now be given")

    def _request(self, where: str, before: Json | None, after: Json | None) -> Iterator[Breaking]:
        if before is not None and after is None:
            yield Breaking(where, "is gone")
        elif before is not None and after is not None:
            yield from self._content(where, "request", before, after)
        elif after is not None and after.get("required", False):
            yield Breaking(where, "must now be given")

    def _content(self, where: str, way: Way, before: Json, after: Json) -> Iterator[Breaking]:
        for media_type, content in before.get("content", {}).items():
            later = after.get("content", {}).get(media_type)
            if later is None:
                yield Breaking(f"{where} {media_type}", "is gone")
            else:
                yield from self._schema(where, way, content.get("schema", {}), later.get("schema", {}))

    def _schema(self, where: str, way: Way, before: Json, after: Json) -> Iterator[Breaking]:
        names = (before.get("$ref", ""), after.get("$ref", ""))
        if names[0]:
            where = f"{way} {names[0].rpartition('/')[2]}"
        if any(names):
            if (*names, way) in self.met:
                return
            self.met.add((*names, way))
        earlier, later = (_named_forms_of(of, each) for of, each in ((self.before, before), (self.after, after)))
        if len(earlier) > 1 or len(later) > 1:
            yield from self._forms(where, way, earlier, later)
            return
        before, after = _resolved(self.before, before), _resolved(self.after, after)
        yield from _types(where, way, before, after)
        yield from _values(where, way, before, after)
        yield from _bounds(where, way, before, after)
        yield from self._members(where, way, before, after)
        if "items" in before and "items" in after:
            yield from self._schema(f"{where}/*", way, before["items"], after["items"])

    def _members(self, where: str, way: Way, before: Json, after: Json) -> Iterator[Breaking]:
        later = after.get("properties", {})
        for name, member in before.get("properties", {}).items():
            if name in later:
                yield from self._schema(f"{where}/{name}", way, member, later[name])
            elif way == "answer" or after.get("additionalProperties") is False:
                yield Breaking(f"{where}/{name}", "is gone")
        was, must = set(before.get("required", ())), set(after.get("required", ()))
        if way == "request":
            yield from (Breaking(f"{where}/{name}", "must now be given") for name in sorted(must - was))
        else:
            lost = sorted((was - must) & set(later))
            yield from (Breaking(f"{where}/{name}", "may now be missing") for name in lost)

    def _forms(self, where: str, way: Way, earlier: tuple[Json, ...], later: tuple[Json, ...]) -> Iterator[Breaking]:
        """Each old form of a request must still be taken, each new one of an answer be known."""
        earlier, later = (tuple(one for form in forms for one in _by_type(form)) for forms in (earlier, later))
        if way == "request":
            for form in (each for each in earlier if not any(self._fits(way, each, other) for other in later)):
                if "$ref" in form and form in later:
                    yield from self._schema(where, way, form, form)
                else:
                    yield Breaking(f"{where} form {earlier.index(form)}", "is no longer taken")
        else:
            new = [form for form in later if not any(self._fits(way, other, form) for other in earlier)]
            yield from (Breaking(f"{where} form {later.index(form)}", "is new") for form in new)

    def _fits(self, way: Way, before: Json, after: Json) -> bool:
        apart = _Documents(self.before, self.after, set(self.met))
        return next(apart._schema("", way, before, after), None) is None


def _types(where: str, way: Way, before: Json, after: Json) -> Iterator[Breaking]:
    was, now = _types_of(before), _types_of(after)
    if way == "request":
        lost = [] if now is None else ["any type"] if was is None else sorted(was - now)
        yield from (Breaking(where, f"no longer takes {name}") for name in lost)
    else:
        new = [] if was is None else ["any type"] if now is None else sorted(now - was)
        yield from (Breaking(where, f"may now be {name}") for name in new)


def _types_of(schema: Json) -> set[str] | None:
    said = schema.get("type")
    if said is None:
        return None
    names = {said} if isinstance(said, str) else set(said)
    return names | {"integer"} if "number" in names else names


def _values(where: str, way: Way, before: Json, after: Json) -> Iterator[Breaking]:
    """A value that is no longer taken. A new value in an answer's list breaks no caller."""
    if way == "answer" or "enum" not in after:
        return
    lost = [value for value in before.get("enum", ()) if value not in after["enum"]]
    yield from (Breaking(where, f"no longer takes {value!r}") for value in lost)
    if "enum" not in before:
        yield Breaking(where, "now takes values of a list only")


def _bounds(where: str, way: Way, before: Json, after: Json) -> Iterator[Breaking]:
    """Limits drawn closer in a request, or opened in an answer, and texts that must look otherwise."""
    tight, wide = (before, after) if way == "answer" else (after, before)
    for name in (*_LOWER_BOUNDS, *_UPPER_BOUNDS):
        if name not in tight:
            continue
        sign = 1 if name in _LOWER_BOUNDS else -1
        if name not in wide or sign * wide[name] < sign * tight[name]:
            yield Breaking(where, f"{name} was {before.get(name, 'not said')}, is {after.get(name, 'not said')}")
    for name in _SAID_OTHERWISE:
        if name in tight and wide.get(name) != tight[name]:
            yield Breaking(where, f"{name} was {before.get(name, 'not said')}, is {after.get(name, 'not said')}")


def _resolved(document: Json, schema: Json) -> Json:
    while "$ref" in schema:
        here: Any = document
        for name in schema["$ref"].removeprefix("#/").split("/"):
            here = here[name.replace("~1", "/").replace("~0", "~")]
        schema = here
    return schema


def _named_forms_of(document: Json, schema: Json) -> tuple[Json, ...]:
    """What a schema may be, each by its name where it has one."""
    forms = _forms_of(_resolved(document, schema))
    return forms if len(forms) > 1 else (schema,)


def _by_type(schema: Json) -> Iterator[Json]:
    """A schema of several types as one of each: a text or null is taken by one form that takes texts and another."""
    types = schema.get("type")
    for name in types if isinstance(types, list) else ():
        yield {"type": name} if name == "null" else {**schema, "type": name}
    if not isinstance(types, list):
        yield schema


def _forms_of(schema: Json) -> tuple[Json, ...]:
    return tuple(schema.get("anyOf") or schema.get("oneOf") or (schema,))
