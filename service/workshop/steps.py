"""The work at the bench, in order.

Cut strips, shape ends, line and stitch, punch tool by tool, mark, skive, set, lace, fold, join.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import NamedTuple

from service.shop.goods import Nm
from service.shop.shop import Shop, Units
from service.strap.laces import laces_of
from service.strap.lengths import reading
from service.strap.pattern import Feature, Pattern, Piece, StitchPurpose
from service.strap.spec import Spec
from service.workshop.names import called, item_title, purpose_title, tool_title
from service.workshop.setting import setting_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing to do. `piece` is `None` where it concerns the whole strap, `tool` where the hands do."""

    n: int
    piece: str | None
    do: str
    tool: str | None
    features: tuple[str, ...] = ()
    """The ids of what is punched or marked in it."""


class _Draft(NamedTuple):
    piece: str | None
    do: str
    tool: str | None
    features: tuple[str, ...] = ()


def steps(pattern: Pattern, shop: Shop) -> tuple[Step, ...]:
    """Every step of making the strap, numbered from 1. Punching is grouped so that each tool is picked up once."""
    units = pattern.spec.units or shop.defaults.units
    drafts = [
        *_strips(pattern, units),
        *_lengths(pattern, units),
        *_ends(pattern, shop, units),
        *_lining(pattern),
        *_pricking(pattern, units),
        *_sewing(pattern, "edge_stitch", units),
        *_punching(pattern, shop),
        *_marking(pattern, shop),
        *_skiving(pattern, units),
        *_setting(pattern, shop),
        *_folding(pattern, shop),
        *_sewing(pattern, "fold_stitch", units),
        *_joining(pattern, shop),
    ]
    return tuple(Step(n=n, **draft._asdict()) for n, draft in enumerate(drafts, 1))


def _strips(pattern: Pattern, units: Units) -> Iterator[_Draft]:
    """One strip for each width and leather; the strap cutter is set once for each."""
    widest_first = sorted(pattern.pieces, key=lambda piece: (-piece.width, piece.leather.id, piece.name))
    for (width, _), group in groupby(widest_first, key=lambda piece: (piece.width, piece.leather.id)):
        pieces = list(group)
        total = sum(piece.length for piece in pieces)
        names = ", ".join(called(piece.name) for piece in pieces)
        yield _Draft(
            None,
            f"Set the strap cutter to {reading(width, units)} and cut {reading(total, units)} of strip "
            f"from {pieces[0].leather.title} for {names}.",
            "strap cutter",
        )


def _lengths(pattern: Pattern, units: Units) -> Iterator[_Draft]:
    for piece in pattern.pieces:
        do = f"Cut the {called(piece.name)} to {reading(piece.length, units)}."
        yield _Draft(piece.name, do, "knife")


def _ends(pattern: Pattern, shop: Shop, units: Units) -> Iterator[_Draft]:
    for piece in pattern.pieces:
        shaped = [form for form in (piece.outline.head, piece.outline.foot) if form[0] != "square"]
        for shape, depth in dict.fromkeys(shaped):
            count = shaped.count((shape, depth))
            ends = "both ends" if count == 2 else "one end"
            punch = next(
                (p.id for p in shop.end_punches.values() if (p.shape, p.width, p.depth) == (shape, piece.width, depth)),
                None,
            )
            do = f"Shape {ends} of the {called(piece.name)}: {called(shape)}, {reading(depth, units)} deep."
            yield _Draft(piece.name, do, punch or "knife")


def _lining(pattern: Pattern) -> Iterator[_Draft]:
    if pattern.piece("lining"):
        lined = called(pattern.pieces[0].name)
        do = f"Glue the lining behind the {lined}, flesh side to flesh side, and trim it flush with the edges."
        yield _Draft("lining", do, "glue brush")


