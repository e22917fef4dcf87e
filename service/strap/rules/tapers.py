"""Tapers: room for them between what the ends of a body take, and a tongue that goes through its buckle."""

from collections.abc import Iterator

from service.shop.goods import Nm
from service.strap.errors import Cure, Path
from service.strap.model.filled import FilledEdge
from service.strap.model.irons import most_stretch, stretch
from service.strap.model.job import Job
from service.strap.model.rule import Blame, Code, Formula, Kind, Measured, Rule, of
from service.strap.plane.profile import base_edge, cut_edge
from service.strap.plane.teeth import length_along
from service.strap.rules.family import PieceFamily
from service.strap.rules.surface import Surface

TAPER_TOO_LONG = Code("taper_too_long", "a taper is longer than what lies free between the ends of the body")
EDGE_WITHOUT_ROOM = Code("edge_without_room", "between its ends an edge has no room for one repeat")
EDGE_OFF_IRON = Code("edge_off_iron", "whole repeats come out too unlike those of the iron that is named")
TAPERS_MEET = Code("tapers_meet", "the tapers of both ends run into each other")


def _are_both(_measured: Measured, job: Job) -> bool:
    return None not in job.spec.body.narrows


def _over(_measured: Measured, job: Job) -> Path:
    """Where the spec says how long its longer taper is."""
    head, foot = (taper.over if taper else 0 for taper in job.spec.body.narrows)
    longer = "head" if head >= foot else "foot"
    alike = job.spec.body.taper is not None and job.spec.body.taper.to is not None
    return ("body", "taper", "over") if alike else ("body", "taper", longer, "over")


TAPER_ROOM = Rule(
    name="taper_room",
    meaning="Whether both ends and both tapers have room on the strap, one behind the other.",
    sense="most",
    sentence="The ends and their tapers take {found} of the length together; there is only {limit}.",
    blames=(
        Blame(TAPERS_MEET, _over, Cure.SHORTER_TAPER, when=_are_both),
        Blame(TAPER_TOO_LONG, _over, Cure.SHORTER_TAPER),
    ),
    formula=Formula(
        found="head + head_over + foot + foot_over",
        limit="length",
        terms={
            "head": "what the head takes, all of one width: its fold, holes or joint, or its shape",
            "head_over": "over what length the body narrows to its head",
            "foot": "what the foot takes, all of one width",
            "foot_over": "over what length the body narrows to its foot",
            "length": "the length of the piece",
        },
    ),
    source="geometry",
)


EDGE_ROOM = Rule(
    name="edge_room",
    meaning="Whether between its ends an edge is long enough for one whole scallop or point.",
    sense="least",
    sentence="Between its ends an edge of the {what} is {found} long; one repeat takes {limit}.",
    blames=(Blame(EDGE_WITHOUT_ROOM, ("body", "edge", "repeat"), Cure.EDGE_ROOM),),
    formula=Formula(
        found="along",
        limit="repeat",
        terms={
            "along": "how long one edge is between what both ends take",
            "repeat": "one scallop or point, as it was asked for",
        },
    ),
    source="geometry",
)


EDGE_IRON = Rule(
    name="edge_iron",
    meaning="How much longer or shorter than those of the iron the whole repeats come out; a little is taken "
    "up from blow to blow, more is seen.",
    sense="most",
    sentence="Whole repeats come out {found} longer or shorter than those of the iron; {limit} is taken up.",
    blames=(
        Blame(EDGE_OFF_IRON, ("edging", "iron"), Cure.EDGE_STRETCH, when=of("edging")),
        Blame(EDGE_OFF_IRON, ("body", "edge", "iron"), Cure.EDGE_STRETCH),
    ),
    formula=Formula(
        found="max(along / count - repeat, repeat - along / count)",
        limit="edge_stretch * repeat",
        terms={
            "along": "how long one edge is between what both ends take",
            "count": "how many whole repeats it has",
            "repeat": "one scallop or point of the iron that the spec names",
        },
    ),
    source="from memory: what a hand takes up from blow to blow unseen",
)


def _tapers(surface: Surface) -> Iterator[Measured]:
    """Both tapers of a body lie between its ends, one behind the other."""
    piece, narrowings = surface.piece, surface.piece.outline.narrowings
    if narrowings and piece.name in ("body", "strap"):
        taken = sum(each.reach for each in narrowings)
        if piece.outline.tapers:
            yield TAPER_ROOM.measured(taken, piece.length, kinds=(piece.name,))
        cut = surface.job.spec.body.cut
        if cut:
            along = length_along(base_edge(piece.outline)) if taken <= piece.length else piece.length - taken
            yield EDGE_ROOM.measured(along, cut.repeat, kinds=(piece.name,))
            found = cut_edge(piece.outline)
            if found:
                yield from by_iron(surface.job, cut, found.repeat, piece.name)


def by_iron(job: Job, cut: FilledEdge | None, repeat: Nm, kind: Kind) -> Iterator[Measured]:
    """Repeats come out about as long as those of the iron that is named, if one is."""
    if cut and cut.iron:
        iron = job.shop.edge_irons[cut.iron]
        yield EDGE_IRON.measured(stretch(iron, repeat), most_stretch(iron, job.shop), kinds=(kind,))


TAPERS = PieceFamily(rules=(TAPER_ROOM, EDGE_ROOM, EDGE_IRON), measure=_tapers, bare=True)
