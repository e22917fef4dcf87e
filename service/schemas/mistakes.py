"""What is wrong with a document: one `Mistake` per place, gathered into `Fault`s that name each place."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice

from marshmallow import Schema, ValidationError
from marshmallow.exceptions import SCHEMA

from service.near_names import near_names
from service.strap.errors import Fault, Path
from service.words import say

MOST_REPORTED = 100
"""More faults than this in one document are neither listed nor looked for."""
LONGEST_SHOWN = 40
"""A name or text of the caller's is cut off here before it is repeated to them."""
UNKNOWN = "unknown"
"""What a schema says of a key that it does not know; the sentence is written when faults are listed."""


@dataclass(frozen=True, slots=True)
class Mistake:
    """A stable code, a sentence for a maker, and the bound that was overstepped where there is one."""

    code: str
    detail: str
    limit: int | None = None
    found: int | None = None
    is_length: bool = True


Raw = tuple[Path, Mistake | str, Schema | None]


def refuse(wrong: Mapping[str, str]) -> None:
    """Refuse fields that mean nothing beside the others, with a sentence each."""
    if wrong:
        raise ValidationError({name: [Mistake("without_meaning", why)] for name, why in wrong.items()})


def mistake(code: str, detail: str) -> ValidationError:
    """The error that a field or schema raises for one mistake."""
    return ValidationError([Mistake(code, detail)])


def shown(value: object) -> str:
    """A caller's value as it is repeated to them: quoted, and cut off when long."""
    text = value if isinstance(value, str) else str(value)
    return repr(text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + "…")


def shown_number(value: object) -> str:
    """A caller's number as it is repeated to them: cut off when long."""
    text = str(value)
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + "…"


def meant(name: str, known: Iterable[str]) -> str:
    """`; did you mean 'width'?` for the known name most like `name`, or nothing where none is like it."""
    close = near_names(name, known)
    return say("; did you mean {close!r}?", close=close[0]) if close else ""


def unknown_name(what: str, name: str, known: Iterable[str]) -> str:
    """The sentence for a name that nothing here goes by."""
    names = tuple(known)
    hint = meant(name, names)
    hint = hint or say("; known: {names}", names=", ".join(names))
    return say("unknown {what} {name}{hint}", what=what, name=shown(name), hint=hint)


def faults_of(errors: object, schema: Schema | None) -> tuple[Fault, ...]:
    """Every mistake in a `ValidationError`'s messages as a fault, in the order of their places."""
    raw = sorted(_walk(errors, (), schema), key=lambda each: each[0])
    return listed(_fault(*each) for each in raw)


def listed(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """The first faults, and a last one that says so where there are more, of which no sentence is written."""
    first = tuple(islice(faults, MOST_REPORTED + 1))
    if len(first) <= MOST_REPORTED:
        return first
    return (*first[:-1], Fault(path=(), code="more_faults", detail=say("and more faults, not listed here")))


def how_many(errors: object) -> int:
    """The mistakes in a `ValidationError`'s messages."""
    return sum(1 for _ in _walk(errors, (), None))


def _walk(errors: object, path: Path, schema: Schema | None) -> Iterator[Raw]:
    if isinstance(errors, Mapping):
        for key, inner in errors.items():
            here = path if key == SCHEMA and inner != [UNKNOWN] else (*path, str(key))
            yield from _walk(inner, here, schema if inner == [UNKNOWN] else _inside(schema, str(key)))
    elif isinstance(errors, list):
        for inner in errors:
            yield from _walk(inner, path, schema)
    elif isinstance(errors, Mistake | str):
        yield path, errors, schema


def _inside(schema: Schema | None, key: str) -> Schema | None:
    """The schema of what stands under `key`, which names its known keys."""
    if schema is None or key == SCHEMA:
        return schema
    return getattr(schema.fields.get(key), "each", schema if key not in schema.fields else None)


def _fault(path: Path, wrong: Mistake | str, schema: Schema | None) -> Fault:
    if isinstance(wrong, Mistake):
        return Fault(
            path=path,
            code=wrong.code,
            detail=wrong.detail,
            limit=wrong.limit,
            found=wrong.found,
            is_length=wrong.is_length,
        )
    if wrong == UNKNOWN and schema is not None and path:
        return Fault(path=path, code="unknown_field", detail=unknown_name("field", path[-1], schema.fields))
    return Fault(path=path, code="invalid", detail=wrong)
