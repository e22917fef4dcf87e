"""What a taper has to be, narrower than its piece and no steeper than it is long; and how fine an edge is cut."""

from collections.abc import Iterator

from service.shop.goods import Nm
from service.strap.errors import Cure, Fault, FigureFault, Path
from service.strap.model.filled import Filled
from service.strap.model.filled_ends import FilledBillet, FilledTaper
from service.strap.model.two_ends import FOOT, HEAD, narrowest
from service.strap.plane.lengths import readings
from service.words import say

_FINEST: Nm = 6_350_000
"""The finest repeat of an edge, 1/4 in (from memory)."""


def tapers_of(spec: Filled) -> Iterator[tuple[Path, FilledTaper, Nm]]:
    """Each taper of a filled spec, with its place and the full width of its piece."""
    body, alike = spec.body, spec.body.taper is not None and spec.body.taper.to is not None
    for name, taper in zip(("head",) if alike else ("head", "foot"), body.narrows, strict=False):
        if taper:
            yield ("body", "taper") if alike else ("body", "taper", name), taper, body.width
    for place, end in ((HEAD, spec.two.head), (FOOT, spec.two.foot)):
        if isinstance(end, FilledBillet) and end.taper:
            yield (*place, "taper"), end.taper, end.width


def edge_faults(spec: Filled) -> list[Fault]:
    """Edges cut finer than a punch can be had, or deeper than their repeat or their strap bears."""
    cut = spec.body.cut
    if cut is None:
        return []
    deepest = min(cut.repeat // 3, narrowest(spec.body) // 6)
    finest = "{place} is {found}; an edge is cut in repeats of {limit} at least."
    bears = "{place} is {found}: roots lie no deeper than a third of the repeat and a sixth of the width, {limit}."
    asked = (
        (("body", "edge", "repeat"), "edge_too_fine", finest, cut.repeat, _FINEST, cut.repeat < _FINEST),
        (("body", "edge", "depth"), "edge_too_deep", bears, cut.depth, deepest, cut.depth > deepest),
    )
    faults: list[Fault] = []
    for place, code, sentence, found, limit, wrong in asked:
        told, bound = readings(found, limit, spec.units)
        detail = say(sentence, place=".".join(place), found=told, limit=bound)
        if wrong:
            fault = FigureFault(path=place, code=code, detail=detail, limit=limit, found=found, cure=Cure.KEEP_LIMIT)
            faults.append(fault)
    return faults


def taper_faults(spec: Filled) -> list[Fault]:
    """Tapers that do not narrow, or whose edges run in by more than one in two."""
    faults: list[Fault] = []
    for path, taper, width in tapers_of(spec):
        narrows = width - taper.to
        if narrows <= 0:
            place, code, cure, found, limit = (*path, "to"), "taper_not_narrower", Cure.NARROWER_TAPER, taper.to, width
            sentence = "{place} is {found}: a taper narrows, and its piece is {limit} wide."
        elif taper.over < narrows:
            place, code, cure, found, limit = (*path, "over"), "taper_steep", Cure.KEEP_LIMIT, taper.over, narrows
            sentence = "{place} is {found}: what narrows by {limit} takes at least that length."
        else:
            continue
        told, bound = readings(found, limit, spec.units)
        detail = say(sentence, place=".".join(place), found=told, limit=bound)
        faults.append(FigureFault(path=place, code=code, detail=detail, limit=limit, found=found, cure=cure))
    return faults
