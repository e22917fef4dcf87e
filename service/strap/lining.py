"""What a lining is for: it covers the backs of what is set, or it carries what is set through both plies."""

from collections.abc import Iterable

from service.shop.goods import Leather, Ornament, Prongs, Shank
from service.shop.shop import Rules
from service.strap.plies import stack
from service.strap.reach import holds_through
from service.strap.spec import LiningPurpose


def covers(
    asked: LiningPurpose | None, items: Iterable[Ornament], leather: Leather, lining: Leather, rules: Rules
) -> bool:
    """Whether a lining is glued on after everything is set. What was asked for holds.

    Else it covers whatever has a back that would lie on the wearer: prongs and shanks (common practice). Where they are
    made for both plies and not for the outer one alone, it carries them.
    """
    if asked:
        return asked == "cover"
    set_on = tuple(items)
    if not any(isinstance(item.fixing, Prongs | Shank) for item in set_on):
        return False
    outer, both = stack((leather,)), stack((leather, lining))
    return holds_through(set_on, outer, rules) or not holds_through(set_on, both, rules)
