"""The worn strap in words, for those who do not see it."""

from service.drawing import words
from service.drawing.finished.made_up import MadeUp
from service.drawing.finished.wording import looks
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Pattern
from service.strap.plane.lengths import tape_reading
from service.words import say


def closed_title(pattern: Pattern, shop: Shop, hole: int) -> str:
    """One line: what it is, at which hole it is closed and whose it is."""
    made = words.strap_title(pattern)
    if pattern.is_snapped:
        return say("{made}, closed at stud {hole}: as it is worn, {shop}", made=made, hole=hole, shop=shop.name)
    return say("{made}, closed at hole {hole}: as it is worn, {shop}", made=made, hole=hole, shop=shop.name)


def closed_description(pattern: Pattern, strap: MadeUp, shop: Shop, hole: int, units: Units) -> str:
    """What is seen, sentence by sentence."""
    fits = next(each.fits for each in pattern.worn_at if each.hole == hole)
    return say(
        "A loop, seen from the front and a little above. {parts} At {hole} of {count} it fits a girth of {girth}. "
        "True proportion across: 1 unit is 1 mm.",
        parts=" ".join(looks(pattern, strap, shop, units, is_joined=True)),
        hole=hole,
        count=len(pattern.finished.sizes),
        girth=tape_reading(fits, units),
    )


def hanging_title(pattern: Pattern, shop: Shop, units: Units) -> str:
    """One line: what it is, how long it is and whose it is."""
    return say(
        "{made}, {length}: as it hangs, {shop}",
        made=words.strap_title(pattern),
        length=tape_reading(pattern.finished.length, units),
        shop=shop.name,
    )


def hanging_description(pattern: Pattern, strap: MadeUp, shop: Shop, units: Units) -> str:
    """What is seen, sentence by sentence."""
    return say(
        "It hangs, seen from the front. {parts} True proportion: 1 unit is 1 mm.",
        parts=" ".join(looks(pattern, strap, shop, units)),
    )
