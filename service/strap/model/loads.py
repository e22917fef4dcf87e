"""Whether somebody may lead, tie, lift or ride by a strap, as far as its spec tells: such a strap is never spliced."""

from service.shop.shop import WornBy
from service.strap.model.filled import Filled
from service.strap.model.spec import FOLDED, Ends, Spec


def may_bear_load(spec: Filled) -> bool:
    """Of a spec that is filled."""
    return bears_load(spec.two, spec.worn_by, decorated=is_decorated(spec))


def bears_load(ends: Ends, worn_by: WornBy | None, *, decorated: bool) -> bool:
    """What is known to be a person's is led and tied by nothing.

    A collar ring takes a lead, and a plain strap that is folded round something may be tied by it; of an animal, or of
    nobody knows whom, a ring or a loop at an end may as well, whatever the strap is decorated with.
    """
    if worn_by == "person":
        return False
    outermost = ends.outermost
    if any(end.kind == "buckle" and end.ring for end in outermost):
        return True
    if not decorated:
        return any(end.kind in FOLDED for end in outermost)
    return worn_by != "object" and any(end.kind in ("ring", "loop") for end in outermost)


def is_decorated(spec: Spec) -> bool:
    """Whether anything is set on it."""
    return bool((spec.ornaments and spec.ornaments.count) or spec.borders)
