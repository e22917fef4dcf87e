"""From a job to its pattern: a body between its two ends. Checks nothing but that the ends have room."""

from dataclasses import replace

from service.shop.goods import Nm
from service.strap.ends.pieces import piece_of
from service.strap.fixings.stitches import edge_lines
from service.strap.making.cut_edges import cut_along, unless_too_fine
from service.strap.making.decoration import Run, decorate
from service.strap.making.edging import edging_along, edging_of
from service.strap.making.finished import finished, weight_of
from service.strap.making.hardware_list import hardware_of
from service.strap.making.joining import lay_joining
from service.strap.making.keeper import keepers, keepers_between
from service.strap.making.lining_piece import lining_of
from service.strap.making.measures import Lengths, Measures, length_for, refuse_if_short
from service.strap.making.past_tip import between_tips, settle
from service.strap.making.splices import spliced
from service.strap.model.edging_at import EdgingAt
from service.strap.model.filled import Filled, FilledEdge
from service.strap.model.job import Job, Laid
from service.strap.model.pattern import Feature, Pattern, Piece, PieceName, Placement
from service.strap.model.side import Side
from service.strap.plane.narrowing import Narrowing, Narrowings, long_edge
from service.strap.plane.outline import Outline, strap_outline
from service.strap.plane.teeth import length_along


def measure_lengths(job: Job) -> Lengths:
    """Every length of the strap, before its pieces are drawn; its run may still give way to the tip."""
    head = job.head.lay(job)
    foot = job.foot.lay(job, head)
    joining = lay_joining(job, (head, foot))
    length, foot = foot.settle(job, length_for(job, head, foot, joining))
    takes = max(head.takes + foot.takes, head.depth + foot.depth) + max(head.spare, foot.spare)
    run = _run(job, length, head, foot)
    lengths = Lengths(length=length, shortest=takes, run=run, head=head, foot=foot, joining=joining)
    tips = lengths.tips_end
    return replace(lengths, run=between_tips(job, run, tips)) if tips else lengths