def _pricking(pattern: Pattern, units: Units) -> Iterator[_Draft]:
    """Every line of stitches, while the strap lies flat; equal ones together."""
    for piece in pattern.pieces:
        alike = Counter((line.purpose, line.inset, line.holes, line.pitch, line.closed) for line in piece.stitch_lines)
        for (purpose, inset, holes, pitch, closed), count in alike.items():
            lines = "" if count == 1 else f"{count} lines of "
            fixed = "one in every corner" if closed else "one at each end"
            do = (
                f"Prick the {called(piece.name)} {_SEAMS[purpose]}, {reading(inset, units)} inside the edge: "
                f"{lines}{holes} holes, {reading(pitch, units)} apart, {fixed}."
            )
            yield _Draft(piece.name, do, "pricking iron")


def _sewing(pattern: Pattern, purpose: StitchPurpose, units: Units) -> Iterator[_Draft]:
    for thread in (line for line in pattern.hardware if line.purpose == purpose and line.length is not None):
        strands = "one strand" if _strands(pattern) == 1 else f"{_strands(pattern)} strands"
        lines = "the line" if thread.count == 1 else f"{thread.count} lines, each"
        do = f"Sew {lines} {_SEAMS[purpose]} with {reading(thread.length or 0, units)} of thread in all, in {strands}."
        yield _Draft(None, do, "needles")


_SEAMS: dict[StitchPurpose, str] = {"edge_stitch": "along the edges", "fold_stitch": "where its fold is sewn"}


def _strands(pattern: Pattern) -> int:
    return pattern.spec.stitching.strands or 1 if pattern.spec.stitching else 1


def _features(pattern: Pattern, action: str) -> list[tuple[Piece, Feature]]:
    return [(piece, f) for piece in pattern.pieces for f in piece.features if f.action == action]


def _punching(pattern: Pattern, shop: Shop) -> Iterator[_Draft]:
    """All that one tool cuts, over all pieces; slots without a punch of their own come last, with the knife."""
    cuts = _features(pattern, "punch")
    for method in ("one_punch", "holes_and_cuts"):
        of_method = [(piece, f) for piece, f in cuts if f.method == method]
        ordered = sorted(of_method, key=lambda cut: cut[1].tool or "")
        for tool, group in groupby(ordered, key=lambda cut: cut[1].tool or ""):
            yield _punch_step(list(group), tool, method, shop)


def _punch_step(cuts: list[tuple[Piece, Feature]], tool: str, method: str, shop: Shop) -> _Draft:
    pieces = dict.fromkeys(piece.name for piece, _ in cuts)
    what = "; ".join(f"{called(name)}: {_counted(f for piece, f in cuts if piece.name == name)}" for name in pieces)
    only = next(iter(pieces)) if len(pieces) == 1 else None
    ids = tuple(feature.id for _, feature in cuts)
    if method == "one_punch":
        return _Draft(only, f"Punch with the {tool_title(tool, shop)}: {what}.", tool, ids)
    do = (
        f"This shop has no slot punch for these: punch a round hole at each end of the slot with the "
        f"{tool_title(tool, shop)} and make two knife cuts between: {what}."
    )
    return _Draft(only, do, tool, ids)


def _counted(features: Iterable[Feature]) -> str:
    counts: dict[str, int] = {}
    for feature in features:
        counts[feature.purpose] = counts.get(feature.purpose, 0) + 1
    return ", ".join(f"{count} × {purpose_title(purpose)}" for purpose, count in counts.items())


def _marking(pattern: Pattern, shop: Shop) -> Iterator[_Draft]:
    marks = sorted(_features(pattern, "mark"), key=lambda mark: (mark[0].name, mark[1].item or ""))
    for (name, item), group in groupby(marks, key=lambda mark: (mark[0].name, mark[1].item or "")):
        ids = tuple(feature.id for _, feature in group)
        do = f"Mark, never punch: {len(ids)} × {item_title(item, shop)} on the {called(name)}."
        yield _Draft(name, do, "scratch awl", ids)


def _skiving(pattern: Pattern, units: Units) -> Iterator[_Draft]:
    for piece in pattern.pieces:
        if piece.skived < piece.thickness:
            thicknesses = f"from {reading(piece.thickness, units)} to {reading(piece.skived, units)}"
            do = f"Skive the {called(piece.name)} {thicknesses}."
            yield _Draft(piece.name, do, "skiving knife")


