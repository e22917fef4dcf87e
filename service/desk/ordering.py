"""From orders to the patterns of their straps, or to every fault of every order and what would help.

Every function is pure, as in `service.desk.pipeline`.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from service.desk.pipeline import CannotMake
from service.desk.sealing import Changed, ShopChanged, attempt, hold
from service.desk.selling import offers_of
from service.schemas.answers.problem import ChangeDocument, RemedyDocument
from service.schemas.choosing import choose
from service.schemas.codes import code_of
from service.schemas.design_document import choice_at, way_out_document
from service.schemas.mistakes import MOST_REPORTED, listed
from service.schemas.orders import Asked, OrdersError, spec_of
from service.schemas.problem import pointer, remedy_document
from service.schemas.seals import Seal
from service.schemas.spec import units_of
from service.shop.shop import Shop
from service.strap.errors import Fault, Path, Refusal
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Spec
from service.strap.model.spec_changes import apply
from service.strap.model.spec_leather import Splices
from service.strap.model.work import Work
from service.strap.remedies.remedies import find_remedies
from service.words import say

WORK = 8000
"""Work on the straps of one request, however few they are."""
WORK_A_STRAP = 300
"""And for each different strap as much more."""
MOST_CURED = 5
"""With more refused orders than this no remedies are looked for: each takes as long as several patterns."""
MOST_REFUSED = 50
"""After so many straps that cannot be made no more are tried."""
MOST_REMEDIES = 6
_PIECES = {"three_piece": 4, "one_piece": 2, "open": 1, "two_ends": 5}


class OrdersRefused(CannotMake):
    """Orders that can be read but not made. Places are those of the caller's own document."""

    def __init__(self, faults: tuple[Fault, ...], documents: tuple[RemedyDocument, ...]) -> None:
        super().__init__(faults, ())
        self.documents = documents
        """Remedies as JSON data; each one mends every refused order."""


@dataclass(frozen=True, slots=True)
class _Refused:
    path: Path
    asked: Asked
    spec: Spec
    faults: tuple[Fault, ...]


def patterns_of(
    orders: Sequence[Asked], name: str, document: Mapping[str, Any], shop: Shop, most_pieces: int | None = None
) -> dict[int, Pattern]:
    """The pattern of each order of a strap, by its place; `name` is where they stand in the caller's document.

    Where more than `most_pieces` may come of them, nothing that mends a strap would help: no remedies are looked for.

    Raises `OrdersError` for orders that cannot be read, `ShopChanged` for sealed ones that are no longer the same, and
    `OrdersRefused` for orders that cannot be made.
    """
    straps = {index: asked for index, asked in enumerate(orders) if asked.pieces is None}
    asked_for = _specs(straps, name, shop)
    seals = {index: each for index, each in asked_for.items() if isinstance(each, Seal)}
    specs = {index: each.spec if isinstance(each, Seal) else each for index, each in asked_for.items()}
    made = _made(specs, name, shop)
    _hold_seals(seals, made, name, shop)
    refused = [
        _Refused((name, str(index)), straps[index], spec, outcome.faults)
        for index, spec in specs.items()
        if isinstance(outcome := made.get(spec), Refusal)
    ]
    if refused:
        faults = tuple(_placed(each, fault, shop) for each in refused for fault in each.faults)
        would_help = most_pieces is None or _pieces_at_most(orders, specs) <= most_pieces
        raise OrdersRefused(faults, _remedies(refused, document, shop) if would_help else ())
    return {index: outcome for index, spec in specs.items() if isinstance(outcome := made.get(spec), Pattern)}


def _pieces_at_most(orders: Sequence[Asked], specs: Mapping[int, Spec]) -> int:
    """How many pieces of leather the orders may have: a body, two billets and a keeper, or a strip and a keeper."""
    straps = (orders[n].quantity * (_PIECES[spec.construction] + _further(spec)) for n, spec in specs.items())
    return sum(straps) + sum(order.quantity * len(order.pieces or ()) for order in orders)


def _further(spec: Spec) -> int:
    """A lining, the laps of both, and a keeper in each gap."""
    asked = spec.body.splices
    laps = (asked.count or 0) if isinstance(asked, Splices) else 0
    row = spec.ornaments if spec.keepers_between else None
    return bool(spec.lining) + laps + (row.count or 2 * len(row.items or ()) if row else 0)


def _made(specs: Mapping[int, Spec], name: str, shop: Shop) -> dict[Spec, Pattern | Refusal]:
    """What becomes of each different strap, up to the first fifty that are refused.

    Raises `OrdersError` where they take more than the work that one request is given.
    """
    made: dict[Spec, Pattern | Refusal] = {}
    work = Work(WORK + WORK_A_STRAP * len(set(specs.values())))
    for index, spec in specs.items():
        if spec in made:
            continue
        if work.left <= 0:
            detail = say(
                "the straps before order {place} have as many holes and marks as one request may: send fewer",
                place=index + 1,
            )
            raise OrdersError((Fault(path=(name,), code="too_much_work", detail=detail),))
        made[spec] = attempt(spec, shop, work)
        if sum(isinstance(outcome, Refusal) for outcome in made.values()) >= MOST_REFUSED:
            break
    return made


