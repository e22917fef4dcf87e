"""From a spec to a job: defaults said, ids looked up, limits kept. Reports every fault at once."""

from collections.abc import Mapping
from dataclasses import replace
from difflib import get_close_matches
from typing import TypeVar

from service.shop.goods import Fastener, Nm
from service.shop.shop import Shop, Units
from service.strap.errors import Cure, Fault, Path, Refusal
from service.strap.filling.ends import ends_of
from service.strap.filling.features import too_many_features
from service.strap.filling.fill import fill
from service.strap.model.hardware import Cut, Stack, fitting_fasteners, hole_for, keeper_share, keeper_stack
from service.strap.model.job import Job, said
from service.strap.model.lining import covers
from service.strap.model.measuring import measuring
from service.strap.model.pattern import Check
from service.strap.model.places import lining_path, ornament_ids, shaped_ends
from service.strap.model.plies import plies_of, stack
from service.strap.model.row import row_items
from service.strap.model.spec import Billet, End, Ends, Joint, Size, Spec
from service.strap.plane.lengths import INCH, reading, readings
from service.strap.plane.outline import default_depth

Goods = TypeVar("Goods")


def resolve(given: Spec, shop: Shop) -> Job:
    """Look everything up.

    Raises `Refusal` with each unknown id, each field without a meaning in this construction, and a spec
    that asks for more work than the shop takes.
    """
    spec = fill(given, shop)
    faults = [*_without_meaning(given, spec), *unknown_ids(spec, shop), *too_many_features(spec, shop)]
    if faults:
        raise Refusal((*faults, *limit_faults(spec, shop)))
    return _look_up(spec, given, shop)


def _look_up(spec: Spec, given: Spec, shop: Shop) -> Job:
    leather = shop.leathers[said(spec.leather)]
    lining = shop.leathers[spec.lining_leather] if spec.lining_leather else None
    row = row_items(spec.ornaments, shop)
    gap = tuple(shop.ornaments[part.item] for part in spec.betweens for _ in range(said(part.per_gap)))
    borders = tuple(shop.ornaments[border.item] for border in spec.borders)
    set_on = (*row, *gap, *borders)
    units: Units = said(spec.units)
    rules = shop.rules.in_units(units)
    covered = bool(lining and covers(spec.lining_purpose, set_on, leather, lining, rules))
    plies = plies_of(spec.construction, leather, lining, covers=covered)
    fastener = _joint_fastener(spec.joint, stack(plies.joint), shop)
    fold_fastener = fastener if plies.joint == plies.fold else _fold_fastener(fastener, stack(plies.fold), shop)
    keeper_default = shop.fasteners[shop.defaults.keeper_fastener]
    share = keeper_share(leather, shop)
    keeper_fits = fitting_fasteners(keeper_stack(leather, share), shop, keeper_default)
    keeper_fastener = keeper_fits[0] if keeper_fits else keeper_default
    head, foot = ends_of(spec, shop, rules)
    return Job(
        spec=replace(spec, joint=replace(spec.joint, fastener=fastener.id)),
        given=given,
        shop=shop,
        rules=rules,
        units=units,
        measuring=measuring(said(spec.ornaments.spacing) if spec.ornaments else "ruler", units, rules),
        leather=leather,
        lining=lining,
        covers=covered,
        plies=plies,
        joint_held=_held(fastener, shop),
        fold_held=_held(fold_fastener, shop),
        keeper_held=_held(keeper_fastener, shop),
        keeper_share=share,
        head=head,
        foot=foot,
        row=row,
        gap=gap,
        borders=borders,
    )


def _held(fastener: Fastener, shop: Shop) -> tuple[Fastener, Cut]:
    return fastener, hole_for(fastener.post_diameter, shop.rules.hole_ease, shop)


def _joint_fastener(joint: Joint, plies: Stack, shop: Shop) -> Fastener:
    """The one asked for; else the shop's default, or the one likest to it that holds these plies."""
    if joint.fastener:
        return shop.fasteners[joint.fastener]
    default = shop.fasteners[shop.defaults.joint_fastener]
    fitting = fitting_fasteners(plies, shop, default)
    return fitting[0] if fitting else default


