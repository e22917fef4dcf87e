"""Random specs for property tests: mostly sensible, sometimes too tight, too long or too wide."""

import pytest
from hypothesis import strategies as st

from service.schemas.goods import END_SHAPES
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.spec import Billet, Body, End, Ends, Joint, Lining, Size, SizeHoles, Spec, Stitching, StrapEnd
from service.strap.model.spec_changes import apply
from service.strap.model.spec_set import Between, Border, Row, Rows
from service.strap.plane.lengths import INCH, MM
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve

SHOP = demo_shop()
LINING = "lining_2_3"
LEATHERS = [name for name in SHOP.leathers if name != LINING]


def sixteenths(low: float, high: float):
    """Lengths in whole sixteenths of an inch."""
    return st.integers(round(low * 16), round(high * 16)).map(lambda n: n * INCH // 16)


def half_millimetres(low: float, high: float):
    """Lengths in whole half millimetres."""
    return st.integers(round(low * 2), round(high * 2)).map(lambda n: n * MM // 2)


def maybe(strategy):
    """A value, or nothing said, more often nothing."""
    return st.one_of(st.none(), st.none(), strategy)


def ends():
    """Shapes of an end; round and square ones have the only depth that they can have."""
    return st.builds(
        lambda shape, depth: End(shape=shape, depth=None if shape in ("round", "square") else depth),
        st.sampled_from(END_SHAPES),
        maybe(sixteenths(1 / 8, 1.5)),
    )


def sizes(names: list[str]):
    """A size stated in one of the ways."""
    length = st.one_of(sixteenths(16, 60), sixteenths(6, 60))
    ways = {
        "body_length": st.builds(Size, body_length=length),
        "finished_length": st.builds(
            Size, finished_length=length, measured_from=st.sampled_from(["fold", "bar", "frame"])
        ),
        "open_finished": st.builds(Size, finished_length=length),
        "girth": st.builds(Size, girth=length, ease=maybe(sixteenths(0, 2))),
        "table": st.sampled_from(
            [Size(table=table.id, label=label) for table in SHOP.size_tables.values() for label in table.sizes]
        ),
    }
    return st.one_of([ways[name] for name in names])


def spacings():
    """A rule, or a pitch."""
    return st.one_of(st.none(), st.sampled_from(["ruler", "even"]), sixteenths(1 / 2, 4))


def rows():
    """Ornaments along the middle: of one kind, or several arranged in some way, in one row or more."""
    ids = st.sampled_from(list(SHOP.ornaments))
    across = st.builds(
        Rows,
        count=st.integers(1, 3),
        across=st.sampled_from(["level", "staggered"]),
        distance=maybe(sixteenths(1 / 2, 1.5)),
    )
    one = st.builds(
        Row,
        item=ids,
        count=st.one_of(st.integers(0, 6), st.integers(0, 14)),
        spacing=spacings(),
        centrepiece=st.one_of(st.none(), st.none(), maybe(ids)),
        rows=st.one_of(st.none(), st.none(), maybe(across)),
    )
    several = st.builds(
        Row,
        items=st.lists(ids, min_size=1, max_size=4).map(tuple),
        arrange=maybe(st.sampled_from(["graduated", "alternating", "sequence"])),
        count=st.integers(0, 10),
        spacing=spacings(),
        centrepiece=maybe(ids),
    )
    return st.one_of(one, one, one, several)


SPOTS = ["spot_6", "spot_10"]
BETWEENS = st.builds(Between, item=st.sampled_from(SPOTS), per_gap=maybe(st.integers(1, 3)))
BORDERS = st.builds(
    Border,
    item=st.sampled_from(SPOTS),
    inset=maybe(sixteenths(1 / 8, 1 / 2)),
    step=maybe(sixteenths(3 / 8, 2)),
)


def one_or_more(part):
    """One part alone, most often, or a list of them."""
    listed = st.lists(part, min_size=1, max_size=3).map(tuple)
    return st.one_of(part, part, part, listed)


JOINTS = st.builds(
    Joint,
    fastener=maybe(st.sampled_from(list(SHOP.fasteners))),
    count=maybe(st.integers(1, 3)),
    spacing=maybe(sixteenths(1 / 8, 1.5)),
    end_distance=maybe(sixteenths(1 / 8, 1)),
)
HOLES = st.builds(SizeHoles, count=maybe(st.sampled_from([1, 3, 5, 7])), spacing=maybe(sixteenths(1 / 4, 1.5)))


def billets(construction: str):
    """The buckled parts."""
    return st.builds(
        Billet,
        width=maybe(sixteenths(3 / 4, 1.5)) if construction == "three_piece" else st.none(),
        buckle=maybe(st.sampled_from(list(SHOP.buckles))),
        tip=st.one_of(st.just(End()), ends()),
        size_holes=HOLES,
        keeper=maybe(st.booleans()),
        ring=maybe(maybe(st.sampled_from(list(SHOP.rings)))) if construction == "one_piece" else st.none(),
    )


def strap_ends():
    """Ends of an open strap."""
    plain = st.builds(lambda end: StrapEnd(kind="plain", shape=end.shape, depth=end.depth), ends())
    slot = st.builds(StrapEnd, kind=st.just("slot"), slot=maybe(sixteenths(3 / 8, 1)))
    hole = st.builds(StrapEnd, kind=st.just("hole"), hole=maybe(st.sampled_from([INCH // 4, INCH // 8, 8 * MM])))
    ring = st.builds(StrapEnd, kind=st.just("ring"), ring=maybe(st.sampled_from(list(SHOP.rings))))
    return st.one_of(st.just(StrapEnd()), plain, hole, slot, ring)


def linings():
    """Mostly none, then mostly the thin one, its purpose said or not."""
    thick = maybe(maybe(st.sampled_from(LEATHERS)))
    said = st.builds(Lining, leather=st.just(LINING), purpose=st.sampled_from(["cover", "carry"]))
    return maybe(st.one_of(st.none(), st.just(LINING), said, thick))


def stitchings(construction: str):
    """Mostly none; by stitches to the inch or by pitch, along the edges and in the folds or not."""
    fineness = st.one_of(
        st.just({}),
        st.builds(lambda count: {"per_inch": count}, st.integers(4, 13)),
        st.builds(lambda pitch: {"pitch": pitch}, half_millimetres(1.5, 6)),
    )
    stitching = st.builds(
        lambda fine, **more: Stitching(**fine, **more),
        fineness,
        inset=maybe(sixteenths(1 / 16, 5 / 8)),
        strands=maybe(st.integers(1, 2)),
        edges=maybe(st.booleans()),
        turn_back=st.booleans() if construction != "open" else maybe(st.booleans()),
    )
    return st.one_of(st.none(), maybe(stitching), maybe(stitching))


def seldom(strategy, usual):
    """What is usual, and now and then something else: a strap in which everything is odd proves little."""
    return st.one_of(usual, usual, usual, strategy)


@st.composite
def specs(draw, construction: str):
    """A spec of one construction: about half of them can be made."""
    buckled = construction != "open"
    three_piece = construction == "three_piece"
    nothing = st.none()
    ways = ["body_length", "finished_length", "girth", "table"] if buckled else ["body_length", "open_finished"]
    ornaments = draw(st.one_of(nothing, rows(), rows()))
    has_row = ornaments is not None and ornaments.count > 0
    plain_border = st.builds(Border, item=st.just("spot_6"))
    return Spec(
        construction=construction,
        size=draw(sizes(ways)),
        units=draw(st.sampled_from(["in", "mm"])),
        leather=draw(maybe(st.sampled_from(LEATHERS))),
        lining=draw(seldom(linings(), nothing)),
        body=Body(
            width=draw(maybe(sixteenths(3 / 4, 4 if three_piece else 2))),
            end=draw(seldom(ends(), st.just(End()))) if three_piece else End(),
        ),
        billet=draw(seldom(billets(construction), st.just(Billet()))) if buckled else Billet(),
        joint=draw(seldom(JOINTS, st.just(Joint()))),
        ends=Ends() if buckled else Ends(head=draw(strap_ends()), foot=draw(strap_ends())),
        ornaments=ornaments,
        between=draw(seldom(maybe(one_or_more(BETWEENS)), nothing)) if has_row else None,
        border=draw(st.one_of(nothing, maybe(plain_border), maybe(one_or_more(BORDERS)))),
        stitching=draw(seldom(stitchings(construction), nothing)),
    )


def assert_told_and_mended(spec, code, path, shop):
    """The spec is refused by that code at that place, and every remedy that is offered is accepted."""
    with pytest.raises(Refusal) as refusal:
        solve(spec, shop)
    faults = refusal.value.faults
    assert (code, path) in {(fault.code, fault.path) for fault in faults}
    assert all(fault.detail.endswith((".", "?")) for fault in faults)
    remedies = find_remedies(spec, shop, faults)
    assert remedies
    for remedy in remedies:
        solve(apply(spec, remedy.changes), shop)
