"""The two halves of a snap fastener, seen from the grain side. Millimetres."""

from service.drawing.finished.shade import round_shadow
from service.drawing.finished.spot import cap, dome
from service.drawing.finished.tint import metal
from service.drawing.model import Item
from service.shop.goods import Snap
from service.strap.plane.lengths import MM

_HEAD = 0.62
"""What of its flange a stud's head is wide: as it looks, no measure of the trade."""


def snap_half(snap: Snap, *, is_cap: bool) -> tuple[Item, ...]:
    """A cap, nearly flat; or a stud, whose head stands up in the middle of its flange."""
    tones = metal(snap.colour)
    if is_cap:
        return cap(snap.cap_diameter / MM, tones)
    return (*cap(snap.stud_diameter / MM, tones), *stud_head(snap))


def stud_head(snap: Snap) -> tuple[Item, ...]:
    """The head of a stud with its shadow on the flange."""
    head = _HEAD * snap.stud_diameter / 2 / MM
    return round_shadow(head, 0.5 * snap.stud_height / MM, 0.6), dome(head, metal(snap.colour))
