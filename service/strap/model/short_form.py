"""A strap of two_ends read as the short ways say it: what is its `billet`, and where its ends say that."""

from service.strap.errors import Path
from service.strap.model.spec import Billet, Body, End, Spec, StrapEnd
from service.strap.model.two_ends import FOOT, HEAD

_TIP = ("tip", "size_holes", "tip_length")


def billet_of(spec: Spec) -> Billet:
    """The buckled parts, whichever way they are said: those of the head's buckle, and of the foot's tip."""
    if spec.construction != "two_ends":
        return spec.billet
    head, tip = spec.ends.head, _tip_of(spec)[1]
    buckled = next((end.outermost for end in (head, spec.ends.foot) if end.outermost.kind == "buckle"), head.outermost)
    return Billet(
        width=next((end.width for end in (head, spec.ends.foot) if end.kind == "billet"), None),
        buckle=buckled.buckle,
        tip=End(shape=tip.shape, depth=tip.depth),
        size_holes=tip.size_holes,
        prong_slot=buckled.prong_slot,
        keeper=None if buckled.keeper is None else bool(buckled.keepers),
        keeper_width=buckled.keeper_width,
        ring=buckled.ring if buckled.kind == "buckle" else None,
        tip_length=tip.tip_length,
    )


def said_at(spec: Spec, path: Path, *, of_foot: bool = False) -> tuple[Path, ...]:
    """Where the spec says what a short form says at a path of its `billet`; the path itself if it is such a form.

    Billets at both ends are as wide as each other. A buckle is the head's, or that of the foot
    where the head has none.
    """
    if spec.construction != "two_ends" or path[:1] != ("billet",):
        return (path,)
    if path[1:] == ("width",):
        both = ((HEAD, spec.ends.head), (FOOT, spec.ends.foot))
        billets = tuple((*place, *_outer_width(end)) for place, end in both if end.kind == "billet")
        return billets or body_widths(spec.body)
    if len(path) > 1 and path[1] in _TIP:
        return ((*_tip_of(spec)[0], *(path[2:] if path[1] == "tip" else path[1:])),)
    ends = spec.ends
    at_foot = ends.foot.outermost.kind == "buckle" and (of_foot or ends.head.outermost.kind != "buckle")
    place, end = (FOOT, ends.foot) if at_foot else (HEAD, ends.head)
    return ((*_outermost(place, end), *path[1:]),)


def _outer_width(billet: StrapEnd) -> Path:
    return ("taper", "to") if billet.taper else ("width",)


def body_widths(body: Body) -> tuple[Path, ...]:
    """Where a spec says how wide its body is at its ends: where it narrows to them, by its tapers."""
    if body.taper is None:
        return (("body", "width"),)
    if body.taper.to is not None:
        return (("body", "taper", "to"),)
    named = (("head", body.taper.head), ("foot", body.taper.foot))
    return tuple(("body", "taper", name, "to") for name, taper in named if taper)


def _tip_of(spec: Spec) -> tuple[Path, StrapEnd]:
    ends = spec.ends
    place, end = (FOOT, ends.foot) if ends.foot.outermost.kind == "tip" else (HEAD, ends.head)
    return _outermost(place, end), end.outermost


def _outermost(place: Path, end: StrapEnd) -> Path:
    return (*place, "end") if end.end else place
