"""A billet riveted over the body's end, which itself ends in a buckle, a tip or whatever else an end may be."""

from collections.abc import Iterator
from dataclasses import replace

from service.shop.goods import Buckle, Nm, Ring
from service.strap.ends.pieces import piece_of
from service.strap.fixings.rivets import rivet
from service.strap.fixings.stitches import side_lines
from service.strap.model.filled_ends import FilledTaper
from service.strap.model.holding import Holding
from service.strap.model.job import End, Job, Laid
from service.strap.model.loops import Loops
from service.strap.model.pattern import Feature, Piece, PieceName, Placement
from service.strap.model.side import Plied, Side
from service.strap.model.stitch_line import StitchLine
from service.strap.plane.geometry import least_from_end
from service.strap.plane.narrowing import Narrowing
from service.strap.plane.outline import EndForm, Outline, strap_outline
from service.strap.plane.spacing import nearest, round_up
from service.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class BilletEnd(End):
    """The billet called `name`, which `adds` so much to the body where that was asked for.

    `inner` is its own outer end, `riveted_form` its other one, which lies on the body. It is `joined_width` wide there,
    and may narrow to its outer end by a `taper`. `body_form` is the form of the body's end beneath it.
    """

    name: PieceName
    inner: End
    joined: Holding
    adds: Nm | None
    joined_width: Nm
    taper: FilledTaper | None = None
    riveted_form: EndForm
    body_form: EndForm

    @property
    def outer_width(self) -> Nm:
        """The billet's, at its outer end."""
        return self.inner.width

    @property
    def inner_width(self) -> Nm:
        """The billet's, where it is riveted on."""
        return self.joined_width

    @property
    def longer_by(self) -> Nm:
        """How much longer a taper makes the billet."""
        return self.taper.over if self.taper else 0

    @property
    def outermost(self) -> End:
        """What the billet ends in."""
        return self.inner

    @property
    def join(self) -> Holding:
        """What joins it to the body."""
        return self.joined

    @property
    def buckle(self) -> Buckle | None:
        """The billet's."""
        return self.inner.buckle

    @property
    def fits(self) -> Buckle | None:
        """The one that the billet's holes are made for."""
        return self.inner.fits

    @property
    def billet_name(self) -> PieceName:
        """Its name."""
        return self.name

    @property
    def loops(self) -> Loops | None:
        """The billet's."""
        return self.inner.loops

    @property
    def prong_slot(self) -> Nm | None:
        """The billet's."""
        return self.inner.prong_slot

    @property
    def ring(self) -> Ring | None:
        """The billet's."""
        return self.inner.ring

    @property
    def collar_ring(self) -> Ring | None:
        """The billet's."""
        return self.inner.collar_ring

    def lay(self, job: Job, opposite: Laid | None = None) -> "LaidBillet":
        """The row keeps away from the joint, and spots from the whole billet."""
        inner, clear = self.inner.lay(job, opposite), job.rules.hardware_clear
        margin = job.stitch_inset if self.joined.is_stitched else job.end_distance
        from_joint = max(inner.from_joint + self.longer_by, (self.adds or 0) + margin)
        return LaidBillet(
            anchor=job.overlap - margin,
            keep=max(self.joined.half(job.rules), margin) + clear,
            border=job.overlap + clear,
            guard=self.joined_width // 2,
            takes=job.overlap,
            datum=inner.datum + from_joint - margin,
            fold_edge=inner.fold_edge,
            frame_edge=inner.frame_edge,
            outer=inner.outer,
            origin=inner.origin,
            form=self.body_form,
            from_joint=from_joint,
            end=self,
            inner=inner,
            margin=margin,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidBillet(Laid):
    """A billet laid out. The body reaches on under it by `cover` where a ruler leaves that over."""

    end: BilletEnd
    inner: Laid
    margin: Nm
    """From the body's end to the first rivet of the joint, or to the seam."""
    cover: Nm = 0

    @property
    def outermost(self) -> Laid:
        """What the billet ends in."""
        return self.inner

    @property
    def needs(self) -> Nm:
        """The least that it adds to the body, with all that it carries, and its taper."""
        return self.inner.from_joint + self.end.longer_by - self.margin

    def settle(self, job: Job, asked: Nm) -> tuple[Nm, Laid]:
        """The body's length on a ruler, and how far it then reaches on under this billet.

        A given length stays, a girth's goes to the nearest graduation; a finished length keeps its holes, and the
        joint covers what is left over. A billet that is folded draws its tail back by that; where that would be too
        little tail, the body is as long as asked.
        """
        size, grid = job.spec.size, job.grid
        if size.body_length is not None:
            return asked, self
        if size.girth is not None:
            return nearest(asked, grid), self
        length = round_up(asked, grid)
        cover = length - asked
        inner = self.inner.drawn_back(job, cover)
        if inner is None:
            return asked, self
        return length, replace(
            self,
            inner=inner,
            from_joint=self.from_joint + inner.from_joint - self.inner.from_joint,
            cover=cover,
            anchor=self.anchor + cover,
            border=self.border + cover,
            takes=self.takes + cover,
            datum=self.datum - cover,
        )

    def joints(self, job: Job, side: Side) -> list[Feature]:
        """The body's holes, counted from its end: hole i meets the billet's hole (count + 1 - i)."""
        if self.end.joined.is_stitched:
            return []
        return [
            rivet(
                self.end.joined,
                side.piece,
                "joint",
                side.first_joint + index,
                side.at(self.cover + job.end_distance + index * job.joint_spacing),
                (f"{self.end.name}.joint.{job.joint_count - index}",),
            )
            for index in range(job.joint_count)
        ]

    def pieces(self, job: Job, side: Side) -> list[Piece]:
        """The billet. Its holes are told from the head on, like those of the body."""
        own, inner = self._own_side(job, side), self.inner
        features = inner.features(job, own)
        joints = self._own_joints(job, side, own)
        return [
            piece_of(
                job,
                self.end.name,
                self._outline(job, own),
                [*joints, *features] if side.is_foot else [*features, *joints],
                stitched=(*inner.stitches(job, own), *self._seams(job, own)),
                lap=self.cover + job.overlap if self.end.joined.is_stitched else 0,
            )
        ]

    def _seams(self, job: Job, own: Side) -> Iterator[StitchLine]:
        """The lines along both edges that sew it to the body over its lap, less an inset at each end."""
        if not self.end.joined.is_stitched:
            return
        half, inset = self.end.joined_width // 2, job.stitch_inset
        y = half - inset
        if y <= 0:
            return
        first = own.length - job.overlap + least_from_end(self.form, self.end.width // 2, y, inset)
        last = own.length - least_from_end(self.end.riveted_form, half, y, inset)
        if last > first:
            yield from side_lines("joint_stitch", own, (first, last), y, job)

    def _outline(self, job: Job, own: Side) -> Outline:
        """It narrows from the body's end on, and keeps the width of its outer end from there."""
        width = self.end.joined_width
        ends: tuple[EndForm, EndForm] = (self.inner.form, self.end.riveted_form)
        narrowings = None
        if self.end.taper and self.end.taper.to < width:
            outer = self.end.taper.narrowing(max(self.inner.from_joint - self.margin, self.inner.form[1]))
            narrowings = (outer, Narrowing(width, job.overlap))
        if own.is_foot:
            ends, narrowings = (ends[1], ends[0]), narrowings and (narrowings[1], narrowings[0])
        return strap_outline(own.length, width, *ends, narrowings)

    def _own_side(self, job: Job, side: Side) -> Side:
        length = self.from_joint + job.overlap - self.margin
        return Side(piece=self.end.name, length=length, is_foot=side.is_foot, n=side.n)

    def _own_joints(self, job: Job, side: Side, own: Side) -> list[Feature]:
        """The billet's joint holes, counted from its riveted end."""
        holes: list[Feature] = []
        if self.end.joined.is_stitched:
            return holes
        for index in range(job.joint_count):
            away = job.end_distance + index * job.joint_spacing
            mate = f"{side.piece}.joint.{side.first_joint + job.joint_count - index - 1}"
            holes.append(rivet(self.end.joined, own.piece, "joint", index + 1, own.at(own.length - away), (mate,)))
        return holes

    def plies(self, job: Job, side: Side, at: Nm) -> Plied:
        """Its folded ply behind the body, the other before it."""
        own = self._own_side(job, side)
        if side.is_foot:
            own_at, part = at + side.length - self.cover - job.overlap, (0, own.length - self.inner.middle)
        else:
            own_at, part = at - self.from_joint + self.margin, (self.inner.middle, own.length)
        backs, _ = self.inner.plies(job, own, own_at)
        front = Placement(piece=own.piece, offset=own_at, direction=1, from_x=part[0], to_x=part[1], layer=2)
        return backs, [front]
