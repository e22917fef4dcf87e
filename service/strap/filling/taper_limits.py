"""What a taper has to be, narrower than its piece and no steeper than it is long; and how fine an edge is cut."""

from collections.abc import Iterator

from service.shop.goods import Nm
from service.shop.shop import Shop, Units
from service.strap.errors import Cure, Fault, FigureFault, Path
from service.strap.model.filled import Filled, FilledEdge
from service.strap.model.filled_ends import FilledBillet, FilledTaper
from service.strap.model.two_ends import FOOT, HEAD, narrowest
from service.strap.plane.lengths import readings
from service.words import say

EDGE: Path = ("body", "edge")
EDGING: Path = ("edging",)


def tapers_of(spec: Filled) -> Iterator[tuple[Path, FilledTaper, Nm]]:
    """Each taper of a filled spec, with its place and the full width of its piece."""
    body, alike = spec.body, spec.body.taper is not None and spec.body.taper.to is not None
    for name, taper in zip(("head",) if alike else ("head", "foot"), body.narrows, strict=False):
        if taper:
            yield ("body", "taper") if alike else ("body", "taper", name), taper, body.width
    for place, end in ((HEAD, spec.two.head), (FOOT, spec.two.foot)):
        if isinstance(end, FilledBillet) and end.taper:
            yield (*place, "taper"), end.taper, end.width


def edge_faults(spec: Filled, shop: Shop) -> list[Fault]:
    """Edges cut finer or deeper than the shop's rules let them be, or otherwise than their iron."""
    cut, edging = spec.body.cut, spec.edging
    found: list[Fault] = [] if cut is None else [*cut_faults(EDGE, cut, narrowest(spec.body), spec.units, shop)]
    if edging and edging.cut:
        found += cut_faults(EDGING, edging.cut, None, spec.units, shop)
    return found


def cut_faults(place: Path, cut: FilledEdge, width: Nm | None, units: Units, shop: Shop) -> Iterator[FigureFault]:
    """What is wrong with how an edge is cut that is asked for at a place, of a piece `width` wide if that counts."""
    rules, iron = shop.rules, shop.edge_irons.get(cut.iron or "")
    deepest = int(cut.repeat / rules.edge_depths)
    if width is not None:
        deepest = min(deepest, int(width / rules.edge_widths))
    finest = "{place} is {found}; an edge is cut in repeats of {limit} at least."
    bears = "{place} is {found}: roots lie no deeper than {limit} in a repeat so long and a piece so wide."
    other = "{place} is {found}, and this iron cuts {limit}."
    asked = [
        ("repeat", "edge_too_fine", finest, cut.repeat, rules.edge_repeat_least, cut.repeat < rules.edge_repeat_least),
        ("depth", "edge_too_deep", bears, cut.depth, deepest, cut.depth > deepest),
    ]
    if iron:
        asked += [
            ("repeat", "edge_unlike_iron", other, cut.repeat, iron.repeat, cut.repeat != iron.repeat),
            ("depth", "edge_unlike_iron", other, cut.depth, iron.depth, cut.depth != iron.depth),
        ]
    for name, code, sentence, found, limit, wrong in asked:
        path = (*place, "iron") if cut.iron and code != "edge_unlike_iron" else (*place, name)
        told, bound = readings(found, limit, units)
        if wrong:
            cure = Cure.KEEP_LIMIT if path[-1] == name else Cure.OTHER_IRON
            detail = say(sentence, place=".".join(path), found=told, limit=bound)
            yield FigureFault(path=path, code=code, detail=detail, limit=limit, found=found, cure=cure)


def taper_faults(spec: Filled, shop: Shop) -> list[Fault]:
    """Tapers that do not narrow, or that do so over less than the shop's least multiple of it."""
    faults: list[Fault] = []
    for path, taper, width in tapers_of(spec):
        narrows = width - taper.to
        followed = spec.edging is not None and path[0] == "body"
        times = max(shop.rules.taper_least, shop.rules.edging_taper) if followed else shop.rules.taper_least
        least = round(narrows * times)
        if narrows <= 0:
            place, code, cure, found, limit = (*path, "to"), "taper_not_narrower", Cure.NARROWER_TAPER, taper.to, width
            sentence = "{place} is {found}: a taper narrows, and its piece is {limit} wide."
        elif taper.over < least:
            place, code, cure, found, limit = (*path, "over"), "taper_steep", Cure.KEEP_LIMIT, taper.over, least
            sentence = "{place} is {found}: what narrows so much takes {limit} at least."
        else:
            continue
        told, bound = readings(found, limit, spec.units)
        detail = say(sentence, place=".".join(place), found=told, limit=bound)
        faults.append(FigureFault(path=place, code=code, detail=detail, limit=limit, found=found, cure=cure))
    return faults
