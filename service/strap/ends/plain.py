"""An end that nothing closes: plain, or with a hole or a slot to hang it up by."""

from service.shop.goods import Nm
from service.strap.ends.shapes import end_form
from service.strap.model.filled_ends import FilledHole, FilledSlot, ShapedEnd
from service.strap.model.hardware import Cut, slot_for
from service.strap.model.job import End, Job, Laid
from service.strap.model.kind import Kind, Making, Unsaid
from service.strap.model.pattern import Feature
from service.strap.model.side import Side
from service.strap.model.spec import StrapEnd
from service.strap.plane.outline import EndForm
from service.values import dataclass
from service.words import say


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainEnd(End):
    """An end of a shape, and nothing else."""

    form: EndForm

    def lay(self, job: Job, _opposite: Laid | None = None) -> Laid:
        """The row begins at its tip; where that is deep, ornaments keep away from it."""
        keep = max(job.rules.ornament_edge, self.form[1] - largest_radius(job))
        return Laid(
            anchor=0, keep=keep, border=0, takes=0, depth=self.form[1], spare=job.end_distance, datum=0, form=self.form,
            from_joint=max(self.form[1], job.end_distance) + job.rules.first_fold_rivet,
        )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class HangingEnd(End):
    """An end with a hole of this diameter, or with a slot of this length across the strap."""

    form: EndForm
    size: Nm
    is_slot: bool

    def lay(self, job: Job, _opposite: Laid | None = None) -> "LaidHanging":
        """The row begins at the hole."""
        cut, at, clear = self._cut(job), job.end_distance, job.rules.hardware_clear
        half = cut.width // 2
        return LaidHanging(
            anchor=at,
            keep=max(half + clear, self.form[1] - at - largest_radius(job)),
            border=at + half + clear,
            guard=cut.length // 2,
            takes=at,
            depth=self.form[1],
            spare=at,
            datum=0,
            form=self.form,
            from_joint=at + max(job.rules.first_fold_rivet, half + clear + job.fastener.cap_diameter // 2),
            cut=cut,
            is_slot=self.is_slot,
        )

    def _cut(self, job: Job) -> Cut:
        """A hanging hole by the punch of just this diameter, if the shop has one, or a slot that passes a lace."""
        if self.is_slot:
            return slot_for(self.size, job.rules.lace_thickness, self.size // 16, job.shop)
        punches = job.shop.round_punches.values()
        tool = next((punch.id for punch in punches if punch.diameter == self.size), None)
        return Cut(length=self.size, width=self.size, tool=tool)


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidHanging(Laid):
    """An end with a hole or slot at its anchor."""

    cut: Cut
    is_slot: bool

    def features(self, _job: Job, side: Side) -> list[Feature]:
        """The hole or slot."""
        name, x, cut = f"{side.piece}.hanger.{side.n}", side.at(self.anchor), self.cut
        if self.is_slot:
            return [
                Feature(
                    id=name, kind="slot", action="punch", purpose="hanger", x=x, length=cut.length, width=cut.width,
                    angle=90, tool=cut.tool, method=cut.method,
                )
            ]  # fmt: skip
        return [
            Feature(id=name, kind="hole", action="punch", purpose="hanger", x=x, diameter=cut.length, tool=cut.tool)
        ]


def largest_radius(job: Job) -> Nm:
    """Half of the row's largest ornament."""
    return job.largest.diameter // 2 if job.largest else 0


def _fill_plain(end: StrapEnd, unsaid: Unsaid) -> ShapedEnd:
    shape, depth = end_form(end, unsaid.defaults.body_end, unsaid.width)
    return ShapedEnd(kind="plain", shape=shape, depth=depth)


def _make_plain(end: ShapedEnd, making: Making) -> PlainEnd:
    return PlainEnd(place=making.place, width=making.width, form=end.form)


def _fill_hole(end: StrapEnd, unsaid: Unsaid) -> FilledHole:
    shape, depth = end_form(end, "round", unsaid.width)
    return FilledHole(kind="hole", shape=shape, depth=depth, hole=end.hole or unsaid.defaults.hang_hole)


def _make_hole(end: FilledHole, making: Making) -> HangingEnd:
    return HangingEnd(place=making.place, width=making.width, form=end.form, size=end.hole, is_slot=False)


def _fill_slot(end: StrapEnd, unsaid: Unsaid) -> FilledSlot:
    shape, depth = end_form(end, "round", unsaid.width)
    return FilledSlot(kind="slot", shape=shape, depth=depth, slot=end.slot or unsaid.defaults.hang_slot)


def _make_slot(end: FilledSlot, making: Making) -> HangingEnd:
    return HangingEnd(place=making.place, width=making.width, form=end.form, size=end.slot, is_slot=True)


PLAIN = Kind(
    name="plain",
    filled=ShapedEnd,
    title="plain end",
    fill=_fill_plain,
    make=_make_plain,
    ordered=lambda end, words: words.shape(end.form),
    seen=lambda _end, _words: "plain",
)
HOLE = Kind(
    name="hole",
    filled=FilledHole,
    title="hanging hole",
    members=("hole",),
    tells=("hole",),
    fill=_fill_hole,
    make=_make_hole,
    ordered=lambda end, words: say(
        "{shape}, with a hole of {hole}", shape=words.shape(end.form), hole=words.read(end.hole)
    ),
    seen=lambda _end, _words: "with a hanging hole",
)
SLOT = Kind(
    name="slot",
    filled=FilledSlot,
    title="hanging slot",
    members=("slot",),
    tells=("slot",),
    fill=_fill_slot,
    make=_make_slot,
    ordered=lambda end, words: say(
        "{shape}, with a slot of {slot}", shape=words.shape(end.form), slot=words.read(end.slot)
    ),
    seen=lambda _end, _words: "with a hanging slot",
)
