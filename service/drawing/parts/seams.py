"""Lines of stitches in words."""

from service.shop.shop import Units
from service.strap.model.stitch_line import StitchLine, StitchPurpose
from service.strap.plane.lengths import reading
from service.words import say

_WHAT: dict[StitchPurpose, str] = {
    "edge_stitch": "stitches along the edge",
    "fold_stitch": "stitches through both plies of the fold",
    "splice_stitch": "stitches along the strap through a lap",
    "joint_stitch": "stitches through the billet and the body",
}


def counted(line: StitchLine, units: Units) -> str:
    """How many holes and how far apart: `251 holes, ≈ 1/8 in apart`."""
    return say("{holes} holes, {pitch} apart", holes=line.holes, pitch=reading(line.pitch, units))


def where(line: StitchLine, units: Units) -> str:
    """What it holds, how far inside the edge, and how long it is."""
    what = say(_WHAT[line.purpose])
    ends = "closed" if line.closed else "open"
    return say(
        "{what}, {inset} inside, {length} long, {ends}",
        what=what,
        inset=reading(line.inset, units),
        length=reading(line.length, units),
        ends=ends,
    )
