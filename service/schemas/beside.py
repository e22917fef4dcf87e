"""What can be read of a document beside its faults, so that they are told together with what the shop lacks."""

from collections.abc import Iterable
from copy import deepcopy
from typing import Any

from service.schemas.spec import SpecError, read_spec
from service.shop.shop import Shop
from service.strap.errors import Fault, Path
from service.strap.filling.unknown import unknown_ids

_LEAST = {"construction": "open", "size": {"body_length": "10 in"}}
"""What a spec has to say; in place of what cannot be read it names nothing of the shop's."""


def unknown_beside(document: object, faults: Iterable[Fault], shop: Shop) -> tuple[Fault, ...]:
    """Goods that a spec names and this shop does not have, where the spec cannot be read for these faults."""
    if not isinstance(document, dict):
        return ()
    rest = deepcopy(document)
    for fault in faults:
        _leave_out(rest, fault.path)
    for kept in (rest, {**rest, **_LEAST}):
        try:
            return tuple(unknown_ids(read_spec(kept, shop.defaults.units), shop))
        except SpecError:
            continue
    return ()


def _leave_out(part: dict[str, Any], path: Path) -> None:
    """Take away what stands at a path; of a list the whole of it, so that the places of nothing else move."""
    if not path:
        return
    name, *rest = path
    inner = part.get(name)
    if rest and isinstance(inner, dict):
        _leave_out(inner, tuple(rest))
    else:
        part.pop(name, None)
