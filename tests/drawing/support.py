"""Straps to draw, random patterns that no solver would allow, and what a drawing shows, flattened."""

from dataclasses import dataclass
from math import cos, radians, sin

from hypothesis import strategies as st

from service.drawing.font import ASCENT, DESCENT, text_width
from service.drawing.model import Group, Text
from service.schemas.goods import END_SHAPES
from service.shop_file import demo_shop
from service.strap.filling.fill import fill
from service.strap.model.pattern import EndAt, Feature, Finished, Pattern, Piece
from service.strap.model.spec import Body, Ends, Size, Spec, StrapEnd
from service.strap.model.spec_set import Between, Border, Row
from service.strap.plane.lengths import INCH, MM, SIXTY_FOURTH
from service.strap.plane.outline import default_depth, strap_outline
from service.strap.solve import solve

SHOP = demo_shop()


def three_piece() -> Pattern:
    """The strap of the worked example: 24 × 2 1/2 in, six bells, five spots (common practice)."""
    return solve(
        Spec(
            construction="three_piece",
            size=Size(body_length=24 * INCH),
            units="in",
            body=Body(width=5 * INCH // 2),
            ornaments=Row(item="bell_30", count=6, spacing="ruler"),
            between=Between(item="spot_10", per_gap=1),
            border=Border(item="spot_6", inset=INCH // 4, step=INCH),
        ),
        SHOP,
    )


def one_piece() -> Pattern:
    """A dancer's garter with four bells."""
    size = Size(finished_length=15 * INCH, measured_from="fold")
    row = Row(item="bell_25", count=4)
    return solve(Spec(construction="one_piece", size=size, units="in", ornaments=row), SHOP)


def open_strap() -> Pattern:
    """A door hanging: a ring at its head, a hole at its foot."""
    ends = Ends(head=StrapEnd(kind="ring"), foot=StrapEnd(kind="hole", shape="round"))
    row = Row(item="bell_25", count=9, spacing="even")
    size = Size(body_length=30 * INCH)
    spec = Spec(
        construction="open",
        size=size,
        units="mm",
        ends=ends,
        ornaments=row,
        between=Between(item="spot_10", per_gap=1),
    )
    return solve(spec, SHOP)


STRAPS = {"three_piece": three_piece, "one_piece": one_piece, "open": open_strap}

FINISHED = Finished(
    measured_from="fold",
    length=INCH,
    from_fold=INCH,
    from_bar=INCH,
    from_frame=INCH,
    holes=(),
    weight_mg=0,
    over_all=INCH,
    head_at=EndAt(0, 0),
    foot_at=EndAt(INCH, INCH),
)


def unchecked(piece: Piece, construction: str = "open") -> Pattern:
    """A pattern of one piece that nobody has checked: the sheet has to cope with anything."""
    spec = Spec(construction=construction, size=Size(body_length=piece.length), units="in")
    return Pattern(spec=fill(spec, SHOP), finished=FINISHED, pieces=(piece,), placements=(), hardware=())


def piece_of(length: int, width: int, features: tuple[Feature, ...], shapes=("square", "english_point")) -> Piece:
    """A strap with the demo shop's leather and any features."""
    leather = SHOP.leathers["harness_8_9"]
    ends = [(shape, min(default_depth(shape, width), length // 3)) for shape in shapes]
    return Piece(
        name="strap",
        leather=leather,
        length=length,
        width=width,
        outline=strap_outline(length, width, *ends),
        features=features,
        thickness=leather.thickness,
        skived=leather.thickness,
    )


def _feature(kind: str, place: tuple[int, int], number: int) -> Feature:
    x, y = place
    where = {"id": f"strap.{kind}.{number}", "x": x, "y": y}
    if kind == "hole":
        return Feature(kind="hole", action="punch", purpose="joint", diameter=INCH // 8, tool="punch_3", **where)
    if kind == "fold":
        return Feature(kind="fold", action="fold", purpose="fold_line", id=where["id"], x=x)
    if kind == "mark":
        return Feature(kind="mark", action="mark", purpose="between", item="spot_6", **where)
    if kind == "border":
        return Feature(kind="mark", action="mark", purpose="border", item="spot_6", **where)
    method = "one_punch" if kind == "slot" else "holes_and_cuts"
    size = {"length": 5 * INCH // 8, "width": INCH // 8, "angle": 90, "method": method}
    return Feature(kind="slot", action="punch", purpose="ornament", tool="slot_16", **size, **where)


@st.composite
def patterns(draw) -> Pattern:
    """Patterns with features wherever they fall, on one another if need be."""
    length = draw(st.integers(3 * 64, 84 * 64)) * SIXTY_FOURTH
    width = draw(st.integers(24, 6 * 64)) * SIXTY_FOURTH
    kinds = st.sampled_from(["hole", "slot", "cuts", "mark", "border", "fold"])
    rows = draw(st.lists(st.integers(-width // 2, width // 2), min_size=1, max_size=4))
    places = st.tuples(st.integers(0, length), st.sampled_from([0, *rows]))
    most = draw(st.sampled_from([5, 40, 150]))
    found = draw(st.lists(st.tuples(kinds, places), max_size=most))
    features = tuple(_feature(kind, place, number) for number, (kind, place) in enumerate(found))
    shapes = st.sampled_from(END_SHAPES)
    return unchecked(piece_of(length, width, features, (draw(shapes), draw(shapes))))


@dataclass(frozen=True)
class Box:
    """The space that a text takes up on the sheet, in millimetres."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Box") -> bool:
        """Whether the two share more than a rounding error."""
        return (
            min(self.right, other.right) - max(self.left, other.left) > 1e-6
            and min(self.bottom, other.bottom) - max(self.top, other.top) > 1e-6
        )


def flat(items, x=0.0, y=0.0):
    """Every item that is no group, with where its frame's origin lies; the sheet turns no groups."""
    for item in items:
        if isinstance(item, Group):
            assert item.rotation == 0
            yield from flat(item.items, x + item.x, y + item.y)
        else:
            yield item, x, y


def all_items(drawing):
    """Every item of every layer with its frame's origin."""
    for layer in drawing.layers:
        yield from flat(layer.items)


def text_boxes(drawing) -> list[Box]:
    """Where every text of the drawing stands."""
    return [_box(item, x, y) for item, x, y in all_items(drawing) if isinstance(item, Text)]


def _box(text: Text, x: float, y: float) -> Box:
    width = text_width(text.text, text.size, text.weight)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
    turn = radians(text.rotation)
    corners = [
        (
            x + text.x + u * cos(turn) - v * sin(turn),
            y + text.y + u * sin(turn) + v * cos(turn),
        )
        for u in (start, start + width)
        for v in (-ASCENT * text.size, DESCENT * text.size)
    ]
    across, down = zip(*corners, strict=True)
    return Box(text.text, min(across), min(down), max(across), max(down))


def overlapping(boxes: list[Box]) -> list[tuple[str, str]]:
    """Pairs of texts that stand on one another, found by sweeping along x."""
    found, open_boxes = [], []
    for box in sorted(boxes, key=lambda each: each.left):
        open_boxes = [other for other in open_boxes if other.right > box.left]
        found += [(box.text, other.text) for other in open_boxes if box.overlaps(other)]
        open_boxes.append(box)
    return found


def millimetre_feature(feature: Feature) -> tuple[float, float]:
    """The feature's centre in millimetres."""
    return feature.x / MM, feature.y / MM
