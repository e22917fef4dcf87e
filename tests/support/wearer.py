"""A wearer: closes a strap at every size hole and says what lies under the tip.

It knows the JSON answer and the sizes of the shop's goods, and nothing of how the strap was laid out: pieces are laid
together by the holes that mate, and the bar's place follows from the finished length, or, of a strap that is joined by
another at two buckles, from the fold: the leather runs round the bar and straight from there to the rivet (bend
allowance, `π (b / 2 + t / 2)` for the half turn: Machinery's Handbook). Outlines are read by svgelements, distances are
shapely's. All lengths are millimetres.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import hypot, pi, sqrt

from shapely import Point, Polygon, box
from svgelements import Move
from svgelements import Path as SvgPath

SET = ("ornament", "between", "border")
SNAP = ("snap_cap", "snap_stud")
TOUCH = 0.02
"""A curve is taken as chords inside it."""
BY = 0.03
"""Millimetres that chords and halving may be off."""


@dataclass(frozen=True)
class Touched:
    """What lies under the tip, by how much the tip would have to be shorter, and whether it lets the tip lie down."""

    at: str
    by: float
    stands_up: bool


def touched_at_each_hole(answer, shop):
    """For each size hole, the nearest to the buckle first, what the tip touches; nothing for a strap without any."""
    pieces = {piece["name"]: piece for piece in answer["pieces"]}
    if answer["finished"]["measured_from"] == "stud":
        return _touched_on_each_stud(pieces, shop)
    if "joining_strap" in pieces:
        return _touched_by_both_tips(answer, pieces, shop)
    tongue = next((p for p in pieces.values() if any(f["purpose"] == "size_hole" for f in p["features"])), None)
    if tongue is None or not any("fits" in hole for hole in answer["finished"]["holes"]):
        return []
    main = pieces.get("body") or pieces["strap"]
    holes = sorted({f["x_mm"] for f in tongue["features"] if f["purpose"] == "size_hole"})
    bar = holes[len(holes) // 2] + _laid_on(tongue, main) - answer["finished"]["from"]["bar_mm"]
    things = [*_things(main, shop, bar), *_ring(answer, main, shop, bar)]
    return [_under(_tip(tongue, hole), things, tongue["length_mm"] - hole) for hole in holes]


def _touched_on_each_stud(pieces, shop):
    """For each stud, the tightest first: the end with the cap is laid on the one with the studs, cap on stud."""
    main = pieces.get("body") or pieces["strap"]
    halves = {half: [(p, f) for p in pieces.values() for f in p["features"] if f["purpose"] == half] for half in SNAP}
    ((over, cap),), studs = halves["snap_cap"], halves["snap_stud"]
    places = sorted(stud["x_mm"] + _laid_on(piece, main) for piece, stud in studs)
    inwards = 1 if cap["x_mm"] + _laid_on(over, main) > places[-1] else -1
    found = []
    for stud in places[::-inwards]:
        things = [(at, (inwards * x, y), r, height) for at, (x, y), r, height in _things(main, shop, stud)]
        points = [(inwards * (x - cap["x_mm"]), y) for x, y in _points(over["outline"])]
        beyond = Polygon(points).intersection(box(0, -over["width_mm"], over["length_mm"], over["width_mm"]))
        found.append(_under(beyond, things, beyond.bounds[2]))
    return found


def _touched_by_both_tips(answer, pieces, shop):
    """For each hole, the nearest to the joining strap's middle first: it is buckled at that hole at both ends."""
    main, joining = pieces.get("body") or pieces["strap"], pieces["joining_strap"]
    bars = [_bar(answer, pieces, main, shop, is_foot=is_foot) for is_foot in (False, True)]
    assert abs(bars[1] - bars[0] - answer["finished"]["from"]["bar_mm"]) < BY, "the bars are not where the answer says"
    holes = sorted({f["x_mm"] for f in joining["features"] if f["purpose"] == "size_hole"})
    found = []
    for tight, loose in zip(holes[len(holes) // 2 :], reversed(holes[: len(holes) // 2]), strict=True):
        assert abs(tight + loose - joining["length_mm"]) < BY, "its two rows are not alike"
        near = [*_things(main, shop, bars[0]), *_ring(answer, main, shop, bars[0])]
        far = [(at, (-x, y), radius, height) for at, (x, y), radius, height in _things(main, shop, bars[1])]
        tip, reach = _tip(joining, tight), joining["length_mm"] - tight
        both = [*_under(tip, near, reach), *_under(tip, far, reach)]
        farthest = {touch.at: touch for touch in sorted(both, key=lambda touch: touch.by)}
        found.append(list(farthest.values()))
    return found


def _bar(answer, pieces, main, shop, *, is_foot):
    """Where the bar of the buckle at one end lies, along the main piece, made up."""
    purpose = "foot_buckle" if is_foot else "buckle"
    buckle = shop.buckles[next(line["item"] for line in answer["hardware"] if line["for"] == purpose)]
    names = ("foot_buckle_billet",) if is_foot else ("head_buckle_billet", "buckle_billet")
    piece = next((pieces[name] for name in names if name in pieces), main)
    folds = sorted(f["x_mm"] for f in piece["features"] if f["kind"] == "fold")
    fold, inwards = (folds[-1], -1) if is_foot else (folds[0], 1)
    held = min(away for x in _held_at(piece) if (away := (x - fold) * inwards) > 0)
    plies = [piece, pieces["lining"]] if piece is main and "lining" in pieces else [piece]
    half, leather = buckle.folded_round / 2e6, sum(ply["thickness_mm"] for ply in plies)
    straight = held - pi * (half + leather / 2) / 2
    return fold + inwards * (held - sqrt(straight**2 - half**2)) + _laid_on(piece, main)


def _held_at(piece):
    """Where a fold is held: at its rivets, or by its stitches."""
    yield from (f["x_mm"] for f in piece["features"] if f["purpose"] == "fold_rivet")
    for line in piece.get("stitch_lines", ()):
        if ".fold_stitch." in line["id"]:
            left, _, right, _ = SvgPath(line["path"]).bbox()
            yield from (left, right)


def assert_worn_as_told(answer, shop):
    """The wearer finds what `worn` tells, hole by hole, and as far."""
    found = touched_at_each_hole(answer, shop)
    sizes = answer["finished"].get("joined", answer["finished"])["holes"]
    assert len(answer["worn"]) == len(found) == sum("fits" in hole for hole in sizes)
    middle = (len(found) - 1) // 2
    for n, (told, touched) in enumerate(zip(answer["worn"], found, strict=True)):
        assert told["hole"] == n + 1
        covers = {cover["at"]: cover for cover in told["covers"]}
        sure = {at: cover for at, cover in covers.items() if cover["by_mm"] > BY}
        felt = {touch.at: touch for touch in touched}
        assert set(sure) <= set(felt) <= set(covers)
        for at, cover in sure.items():
            assert abs(cover["by_mm"] - felt[at].by) < BY
            assert (cover["severity"] == "fault") == (n == middle and felt[at].stands_up)


def _laid_on(tongue, main):
    """How far along the main piece the tongue's own origin lies: by its lap, or by holes that take one rivet."""
    if tongue is main:
        return 0
    if "lap_mm" in tongue:
        is_foot = tongue["name"] == "tongue_billet" or tongue["name"].startswith("foot_")
        return main["length_mm"] - tongue["lap_mm"] if is_foot else tongue["lap_mm"] - tongue["length_mm"]
    places = {f["id"]: f["x_mm"] for f in main["features"]}
    hole = next(f for f in tongue["features"] if f["mates"] and f["mates"][0] in places)
    return places[hole["mates"][0]] - hole["x_mm"]


def _things(main, shop, bar):
    """What is set on the strap beyond the bar: its id, its place from the bar, half its width, and its height."""
    for feature in main["features"]:
        if feature["purpose"] in SET:
            item = shop.ornaments[feature["item"]]
            centre = (feature["x_mm"] - bar, feature["y_mm"])
            yield feature["id"], centre, item.diameter / 2e6, item.height / 1e6


def _ring(answer, main, shop, bar):
    """The collar ring stands in the loop round the front ply: between two rivets, or two seams."""
    for line in answer["hardware"]:
        if line["for"] == "lead_ring":
            ring = shop.rings[line["item"]]
            names = ("buckle_billet", "head_buckle_billet")
            head = next((p for p in answer["pieces"] if p["name"] in names), main)
            at = 0 if head is main else _before(head, main)
            front = [x + at for x in _beside_ring(answer, head, shop)]
            plies = [shop.leathers[p["leather"]].thick for p in answer["pieces"] if p["name"] in ("strap", "lining")]
            passing = next((p for p in answer["pieces"] if p["name"] == "joining_strap"), main)["width_mm"]
            through = hypot(passing, 2 * sum(plies) / 1e6) <= ring.inside_width / 1e6
            wire = ring.thickness / 1e6
            yield "lead_ring", (sum(front[:2]) / len(front[:2]) - bar, 0), wire / 2, 0 if through else wire


def _beside_ring(answer, head, shop):
    """Both sides of the ring's room: the rims of the first two rivets, or keepers over them, or the gap in the seam."""
    fold = min(f["x_mm"] for f in head["features"] if f["kind"] == "fold")
    lines = [[p.x for p in SvgPath(line["path"]).as_points()] for line in head.get("stitch_lines", [])
             if "fold_stitch" in line["id"]]  # fmt: skip
    spans = sorted((min(xs), max(xs)) for xs in lines if min(xs) > fold)
    if spans:
        return max(high for low, high in spans if low == spans[0][0]), spans[-1][0]
    front = (f for f in head["features"] if f["purpose"] == "fold_rivet" and f["x_mm"] > fold)
    first, second = (sorted(front, key=lambda f: f["x_mm"]) * 2)[:2]
    keepers = [p for p in answer["pieces"] if p["name"] == "fixed_keeper"]
    wide = [keepers[0]["width_mm"] if len(f["mates"]) > 1 else shop.fasteners[f["item"]].cap_diameter / 1e6
            for f in (first, second)]  # fmt: skip
    return first["x_mm"] + wide[0] / 2, second["x_mm"] - wide[1] / 2


def _before(head, main):
    """How far along the main piece a billet at the head has its own origin."""
    if "lap_mm" in head:
        return head["lap_mm"] - head["length_mm"]
    places = {f["id"]: f["x_mm"] for f in main["features"]}
    return next(places[mate] - f["x_mm"] for f in head["features"] for mate in f["mates"] if mate in places)


def _tip(tongue, hole):
    """The tongue from the hole on, with the hole at the origin: as it lies when the hole is on the bar."""
    width, length = tongue["width_mm"], tongue["length_mm"]
    whole = Polygon([(x - hole, y) for x, y in _points(tongue["outline"])])
    return whole.intersection(box(0, -width, length, width))


@lru_cache(maxsize=64)
def _points(outline):
    segments = [each for each in SvgPath(outline) if not isinstance(each, Move)]
    steps = {"Arc": 100, "CubicBezier": 100}
    found = [(each, n, steps.get(type(each).__name__, 1)) for each in segments for n in range(100)]
    return [(point.x, point.y) for each, n, most in found if n < most for point in [each.point(n / most)]]


def _under(tip, things, reach):
    """What of these the tip lies over, the nearest to the bar first."""
    return [
        Touched(at, by, height > 3.5)
        for at, (x, y), radius, height in sorted(things, key=lambda thing: (thing[1][0], thing[0]))
        if x - radius < reach and (by := _shorter(tip, (x, y), radius)) > TOUCH
    ]


def _shorter(tip, centre, radius):
    """By how much the tip has to be drawn back until it no longer lies over a disc: found by halving."""
    x, y = centre
    if tip.distance(Point(x, y)) >= radius:
        return 0
    low, high = 0, tip.bounds[2] - x + radius + 1
    while high - low > 0.001:
        middle = (low + high) / 2
        low, high = (low, middle) if tip.distance(Point(x + middle, y)) >= radius else (middle, high)
    return high
