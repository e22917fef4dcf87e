"""The shop's limits: numbers of a filled spec that lie beyond them."""

from collections.abc import Iterable

from service.shop.goods import Nm
from service.shop.shop import Shop, Units
from service.strap.errors import Cure, Fault, FigureFault, Path
from service.strap.filling.taper_limits import edge_faults, taper_faults, tapers_of
from service.strap.model.check import Check
from service.strap.model.filled import Filled
from service.strap.model.filled_ends import FilledBillet
from service.strap.model.loads import may_bear_load
from service.strap.model.places import shaped_ends
from service.strap.model.two_ends import FOOT, HEAD, end_places, end_width, narrowest, said_ends, size_hole_rows
from service.strap.plane.lengths import INCH, reading, readings
from service.strap.plane.outline import default_depth
from service.words import say


def limit_faults(spec: Filled, shop: Shop) -> list[Fault]:
    """Each number of a filled spec that lies beyond the shop's limits."""
    limits, units = shop.limits, spec.units
    faults = []
    for path, width in _widths(spec):
        faults += _length_limits(path, width, limits.width_min, limits.width_max, units)
    faults += length_faults(spec, shop)
    keepers = [(("billet",), spec.billet.keeper_width), *((at, end.keeper_width) for at, end, _ in said_ends(spec))]
    for place, keeper in keepers:
        if keeper is not None:
            faults += _length_limits((*place, "keeper_width"), keeper, 0, limits.width_max, units)
    if spec.keepers_between:
        width = spec.keepers_between.width
        faults += _length_limits(("keepers_between", "width"), width, 0, limits.width_max, units)
    faults += [
        *_count_limits(spec, shop),
        *_stitch_limits(spec, shop),
        *taper_faults(spec, shop),
        *edge_faults(spec, shop),
    ]
    return [*faults, *_billet_width(spec), *_fixed_depths(spec), *_row_faults(spec), *_splice_faults(spec)]


def length_faults(spec: Filled, shop: Shop) -> list[Fault]:
    """A length of a filled spec that lies beyond the shop's limits."""
    size, limits = spec.size, shop.limits
    if not size.stated:
        return []
    return _length_limits(("size", size.measure), size.stated, limits.length_min, limits.length_max, spec.units)


def limit_checks(spec: Filled, shop: Shop) -> tuple[Check, ...]:
    """The shop's limits as checks: of the length, of the width of the body and of a short form's billets."""
    limits, length = shop.limits, spec.size.stated
    widths = [width for path, width in _widths(spec) if path[0] in ("body", "billet")]
    return (
        Check(rule="shop_width_min", sense="least", value=min(widths), limit=limits.width_min),
        Check(rule="shop_width_max", sense="most", value=max(widths), limit=limits.width_max),
        Check(rule="shop_length_min", sense="least", value=length, limit=limits.length_min),
        Check(rule="shop_length_max", sense="most", value=length, limit=limits.length_max),
    )


def _widths(spec: Filled) -> list[tuple[Path, Nm]]:
    """Each width that the shop limits, with its place."""
    joining = [(("joining_strap", "width"), spec.joining_strap.width)] if spec.joining_strap else []
    tapers = [((*path, "to"), taper.to) for path, taper, _ in tapers_of(spec)]
    return [(("body", "width"), spec.body.width), *_billet_widths(spec), *joining, *tapers]


def _billet_widths(spec: Filled) -> Iterable[tuple[Path, Nm]]:
    """How wide each billet is, by where the spec says it: a short form says both in one place."""
    placed = zip(end_places(spec), spec.two.both, strict=True)
    return {(*place, "width"): end.width for place, end in placed if isinstance(end, FilledBillet)}.items()


def _length_limits(path: Path, found: Nm, least: Nm, most: Nm, units: Units) -> list[Fault]:
    if least <= found <= most:
        return []
    limit, word = (least, say("at least")) if found < least else (most, say("at most"))
    told, bound = readings(found, limit, units)
    detail = say(
        "{path} is {told}; this shop makes {word} {bound}.", path=".".join(path), told=told, word=word, bound=bound
    )
    code = f"{path[0]}_beyond_limits"
    return [FigureFault(path=path, code=code, detail=detail, limit=limit, found=found, cure=Cure.KEEP_LIMIT)]


def _count_limits(spec: Filled, shop: Shop) -> list[Fault]:
    limits = shop.limits
    counts: list[tuple[Path, int, int]] = [(("joint", "count"), spec.joint.count, limits.joint_count_max)]
    if spec.ornaments:
        counts.append((("ornaments", "count"), spec.ornaments.count, limits.ornaments_max))
    rows = tuple(size_hole_rows(spec))
    counts += [((*place, "count"), row.count, limits.size_holes_max) for place, row in rows if row.count]
    faults = [_too_many(*entry) for entry in counts if entry[1] > entry[2]]
    return [
        *faults,
        *(
            _even((*place, "count"), row.count)
            for place, row in rows
            if row.count and row.count % 2 == 0 and place[0] != "joining_strap"
        ),
    ]


