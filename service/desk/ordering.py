"""From orders to the patterns of their straps, or to every fault of every order and what would help.

Every function is pure, as in `service.desk.pipeline`.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from service.desk.counting import pieces_at_most
from service.desk.mending import Refused, remedies_of
from service.desk.pipeline import CannotMake
from service.desk.sealing import Changed, ShopChanged, attempt, hold
from service.schemas.answers.problem import RemedyDocument
from service.schemas.design_document import choice_at
from service.schemas.mistakes import MOST_REPORTED, listed
from service.schemas.orders import Asked, OrdersError
from service.schemas.seals import Seal
from service.schemas.sets import One, spec_asked, spec_of_one, straps_of
from service.shop.shop import Shop
from service.strap.errors import Fault, Path, Refusal
from service.strap.making.mirror import in_hand
from service.strap.model.pattern import Pattern
from service.strap.model.spec import Hand, Spec
from service.strap.model.work import Work
from service.words import say

WORK = 8000
"""Work on the straps of one request, however few they are."""
WORK_A_STRAP = 300
"""And for each different strap as much more."""
MOST_REFUSED = 50
"""After so many straps that cannot be made no more are tried."""


class OrdersRefused(CannotMake):
    """Orders that can be read but not made. Places are those of the caller's own document."""

    def __init__(self, faults: tuple[Fault, ...], documents: tuple[RemedyDocument, ...]) -> None:
        super().__init__(faults, ())
        self.documents = documents
        """Remedies as JSON data; each one mends every refused order."""


@dataclass(frozen=True, slots=True)
class Ordered:
    """A strap of an order: what it is asked for as, with its hand and size, and its pattern."""

    one: One
    spec: Spec
    pattern: Pattern


def patterns_of(
    orders: Sequence[Asked], name: str, document: Mapping[str, Any], shop: Shop, most_pieces: int | None = None
) -> tuple[Ordered, ...]:
    """The pattern of each strap of each order, in their order; `name` is where they stand in the caller's document.

    Where more than `most_pieces` may come of them, nothing that mends a strap would help: no remedies are looked for.

    Raises `OrdersError` for orders that cannot be read, `ShopChanged` for sealed ones that are no longer the same, and
    `OrdersRefused` for orders that cannot be made.
    """
    ones = straps_of(orders, name)
    asked_for = _specs(ones, shop)
    specs = [each.spec if isinstance(each, Seal) else each for each in asked_for]
    made = _made(ones, specs, name, shop)
    _hold_seals(zip(ones, asked_for, strict=True), made, shop)
    refused = tuple(_refused(ones, specs, made))
    if refused:
        faults = tuple(_placed(each, fault, shop) for each in refused for fault in each.faults)
        would_help = most_pieces is None or pieces_at_most(orders, ones, specs, made, shop) <= most_pieces
        raise OrdersRefused(faults, remedies_of(refused, document, shop) if would_help else ())
    return tuple(_by_hand(ones, specs, made))


def _by_hand(ones: Sequence[One], specs: Sequence[Spec], made: Mapping[Spec, Pattern | Refusal]) -> Iterator[Ordered]:
    """Each strap with its pattern; straps that are one and the same share it."""
    handed: dict[tuple[Spec, Hand], Pattern] = {}
    for one, spec in zip(ones, specs, strict=True):
        pattern = made[spec]
        if not isinstance(pattern, Pattern):
            continue
        if one.hand is None:
            yield Ordered(one, spec, pattern)
            continue
        if (spec, one.hand) not in handed:
            handed[spec, one.hand] = in_hand(pattern, one.hand)
        yield Ordered(one, replace(spec, hand=one.hand), handed[spec, one.hand])


def _refused(ones: Sequence[One], specs: Sequence[Spec], made: Mapping[Spec, Pattern | Refusal]) -> Iterator[Refused]:
    """Every strap that was tried and cannot be made; of a pair the left one, for the right is like it."""
    asked = list(zip(ones, specs, strict=True))
    for one, spec in asked:
        outcome = made.get(spec)
        if isinstance(outcome, Refusal) and one.hand != "right":
            beside = tuple(other for each, other in asked if each.path == one.path and other != spec)
            yield Refused(one, spec, outcome.faults, beside)


def _made(ones: Sequence[One], specs: Sequence[Spec], name: str, shop: Shop) -> dict[Spec, Pattern | Refusal]:
    """What becomes of each different strap, up to the first fifty that are refused.

    Raises `OrdersError` where they take more than the work that one request is given.
    """
    made: dict[Spec, Pattern | Refusal] = {}
    work = Work(WORK + WORK_A_STRAP * len(set(specs)))
    for one, spec in zip(ones, specs, strict=True):
        if spec in made:
            continue
        if work.left <= 0:
            detail = say(
                "the straps before order {place} have as many holes and marks as one request may: send fewer",
                place=one.order + 1,
            )
            raise OrdersError((Fault(path=(name,), code="too_much_work", detail=detail),))
        made[spec] = attempt(spec, shop, work)
        if sum(isinstance(outcome, Refusal) for outcome in made.values()) >= MOST_REFUSED:
            break
    return made


def _hold_seals(
    asked_for: Iterable[tuple[One, Spec | Seal]], made: Mapping[Spec, Pattern | Refusal], shop: Shop
) -> None:
    """Raise `ShopChanged` with every sealed order of which another strap, or none, would be made today."""
    seals = [(one, seal) for one, seal in asked_for if isinstance(seal, Seal) and one.hand != "right"]
    different = {id(seal): seal for _, seal in seals if seal.spec in made}
    held = {key: hold(seal, made[seal.spec], shop) for key, seal in different.items()}
    changes = tuple(
        replace(each, path=(*one.path, "code"))
        for one, seal in seals
        if isinstance(each := held.get(id(seal)), Changed)
    )
    if changes:
        raise ShopChanged(changes)


def _specs(ones: Sequence[One], shop: Shop) -> list[Spec | Seal]:
    """What each strap is asked for as; what stands in several is read once, and is one and the same in all."""
    specs: list[Spec | Seal] = []
    read: dict[str | Path, Spec | Seal] = {}
    faults: dict[Fault, None] = {}
    for one in ones:
        key = one.asked.code or one.path
        try:
            if key not in read:
                read[key] = spec_asked(one, shop)
            specs.append(spec_of_one(one, read[key], shop))
        except OrdersError as error:
            faults |= dict.fromkeys(error.faults)
            if len(faults) > MOST_REPORTED:
                break
    if faults:
        raise OrdersError(listed(list(faults)))
    return specs


def _placed(refused: Refused, fault: Fault, shop: Shop) -> Fault:
    """The fault at its place in the caller's document: in the spec, at the choice, the code or the size."""
    one, asked = refused.one, refused.asked
    if one.label is not None:
        if fault.path[:1] == ("size",):
            return replace(fault, path=one.label_path)
        fault = replace(fault, detail=say("in size {label}: {detail}", label=one.label, detail=fault.detail))
    if asked.spec is not None:
        return replace(fault, path=(*one.path, "spec", *fault.path))
    if asked.design is None:
        return replace(fault, path=(*one.path, "code"))
    choice = choice_at(shop.designs[asked.design], fault.path)
    return replace(fault, path=(*one.path, *(("choices", choice) if choice else ("design",))))
