"""Saying what a spec left unsaid, from the shop's defaults. Looks nothing up and refuses nothing."""

from collections.abc import Callable
from dataclasses import replace

from service.shop.goods import Nm
from service.shop.shop import Defaults, Shop
from service.strap.ends.shapes import buckle_for, end_form, filled_holes, tip_form
from service.strap.filling.fill_ends import fill_ends, name_ends
from service.strap.model.spec import (
    Between,
    Billet,
    Body,
    Border,
    Joint,
    Part,
    Row,
    Rows,
    Size,
    Spec,
    Stitching,
)
from service.strap.model.two_ends import closes, is_held_whole, is_said_by_ends, is_strip


def fill(spec: Spec, shop: Shop) -> Spec:
    """The spec with every field said that its construction uses.

    Whether an unsaid fastener or keeper fits is settled by `service.strap.filling.resolve`, which knows the goods.
    """
    spec = name_ends(spec)
    units = spec.units or shop.defaults.units
    defaults = shop.defaults.in_units(units)
    body_width = spec.body.width or (defaults.strip_width if is_held_whole(spec) else defaults.body_width)
    return replace(
        spec,
        units=units,
        size=_size(spec, shop, shop.rules.in_units(units).ease),
        worn_by=spec.worn_by or (table.worn_by if (table := shop.size_tables.get(spec.size.table or "")) else None),
        leather=spec.leather or defaults.leather,
        body=_body(spec, body_width, defaults),
        billet=_billet(spec, body_width, shop, defaults),
        joint=_joint(spec.joint, defaults),
        ends=fill_ends(spec, body_width, shop, defaults),
        ornaments=_row(spec.ornaments, body_width),
        between=_each(spec.between, _between),
        border=_each(spec.border, lambda border: _border(border, defaults)),
        stitching=_stitching(spec, defaults),
    )


def _size(spec: Spec, shop: Shop, ease: Nm) -> Size:
    """An open strap is measured from end to end, and has no datum to say."""
    size = spec.size
    table = shop.size_tables.get(size.table or "")
    length = table.sizes.get(size.label or "") if table else None
    if table and length is not None:
        size = _labelled(size, table.measure, length)
    if size.girth is not None:
        eases = (size.ease, table.ease if table else None, ease)
        return replace(size, ease=next(ease for ease in eases if ease is not None))
    if size.finished_length is not None and closes(spec):
        return replace(size, measured_from=size.measured_from or "fold")
    return size


def _labelled(size: Size, measure: str, length: Nm) -> Size:
    if measure == "girth":
        return replace(size, girth=length)
    return replace(size, body_length=length) if measure == "body_length" else replace(size, finished_length=length)


def _body(spec: Spec, width: Nm, defaults: Defaults) -> Body:
    if is_strip(spec):
        return replace(spec.body, width=width)
    return Body(width=width, end=end_form(spec.body.end, defaults.body_end, width))


def _billet(spec: Spec, body_width: Nm, shop: Shop, defaults: Defaults) -> Billet:
    if is_said_by_ends(spec):
        return spec.billet
    billet = spec.billet
    three_piece = not is_strip(spec)
    width = (billet.width or min(defaults.billet_width, body_width)) if three_piece else body_width
    buckle = billet.buckle or buckle_for(width, shop)
    known = shop.buckles.get(buckle)
    return Billet(
        width=width if three_piece else billet.width,
        buckle=buckle,
        tip=tip_form(billet.tip, width, shop),
        size_holes=filled_holes(billet.size_holes, defaults),
        prong_slot=billet.prong_slot,
        keeper=bool(known and known.needs_keeper) if billet.keeper is None else billet.keeper,
        keeper_width=billet.keeper_width,
        ring=billet.ring,
        tip_length=billet.tip_length,
    )


def _joint(joint: Joint, defaults: Defaults) -> Joint:
    return Joint(
        fastener=joint.fastener,
        count=joint.count or defaults.joint_count,
        spacing=joint.spacing or defaults.joint_spacing,
        end_distance=joint.end_distance or defaults.joint_end_distance,
    )


def _row(row: Row | None, width: Nm) -> Row | None:
    if row is None:
        return None
    several = len(row.items or ()) > 1
    return replace(
        row,
        spacing=row.spacing or "ruler",
        arrange=row.arrange or ("alternating" if several else None),
        rows=row.rows and _rows(row.rows, width),
    )


def _rows(rows: Rows, width: Nm) -> Rows:
    """Rows that are told no distance share the width in equal lanes."""
    count = rows.count or 2
    return Rows(count=count, across=rows.across or "level", distance=rows.distance or width // count)


def _each(given: Part | tuple[Part, ...] | None, say: Callable[[Part], Part]) -> Part | tuple[Part, ...] | None:
    """One or several parts filled alike, still as one or several."""
    if given is None:
        return None
    return tuple(say(part) for part in given) if isinstance(given, tuple) else say(given)


def _between(between: Between) -> Between:
    return replace(between, per_gap=1 if between.per_gap is None else between.per_gap)


def _border(border: Border, defaults: Defaults) -> Border:
    return replace(border, inset=border.inset or defaults.border_inset, step=border.step or defaults.border_step)


def _stitching(spec: Spec, defaults: Defaults) -> Stitching | None:
    """A lining is stitched on along the edges unless something else is said."""
    given = spec.stitching or (Stitching() if spec.lining else None)
    if given is None:
        return None
    return Stitching(
        inset=given.inset or defaults.stitch_inset,
        per_inch=None if given.pitch else given.per_inch or defaults.stitches_per_inch,
        pitch=given.pitch,
        strands=given.strands or defaults.stitch_strands,
        edges=True if given.edges is None else given.edges,
        turn_back=bool(given.turn_back),
    )
