"""Loose and fixed keepers, and those between ornaments."""

from collections.abc import Mapping
from dataclasses import replace

from service.shop.goods import Nm
from service.strap.ends.pieces import piece_of
from service.strap.fixings.rivets import rivet
from service.strap.model.holding import Holding
from service.strap.model.job import Job
from service.strap.model.loops import Loops
from service.strap.model.pattern import BETWEEN_KEEPERS, Feature, Piece, PieceName
from service.strap.model.plies import thickness
from service.strap.plane.bend import keeper_blank
from service.strap.plane.outline import strap_outline
from service.strap.plane.profile import edge_at
from service.strap.plane.spacing import round_up


def keepers(job: Job) -> list[Piece]:
    """The keepers of each end that has any: those that are alike are one piece with their count."""
    both = all(end.loops and end.loops.loose for end in job.ends)
    names: tuple[PieceName, PieceName] = ("head_keeper" if both else "keeper", "foot_keeper")
    found = []
    for name, end in zip(names, job.ends, strict=True):
        if end.loops and end.loops.loose:
            found.append(replace(_keeper(job, name, end.outer_width, end.loops.width), count=end.loops.loose))
        if end.loops and end.loops.fixed:
            found.append(_fixed(job, end.outer_width, end.loops))
    return found


def keepers_between(job: Job, body: Piece) -> tuple[Piece, ...]:
    """The keepers between the ornaments: each goes round the strap, as wide as it is there, and what lies behind it.

    Those of one length are one piece, the longest first. Where a strap narrows they are cut to whole graduations, so
    coarse that there are no more lengths than a maker keeps apart.
    """
    asked = job.spec.keepers_between
    marks = [each for each in body.features if each.purpose == "keeper_place"]
    if asked is None or not marks:
        return ()
    stack = thickness(job.plies.decorated) + (job.edging.thickness if job.edging else 0)
    widths = {mark.id: _width_at(body, mark.x, asked.width) for mark in marks}
    groups = _alike(job, widths)
    found = []
    for name, (width, at) in zip(BETWEEN_KEEPERS, groups, strict=False):
        blank = _blank(job, name, width, asked.width, stack)
        found.append(replace(blank, count=len(at), at=at))
    return tuple(found)


def _width_at(body: Piece, x: Nm, along: Nm) -> Nm:
    """How wide a strap is at most under a keeper in its middle `x`, its edges uncut and its edging with it."""
    halves = (edge_at(body.outline, place) for place in (x - along // 2, x, x + along // 2))
    return round(2 * max(halves)) + 2 * body.stands_out


def _alike(job: Job, widths: Mapping[str, Nm]) -> list[tuple[Nm, tuple[str, ...]]]:
    """Each width that keepers are made for, the widest first, with the marks that they go to."""
    step, widest = job.rules.graduation, max(widths.values())
    while True:
        groups: dict[Nm, list[str]] = {}
        for mark, width in widths.items():
            groups.setdefault(min(round_up(width, step), widest), []).append(mark)
        if len(groups) <= len(BETWEEN_KEEPERS):
            return [(width, tuple(groups[width])) for width in sorted(groups, reverse=True)]
        step *= 2


def _keeper(job: Job, name: PieceName, strap_width: Nm, width: Nm) -> Piece:
    """A loop round the three plies that lie in it once the strap is buckled."""
    return _blank(job, name, strap_width, width, 3 * thickness(job.plies.folded))


def _fixed(job: Job, strap_width: Nm, loops: Loops) -> Piece:
    """A loop round the tongue and the front ply, under which its ends lie in the fold: lapped, or meeting to be sewn.

    The fold's rivets go through its holes, and are counted there.
    """
    stack, lap = 2 * thickness(job.plies.folded), 0 if loops.hold.is_stitched else job.rules.keeper_lap
    length = _blank_length(job, strap_width, stack, lap)
    features = [] if loops.hold.is_stitched else _lap_holes(loops.hold, loops.piece, length, lap)
    features = [replace(each, item=None, footprint=0) for each in features]
    return _skived(job, loops.piece, length, loops.width, features, loops.fixed)


def _blank(job: Job, name: PieceName, strap_width: Nm, width: Nm, stack: Nm) -> Piece:
    """A keeper's blank: a loop round a stack, lapped and riveted in the middle of its lap."""
    lap = job.rules.keeper_lap
    length = _blank_length(job, strap_width, stack, lap)
    return _skived(job, name, length, width, _lap_holes(job.keeper_held, name, length, lap))


def _blank_length(job: Job, strap_width: Nm, stack: Nm, lap: Nm) -> Nm:
    rules = job.rules
    skived = round(job.leather.thickness * job.keeper_share)
    blank = keeper_blank(strap_width, stack, skived, rules.neutral_fraction, lap, rules.keeper_ease)
    return round_up(blank, job.grid)


def _lap_holes(held: Holding, name: PieceName, length: Nm, lap: Nm) -> list[Feature]:
    """The two holes that meet in the middle of the lap."""
    return [
        rivet(held, name, "keeper_rivet", n, x, (f"{name}.keeper_rivet.{3 - n}",))
        for n, x in ((1, lap // 2), (2, length - lap // 2))
    ]


def _skived(job: Job, name: PieceName, length: Nm, width: Nm, features: list[Feature], count: int = 1) -> Piece:
    outline = strap_outline(length, width, ("square", 0), ("square", 0))
    return replace(piece_of(job, name, outline, features, float(job.keeper_share)), count=count)