def _even(path: Path, holes: int) -> Fault:
    detail = say("{holes} size holes have no middle one to be the nominal size: make it an odd number.", holes=holes)
    return _parity_fault(path, "size_holes_even", detail, holes)


def _too_many(path: Path, found: int, most: int) -> Fault:
    detail = say("{path} is {found}; this shop makes at most {most}.", path=".".join(path), found=found, most=most)
    return _count_fault(path, "count_beyond_limits", detail, most, found)


def _count_fault(path: Path, code: str, detail: str, limit: int, found: int) -> Fault:
    """Of a plain count, which the limit itself mends."""
    return FigureFault(
        path=path, code=code, detail=detail, limit=limit, found=found, is_length=False, cure=Cure.KEEP_LIMIT
    )


def _parity_fault(path: Path, code: str, detail: str, found: int) -> Fault:
    """Of a plain count that is odd and has to be even, or even and has to be odd."""
    return FigureFault(
        path=path, code=code, detail=detail, limit=found - 1, found=found, is_length=False, cure=Cure.OTHER_PARITY
    )


def _stitch_limits(spec: Filled, shop: Shop) -> list[Fault]:
    """Stitches that are finer or coarser than the shop pricks, by their pitch or by how many come to an inch."""
    stitching, limits = spec.stitching, shop.limits
    if stitching is None:
        return []
    found = stitching.per_inch
    if found is None:
        path: Path = ("stitching", "pitch")
        return _length_limits(path, stitching.apart, limits.stitch_pitch_min, limits.stitch_pitch_max, spec.units)
    fewest, most = -(-INCH // limits.stitch_pitch_max), INCH // limits.stitch_pitch_min
    if fewest <= found <= most:
        return []
    limit, word = (fewest, say("at least")) if found < fewest else (most, say("at most"))
    detail = say(
        "stitching.per_inch is {found}; this shop makes {word} {limit} stitches to the inch.",
        found=found,
        word=word,
        limit=limit,
    )
    return [_count_fault(("stitching", "per_inch"), "stitching_beyond_limits", detail, limit, found)]


def _billet_width(spec: Filled) -> list[Fault]:
    units, ends = spec.units, {HEAD: end_width(spec.body, is_foot=False), FOOT: end_width(spec.body, is_foot=True)}
    return [
        FigureFault(
            path=path,
            code="billet_wider_than_body",
            detail=say(
                "The billet is {width} wide, wider than the body's {body}.",
                width=reading(width, units),
                body=reading(body, units),
            ),
            limit=body,
            found=width,
            cure=Cure.BODY_AS_WIDE,
        )
        for path, width in _billet_widths(spec)
        if width > (body := ends.get(path[:2], narrowest(spec.body)))
    ]


def _fixed_depths(spec: Filled) -> list[Fault]:
    """A round end is a half circle and a square one is flat: neither has a depth to choose."""
    units = spec.units
    faults = []
    for path, end, width in shaped_ends(spec):
        if end.shape in ("round", "square") and end.depth != default_depth(end.shape, width):
            depth = default_depth(end.shape, width)
            detail = say(
                "A {shape} end of this width is {depth} deep, and no other depth.",
                shape=end.shape,
                depth=reading(depth, units),
            )
            faults.append(
                Fault(
                    path=(*path, "depth"),
                    code="depth_fixed",
                    detail=detail,
                    limit=depth,
                    found=end.depth,
                    cure=Cure.KEEP_LIMIT,
                )
            )
    return faults


def _splice_faults(spec: Filled) -> list[Fault]:
    """Laps that were counted, on a strap by which somebody may be led or tied."""
    asked = spec.body.splices
    if not asked or not asked.count or not may_bear_load(spec):
        return []
    detail = say(
        "Somebody may be led, tied or lifted by this strap, and a splice is made to bear no load: it is made of one "
        "strip. Straps for that are the work of those who are licensed for it."
    )
    return [Fault(path=("body", "splices"), code="splice_under_load", detail=detail, cure=Cure.LEAVE_OUT)]


def _row_faults(spec: Filled) -> list[Fault]:
    """What cannot be arranged: a centrepiece without an even count, a staggered pattern of several sizes."""
    row = spec.ornaments
    if row is None:
        return []
    faults = []
    if row.centrepiece and row.count % 2:
        detail = say(
            "A centrepiece stands in the middle, and {count} ornaments cannot be shared out to both sides.",
            count=row.count,
        )
        faults.append(_parity_fault(("ornaments", "count"), "centrepiece_uneven", detail, row.count))
    if (
        row.rows
        and row.rows.across == "staggered"
        and len({*(row.items or ()), row.item, row.centrepiece} - {None}) > 1
    ):
        detail = say("Staggered rows stand in each other's gaps, and need ornaments of one kind.")
        faults.append(
            Fault(path=("ornaments", "rows", "across"), code="staggered_mixed", detail=detail, cure=Cure.LEVEL_ROWS)
        )
    return faults
