"""Seals: codes that hold a strap fast, whatever the shop changes later.

The base64url of canonical JSON with the spec, every default filled in, a digest of its pattern, and the figures by
which a person sees what moved. A seal guards against change, not against forgery: anybody can make one.
"""

import json
import re
from base64 import urlsafe_b64encode
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from service.schemas.answers.problem import MovedDocument
from service.schemas.codes import CodeError, document_of
from service.schemas.readings import mm, read
from service.schemas.spec import SpecError, read_spec, spec_document
from service.shop.shop import Units
from service.strap.errors import Fault
from service.strap.model.likeness import (
    FINISHED,
    ITEM,
    PIECE,
    ROW,
    Figures,
    Moved,
    Path,
    figures_of,
    pattern_digest,
)
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Lining, Spec
from service.strap.plane.lengths import millimetres, reading
from service.words import say

_FORM = 1
"""Of what is in a seal; another form gets another number."""
_MEMBERS = frozenset({"figures", "pattern", "sealed", "spec"})
_DIGEST = re.compile(r"[A-Za-z0-9_-]{22}")
_NAME = re.compile(r"[a-z][a-z0-9_]{0,39}")
_MOST = 10**9
_MOST_NAMES = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Seal:
    """What was sealed: the spec, and what its pattern was known by. `code` is its canonical text."""

    spec: Spec
    digest: str
    figures: Figures
    code: str


def seal_of(pattern: Pattern) -> str:
    """The seal of a pattern as it is made now, as a code."""
    return sealed(pattern, spec_document(pattern.spec, pattern.spec.units))


def sealed(pattern: Pattern, spec: Mapping[str, Any]) -> str:
    """The seal of a pattern whose spec is written already."""
    others = {name: said for name, said in spec.items() if name != "lining"}
    lining = _lining(pattern)
    return _code({**others, "lining": lining} if lining else others, pattern_digest(pattern), figures_of(pattern))


def _lining(pattern: Pattern) -> dict[str, Any] | None:
    """The lining with what it is for, which a later shop's goods might settle otherwise."""
    piece, asked = pattern.piece("lining"), pattern.spec.lining
    if piece is None or piece.purpose is None:
        return None
    held = asked.held_by if isinstance(asked, Lining) else None
    purpose = None if held == "keepers" else piece.purpose  # what keepers hold covers
    said = {"leather": piece.leather.id, "purpose": purpose, "held_by": held}
    return {name: value for name, value in said.items() if value is not None}


def is_seal(document: object) -> bool:
    """Whether what a code encodes says that it is a seal."""
    return isinstance(document, dict) and "sealed" in document


def read_seal(document: object, default_units: Units) -> Seal:
    """The seal that a code's document is. Raises `CodeError`, and `SpecError` for a spec that cannot be read."""
    if not isinstance(document, dict) or set(document) != _MEMBERS:
        raise CodeError(say("it is no whole seal"))
    if document["sealed"] is True or document["sealed"] != _FORM:
        raise CodeError(say("it is a seal of a form that is not known here"))
    digest = document["pattern"]
    if not isinstance(digest, str) or not _DIGEST.fullmatch(digest):
        raise CodeError(say("its digest cannot be read"))
    figures = _unpacked(document["figures"])
    spec = read_spec(document["spec"], default_units)
    if isinstance(spec.lining, str):  # sealed while every lining was set through
        spec = replace(spec, lining=Lining(leather=spec.lining, purpose="carry"))
    code = _code(spec_document(spec, spec.units or default_units), digest, figures)
    return Seal(spec=spec, digest=digest, figures=figures, code=code)


def posted_seal(document: Mapping[str, Any], default_units: Units) -> Seal:
    """The seal that is the only member of a body. Raises `SpecError`, its path in that body."""
    if set(document) != {"sealed"}:
        raise _wrong("without_meaning", say("stands alone: all that is said of a sealed strap is in it"))
    if not isinstance(document["sealed"], str):
        raise _wrong("wrong_type", say("has to be a text: the `sealed` of a pattern"))
    try:
        return read_seal(document_of(document["sealed"]), default_units)
    except CodeError as error:
        raise _wrong("unknown_code", say("that is no sealed strap: {reason}", reason=error.reason)) from error
    except SpecError as error:
        faults = (
            replace(fault, path=("sealed",), detail=f"{'.'.join(fault.path)}: {fault.detail}") for fault in error.faults
        )
        raise SpecError(tuple(faults)) from error


