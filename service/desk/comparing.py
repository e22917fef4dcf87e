"""What another shop file would do to a shop's designs and kept codes, before it is put in place.

Every function is pure, as in `service.desk.pipeline`.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from service.desk.ordering import WORK, WORK_A_STRAP
from service.desk.sealing import attempt
from service.desk.selling import offers_of, price_of_one, spec_of
from service.drawing import words
from service.schemas.answers.comparison import (
    ComparedChoicesDocument,
    ComparedStrapDocument,
    ComparisonDocument,
    Outcome,
    PairsDocument,
    ReasonDocument,
)
from service.schemas.choosing import design_units, query_text
from service.schemas.codes import CodeError, document_of
from service.schemas.comparison import MOST_DESIGNS, ComparisonAsked, ComparisonError, read_comparison
from service.schemas.mistakes import listed, unknown_name
from service.schemas.problem import pointer
from service.schemas.seals import COMPARED, Seal, is_seal, moved_document, read_seal
from service.schemas.shop_document import terms_document
from service.schemas.spec import SpecError, read_spec
from service.shop.designs import Design, counts_of, range_of
from service.shop.shop import Shop, Units
from service.shop_file import read_shop
from service.strap.errors import Fault, Path, Refusal
from service.strap.model.likeness import Figures, Moved, figures_of, moved, pattern_digest
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Size, Spec
from service.strap.model.work import Work
from service.words import say
from service.workshop.offers import Line, ranges
from service.workshop.quote import NoPrices

MOST_STRAPS = 400
"""Designs, each in every size of its table, and codes of one comparison."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One strap that is compared. `before` and `after` are its spec in each shop, or why there is none."""

    path: Path
    title: str
    units: Units
    before: Spec | Refusal
    after: Spec | Refusal
    design: str | None = None
    size: str | None = None
    code: str | None = None
    seal: Seal | None = None


def make_comparison(document: object, shop: Shop) -> ComparisonDocument:
    """What the shop file in a document would change. Raises `ComparisonError` and `ShopFileError`."""
    asked = read_comparison(document, shop)
    return compare(asked, shop, read_shop(asked.shop_file.encode(), shop.artwork))


def compare(asked: ComparisonAsked, shop: Shop, other: Shop) -> ComparisonDocument:
    """What another shop would make of this one's designs and codes. Raises `ComparisonError`."""
    if not asked.codes and not asked.designs and len(shop.designs) > MOST_DESIGNS:
        told = "this shop has more than {most} designs: say which, so many at once"
        raise _too_much("too_many_designs", say(told, most=MOST_DESIGNS))
    subjects = (*_designs(asked, shop, other), *_codes(asked, shop, other))
    if len(subjects) > MOST_STRAPS:
        raise _too_much("too_many_straps", say("more than {most} straps are compared: send fewer", most=MOST_STRAPS))
    work = Work(2 * (WORK + WORK_A_STRAP * len(subjects)))
    straps = [_compared(each, shop, other, work) for each in subjects]
    outcomes = [each["outcome"] for each in straps]
    risen = [rise for each in straps if (rise := _rise(each)) is not None]
    return {
        "shop": terms_document(shop),
        "currency": shop.currency,
        "other": terms_document(other),
        "other_currency": other.currency,
        "counts": {
            "same": outcomes.count("same"),
            "changed": outcomes.count("changed"),
            "gone": outcomes.count("gone"),
            "new": outcomes.count("new"),
            "never": outcomes.count("never"),
            "dearer": sum(rise > 0 for rise in risen),
            "cheaper": sum(rise < 0 for rise in risen),
        },
        "straps": straps,
    }


def _designs(asked: ComparisonAsked, shop: Shop, other: Shop) -> Iterator[Subject]:
    """The designs that are asked for, or all of both shops where nothing is; each as it is, and in every size."""
    everything = not asked.codes and not asked.designs
    names = dict.fromkeys((*shop.designs, *other.designs)) if everything else dict.fromkeys(asked.designs)
    for name in names:
        now, then = shop.designs.get(name), other.designs.get(name)
        design = now or then
        if design is None:
            continue
        units = design_units(design, shop.defaults.units)
        labels = dict.fromkeys((*_labels(now, shop), *_labels(then, other)))
        for label in (None, *labels):
            yield Subject(
                path=("designs", name),
                title=design.title,
                units=units,
                design=name,
                size=label,
                before=_spec(now, label, name, shop),
                after=_spec(then, label, name, other),
            )


def _labels(design: Design | None, shop: Shop) -> Iterable[str]:
    table = shop.size_tables.get(design.size_table or "") if design else None
    return table.sizes if table else ()


def _spec(design: Design | None, label: str | None, name: str, shop: Shop) -> Spec | Refusal:
    if design is None:
        return _refusal("unknown_design", unknown_name("design", name, shop.designs))
    spec = spec_of(design, design.defaults(), shop)
    if label is None:
        return spec
    if label not in _labels(design, shop):
        return _refusal("unknown_size_label", say("the design has no size {label} there", label=label))
    return replace(spec, size=Size(table=design.size_table, label=label))


def _refusal(code: str, detail: str) -> Refusal:
    return Refusal((Fault(path=(), code=code, detail=detail),))


def _codes(asked: ComparisonAsked, shop: Shop, other: Shop) -> Iterator[Subject]:
    """Every code, read by each shop's own defaults. Raises `ComparisonError` with all that cannot be read."""
    found, faults = [], []
    for place, code in enumerate(asked.codes):
        path = ("codes", str(place))
        try:
            found.append(_coded(code, path, shop, other))
        except CodeError as error:
            detail = say("that is no pattern's code: {reason}", reason=error.reason)
            faults.append(Fault(path=path, code="unknown_code", detail=detail))
        except SpecError as error:
            faults += [Fault(path=path, code=each.code, detail=each.detail) for each in error.faults]
    if faults:
        raise ComparisonError(listed(faults))
    yield from found