def _fold_fastener(joint: Fastener, plies: Stack, shop: Shop) -> Fastener:
    """The joint's where it holds the fold too, else the one likest to it that does, if there is one."""
    fitting = fitting_fasteners(plies, shop, joint)
    return fitting[0] if fitting else joint


def _row_faults(spec: Spec) -> list[Fault]:
    """What cannot be arranged: a centrepiece without an even count, a staggered pattern of several sizes."""
    row = spec.ornaments
    if row is None:
        return []
    faults = []
    if row.centrepiece and row.count % 2:
        detail = f"A centrepiece stands in the middle, and {row.count} ornaments cannot be shared out to both sides."
        faults.append(
            Fault(
                path=("ornaments", "count"),
                code="centrepiece_uneven",
                detail=detail,
                limit=row.count - 1,
                found=row.count,
                is_length=False,
            )
        )
    if (
        row.rows
        and row.rows.across == "staggered"
        and len({*(row.items or ()), row.item, row.centrepiece} - {None}) > 1
    ):
        detail = "Staggered rows stand in each other's gaps, and need ornaments of one kind."
        faults.append(
            Fault(path=("ornaments", "rows", "across"), code="staggered_mixed", detail=detail, cure=Cure.LEVEL_ROWS)
        )
    return faults


def _without_meaning(spec: Spec, filled: Spec) -> list[Fault]:
    """Fields that say something which this construction has no place for; a girth may come from a table."""
    wrong: list[tuple[Path, str]] = []
    if spec.construction != "open" and spec.ends != Ends():
        wrong.append((("ends",), "only an open strap has a head and a foot"))
    if spec.construction != "three_piece" and spec.body.end != End():
        wrong.append((("body", "end"), "the ends of this strap are shaped by `billet.tip` or `ends`"))
    if spec.construction == "one_piece" and spec.billet.width is not None:
        wrong.append((("billet", "width"), "a one-piece strap has one width all along: give body.width"))
    if spec.construction == "three_piece" and spec.billet.ring is not None:
        wrong.append((("billet", "ring"), "a collar ring is set into the turned-back end of a one-piece strap"))
    wrong += _of_open(spec, filled) if spec.construction == "open" else _of_keeper(spec, filled)
    wrong += _never_stitched(spec)
    if spec.betweens and (spec.ornaments is None or spec.ornaments.count == 0):
        wrong.append((("between",), "there is nothing to stand between: the strap has no ornaments"))
    return [Fault(path=path, code="without_meaning", detail=f"{'.'.join(path)}: {why}.") for path, why in wrong]


def _of_open(spec: Spec, filled: Spec) -> list[tuple[Path, str]]:
    wrong: list[tuple[Path, str]] = []
    if spec.billet != Billet():
        wrong.append((("billet",), "an open strap has no buckle and no size holes"))
    if filled.size.girth is not None:
        name = "girth" if spec.size.table is None else "table"
        wrong.append((("size", name), "an open strap is not closed round anything"))
    if spec.size.measured_from not in (None, "fold"):
        wrong.append((("size", "measured_from"), "an open strap is measured over all, from its outer ends"))
    return wrong


def _of_keeper(spec: Spec, filled: Spec) -> list[tuple[Path, str]]:
    if spec.billet.keeper_width is None or filled.billet.keeper:
        return []
    return [(("billet", "keeper_width"), "this strap has no keeper")]


def _never_stitched(spec: Spec) -> list[tuple[Path, str]]:
    """Why a turned-back end cannot be stitched; nothing where it can, or is not."""
    if spec.stitching is None or not spec.stitching.turn_back:
        return []
    path: Path = ("stitching", "turn_back")
    ends = (spec.ends.head, spec.ends.foot)
    if spec.construction == "open" and not any(end.kind == "ring" or end.ring for end in ends):
        return [(path, "no end of this strap is folded round a ring")]
    return [(path, "a collar ring is held between two rivets")] if spec.billet.ring else []


