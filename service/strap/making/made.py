"""What the three constructions share: the size that a spec asks for, pieces, weight and hardware lists."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from service.shop.goods import Nm
from service.strap.errors import Fault, Path, Refusal
from service.strap.making.decoration import Run
from service.strap.making.thread import thread_of
from service.strap.making.tongue import Tongue
from service.strap.making.turn_back import TurnBack, rivet
from service.strap.model.job import Job, said
from service.strap.model.laces import laces_of
from service.strap.model.lining import backs, rise_over
from service.strap.model.pattern import (
    Feature,
    Finished,
    Hardware,
    HoleLength,
    Piece,
    PieceName,
    Placement,
    Purpose,
    StitchLine,
)
from service.strap.model.plies import thickness
from service.strap.plane.bend import flat_for_girth, girth_for_flat, keeper_blank
from service.strap.plane.geometry import area
from service.strap.plane.lengths import readings
from service.strap.plane.outline import Outline, strap_outline
from service.strap.plane.spacing import Stations, round_up

_TWO_PLIES: tuple[Purpose, ...] = ("joint", "fold_rivet", "keeper_rivet")
"""One rivet goes through two holes of these."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """What a construction settles before its pieces are drawn.

    `length` is the body (three-piece) or the strip; `shortest` the least that it may be without regard
    to ornaments. `run` is its decorated part.
    """

    length: Nm
    shortest: Nm
    run: Run
    stations: Stations | None = None
    """Where the ornaments stand, once it is known where on the run their row begins."""
    turn: TurnBack | None = None
    tongue: Tongue | None = None
    cover: Nm = 0
    """How much further than its joint takes a body reaches under the tongue billet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A construction's pieces, how they lie when made up, and the finished lengths without the weight."""

    pieces: tuple[Piece, ...]
    placements: tuple[Placement, ...]
    finished: Finished


def length_for(job: Job, flat_over_length: Nm, outer_edge: Nm, bar_to_frame: Nm) -> Nm:
    """The body or strip length that the spec's size asks for.

    `flat_over_length` is what lies between bar and nominal hole beside the length itself; it may be negative.
    """
    size = job.spec.size
    if size.body_length is not None:
        return size.body_length
    if size.girth is not None:
        return flat_for_girth(size.girth, said(size.ease), thickness(job.plies.decorated)) - flat_over_length
    beyond = {"bar": 0, "fold": outer_edge, "frame": bar_to_frame}[size.measured_from or "fold"]
    return said(size.finished_length) - beyond - flat_over_length


def size_path(job: Job) -> Path:
    """Where the spec states its size."""
    size = job.spec.size
    if size.table is not None:
        return ("size", "label")
    name = "body_length" if size.body_length is not None else "girth" if size.girth is not None else "finished_length"
    return ("size", name)


def stated_size(job: Job) -> Nm:
    """The length that the spec states, whichever way it is measured."""
    size = job.spec.size
    return said(next(x for x in (size.body_length, size.girth, size.finished_length) if x is not None))


def refuse_if_short(job: Job, length: Nm, shortest: Nm) -> None:
    """Raise `Refusal` where the strap is too short for its ends alone."""
    if length >= shortest:
        return
    found = stated_size(job)
    limit = found + shortest - length
    told, least = readings(found, limit, job.units)
    detail = f"{'.'.join(size_path(job))} is {told}: its ends, joints and holes alone need {least}."
    raise Refusal((Fault(path=size_path(job), code="size_too_short", detail=detail, limit=limit, found=found),))


def piece(
    job: Job,
    name: PieceName,
    length: Nm,
    width: Nm,
    outline: Outline,
    features: list[Feature],
    share: float = 1,
    *,
    stitched: tuple[StitchLine, ...] = (),
) -> Piece:
    """A piece of the job's leather. `share` is what skiving leaves of its thickness, where it is skived."""
    return Piece(
        name=name,
        leather=job.leather,
        length=length,
        width=width,
        outline=outline,
        features=tuple(features),
        thickness=job.leather.thickness,
        skived=round(job.leather.thickness * share),
        stitch_lines=stitched,
    )


