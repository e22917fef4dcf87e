"""What would mend orders that cannot be made: changes of the caller's own document, each tried.

Every function is pure, as in `service.desk.pipeline`.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from service.desk.sealing import attempt
from service.desk.selling import offers_of
from service.schemas.answers.problem import ChangeDocument, RemedyDocument
from service.schemas.choosing import choose
from service.schemas.codes import code_of
from service.schemas.design_document import way_out_document
from service.schemas.orders import Asked
from service.schemas.problem import pointer, remedy_document
from service.schemas.sets import One
from service.schemas.spec import units_of
from service.shop.designs import Chosen, Design, range_of
from service.shop.shop import Shop
from service.strap.errors import Fault, Path
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Spec
from service.strap.model.spec_changes import Change, Changes, apply
from service.strap.model.work import Work
from service.strap.remedies.remedies import Remedy, find_remedies
from service.words import say
from service.workshop.offers import WayOut

MOST_CURED = 5
"""With more refused orders than this no remedies are looked for: each takes as long as several patterns."""
MOST_REMEDIES = 6
MOST_COUNTS = 12
"""Counts that are tried in all sizes of a design."""
_LABEL: Path = ("size", "label")


@dataclass(frozen=True, slots=True)
class Refused:
    """A strap of an order that cannot be made."""

    one: One
    spec: Spec
    faults: tuple[Fault, ...]
    beside: tuple[Spec, ...]
    """The other sizes that the same words of the caller ask for: what mends one of them may spoil another."""

    @property
    def path(self) -> Path:
        """Where the caller says it."""
        return self.one.path

    @property
    def asked(self) -> Asked:
        """How the caller says it."""
        return self.one.asked


def remedies_of(refused: Sequence[Refused], document: Mapping[str, Any], shop: Shop) -> tuple[RemedyDocument, ...]:
    """Remedies that mend every refused order at once: one of each, the nearest together first."""
    if len(refused) > MOST_CURED:
        return ()
    ways: dict[Path, list[RemedyDocument]] = {}
    for each, own in zip(refused, _ways_of_each(refused, document, shop), strict=True):
        ways[each.path] = [*ways.get(each.path, ()), *own]
    each_once = [list({repr(way["changes"]): way for way in own}.values()) for own in ways.values()]
    if len(each_once) == 1:
        return tuple(each_once[0])[:MOST_REMEDIES]
    return tuple(map(_together, zip(*each_once, strict=False)))[:MOST_REMEDIES]


def _together(ways: Sequence[RemedyDocument]) -> RemedyDocument:
    return {
        "detail": " ".join(way["detail"] for way in ways),
        "changes": [change for way in ways for change in way["changes"]],
    }


def _ways_of_each(
    refused: Sequence[Refused], document: Mapping[str, Any], shop: Shop
) -> Iterator[list[RemedyDocument]]:
    """What would mend each order, all within the work on one strap's remedies."""
    work = Work()
    for done, each in enumerate(refused):
        share = Work(work.left // (len(refused) - done))
        work.left -= share.left
        yield _ways(each, document, shop, share)
        work.left += share.left


def _ways(refused: Refused, document: Mapping[str, Any], shop: Shop, work: Work) -> list[RemedyDocument]:
    """What would mend one order, as changes of the caller's document."""
    asked = refused.asked
    own = _at(document, refused.path)
    if asked.design is not None:
        return _ways_of_design(refused, own, shop)
    remedies = find_remedies(refused.spec, shop, refused.faults, work)
    if refused.one.label is not None:
        if any(fault.path == _LABEL for fault in refused.faults):
            return list(_other_labels(refused, remedies, shop))
        remedies = tuple(each for each in remedies if _mends_all(refused, each.changes, shop))
    if asked.spec is None:
        return [_new_code(refused, remedy.detail, apply(refused.spec, remedy.changes), shop) for remedy in remedies]
    units = units_of(own["spec"], shop.defaults.units)
    return [_within(remedy_document(each, own["spec"], units), (*refused.path, "spec")) for each in remedies]


def _other_labels(refused: Refused, remedies: Iterable[Remedy], shop: Shop) -> Iterator[RemedyDocument]:
    """Labels that the shop has in place of one that it does not, each once, where all the other sizes are made."""
    labels = {each.size.label for each in refused.beside}
    if not _mends_all(refused, (), shop):
        return
    for remedy in remedies:
        for change in remedy.changes:
            if change.path == _LABEL and len(remedy.changes) == 1 and change.value not in labels:
                place = pointer(refused.one.label_path)
                told = say("Take a size that this shop has: {label}.", label=change.value)
                yield {"detail": told, "changes": [{"pointer": place, "value": str(change.value)}]}


def _at(document: Any, path: Path) -> Any:
    """What stands there in the caller's document."""
    for name in path:
        document = document[int(name)] if isinstance(document, list) else document[name]
    return document


def _mends_all(refused: Refused, changes: Changes, shop: Shop) -> bool:
    """Whether every size is made with these changes; what changes the size itself is no remedy where labels say it."""
    if any(change.path[:1] == ("size",) for change in changes):
        return False
    return all(isinstance(attempt(apply(each, changes), shop), Pattern) for each in refused.beside)


def _within(remedy: RemedyDocument, path: Path) -> RemedyDocument:
    """A remedy of a part of the document, as one of the whole."""
    changes: list[ChangeDocument] = [
        {**change, "pointer": pointer(path) + change["pointer"]} for change in remedy["changes"]
    ]
    return {"detail": remedy["detail"], "changes": changes}


def _new_code(refused: Refused, detail: str, spec: Spec, shop: Shop) -> RemedyDocument:
    place = pointer((*refused.path, "code"))
    return {"detail": detail, "changes": [{"pointer": place, "value": code_of(spec, shop.defaults.units)}]}


def _ways_of_design(refused: Refused, own: Mapping[str, Any], shop: Shop) -> list[RemedyDocument]:
    asked = refused.asked
    design = shop.designs[asked.design or ""]
    chosen = choose(design, asked.choices or {}, shop.defaults.units)
    ways = (
        _other_counts(refused, design, chosen, shop) if refused.one.label else offers_of(design, shop).ways_out(chosen)
    )
    return [_chosen_anew(way_out_document(design, chosen, way, shop.defaults.units), refused.path, own) for way in ways]


def _other_counts(refused: Refused, design: Design, chosen: Chosen, shop: Shop) -> Iterable[WayOut]:
    """The nearest counts of ornaments with which every size of the order is made."""
    if design.count is None:
        return
    before = int(chosen[design.count.name])
    nearest = sorted(range_of(design.count), key=lambda count: abs(count - before))[:MOST_COUNTS]
    found = 0
    for count in nearest:
        changes = (Change(path=design.count.path, value=count),)
        specs = (refused.spec, *refused.beside)
        if all(isinstance(attempt(apply(each, changes), shop), Pattern) for each in specs):
            yield WayOut(changes={design.count.name: count})
            found += 1
        if found == MOST_REMEDIES // 2:
            return


def _chosen_anew(way: RemedyDocument, path: Path, own: Mapping[str, Any]) -> RemedyDocument:
    """A way out as changes of the order's `choices`, which are given whole where the order has none."""
    values = {change["parameter"]: change["value"] for change in way["changes"]}
    if "choices" not in own:
        return {"detail": way["detail"], "changes": [{"pointer": pointer((*path, "choices")), "value": values}]}
    changes: list[ChangeDocument] = [
        {"pointer": pointer((*path, "choices", name)), "value": value} for name, value in values.items()
    ]
    return {"detail": way["detail"], "changes": changes}
