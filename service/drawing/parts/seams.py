"""Lines of stitches in words."""

from service.shop.shop import Units
from service.strap.model.pattern import StitchLine, StitchPurpose
from service.strap.plane.lengths import reading

_WHAT: dict[StitchPurpose, str] = {
    "edge_stitch": "stitches along the edge",
    "fold_stitch": "stitches through both plies of the fold",
    "splice_stitch": "stitches along the strap through a lap",
    "joint_stitch": "stitches through the billet and the body",
}


def counted(line: StitchLine, units: Units) -> str:
    """How many holes and how far apart: `251 holes, ≈ 1/8 in apart`."""
    return f"{line.holes} holes, {reading(line.pitch, units)} apart"


def where(line: StitchLine, units: Units) -> str:
    """What it holds, how far inside the edge, and how long it is."""
    ends = "closed" if line.closed else "open"
    return f"{_WHAT[line.purpose]}, {reading(line.inset, units)} inside, {reading(line.length, units)} long, {ends}"
