"""Fields of a spec that mean nothing beside the others, each with the reason."""

from collections.abc import Iterator

from service.shop.shop import Shop
from service.strap.errors import Cure, Fault, Path
from service.strap.filling.joining import meaningless_joining
from service.strap.model.filled import Filled
from service.strap.model.loads import may_bear_load
from service.strap.model.places import lining_path
from service.strap.model.spec import FOLDED, LENGTHS, Billet, End, Ends, Spec, StrapEnd
from service.strap.model.two_ends import FOOT, HEAD, is_said_by_ends, said_ends
from service.words import say

_Wrong = tuple[Path, str]


def without_meaning(given: Spec, filled: Filled, shop: Shop) -> list[Fault]:
    """Every field that says something which this strap has no place for; a girth may come from a table."""
    wrong = [
        *_elsewhere(given),
        *_of_body(given, filled),
        *(_of_ends(filled) if is_said_by_ends(given) else _of_billet(given, filled)),
        *_of_size(given, filled),
        *_never_stitched(given, filled),
        *meaningless_joining(given, filled),
        *_of_keepers(given, filled),
        *_of_edging(given, filled),
    ]
    if given.betweens and (given.ornaments is None or given.ornaments.count == 0):
        wrong.append((("between",), say("there is nothing to stand between: the strap has no ornaments")))
    detailed = ((path, f"{'.'.join(path)}: {why}.") for path, why in wrong)
    faults = [
        Fault(path=path, code="without_meaning", detail=told, cure=_cure(path, filled)) for path, told in detailed
    ]
    return [*faults, *_of_loads(filled, shop)]


def _cure(path: Path, filled: Filled) -> Cure | None:
    """A size and an end cannot be left out, whatever else is wrong with them."""
    if path[-1] == "snap":
        return Cure.SAME_SNAP
    if path[-1] == "kind":
        return Cure.OTHER_ENDS
    if path[0] == "size" and path[1] in ("girth", "table") and _has_two_buckles(filled):
        return Cure.JOIN_BUCKLES
    needed = path == FOOT or (path[0] == "size" and path[1] in (*LENGTHS, "table"))
    return None if needed else Cure.LEAVE_OUT


def _of_edging(given: Spec, filled: Filled) -> Iterator[_Wrong]:
    if given.edging is None:
        return
    if filled.stitching is None or not filled.stitching.edges:
        yield ("edging",), say("stitches along the edges hold it, and this strap has none")
    elif given.edging.lies == "between" and not given.lining:
        yield ("edging", "lies"), say("there is no lining for it to lie before")


def _elsewhere(given: Spec) -> Iterator[_Wrong]:
    """What is said of the ends where this construction does not look for it."""
    if not is_said_by_ends(given) and given.ends != Ends():
        yield ("ends",), say("only an open strap, or one of two_ends, has a head and a foot")
    if given.construction == "two_ends" and given.billet != Billet():
        yield ("billet",), say("the ends of this strap are said in ends")


def _of_billet(given: Spec, filled: Filled) -> Iterator[_Wrong]:
    if filled.two.is_strip and given.billet.width is not None:
        yield ("billet", "width"), say("a one-piece strap has one width all along: give body.width")
    if not filled.two.is_strip and given.billet.ring is not None:
        yield ("billet", "ring"), say("a collar ring is set into the turned-back end of a one-piece strap")
    if given.billet.keeper_width is not None and not filled.billet.keeper:
        yield ("billet", "keeper_width"), say("this strap has no keeper")


def _of_body(given: Spec, filled: Filled) -> Iterator[_Wrong]:
    if filled.two.is_strip and given.body.end != End():
        yield ("body", "end"), say("the ends of this strap are shaped by `billet.tip` or `ends`")
    if given.lining and not filled.two.is_strip and _folds_both_ways(filled):
        yield lining_path(given), say("a strap that is folded at one end, and at the other a billet, is not lined here")


def _folds_both_ways(filled: Filled) -> bool:
    """Whether the body is folded at one end, and at the other a billet that is riveted to it."""
    kinds = [end.kind for end in filled.two.both]
    return all(end.kind in FOLDED for end in filled.two.outermost) and kinds.count("billet") == 1