def unknown_ids(spec: Spec, shop: Shop) -> list[Fault]:
    """Everything that a spec names and this shop does not have."""
    asked: list[tuple[Path, str | None, Mapping[str, object], str]] = [
        (("leather",), spec.leather, shop.leathers, "leather"),
        (lining_path(spec), spec.lining_leather, shop.leathers, "leather"),
        (("billet", "buckle"), spec.billet.buckle, shop.buckles, "buckle"),
        (("joint", "fastener"), spec.joint.fastener, shop.fasteners, "fastener"),
        (("billet", "ring"), spec.billet.ring, shop.rings, "ring"),
        (("ends", "head", "ring"), spec.ends.head.ring, shop.rings, "ring"),
        (("ends", "foot", "ring"), spec.ends.foot.ring, shop.rings, "ring"),
    ]
    asked += [(path, name, shop.ornaments, "ornament") for path, name in ornament_ids(spec)]
    unknown = [_unknown(path, name, known, kind) for path, name, known, kind in asked if name and name not in known]
    return [*unknown, *_unknown_label(spec.size, shop)]


def _unknown_label(size: Size, shop: Shop) -> list[Fault]:
    if size.table is None:
        return []
    if size.table not in shop.size_tables:
        return [_unknown(("size", "table"), size.table, shop.size_tables, "size table")]
    sizes = shop.size_tables[size.table].sizes
    if size.label not in sizes:
        return [_unknown(("size", "label"), str(size.label), sizes, "size label")]
    return []


def _unknown(path: Path, name: str, known: Mapping[str, object], kind: str) -> Fault:
    near = get_close_matches(name, known, n=1, cutoff=0.5)
    hint = f" Did you mean {near[0]}?" if near else ""
    listed = ", ".join(known)
    detail = f"This shop has no {kind} {name!r}.{hint} It has {listed}."
    return Fault(path=path, code=f"unknown_{kind.replace(' ', '_')}", detail=detail)


def limit_faults(spec: Spec, shop: Shop) -> list[Fault]:
    """Each number of a filled spec that lies beyond the shop's limits."""
    units: Units = said(spec.units)
    faults = []
    for path, length, least, most in _limited_lengths(spec, shop):
        faults += _length_limits(path, length, least, most, units)
    if spec.billet.keeper_width is not None:
        faults += _length_limits(("billet", "keeper_width"), spec.billet.keeper_width, 0, shop.limits.width_max, units)
    faults += [*_count_limits(spec, shop), *_stitch_limits(spec, shop)]
    return [*faults, *_billet_width(spec), *_fixed_depths(spec), *_row_faults(spec)]


def limit_checks(spec: Spec, shop: Shop) -> tuple[Check, ...]:
    """The shop's limits of width and length as checks of a filled spec, each with its tightest length."""
    checks = []
    for rule, part in (("shop_width", ("body", "billet")), ("shop_length", ("size",))):
        limited = [entry for entry in _limited_lengths(spec, shop) if entry[0][0] in part]
        _, _, least, most = limited[0]
        lengths = [length for _, length, _, _ in limited]
        checks.append(Check(rule=f"{rule}_min", sense="least", value=min(lengths), limit=least))
        checks.append(Check(rule=f"{rule}_max", sense="most", value=max(lengths), limit=most))
    return tuple(checks)


def _limited_lengths(spec: Spec, shop: Shop) -> list[tuple[Path, Nm, Nm, Nm]]:
    """Each length that the shop limits: its place, itself, the least and the most."""
    limits, size = shop.limits, spec.size
    widths: list[tuple[Path, Nm | None]] = [(("body", "width"), spec.body.width)]
    if spec.construction == "three_piece":
        widths.append((("billet", "width"), spec.billet.width))
    lengths = {"body_length": size.body_length, "finished_length": size.finished_length, "girth": size.girth}
    return [
        *((path, said(width), limits.width_min, limits.width_max) for path, width in widths),
        *(
            (("size", name), length, limits.length_min, limits.length_max)
            for name, length in lengths.items()
            if length is not None
        ),
    ]


