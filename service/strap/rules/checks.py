"""The rules that a pattern must keep, each with its tightest place. Looks at the pattern, never at how it was made.

The work grows with the number of features: along a piece only neighbours are compared.
"""

from collections.abc import Iterable

from service.shop.goods import Nm
from service.strap.model.job import Job
from service.strap.model.measured import Measured, at_least, at_most
from service.strap.model.pattern import Check, Feature, Pattern, Piece, Placement, Purpose
from service.strap.rules.fit_checks import fit_measures
from service.strap.rules.web_checks import web_measures

_RIVETED: tuple[Purpose, ...] = ("joint", "fold_rivet", "keeper_rivet", "hanger")


def measure_rules(pattern: Pattern, job: Job) -> tuple[Measured, ...]:
    """The tightest place of each rule and of each kind of feature that the rule looks at."""
    measures: list[Measured] = []
    for piece in pattern.pieces:
        measures += _end_distances(piece, job)
        measures += web_measures(piece, job)
        measures += _strip(piece)
    measures += _alignment(pattern)
    measures += fit_measures(pattern, job)
    return tuple(measures)


def tightest(measures: Iterable[Measured]) -> tuple[Check, ...]:
    """One check a rule: the place with the least room to its limit. In the order in which rules first appear."""
    best: dict[str, Check] = {}
    for check in (measured.check for measured in measures):
        known = best.get(check.rule)
        if known is None or _room(check) < _room(known):
            best[check.rule] = check
    return tuple(best.values())


def _room(check: Check) -> Nm:
    return check.value - check.limit if check.sense == "least" else check.limit - check.value


def _end_distances(piece: Piece, job: Job) -> list[Measured]:
    nearest: dict[str, tuple[Nm, Feature]] = {}
    for hole in piece.features:
        if hole.purpose in _RIVETED:
            found = min(hole.x, piece.length - hole.x)
            if hole.purpose not in nearest or found < nearest[hole.purpose][0]:
                nearest[hole.purpose] = (found, hole)
    limit = job.rules.end_distance
    return [at_least("end_distance", found, limit, hole) for found, hole in nearest.values()]


def _strip(piece: Piece) -> list[Measured]:
    leather = piece.leather
    return [
        at_most("strip_length", piece.length + piece.rise, leather.strip_length, subject=piece.name),
        at_most("strip_width", piece.width, leather.usable_width, subject=piece.name),
    ]


def _alignment(pattern: Pattern) -> list[Measured]:
    """How far mated holes stand apart once the strap is made up; a keeper's lap is closed, not laid."""
    places = {
        feature.id: (feature, x)
        for piece in pattern.pieces
        for feature in piece.features
        if feature.mates
        for x in _made_up(pattern.placements, piece, feature)
    }
    farthest: dict[str, tuple[Nm, Feature, Feature]] = {}
    for feature, x in places.values():
        for mate, other in (places[name] for name in feature.mates if name in places):
            apart = abs(x - other) + abs(feature.y - mate.y)
            if feature.purpose not in farthest or apart > farthest[feature.purpose][0]:
                farthest[feature.purpose] = (apart, feature, mate)
    return [at_most("joint_alignment", apart, 0, one, other) for apart, one, other in farthest.values()]


def _made_up(placements: tuple[Placement, ...], piece: Piece, feature: Feature) -> list[Nm]:
    return [
        ply.offset + ply.direction * feature.x
        for ply in placements
        if ply.piece == piece.name and ply.from_x <= feature.x <= ply.to_x
    ]
