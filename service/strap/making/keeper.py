"""Loose keepers, and those between ornaments."""

from dataclasses import replace

from service.shop.goods import Nm
from service.strap.ends.pieces import piece_of
from service.strap.fixings.rivets import rivet
from service.strap.model.job import Job
from service.strap.model.pattern import Piece, PieceName
from service.strap.model.plies import thickness
from service.strap.plane.bend import keeper_blank
from service.strap.plane.outline import strap_outline
from service.strap.plane.spacing import round_up


def keepers(job: Job) -> list[Piece]:
    """The keeper of each end that has one."""
    both = all(end.keeper_width is not None for end in job.ends)
    names: tuple[PieceName, PieceName] = ("head_keeper" if both else "keeper", "foot_keeper")
    return [
        _keeper(job, name, end.outer_width, end.keeper_width)
        for name, end in zip(names, job.ends, strict=True)
        if end.keeper_width is not None
    ]


def keepers_between(job: Job) -> tuple[Piece, ...]:
    """The keepers between the ornaments, all alike: each goes round the strap and what lies behind it."""
    asked, count = job.spec.keepers_between, len(job.kept_gaps)
    if asked is None or not count:
        return ()
    blank = _blank(job, "keeper_between", job.body_width, asked.width, thickness(job.plies.decorated))
    return (replace(blank, count=count),)


def _keeper(job: Job, name: PieceName, strap_width: Nm, width: Nm) -> Piece:
    """A loop round the three plies that lie in it once the strap is buckled."""
    return _blank(job, name, strap_width, width, 3 * thickness(job.plies.folded))


def _blank(job: Job, name: PieceName, strap_width: Nm, width: Nm, stack: Nm) -> Piece:
    """A keeper's blank: a loop round a stack, lapped and riveted in the middle of its lap."""
    rules, leather = job.rules, job.leather
    skived = round(leather.thickness * job.keeper_share)
    blank = keeper_blank(
        strap_width,
        stack,
        skived,
        rules.neutral_fraction,
        rules.keeper_lap,
        rules.keeper_ease,
    )
    length, hole = round_up(blank, job.grid), rules.keeper_lap // 2
    features = [
        rivet(job.keeper_held, name, "keeper_rivet", n, x, (f"{name}.keeper_rivet.{3 - n}",))
        for n, x in ((1, hole), (2, length - hole))
    ]
    outline = strap_outline(length, width, ("square", 0), ("square", 0))
    return piece_of(job, name, outline, features, float(job.keeper_share))