def lining_of(job: Job, lined: Piece) -> tuple[Piece, ...]:
    """The lining of a piece, if there is one: the same outline, and nothing punched before it is glued on."""
    leather = job.lining
    if leather is None:
        return ()
    covered = backs(lined.features, job.shop.ornaments, job.leather) if job.covers else ()
    rise = round_up(rise_over(covered), job.grid)
    spare = min(leather.strip_length - lined.length - rise, leather.usable_width - lined.width)
    return (
        Piece(
            name="lining",
            leather=leather,
            length=lined.length,
            width=lined.width,
            outline=lined.outline,
            features=(),
            thickness=leather.thickness,
            skived=leather.thickness,
            purpose="cover" if job.covers else "carry",
            over=max(min(job.rules.lining_over, spare // 2), 0),
            rise=rise,
        ),
    )


def keeper_piece(job: Job) -> Piece:
    """The keeper's blank: a loop round three plies, lapped and riveted in the middle of its lap."""
    rules, leather = job.rules, job.leather
    skived = round(leather.thickness * job.keeper_share)
    blank = keeper_blank(
        job.strap_width,
        3 * thickness(job.plies.folded),
        skived,
        rules.neutral_fraction,
        rules.keeper_lap,
        rules.keeper_ease,
    )
    length = round_up(blank, job.grid)
    width, hole = job.keeper_width, rules.keeper_lap // 2
    features = [
        rivet(job, "keeper", "keeper_rivet", 1, hole, ("keeper.keeper_rivet.2",)),
        rivet(job, "keeper", "keeper_rivet", 2, length - hole, ("keeper.keeper_rivet.1",)),
    ]
    outline = strap_outline(length, width, ("square", 0), ("square", 0))
    return piece(job, "keeper", length, width, outline, features, float(job.keeper_share))


def buckled_finish(job: Job, to_first_hole: Nm, tongue: Tongue, outer_edge: Nm) -> Finished:
    """Finished lengths of a buckled strap; `to_first_hole` runs from the bar's axis, made up and flat."""
    from_bar = to_first_hole + tongue.to_nominal
    beyond = {"fold": outer_edge, "bar": 0, "frame": said(job.buckle).bar_to_frame}
    datum = job.spec.size.measured_from or ("bar" if job.spec.size.girth is not None else "fold")
    ease, thick = job.rules.ease if job.spec.size.ease is None else job.spec.size.ease, thickness(job.plies.decorated)
    flats = (to_first_hole + n * tongue.spacing for n in range(tongue.count))
    holes = tuple(
        HoleLength(hole=hole, length=flat + beyond[datum], fits=girth_for_flat(flat, ease, thick))
        for hole, flat in enumerate(flats, 1)
    )
    return Finished(
        measured_from=datum,
        length=from_bar + beyond[datum],
        from_fold=from_bar + beyond["fold"],
        from_bar=from_bar,
        from_frame=from_bar + beyond["frame"],
        holes=holes,
        weight_mg=0,
    )


def weight_of(job: Job, pieces: tuple[Piece, ...], hardware: tuple[Hardware, ...]) -> int:
    """Milligrams of the whole strap: leather by area, thickness and density, and everything set on it."""
    leather = sum(
        area(piece.outline) * piece.skived * float(piece.leather.density) for piece in pieces
    )  # nm³ · g/cm³ = 1e-18 mg
    masses = job.shop.masses_mg()
    metal = sum(masses.get(line.item, 0) * line.count for line in hardware)
    return round(leather / 1e18) + metal


def hardware_of(job: Job, pieces: tuple[Piece, ...]) -> tuple[Hardware, ...]:
    """Everything to lay out beside the leather, counted from the pattern's own features."""
    lines = []
    if job.buckle:
        lines.append(Hardware(item=job.buckle.id, count=1, purpose="buckle"))
    for ring, where in ((job.head_ring, "head"), (job.foot_ring, "foot"), (job.lead_ring, "lead_ring")):
        if ring:
            lines.append(Hardware(item=ring.id, count=1, purpose=where))
    features = [feature for piece in pieces for feature in piece.features if feature.item]
    counts = Counter((feature.purpose, feature.item) for feature in features)
    for purpose in ("joint", "fold_rivet", "keeper_rivet", "ornament", "between", "border"):
        shared = 2 if purpose in _TWO_PLIES else 1
        for (of_purpose, item), count in counts.items():
            if of_purpose == purpose and item:
                lines.append(Hardware(item=item, count=count // shared, purpose=purpose))
    return (*lines, *_lace(job, features), *thread_of(job, pieces))


def _lace(job: Job, features: list[Feature]) -> Iterator[Hardware]:
    """The laces behind the rows; those of one length and for one kind of row together."""
    laces = laces_of(features, job.shop.ornaments, job.rules)
    counts = Counter((lace.purpose, lace.length) for lace in laces)
    for (purpose, length), count in counts.items():
        yield Hardware(item="lace", count=count, purpose=purpose, length=length)