def _coded(code: str, path: Path, shop: Shop, other: Shop) -> Subject:
    document = document_of(code)
    seal = read_seal(document, shop.defaults.units) if is_seal(document) else None
    before = seal.spec if seal else read_spec(document, shop.defaults.units)
    after = seal.spec if seal else read_spec(document, other.defaults.units)
    units = before.units or shop.defaults.units
    title = say("a sealed strap") if seal else say("a strap by its code")
    return Subject(path=path, title=title, units=units, before=before, after=after, code=code, seal=seal)


def _too_much(code: str, detail: str) -> ComparisonError:
    return ComparisonError((Fault(path=(), code=code, detail=detail),))


def _compared(subject: Subject, shop: Shop, other: Shop, work: Work) -> ComparedStrapDocument:
    """What becomes of one strap in each shop. Raises `ComparisonError` once the work of one request is done."""
    if work.left <= 0:
        raise _too_much("too_much_work", say("the straps have more holes and marks than one request may: send fewer"))
    before, after = (
        spec if isinstance(spec, Refusal) else attempt(spec, each, work)
        for spec, each in ((subject.before, shop), (subject.after, other))
    )
    was = _likeness(before, subject.seal)
    outcome = _outcome(was, after)
    found: ComparedStrapDocument = {
        **_name(subject, before, after),
        "outcome": outcome,
        "errors": _reasons(after),
        "moved": [moved_document(each, subject.units, COMPARED) for each in _moved(was, after)],
        "price": {"from": _price(before, shop), "to": _price(after, other)},
    }
    if subject.design is not None and subject.size is None and isinstance(before, Pattern):
        found["choices"] = _choices(subject.design, shop, other)
    return found


def _reasons(after: Pattern | Refusal) -> list[ReasonDocument]:
    faults = after.faults if isinstance(after, Refusal) else ()
    return [{"pointer": pointer(fault.path), "code": fault.code, "detail": fault.detail} for fault in faults]


def _name(subject: Subject, before: Pattern | Refusal, after: Pattern | Refusal) -> ComparedStrapDocument:
    pattern = next((each for each in (before, after) if isinstance(each, Pattern)), None)
    title = words.strap_title(pattern) if pattern and subject.code else subject.title
    said = {"design": subject.design, "size": subject.size, "code": subject.code}
    return {**{name: value for name, value in said.items() if value is not None}, "title": title}  # type: ignore[typeddict-item]


def _likeness(before: Pattern | Refusal, seal: Seal | None) -> tuple[str, Figures] | None:
    """By what a strap is known as it was sealed, or as it is made now; nothing of what cannot be."""
    if seal:
        return seal.digest, seal.figures
    return (pattern_digest(before), figures_of(before)) if isinstance(before, Pattern) else None


def _outcome(was: tuple[str, Figures] | None, after: Pattern | Refusal) -> Outcome:
    if isinstance(after, Refusal):
        return "gone" if was else "never"
    if was is None:
        return "new"
    return "same" if was[0] == pattern_digest(after) else "changed"


def _moved(was: tuple[str, Figures] | None, after: Pattern | Refusal) -> Sequence[Moved]:
    if was is None or isinstance(after, Refusal) or was[0] == pattern_digest(after):
        return ()
    return moved(was[1], figures_of(after))


def _price(made: Pattern | Refusal, shop: Shop) -> str | None:
    """What one costs without tax; nothing of what cannot be made, or has no price there."""
    if isinstance(made, Refusal):
        return None
    try:
        return f"{price_of_one(made, shop).net:f}"
    except NoPrices:
        return None


def _rise(strap: ComparedStrapDocument) -> Decimal | None:
    price = strap.get("price")
    if price is None or price["from"] is None or price["to"] is None:
        return None
    return Decimal(price["to"]) - Decimal(price["from"])


def _choices(name: str, shop: Shop, other: Shop) -> ComparedChoicesDocument:
    """Which pairs of length and count are lost or gained, of those that the design offers in this shop."""
    design, then = shop.designs[name], other.designs.get(name)
    now = _makeable(design, design, shop)
    by_other = _makeable(then, design, other) if then else {}
    lost = {length: now[length] - by_other.get(length, set()) for length in now}
    gained = {length: by_other.get(length, set()) - now[length] for length in now}
    return {
        "offered": len(range_of(design.length)) * len(counts_of(design)),
        "lost": sum(map(len, lost.values())),
        "gained": sum(map(len, gained.values())),
        "lost_at": _pairs(design, lost, shop),
        "gained_at": _pairs(design, gained, shop),
    }


def _makeable(design: Design, wanted: Design, shop: Shop) -> dict[int, set[int]]:
    """By length the counts that a design offers and can be made with, of those `wanted`; all else at its default."""
    own = counts_of(design)
    counts = [count for count in counts_of(wanted) if count in own]
    lengths = [length for length in range_of(wanted.length) if length in range_of(design.length)]
    lines = offers_of(design, shop).lines(design.defaults(), lengths, counts)
    return {line.length: set(_each(line, design)) for line in lines}


def _each(line: Line, design: Design) -> Iterator[int]:
    step = range_of(design.count).step if design.count else 1
    for least, most in line.counts:
        yield from range(least, most + 1, step)


def _pairs(design: Design, counts: Mapping[int, set[int]], shop: Shop) -> list[PairsDocument]:
    units, step = design_units(design, shop.defaults.units), range_of(design.count).step if design.count else 1
    return [
        {
            "length": query_text(design.length, length, units),
            "counts": [list(each) for each in ranges(sorted(own), step)],
        }
        for length, own in counts.items()
        if own
    ]
