"""Which ornaments stand along the middle, in order: one kind, graduated, alternating or a sequence."""

from service.shop.ornaments import Ornament
from service.shop.shop import Shop
from service.strap.model.spec_set import Row


def row_items(row: Row | None, shop: Shop) -> tuple[Ornament, ...]:
    """The ornaments of a row from the buckle on, its centrepiece in the middle."""
    if row is None or not row.count:
        return _centrepiece(row, shop)
    items = [shop.ornaments[name] for name in row_names(row)]
    if row.arrange == "graduated":
        items = _steps(items, shop)
    placed = tuple(_at(row, row.count, items, index) for index in range(row.count))
    half = row.count // 2
    return (*placed[:half], *_centrepiece(row, shop), *placed[half:])


def said_count(row: Row) -> int:
    """How many ornaments a row says one by one, its centrepiece apart.

    Mirrored, the same order goes back down to the first: the last is the middle one, unless a centrepiece is.
    """
    items = len(row_names(row))
    return 2 * items - (row.centrepiece is None) if row.mirrored else items


def row_names(row: Row) -> tuple[str, ...]:
    """The ids that a row names, the centrepiece apart."""
    return row.items or ((row.item,) if row.item else ())


def _centrepiece(row: Row | None, shop: Shop) -> tuple[Ornament, ...]:
    return (shop.ornaments[row.centrepiece],) if row and row.centrepiece else ()


def _at(row: Row, count: int, items: list[Ornament], index: int) -> Ornament:
    if row.arrange == "graduated":
        return _graduated(count, items, index)
    return items[_turn(row, count, index) % len(items)]


def _turn(row: Row, count: int, index: int) -> int:
    """Which one in turn stands at a place, the motif repeated as often as it takes."""
    return min(index, count - 1 - index) if row.arrange == "sequence" and row.mirrored else index


def place_in_items(row: Row, place: int) -> int | None:
    """Where a row of several `items` names the ornament that stands at a place from the buckle on.

    `None` of a centrepiece, and of a row that does not say one thing after the other.
    """
    count, half = row.count or 0, (row.count or 0) // 2
    if not row.items or row.arrange == "graduated" or (row.centrepiece and place == half):
        return None
    index = place - (row.centrepiece is not None and place > half)
    return _turn(row, count, index) % len(row.items)


def _steps(items: list[Ornament], shop: Shop) -> list[Ornament]:
    """Sizes in ascending order; between a smallest and a largest of one kind, whatever the shop stocks of that."""
    if len(items) == 2 and _kind(items[0]) == _kind(items[1]):
        low, high = sorted(item.diameter for item in items)
        stocked = [each for each in shop.ornaments.values() if _kind(each) == _kind(items[0])]
        items = [each for each in stocked if low <= each.diameter <= high]
    return sorted(items, key=lambda item: item.diameter)


def _kind(item: Ornament) -> tuple[str, str]:
    """A bell on a rivet takes no place among bells on shanks."""
    return item.family, item.fixing.word


def _graduated(count: int, sizes: list[Ornament], index: int) -> Ornament:
    """The largest in the middle, the smallest at both ends, every size in its turn between (common practice)."""
    from_end, ranks = min(index, count - 1 - index), (count - 1) // 2
    if ranks == 0:
        return sizes[-1]
    return sizes[(2 * from_end * (len(sizes) - 1) + ranks) // (2 * ranks)]
