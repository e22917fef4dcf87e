"""Lines of stitches in words."""

from service.shop.shop import Units
from service.strap.model.pattern import Piece
from service.strap.model.stitch_line import StitchLine, StitchPurpose
from service.strap.plane.lengths import reading
from service.words import say
from service.workshop.names import seam_inside

_WHAT: dict[StitchPurpose, str] = {
    "edge_stitch": "stitches along the edge",
    "fold_stitch": "stitches through both plies of the fold",
    "splice_stitch": "stitches along the strap through a lap",
    "joint_stitch": "stitches through the billet and the body",
}


def counted(line: StitchLine, units: Units) -> str:
    """How many holes and how far apart: `251 holes, ≈ 1/8 in apart`."""
    return say("{holes} holes, {pitch} apart", holes=line.holes, pitch=reading(line.pitch, units))


def where(line: StitchLine, piece: Piece, units: Units) -> str:
    """What it holds, how far inside the edge, and how long it is."""
    what = say(_WHAT[line.purpose])
    ends = "closed" if line.closed else "open"
    cut = line.purpose == "edge_stitch" and piece.outline.root_depth
    inside = seam_inside(piece, line, units) if cut else say("{inset} inside", inset=reading(line.inset, units))
    return say(
        "{what}, {inside}, {length} long, {ends}",
        what=what,
        inside=inside,
        length=reading(line.length, units),
        ends=ends,
    )
