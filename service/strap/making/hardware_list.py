"""Everything to lay out beside the leather."""

from collections import Counter
from collections.abc import Iterator

from service.strap.making.thread import thread_of
from service.strap.model.job import Job
from service.strap.model.laces import laces_of
from service.strap.model.pattern import Feature, Hardware, Piece, Purpose

_TWO_PLIES: tuple[Purpose, ...] = ("joint", "fold_rivet", "keeper_rivet")
"""One rivet goes through two holes of these."""
_ORDER: tuple[Purpose, ...] = (*_TWO_PLIES, "snap_cap", "snap_stud", "ornament", "between", "border")
"""What is set, in the order in which it is listed."""


def hardware_of(job: Job, pieces: tuple[Piece, ...]) -> tuple[Hardware, ...]:
    """Everything to lay out beside the leather, counted from the pattern's own features."""
    buckles = zip(job.ends, ("buckle", "foot_buckle"), strict=True)
    named = zip(job.ends, ("head", "foot"), strict=True)
    lines = [Hardware(item=end.buckle.id, count=1, purpose=name) for end, name in buckles if end.buckle]
    lines += [Hardware(item=end.ring.id, count=1, purpose=name) for end, name in named if end.ring]
    lines += [Hardware(item=end.collar_ring.id, count=1, purpose="lead_ring") for end in job.ends if end.collar_ring]
    features = [feature for piece in pieces for feature in piece.features if feature.item]
    counts = Counter([(feature.purpose, feature.item) for feature in features])
    for piece in pieces:
        for feature in (each for each in piece.features if each.item and piece.count > 1):
            counts[feature.purpose, feature.item] += piece.count - 1
    for purpose, item in sorted(counts, key=lambda each: _ORDER.index(each[0])):
        shared = 2 if purpose in _TWO_PLIES else 1
        lines.append(Hardware(item=str(item), count=counts[purpose, item] // shared, purpose=purpose))
    return (*lines, *_holding(features), *_lace(job, features), *thread_of(job, pieces))


def _holding(features: list[Feature]) -> list[Hardware]:
    """What holds ornaments that do not hold by themselves."""
    held = [(feature.purpose, feature.fastener) for feature in features if feature.fastener]
    counts = Counter(held).items() if held else ()
    return [Hardware(item=item, count=count, purpose=purpose) for (purpose, item), count in counts]


def _lace(job: Job, features: list[Feature]) -> Iterator[Hardware]:
    """The laces behind the rows; those of one length and for one kind of row together."""
    laces = laces_of(features, job.shop.ornaments, job.rules)
    if not laces:
        return
    counts = Counter([(lace.purpose, lace.length) for lace in laces])
    for (purpose, length), count in counts.items():
        yield Hardware(item="lace", count=count, purpose=purpose, length=length)