def _hold_seals(seals: Mapping[int, Seal], made: Mapping[Spec, Pattern | Refusal], name: str, shop: Shop) -> None:
    """Raise `ShopChanged` with every sealed order of which another strap, or none, would be made today."""
    different = {id(seal): seal for seal in seals.values() if seal.spec in made}
    held = {key: hold(seal, made[seal.spec], shop) for key, seal in different.items()}
    changes = tuple(
        replace(each, path=(name, str(index), "code"))
        for index, seal in seals.items()
        if isinstance(each := held.get(id(seal)), Changed)
    )
    if changes:
        raise ShopChanged(changes)


def _specs(straps: Mapping[int, Asked], name: str, shop: Shop) -> dict[int, Spec | Seal]:
    """What each order asks for; a code that stands in several is read once, and is one and the same in all."""
    specs: dict[int, Spec | Seal] = {}
    coded: dict[str, Spec | Seal] = {}
    faults: list[Fault] = []
    for index, asked in straps.items():
        try:
            specs[index] = coded[asked.code] if asked.code in coded else spec_of(asked, shop)
            if asked.code is not None:
                coded[asked.code] = specs[index]
        except OrdersError as error:
            faults += [replace(fault, path=(name, str(index), *fault.path)) for fault in error.faults]
            if len(faults) > MOST_REPORTED:
                break
    if faults:
        raise OrdersError(listed(faults))
    return specs


def _placed(refused: _Refused, fault: Fault, shop: Shop) -> Fault:
    """The fault at its place in the caller's document: in the spec, at the choice, or at the code."""
    asked = refused.asked
    if asked.spec is not None:
        return replace(fault, path=(*refused.path, "spec", *fault.path))
    if asked.design is None:
        return replace(fault, path=(*refused.path, "code"))
    choice = choice_at(shop.designs[asked.design], fault.path)
    return replace(fault, path=(*refused.path, *(("choices", choice) if choice else ("design",))))


def _remedies(refused: Sequence[_Refused], document: Mapping[str, Any], shop: Shop) -> tuple[RemedyDocument, ...]:
    """Remedies that mend every refused order at once: one of each, the nearest together first."""
    if len(refused) > MOST_CURED:
        return ()
    ways = list(_ways_of_each(refused, document, shop))
    if len(ways) == 1:
        return tuple(ways[0])
    return tuple(map(_together, zip(*ways, strict=False)))[:MOST_REMEDIES]


def _together(ways: Sequence[RemedyDocument]) -> RemedyDocument:
    return {
        "detail": " ".join(way["detail"] for way in ways),
        "changes": [change for way in ways for change in way["changes"]],
    }


def _ways_of_each(
    refused: Sequence[_Refused], document: Mapping[str, Any], shop: Shop
) -> Iterator[list[RemedyDocument]]:
    """What would mend each order, all within the work on one strap's remedies."""
    work = Work()
    for done, each in enumerate(refused):
        share = Work(work.left // (len(refused) - done))
        work.left -= share.left
        yield _ways(each, document, shop, share)
        work.left += share.left


def _ways(refused: _Refused, document: Mapping[str, Any], shop: Shop, work: Work) -> list[RemedyDocument]:
    """What would mend one order, as changes of the caller's document."""
    asked, (name, index) = refused.asked, refused.path
    own = document[name][int(index)]
    if asked.design is not None:
        return _ways_of_design(refused, own, shop)
    remedies = find_remedies(refused.spec, shop, refused.faults, work)
    if asked.spec is None:
        return [_new_code(refused, remedy.detail, apply(refused.spec, remedy.changes), shop) for remedy in remedies]
    units = units_of(own["spec"], shop.defaults.units)
    return [_within(remedy_document(each, own["spec"], units), (*refused.path, "spec")) for each in remedies]


def _within(remedy: RemedyDocument, path: Path) -> RemedyDocument:
    """A remedy of a part of the document, as one of the whole."""
    changes: list[ChangeDocument] = [
        {**change, "pointer": pointer(path) + change["pointer"]} for change in remedy["changes"]
    ]
    return {"detail": remedy["detail"], "changes": changes}


def _new_code(refused: _Refused, detail: str, spec: Spec, shop: Shop) -> RemedyDocument:
    place = pointer((*refused.path, "code"))
    return {"detail": detail, "changes": [{"pointer": place, "value": code_of(spec, shop.defaults.units)}]}


def _ways_of_design(refused: _Refused, own: Mapping[str, Any], shop: Shop) -> list[RemedyDocument]:
    asked = refused.asked
    design = shop.designs[asked.design or ""]
    chosen = choose(design, asked.choices or {}, shop.defaults.units)
    ways = offers_of(design, shop).ways_out(chosen)
    return [_chosen_anew(way_out_document(design, chosen, way, shop.defaults.units), refused.path, own) for way in ways]


def _chosen_anew(way: RemedyDocument, path: Path, own: Mapping[str, Any]) -> RemedyDocument:
    """A way out as changes of the order's `choices`, which are given whole where the order has none."""
    values = {change["parameter"]: change["value"] for change in way["changes"]}
    if "choices" not in own:
        return {"detail": way["detail"], "changes": [{"pointer": pointer((*path, "choices")), "value": values}]}
    changes: list[ChangeDocument] = [
        {"pointer": pointer((*path, "choices", name)), "value": value} for name, value in values.items()
    ]
    return {"detail": way["detail"], "changes": changes}
