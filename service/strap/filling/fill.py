"""Saying what a spec left unsaid, from the shop's defaults and goods. Refuses nothing."""

from dataclasses import replace

from service.shop.goods import Nm
from service.shop.shop import Defaults, Shop
from service.strap.ends.shapes import end_form
from service.strap.filling.fill_ends import fill_ends, is_held_whole
from service.strap.filling.fill_set import filled_between, filled_borders, filled_keepers, filled_row, filled_stitching
from service.strap.filling.fill_size import filled_size
from service.strap.filling.fill_splices import filled_splices
from service.strap.filling.fill_tapers import filled_edge, filled_edging, filled_taper, said_again
from service.strap.filling.joining import fill_joining
from service.strap.model.filled import Filled, FilledBody, FilledJoint
from service.strap.model.filled_ends import FilledBillet, FilledEnds
from service.strap.model.hardware import likest_fastener
from service.strap.model.kind import Unsaid
from service.strap.model.loads import bears_load, is_decorated
from service.strap.model.plies import plies_of, stack
from service.strap.model.spec import Billet, Body, End, Spec
from service.strap.model.two_ends import is_said_by_ends, narrowest, two_ends


def fill(given: Spec, shop: Shop) -> Filled:
    """The spec with every field said that its construction uses.

    Ids that the shop does not have are kept: `service.strap.filling.resolve` refuses them.
    """
    units = given.units or shop.defaults.units
    defaults, ends = shop.defaults.in_units(units), two_ends(given)
    width = given.body.width or (defaults.strip_width if is_held_whole(ends) else defaults.body_width)
    body = _body(given.body, width, shop, defaults)
    two = fill_ends(ends, body, Unsaid(width=width, shop=shop, defaults=defaults))
    by_ends = is_said_by_ends(given)
    worn_by = given.worn_by or (table.worn_by if (table := shop.size_tables.get(given.size.table or "")) else None)
    bears = bears_load(two, worn_by, decorated=is_decorated(given))
    splices = filled_splices(given.body.splices, defaults, bears=bears)
    return Filled(
        construction=given.construction,
        size=filled_size(given.size, shop, shop.rules.in_units(units).ease, closes=two.closes),
        units=units,
        worn_by=worn_by,
        hand=given.hand,
        leather=given.leather or defaults.leather,
        lining=given.lining,
        body=replace(body, end=given.body.end if two.is_strip else body.end, splices=splices),
        billet=given.billet if by_ends else _billet(given.billet, two),
        joint=_joint(given, two, defaults, shop),
        ends=two if by_ends else given.ends,
        ornaments=filled_row(given.ornaments, width),
        between=filled_between(given.between),
        border=filled_borders(given.border, defaults),
        keepers_between=filled_keepers(given.keepers_between, shop.rules.in_units(units)),
        edging=filled_edging(given.edging, shop, defaults, glued=bool(given.lining and not given.lining_is_loose)),
        stitching=filled_stitching(given, defaults),
        joining_strap=fill_joining(given.joining_strap, _narrowest(two, body), shop, defaults),
        two=two,
    )


def _narrowest(two: FilledEnds, body: FilledBody) -> Nm:
    """The narrower of what lies outermost at both ends: a billet, or the body there."""
    tapered = (taper.to if taper else body.width for taper in body.narrows)
    ends = zip(two.both, tapered, strict=True)
    return min(end.outer_width if isinstance(end, FilledBillet) else width for end, width in ends)


def _body(body: Body, width: Nm, shop: Shop, defaults: Defaults) -> FilledBody:
    """A body as what is riveted to it finds it."""
    head, foot = (filled_taper(taper, width, shop) if taper else None for taper in body.tapers)
    narrow = narrowest(replace(body, width=width)) if body.taper else width
    shape, depth = end_form(body.end, defaults.body_end, narrow)
    cut = filled_edge(body.edge, shop, defaults)
    return FilledBody(
        width=width,
        end=End(shape=shape, depth=depth),
        taper=said_again(body.taper, head, foot),
        narrows=(head, foot),
        edge=cut or body.edge,
        cut=cut,
    )


def _billet(given: Billet, two: FilledEnds) -> Billet:
    """The buckled parts of a short form, as its ends are filled."""
    buckled, tip = two.outermost
    return Billet(
        width=given.width if two.is_strip else two.head.width,
        buckle=buckled.buckle,
        tip=End(shape=tip.shape, depth=tip.depth),
        size_holes=tip.size_holes,
        prong_slot=given.prong_slot,
        keeper=bool(buckled.keepers),
        keeper_width=given.keeper_width,
        ring=given.ring,
        tip_length=given.tip_length,
    )


def _joint(given: Spec, two: FilledEnds, defaults: Defaults, shop: Shop) -> FilledJoint:
    joint = given.joint
    return FilledJoint(
        fastener=joint.fastener or _usual_fastener(given, two, defaults, shop),
        count=joint.count or defaults.joint_count,
        spacing=joint.spacing or defaults.joint_spacing,
        end_distance=joint.end_distance or defaults.joint_end_distance,
    )


def _usual_fastener(given: Spec, two: FilledEnds, defaults: Defaults, shop: Shop) -> str:
    """The shop's usual one, or the likest to it that holds the joint; of leathers that are not known the usual one."""
    leather, lining = (
        shop.leathers.get(given.leather or defaults.leather),
        shop.leathers.get(given.lining_leather or ""),
    )
    if leather is None or (given.lining_leather and lining is None):
        return defaults.joint_fastener
    joint = stack(plies_of(two, leather, lining).joint)
    return likest_fastener(joint, shop, shop.fasteners[defaults.joint_fastener]).id