def _run(job: Job, length: Nm, head: Laid, foot: Laid) -> Run:
    tongue = foot.outermost.tongue
    return Run(
        piece=body_name(job),
        length=length,
        width=job.body_width,
        outline=_outline(job, length, head, foot),
        start=head.anchor,
        end=length - foot.anchor,
        start_keep=head.keep,
        end_keep=foot.keep,
        border_start=head.border,
        border_end=length - foot.border,
        guard=max(head.guard, foot.guard),
        covered=tongue.beyond_nominal - head.datum if tongue and job.is_buckled else None,
        tip=(foot.outermost.form, job.foot.outer_width // 2),
    )


def _outline(job: Job, length: Nm, head: Laid, foot: Laid) -> Outline:
    """The body's, its long edges cut in the whole number of repeats that comes nearest to the one asked for."""
    narrowings, cut = _narrowings(job, head, foot), _cut(job)
    edge = long_edge(length, job.body_width, narrowings) if cut and narrowings else []
    if cut is None or 2 * length_along(edge) < cut.repeat:  # which is refused
        return strap_outline(length, job.body_width, head.form, foot.form, narrowings)
    return strap_outline(length, job.body_width, head.form, foot.form, narrowings, cut_along(edge, cut))


def _cut(job: Job) -> FilledEdge | None:
    """How the edges are cut; straight where the strap is refused for them, or for a length of as many roots."""
    is_too_long = job.spec.size.stated > job.shop.limits.length_max
    return None if is_too_long else unless_too_fine(job.spec.body.cut, job.shop)


def _narrowings(job: Job, head: Laid, foot: Laid) -> Narrowings | None:
    """How the body narrows to its ends, if it does.

    Each keeps its own width as far as it takes, and by an end distance behind its shape: a punch stands square to
    edges that are straight there.
    """
    tapers = [taper if taper and taper.to < job.body_width else None for taper in job.spec.body.narrows]
    if not any(tapers) and job.spec.body.cut is None:
        return None
    near, far = (
        taper.narrowing(_parallel(job, laid)) if taper else Narrowing(job.body_width, _parallel(job, laid))
        for taper, laid in zip(tapers, (head, foot), strict=True)
    )
    return near, far


def _parallel(job: Job, laid: Laid) -> Nm:
    shape, depth = laid.form
    return max(laid.takes, depth if shape == "square" else depth + job.end_distance)


def body_name(job: Job) -> PieceName:
    """A body has other pieces joined to it; a strap is a single strip."""
    return "body" if any(end.is_billet for end in job.ends) else "strap"


def measure(job: Job) -> Measures:
    """Every length of the strap, its run from where the row begins, and the row on it."""
    lengths = measure_lengths(job)
    run, stations = settle(job, lengths.run)
    return Measures(
        length=lengths.length,
        shortest=lengths.shortest,
        run=run,
        head=lengths.head,
        foot=lengths.foot,
        joining=lengths.joining,
        stations=stations,
    )


def lay_out(job: Job) -> Pattern:
    """The pattern without its checks. Raises `Refusal` where the size is too short for the ends alone."""
    measures = measure(job)
    refuse_if_short(job, measures.length, measures.shortest)
    sides = _sides(job, measures)
    pieces = _pieces(job, measures, sides)
    hardware = hardware_of(job, pieces)
    return Pattern(
        spec=_as_made(job.spec),
        finished=finished(job, measures, sides, weight_of(job, pieces, hardware)),
        pieces=pieces,
        placements=_placements(job, measures, sides),
        hardware=hardware,
        size_label=job.given.size.label,
    )


def _as_made(spec: Filled) -> Filled:
    """The spec by the length that a label stands for: the shop may write another table."""
    if spec.size.table is None:
        return spec
    return replace(spec, size=replace(spec.size, table=None, label=None))


def _sides(job: Job, measures: Measures) -> tuple[Side, Side]:
    """Where both ends are on the body; the foot's features are numbered on from the head's."""
    head, run = measures.head, measures.run
    joints = job.joint_count if head is not head.outermost else 0
    rivets = 2 * head.turn.count if head.turn else 0
    holes = head.sizes.holes if head.sizes else 0
    foot = Side(
        piece=run.piece, length=run.length, is_foot=True, n=2,
        first_joint=joints + 1, first_rivet=rivets + 1, first_hole=holes + 1,
    )  # fmt: skip
    return Side(piece=run.piece, length=run.length), foot


def _pieces(job: Job, measures: Measures, sides: tuple[Side, Side]) -> tuple[Piece, ...]:
    body = _body(job, measures, sides)
    free = (measures.head.anchor, body.length - measures.foot.anchor)
    body = spliced(job, body, free, body.features)
    joined = [piece for laid, side in zip(measures.ends, sides, strict=True) for piece in laid.pieces(job, side)]
    joining = (measures.joining.piece(job),) if measures.joining else ()
    plies = (body, *lining_of(job, body, free), *edging_of(job, body))
    return (*plies, *joined, *joining, *keepers(job), *keepers_between(job, body))


def _body(job: Job, measures: Measures, sides: tuple[Side, Side]) -> Piece:
    """The body with its joints first, and then what is along it, from the head on."""
    (head, foot), run = measures.ends, measures.run
    features: list[Feature] = [*head.joints(job, sides[0]), *foot.joints(job, sides[1])]
    features += head.features(job, sides[0])
    features += decorate(job, run, measures.stations)
    features += foot.features(job, sides[1])
    edging = edging_along(job, run.outline, *edging_span(job, measures))
    stitched = edge_lines(job, run.piece, run.outline, *_sewn_between(job, measures, edging))
    boxes = (*head.stitches(job, sides[0]), *foot.stitches(job, sides[1]))
    return replace(piece_of(job, run.piece, run.outline, features, stitched=(*stitched, *boxes)), edging=edging)


def _sewn_between(job: Job, measures: Measures, edging: EdgingAt | None) -> tuple[Nm | None, Nm | None]:
    """From where to where its edges are sewn; all round an end that is not folded. With but an edging, along that."""
    if edging and job.lining is None:
        # A line of stitches across a square end would tear there.
        inside = job.stitch_inset + measures.run.outline.root_depth + 1
        return max(edging.start, inside), min(edging.end, measures.run.length - inside)
    head, foot = (laid.stitch_from(job) for laid in measures.ends)
    return head, None if foot is None else measures.run.length - foot


def edging_span(job: Job, measures: Measures) -> tuple[Nm, Nm]:
    """From where to where an edging may lie: between what the ends take, their folds, holes and tips."""
    head, foot = (_parallel(job, laid) for laid in measures.ends)
    return head, measures.run.length - foot


def _placements(job: Job, measures: Measures, sides: tuple[Side, Side]) -> tuple[Placement, ...]:
    """Made up, a strap begins at the bar's axis, or at its outer end where it has no buckle there."""
    (head, foot), run = measures.ends, measures.run
    at = head.datum + head.origin
    plied = [laid.plies(job, side, at) for laid, side in zip(measures.ends, sides, strict=True)]
    front = Placement(
        piece=run.piece, offset=at, direction=1, from_x=head.middle, to_x=run.length - foot.middle, layer=1
    )
    backs, fronts = ([ply for pair in plied for ply in pair[n]] for n in (0, 1))
    return (*backs, front, *fronts)
