"""How much of what a customer asked for a remedy changes: least for what nobody asked for, most for a part left out.

The figures only rank: a strap that no longer fits is a worse answer than a narrower one, and that than fewer bells.
"""

from collections.abc import Iterable

from service.shop.shop import Shop
from service.strap.model.filled import Filled
from service.strap.model.places import value_at
from service.strap.model.spec import Spec
from service.strap.model.spec_changes import Change, Changes

_PARTS = {"size": 3.0, "body": 1.5, "ornaments": 1.0}
"""How much a part of the spec weighs; any other weighs less than the row that the strap is made for."""
_OTHER_PARTS = 0.7
_LEFT_OUT = 1.5
_MOVED = 0.4
"""Left out in one place and set in another."""
_OTHER_GOODS = 0.3
_OTHER_KIND = 0.8
"""A spot in place of a concho."""
_AS_USUAL = 0.2
_UNASKED = 0.3
"""The share that a change counts where the customer had said nothing there."""
_EACH = 0.02
"""Of two remedies alike, the one with fewer changes."""


def distance(changes: Changes, given: Spec, filled: Filled, shop: Shop) -> float:
    """How far changes lead away from the spec as it was given; `filled` is the same spec with its defaults."""
    return round(sum(_EACH + _weight(change, changes, given, filled, shop) for change in changes), 6)


def _weight(change: Change, changes: Changes, given: Spec, filled: Filled, shop: Shop) -> float:
    part = _PARTS.get(change.path[0], _OTHER_PARTS)
    if change.is_leaving_out:
        return part * (_MOVED if _is_moved(change, changes, filled) else _LEFT_OUT)
    asked = 1 if _at(given, change) is not None else _UNASKED
    return part * asked * _share(change, _at(filled, change), filled, shop)


def _is_moved(change: Change, changes: Changes, filled: Filled) -> bool:
    """Whether what a change leaves out is set elsewhere by another."""
    left_out = {getattr(each, "item", None) for each in _listed(_at(filled, change))}
    return any(each.value in left_out for each in changes if isinstance(each.value, str))


def _share(change: Change, old: object, filled: Filled, shop: Shop) -> float:
    """The part of what stood there that is changed: of a number by how much, of anything else as a whole."""
    families = {item.family for each in (old, change.value) if (item := shop.ornaments.get(str(each)))}
    if len(families) > 1:
        return _OTHER_KIND
    before, after = (_size(each, change, filled, shop) for each in (old, change.value))
    if before is not None and after is not None:
        return abs(after - before) / max(after, before, 1)
    return _AS_USUAL if change.value is None else _OTHER_GOODS


def _at(spec: Spec, change: Change) -> object:
    """What the spec says where the change is made; nothing where the part itself is not said."""
    try:
        return value_at(spec, change.path)
    except AttributeError:
        return None


def for_the_wearer(ways: Iterable[Changes], filled: Filled, shop: Shop) -> list[Changes]:
    """Ways after which the strap still buckles round the girth that was asked for; all of them where none does so.

    A wearer does not grow: from the middle hole to the last one the strap takes so much more or less, and no more.
    """
    kept = list(ways)
    if filled.size.girth is None:
        return kept
    reach = _reach(filled)
    fitting = [way for way in kept if all(_girth_moves(change, filled, shop) <= reach for change in way)]
    return fitting or kept


def _reach(filled: Filled) -> int:
    """From the middle hole to the last one; a joining strap has a row at each end."""
    tip, joining = filled.tip, filled.joining_strap
    if joining:
        return 2 * (joining.size_holes.count // 2) * joining.size_holes.spacing
    return tip.size_holes.count // 2 * tip.size_holes.spacing if tip else 0


def _girth_moves(change: Change, filled: Filled, shop: Shop) -> int:
    """By how much a change makes the strap one for another girth."""
    size = _size(change.value, change, filled, shop) if change.path[0] == "size" else None
    return abs(size - (filled.size.girth or 0)) if size and change.path[1] in ("girth", "label") else 0


def undominated(ways: Iterable[Changes], filled: Filled, shop: Shop) -> list[Changes]:
    """Ways of which none goes the way of another and farther: fewer still, narrower still, or something besides."""
    kept = list(ways)
    return [way for way in kept if not any(_goes_farther(way, other, filled, shop) for other in kept)]


def _goes_farther(way: Changes, other: Changes, filled: Filled, shop: Shop) -> bool:
    """Whether `way` makes every change of `other`, each as far or farther; of two alike neither goes farther."""
    mine, others = ({change.path: change for change in each} for each in (way, other))
    if not others.keys() <= mine.keys() or mine == others:
        return False
    moved = any(_is_moved(change, way, filled) for change in way if change.is_leaving_out)
    return not moved and all(_as_far(mine[path], change, filled, shop) for path, change in others.items())


def _as_far(change: Change, other: Change, filled: Filled, shop: Shop) -> bool:
    if change.value == other.value:
        return True
    old, mine, others = (_size(each, change, filled, shop) for each in (_at(filled, change), change.value, other.value))
    if old is None or mine is None or others is None:
        return False
    return mine < others < old or old < others < mine


def _size(value: object, change: Change, filled: Filled, shop: Shop) -> int | None:
    """What a value measures: a number itself, an ornament its diameter, a label the length that it stands for."""
    if isinstance(value, int):
        return None if isinstance(value, bool) else value
    if change.path == ("size", "label"):
        table = shop.size_tables.get(filled.size.table or "")
        return table.sizes.get(str(value)) if table else None
    item = shop.ornaments.get(str(value))
    return item.diameter if item else None


def _listed(value: object) -> tuple[object, ...]:
    return value if isinstance(value, tuple) else (value,)