def _length_limits(path: Path, found: Nm, least: Nm, most: Nm, units: Units) -> list[Fault]:
    if least <= found <= most:
        return []
    limit, word = (least, "at least") if found < least else (most, "at most")
    told, bound = readings(found, limit, units)
    detail = f"{'.'.join(path)} is {told}; this shop makes {word} {bound}."
    return [Fault(path=path, code=f"{path[0]}_beyond_limits", detail=detail, limit=limit, found=found)]


def _count_limits(spec: Spec, shop: Shop) -> list[Fault]:
    limits = shop.limits
    counts: list[tuple[Path, int, int]] = [(("joint", "count"), said(spec.joint.count), limits.joint_count_max)]
    if spec.ornaments:
        counts.append((("ornaments", "count"), spec.ornaments.count, limits.ornaments_max))
    if spec.billet.size_holes.count:
        counts.append((("billet", "size_holes", "count"), spec.billet.size_holes.count, limits.size_holes_max))
    faults = [_count_fault(*entry) for entry in counts if entry[1] > entry[2]]
    holes = spec.billet.size_holes.count
    if holes and holes % 2 == 0:
        path: Path = ("billet", "size_holes", "count")
        detail = f"{holes} size holes have no middle one to be the nominal size: make it an odd number."
        faults.append(
            Fault(
                path=path,
                code="size_holes_even",
                detail=detail,
                limit=holes - 1,
                found=holes,
                is_length=False,
            )
        )
    return faults


def _count_fault(path: Path, found: int, most: int) -> Fault:
    detail = f"{'.'.join(path)} is {found}; this shop makes at most {most}."
    return Fault(path=path, code="count_beyond_limits", detail=detail, limit=most, found=found, is_length=False)


def _stitch_limits(spec: Spec, shop: Shop) -> list[Fault]:
    """Stitches that are finer or coarser than the shop pricks, by their pitch or by how many come to an inch."""
    stitching, limits = spec.stitching, shop.limits
    if stitching is None:
        return []
    if stitching.pitch is not None:
        path: Path = ("stitching", "pitch")
        least, most = limits.stitch_pitch_min, limits.stitch_pitch_max
        return _length_limits(path, stitching.pitch, least, most, said(spec.units))
    found, fewest, most = said(stitching.per_inch), -(-INCH // limits.stitch_pitch_max), INCH // limits.stitch_pitch_min
    if fewest <= found <= most:
        return []
    limit, word = (fewest, "at least") if found < fewest else (most, "at most")
    detail = f"stitching.per_inch is {found}; this shop makes {word} {limit} stitches to the inch."
    code = "stitching_beyond_limits"
    path = ("stitching", "per_inch")
    return [Fault(path=path, code=code, detail=detail, limit=limit, found=found, is_length=False)]


def _billet_width(spec: Spec) -> list[Fault]:
    if spec.construction != "three_piece":
        return []
    body, billet = said(spec.body.width), said(spec.billet.width)
    units: Units = said(spec.units)
    if billet <= body:
        return []
    detail = f"The billet is {reading(billet, units)} wide, wider than the body's {reading(body, units)}."
    return [Fault(path=("billet", "width"), code="billet_wider_than_body", detail=detail, limit=body, found=billet)]


def _fixed_depths(spec: Spec) -> list[Fault]:
    """A round end is a half circle and a square one is flat: neither has a depth to choose."""
    units: Units = said(spec.units)
    faults = []
    for path, end, width in shaped_ends(spec):
        if end.shape in ("round", "square") and end.depth != default_depth(end.shape, width):
            depth = default_depth(end.shape, width)
            detail = f"A {end.shape} end of this width is {reading(depth, units)} deep, and no other depth."
            faults.append(Fault(path=(*path, "depth"), code="depth_fixed", detail=detail, limit=depth, found=end.depth))
    return faults
