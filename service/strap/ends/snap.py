"""An end with one half of a snap fastener: a cap, or one or several studs of which each gives a size."""

from service.shop.goods import Nm, Snap, SnapHalf
from service.strap.ends.shapes import end_form
from service.strap.model.end_measures import Sizes
from service.strap.model.filled_ends import FilledSnap
from service.strap.model.hardware import Cut, hole_for
from service.strap.model.job import End, Job, Laid
from service.strap.model.kind import Kind, Making, Unsaid, Words
from service.strap.model.pattern import Feature
from service.strap.model.side import Side
from service.strap.model.spec import StrapEnd
from service.strap.plane.outline import EndForm
from service.strap.plane.spacing import nearest, round_up
from service.values import dataclass
from service.words import say, say_count


@dataclass(frozen=True, slots=True, kw_only=True)
class SnapEnd(End):
    """An end of a form with so many of one half of a snap, `spacing` apart."""

    form: EndForm
    held: Snap
    half: SnapHalf
    count: int
    spacing: Nm

    @property
    def snap(self) -> Snap:
        """The one that it has a half of."""
        return self.held

    @property
    def snap_half(self) -> SnapHalf:
        """Which half."""
        return self.half

    @property
    def stud_count(self) -> int:
        """As many as there are."""
        return self.count

    def lay(self, job: Job, _opposite: Laid | None = None) -> "LaidSnap":
        """Lengths are measured to the cap, or to the middle stud.

        The outermost stands as far from the end as a rivet, and farther where its flange would reach over the end.
        The row keeps off as far past the innermost stud as the other end reaches over it once it is closed there.
        """
        rules, radius = job.rules, self.held.cap_diameter // 2
        outer = round_up(max(job.end_distance, radius + rules.ornament_edge), job.grid)
        studs = Sizes(count=self.count, spacing=self.spacing)
        anchor, beyond = outer + studs.row, outer + studs.row - studs.to_nominal
        keep = (outer if self.half == "stud" else radius) + rules.hardware_clear
        edge = 0 if job.closes else beyond  # a strap that is not closed is measured to its ends
        return LaidSnap(
            anchor=anchor,
            keep=keep,
            border=anchor + keep,
            guard=self.width,
            takes=anchor + keep,
            depth=self.form[1],
            spare=job.end_distance,
            datum=-beyond,
            fold_edge=edge,
            frame_edge=edge,
            outer=beyond,
            origin=beyond,
            form=self.form,
            from_joint=anchor + max(rules.first_fold_rivet, keep + job.fastener.cap_diameter // 2),
            end=self,
            studs=studs,
            hole=hole_for(self.held.post_diameter, rules.hole_ease, job.shop),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidSnap(Laid):
    """A half of a snap laid out: the row begins past its innermost stud, or its cap."""

    end: SnapEnd
    studs: Sizes
    hole: Cut

    @property
    def sizes(self) -> Sizes | None:
        """Each stud is a size; a cap is none."""
        return self.studs if self.end.half == "stud" else None

    def settle(self, job: Job, asked: Nm) -> tuple[Nm, Laid]:
        """A girth's cap or stud goes to the nearest graduation."""
        by_girth = job.is_snapped and job.spec.size.girth is not None
        return (nearest(asked, job.grid) if by_girth else asked), self

    def features(self, _job: Job, side: Side) -> list[Feature]:
        """Its holes, the innermost first: that one gives the tightest fit."""
        half, held = self.end.half, self.end.held
        first = side.n if half == "cap" else side.first_hole
        return [
            Feature(
                id=f"{side.piece}.snap_{half}.{first + n}", kind="hole", action="punch",
                purpose="snap_cap" if half == "cap" else "snap_stud", x=side.at(self.anchor - n * self.studs.spacing),
                diameter=self.hole.length, tool=self.hole.tool, item=held.id,
                footprint=held.cap_diameter if half == "cap" else held.stud_diameter,
            )
            for n in range(self.studs.count)
        ]  # fmt: skip


def _fill(end: StrapEnd, unsaid: Unsaid) -> FilledSnap:
    """The shop's first snap that does not break away, and one of it: studs apart as size holes are.

    Which half it is has no default: whoever reads a spec sees to it that it is said.
    """
    shape, depth = end_form(end, "round", unsaid.width)
    snaps = unsaid.shop.snaps
    usual = next((name for name, each in snaps.items() if not each.breaks_away), next(iter(snaps), "snap"))
    return FilledSnap(
        kind="snap",
        shape=shape,
        depth=depth,
        snap=end.snap or usual,
        half=end.half or "cap",
        count=end.count or 1,
        spacing=end.spacing or unsaid.defaults.size_hole_spacing,
    )


def _make(end: FilledSnap, making: Making) -> SnapEnd:
    return SnapEnd(
        place=making.place,
        width=making.width,
        form=end.form,
        held=making.shop.snaps[end.snap],
        half=end.half,
        count=end.count,
        spacing=end.spacing,
    )


_HALVES: dict[SnapHalf, tuple[str, str]] = {"cap": ("the cap", "{count} caps"), "stud": ("the stud", "{count} studs")}


def _ordered(end: FilledSnap, words: Words) -> str:
    count = end.count
    one, many = _HALVES[end.half]
    half = (
        say(one)
        if count == 1
        else say("{halves}, {spacing} apart,", halves=say_count(one, many, count), spacing=words.read(end.spacing))
    )
    return say("{shape}, with {half} of {snap}", shape=words.shape(end.form), half=half, snap=words.title(end.snap))


def _seen(end: FilledSnap, words: Words) -> str:
    half = say_count(*_HALVES[end.half], end.count)
    return say("with {half} of a {snap}", half=half, snap=words.title(end.snap))


SNAP = Kind(
    name="snap",
    filled=FilledSnap,
    title="snap",
    members=("snap", "half", "count", "spacing"),
    needs=("half",),
    tells=("snap", "half"),
    fill=_fill,
    make=_make,
    ordered=_ordered,
    seen=_seen,
)