def _of_keepers(given: Spec, filled: Filled) -> Iterator[_Wrong]:
    """Keepers between ornaments where there are no gaps, or not those; a lining that nothing, or more, would hold."""
    keepers, row = filled.keepers_between, filled.ornaments
    gaps = row.count + bool(row.centrepiece) - 1 if row else 0
    if keepers and gaps < 1:
        yield ("keepers_between",), say("there is no gap between two ornaments for a keeper")
    elif keepers and any(not low <= high <= gaps for low, high, _ in keepers.gaps or ()):
        yield (
            ("keepers_between", "gaps"),
            say("the gaps between the ornaments are 1 to {gaps}, each from one to a later one", gaps=gaps),
        )
    if not given.lining_is_loose:
        return
    if keepers is None or gaps < 1:
        yield ("lining", "held_by"), say("there are no keepers between the ornaments to hold it")
    if given.lining_purpose == "carry":
        yield ("lining", "held_by"), say("a lining that all is set through is held by that")
    if filled.stitching and filled.stitching.edges:
        yield ("stitching", "edges"), say("a strap whose lining is held by keepers is not sewn along its edges")


def _of_loads(filled: Filled, shop: Shop) -> Iterator[Fault]:
    """A closure that lets go where somebody may lead, tie or lift by the strap."""
    if not may_bear_load(filled):
        return
    for place, end in ((HEAD, filled.two.head), (FOOT, filled.two.foot)):
        snap = shop.snaps.get(end.outermost.snap or "")
        if snap and snap.breaks_away:
            path = (*_outermost(place, end), "snap")
            detail = say(
                "{field}: it breaks away, and somebody may be led, tied or lifted by this strap.", field=".".join(path)
            )
            yield Fault(path=path, code="without_meaning", detail=detail, cure=Cure.LEAVE_OUT)


def _of_ends(filled: Filled) -> Iterator[_Wrong]:
    if filled.construction == "open":
        if filled.billet != Billet():
            yield ("billet",), say("an open strap has no buckle and no size holes")
        for place, outer in ((HEAD, filled.two.head), (FOOT, filled.two.foot)):
            if outer.kind in ("buckle", "tip", "snap", "billet"):
                yield (
                    (*place, "kind"),
                    say("an open strap has no {kind}: its construction would be two_ends", kind=outer.kind),
                )
        return
    head, foot = filled.two.outermost
    if foot.kind == "buckle" and head.kind == "tip":
        yield FOOT, say("a strap that is buckled is told from its buckle: let head and foot change places")
    if filled.two.is_snapped and head.snap != foot.snap:
        yield (*_outermost(FOOT, filled.two.foot), "snap"), say("a cap closes on the stud of the same snap only")
    for place, end, _ in said_ends(filled):
        yield from _of_end(place, end)


def _outermost(place: Path, end: StrapEnd) -> Path:
    return (*place, "end") if end.end else place


def _of_end(place: Path, end: StrapEnd) -> Iterator[_Wrong]:
    if end.half == "cap" and (end.count or 1) > 1:
        yield (*place, "count"), say("one cap closes a strap: several sizes are several studs")
    if end.kind != "buckle":
        return
    if isinstance(end.keeper, tuple) and "none" in end.keeper:
        yield (*place, "keeper"), say("no keeper stands alone, and not in a list of several")
    if end.keeper_width is not None and not end.keepers:
        yield (*place, "keeper_width"), say("this end has no keeper")
    if end.ring is not None and place[:2] != HEAD:
        yield (*place, "ring"), say("a collar ring is set into the turned-back end at the head")


def _of_size(given: Spec, filled: Filled) -> Iterator[_Wrong]:
    is_joined = given.joining_strap is not None and _has_two_buckles(filled)
    if filled.size.girth is not None and not filled.two.closes and not is_joined:
        name = "girth" if given.size.table is None else "table"
        if given.construction == "open":
            yield ("size", name), say("an open strap is not closed round anything")
        else:
            yield ("size", name), say("nothing closes this strap: that takes {closing}", closing=_closing(filled))
    if given.construction == "open" and given.size.measured_from not in (None, "fold"):
        yield ("size", "measured_from"), say("an open strap is measured over all, from its outer ends")
    if filled.two.is_snapped and given.size.measured_from is not None:
        yield ("size", "measured_from"), say("a strap that is snapped is measured from its stud to its cap")
    if given.size.bar_to_bar is not None and not _has_two_buckles(filled):
        yield ("size", "bar_to_bar"), say("this strap has no buckle at either end to measure between")


def _closing(filled: Filled) -> str:
    """What would close it."""
    if _has_two_buckles(filled):
        return say("a joining_strap between its two buckles")
    return say("a buckle as head and a tip as foot, or the two halves of a snap")


def _has_two_buckles(filled: Filled) -> bool:
    return all(end.kind == "buckle" for end in filled.two.outermost)


def _never_stitched(given: Spec, filled: Filled) -> Iterator[_Wrong]:
    """Why a turned-back end cannot be stitched; nothing where it can, or is not."""
    if given.stitching is None or not given.stitching.turn_back:
        return
    path, outermost = ("stitching", "turn_back"), filled.two.outermost
    if not any(end.kind in FOLDED for end in outermost):
        yield path, say("no end of this strap is folded round a ring")