def _wrong(code: str, detail: str) -> SpecError:
    return SpecError((Fault(path=("sealed",), code=code, detail=detail),))


def _code(spec: Mapping[str, Any], digest: str, figures: Figures) -> str:
    """The canonical text of a seal."""
    document = {"figures": _packed(figures), "pattern": digest, "sealed": _FORM, "spec": spec}
    text = json.dumps(document, sort_keys=True, separators=(",", ":")).encode()
    return urlsafe_b64encode(text).rstrip(b"=").decode()


def _packed(figures: Figures) -> dict[str, Any]:
    """The figures as lists, in the order of their names, which are left out."""
    found: dict[str, Any] = {"finished": [], "hardware": {}, "pieces": {}}
    for (group, *names), value in figures.items():
        if group == "finished":
            found[group].append(value)
        elif group == "hardware" or len(names) == 2:
            found[group].setdefault(names[0], []).append(value)
        else:
            _rows_of(found[group][names[0]]).setdefault(names[1], []).append(value)
    return found


def _rows_of(piece: list[Any]) -> dict[str, list[int]]:
    """What stands behind a piece's own figures: those of its features, by purpose."""
    if len(piece) == len(PIECE):
        piece.append({})
    rows: dict[str, list[int]] = piece[-1]
    return rows


def _unpacked(document: object) -> Figures:
    """The figures in a seal, each under its name again. Raises `CodeError`."""
    groups = _table(document)
    if set(groups) != {"finished", "hardware", "pieces"}:
        raise CodeError(say("its figures cannot be read"))
    found = dict(_named(("finished",), FINISHED, groups["finished"]))
    for name, piece in _table(groups["pieces"]).items():
        if not isinstance(piece, list):
            raise CodeError(say("its figures cannot be read"))
        found |= _named(("pieces", name), PIECE, piece[: len(PIECE)])
        for rows in piece[len(PIECE) :]:
            for purpose, row in _table(rows).items():
                found |= _named(("pieces", name, purpose), ROW, row)
    for name, item in _table(groups["hardware"]).items():
        found |= _named(("hardware", name), ITEM, item)
    return found


def _named(path: Path, names: Iterable[str], values: object) -> Iterator[tuple[Path, int]]:
    names = tuple(names)
    if not isinstance(values, list) or len(values) > len(names) or not all(map(_is_figure, values)):
        raise CodeError(say("its figures cannot be read"))
    return (((*path, name), value) for name, value in zip(names, values, strict=False))


def _is_figure(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and abs(value) <= _MOST


def _table(document: object) -> Mapping[str, Any]:
    if not isinstance(document, dict) or len(document) > _MOST_NAMES or not all(map(_NAME.fullmatch, document)):
        raise CodeError(say("its figures cannot be read"))
    return document


SEALED = "{title}: {before} as it was sealed, {after} today."
COMPARED = "{title}: {before} now, {after} by the other file."


def moved_document(figure: Moved, units: Units, told: str = SEALED) -> MovedDocument:
    """A figure that moved: its place, what it was (`from`) and is then (`to`), and a sentence that tells both."""
    found: MovedDocument = {"figure": ".".join(figure.path), "detail": _sentence(figure, units, told)}
    if figure.before is not None:
        found |= {"from_mm": mm(figure.before)} if figure.is_length else {}
        found["from"] = read(figure.before, units) if figure.is_length else figure.before
    if figure.after is not None:
        found |= {"to_mm": mm(figure.after)} if figure.is_length else {}
        found["to"] = read(figure.after, units) if figure.is_length else figure.after
    return found


def _sentence(figure: Moved, units: Units, told: str) -> str:
    before, after = (_said(figure, each, units) for each in (figure.before, figure.after))
    if before == after:  # to a ruler's eye the same: the difference is told in full
        before, after = (say("{length} mm", length=millimetres(each or 0)) for each in (figure.before, figure.after))
    return say(told, title=_title(figure.path), before=before, after=after)


def _said(figure: Moved, value: int | None, units: Units) -> str:
    if value is None:
        return "none"
    return reading(value, units) if figure.is_length else str(value)


def _title(path: Path) -> str:
    _, *names, last = path
    said = ", ".join(name.replace("_", " ") for name in names) or say("made up")
    return f"{said}, {say(_LEAVES[last])}"


_LEAVES = {
    "length": "length",
    "first_hole": "length to the first size hole",
    "last_hole": "length to the last size hole",
    "width": "width",
    "thickness": "thickness",
    "count": "how many",
    "first": "place of the first",
    "last": "place of the last",
    "size": "size",
}
