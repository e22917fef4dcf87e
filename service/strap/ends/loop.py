"""An end that is turned back into a loop, for a rod, a rail or a cord that is no part of the strap."""

from service.shop.goods import Nm
from service.strap.ends.folded import FoldedEnd, LaidFold, laid_fold
from service.strap.ends.shapes import end_form
from service.strap.ends.turn_back import turn_back_round
from service.strap.model.filled_ends import FilledLoop
from service.strap.model.job import Job, Laid
from service.strap.model.kind import Kind, Making, Unsaid
from service.strap.model.spec import StrapEnd
from service.strap.plane.outline import EndForm
from service.values import dataclass
from service.words import say


@dataclass(frozen=True, slots=True, kw_only=True)
class LoopEnd(FoldedEnd):
    """A loop for something that is `rod` thick."""

    form: EndForm
    rod: Nm

    def lay(self, job: Job, _opposite: Laid | None = None) -> LaidFold:
        """As round a ring: the first rivet clears the rod, and lengths are measured to its axis, or to the fold."""
        turn = turn_back_round(job, self.rod, self.tail(job))
        edge = turn.fold.outer_edge
        spare = job.end_distance
        return laid_fold(job, self, turn, self.form, frame_edge=edge, origin=edge, depth=self.form[1], spare=spare)


def _fill(end: StrapEnd, unsaid: Unsaid) -> FilledLoop:
    """A loop needs its rod, which has no default: whoever reads a spec sees to it that it is said."""
    shape, depth = end_form(end, "square", unsaid.width)
    return FilledLoop(kind="loop", shape=shape, depth=depth, rod=end.rod or 0, hold=end.hold)


def _make(end: FilledLoop, making: Making) -> LoopEnd:
    return LoopEnd(
        place=making.place,
        width=making.width,
        on_billet=making.on_billet,
        holding=making.holds.of_fold(end.hold),
        form=end.form,
        rod=end.rod,
    )


LOOP = Kind(
    name="loop",
    filled=FilledLoop,
    title="loop",
    members=("rod", "hold"),
    needs=("rod",),
    tells=("rod",),
    fill=_fill,
    make=_make,
    ordered=lambda end, words: say("turned back into a loop for a rod of {rod}", rod=words.read(end.rod)),
    seen=lambda _end, _words: "turned back into a loop",
)