def _setting(pattern: Pattern, shop: Shop) -> Iterator[_Draft]:
    """What is set on the strap, small things first, and behind it row by row the lace."""
    order = {"border": 0, "between": 1, "ornament": 2}
    lines = [line for line in pattern.hardware if line.purpose in order and line.item in shop.ornaments]
    for line in sorted(lines, key=lambda line: order[line.purpose]):
        how = setting_of(shop.ornaments[line.item].fixing).do
        yield _Draft(None, f"{how} {line.count} × {item_title(line.item, shop)}.", None)
    yield from _lacing(pattern, shop)


def _lacing(pattern: Pattern, shop: Shop) -> Iterator[_Draft]:
    units = pattern.spec.units or shop.defaults.units
    features = [feature for piece in pattern.pieces for feature in piece.features]
    laces = laces_of(features, shop.ornaments, shop.rules)
    for number, lace in enumerate(laces, 1):
        row = f"the {len(lace.shanks)} shanks of row {number} of {len(laces)}, counted from the upper edge,"
        through = row if len(laces) > 1 else "every shank"
        do = f"Run one lace of {reading(lace.length, units)} through {through} and knot it at both ends."
        yield _Draft(None, do, None)


def _folding(pattern: Pattern, shop: Shop) -> Iterator[_Draft]:
    """The turned-back ends, and before one of them is closed whatever it traps."""
    spec = pattern.spec
    if spec.billet.buckle:
        yield from _trapped(pattern, shop)
        name = "buckle_billet" if pattern.piece("buckle_billet") else "strap"
        slip = ", slip the keeper over both plies" if pattern.piece("keeper") else ""
        title = item_title(spec.billet.buckle, shop)
        hold, tool = _held(spec)
        do = f"Put the prong of the {title} through its slot, fold back over the bar{slip} and {hold}."
        yield _Draft(name, do, tool)
    for end in (spec.ends.head, spec.ends.foot):
        if end.kind == "ring" and end.ring:
            hold, tool = _held(spec)
            yield _Draft("strap", f"Fold the end round the {item_title(end.ring, shop)} and {hold}.", tool)


def _trapped(pattern: Pattern, shop: Shop) -> Iterator[_Draft]:
    """The closed loops that a buckle's fold holds: they cannot go on once it is riveted or sewn."""
    keeper, ring = pattern.piece("keeper"), pattern.spec.billet.ring
    if keeper:
        lap = reading(lap_of(keeper), pattern.spec.units or shop.defaults.units)
        do = f"Close the keeper round the strap's width: lap its ends by {lap}, so that its holes meet, and rivet them."
        yield _Draft(keeper.name, do, "rivet setter")
    if ring:
        title = item_title(ring, shop)
        do = f"Over the end that is still open slip, past the fold and between its first two rivets, the {title}."
        yield _Draft("strap", do, None)


def lap_of(keeper: Piece) -> Nm:
    """By how much a keeper's ends lie over one another once its two holes meet."""
    holes = [feature.x for feature in keeper.features]
    return min(holes) + keeper.length - max(holes)


def _held(spec: Spec) -> tuple[str, str]:
    """What is done to a turned-back end, and the tool."""
    if spec.stitching and spec.stitching.turn_back:
        return "glue the tail down, to be sewn", "glue brush"
    return "rivet", "rivet setter"


def _joining(pattern: Pattern, shop: Shop) -> Iterator[_Draft]:
    for name in ("buckle_billet", "tongue_billet"):
        piece = pattern.piece(name)
        joints = [f for f in piece.features if f.purpose == "joint"] if piece else []
        if joints:
            fastener = item_title(joints[0].item or "", shop)
            yield _Draft(
                name,
                f"Rivet the {called(name)} over the body's end with {len(joints)} × {fastener}.",
                "rivet setter",
            )
    units = pattern.spec.units or shop.defaults.units
    finished = pattern.finished
    holes = len(finished.holes)
    nominal = f" to the middle hole, hole {finished.nominal_hole} of {holes}" if holes else ""
    yield _Draft(
        None,
        f"Measure: {reading(finished.length, units)} from the {finished.measured_from}{nominal}.",
        "ruler",
    )
