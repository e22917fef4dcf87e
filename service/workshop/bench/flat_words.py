"""The work on flat leather in words: what is tried before it, leather cut and edged, holes made."""

from collections.abc import Sequence

from service.shop.goods import Nm
from service.shop.shop import Shop
from service.strap.model.pattern import Piece
from service.strap.model.stitch_line import StitchPurpose
from service.strap.plane.lengths import reading, tape_reading
from service.words import say, say_count, say_list
from service.workshop.bench.step import Deed
from service.workshop.bench.strap_words import StrapWords
from service.workshop.bench.taper_words import edge_sentence, taper_sentence
from service.workshop.names import (
    called,
    end_to_end,
    item_title,
    nominal_size,
    purpose_title,
    seam_inside,
    several,
    tool_title,
    with_consumed,
)

_SEAMS: dict[StitchPurpose, str] = {
    "edge_stitch": "along the edges",
    "fold_stitch": "where its fold is sewn",
    "joint_stitch": "where it is sewn to the body",
    "splice_stitch": "in each lap",
}


class FlatWords(StrapWords):
    """The words for the steps of one strap while its pieces lie flat and bare."""

    def _test(self, _: Deed) -> str:
        leathers = say_list(dict.fromkeys(piece.leather.title for piece in self._pattern.pieces))
        return say(
            "On an offcut of {leather}, in as many plies as on the strap, {tried}. Go on once "
            "all of it is clean and holds.",
            leather=leathers,
            tried=tried_words(self._pattern.pieces, self._shop),
        )

    def _try(self, _: Deed) -> str:
        finished = self._pattern.finished
        length = tape_reading(finished.length, self._units)
        fits = [tape_reading(hole.fits, self._units) for hole in self._pattern.worn_at]
        if finished.joined and len(fits) > 1:
            return say(
                "Try the size with paper or string where it will be worn: with its joining strap it fits girths of "
                "{least} to {most}; the strap itself is {length} {end_to_end}.",
                least=fits[0],
                most=fits[-1],
                length=length,
                end_to_end=end_to_end(self._pattern),
            )
        if not finished.holes:
            return say(
                "Try the size in paper or string: {length} {end_to_end}{joined}.",
                length=length,
                end_to_end=end_to_end(self._pattern),
                joined=self._joined(),
            )
        span = say("from the {datum} to {hole}", datum=say(finished.measured_from), hole=nominal_size(self._pattern))
        span = end_to_end(self._pattern) if self._pattern.is_snapped else span
        if len(fits) > 1:
            return say(
                "Try the size with paper or string where it will be worn: "
                "it fits girths of {least} to {most} and is {length} {span}.",
                least=fits[0],
                most=fits[-1],
                length=length,
                span=span,
            )
        return say(
            "Try the size with paper or string where it will be worn: it is {length} {span}.", length=length, span=span
        )

    def _strip(self, step: Deed) -> str:
        pieces = [self._piece(name) for name in step.pieces]
        lengths = [strip.cut_length for piece in pieces for strip in piece.strips for _ in range(piece.count)]
        width, total = self._read(pieces[0].cut_width), self._read(sum(lengths))
        over = self._over(pieces[0], say("at each edge"))
        return say(
            "Set the strap cutter to {width} and cut {total} of strip from {leather} for {pieces}{over}{strips}.",
            width=width,
            total=total,
            leather=pieces[0].leather.title,
            pieces=self._names(step),
            over=over,
            strips=self._in_strips(lengths, pieces[0].leather.strip_length),
        )

    def _in_strips(self, lengths: list[Nm], longest: Nm) -> str:
        """Nothing where one strip of the leather is long enough; else in how many the pieces go, the longest first."""
        if sum(lengths) <= longest:
            return ""
        left: list[Nm] = []
        for length in sorted(lengths, reverse=True):
            at = next((n for n, room in enumerate(left) if room >= length), None)
            if at is None:
                left.append(longest - length)
            else:
                left[at] -= length
        return say(", in {count} strips of at most {longest}", count=len(left), longest=self._read(longest))

    def _cut(self, step: Deed) -> str:
        piece = self._piece(step.pieces[0])
        over = self._over(piece, say("at each end, to be trimmed once it is glued"))
        rise = say(", {rise} of it to lie over the backs", rise=self._read(piece.rise)) if piece.rise else ""
        return say(
            "Cut the {pieces} to {length}{over}{rise}.",
            pieces=self._names(step),
            length=self._read(piece.cut_length),
            over=over,
            rise=rise,
        )

    def _over(self, piece: Piece, where: str) -> str:
        return say(", {over} over {where}", over=self._read(piece.over), where=where) if piece.over else ""

    def _taper(self, step: Deed) -> str:
        return taper_sentence(self._piece(step.pieces[0]), step.features, self._units)

    def _edge(self, step: Deed) -> str:
        return edge_sentence(self._piece(step.pieces[0]), self._shop.edge_irons.get(step.tool or ""), self._units)

    def _shape(self, step: Deed) -> str:
        outline = self._piece(step.pieces[0]).outline
        shape, depth = outline.head if step.features[0].endswith(".1") else outline.foot
        one = say("the first end") if step.features[0].endswith(".1") else say("the last end")
        ends = say("both ends") if len(step.features) == 2 else one
        return say(
            "Shape {ends} of the {pieces}: {shape}, {depth} deep.",
            ends=ends,
            pieces=self._names(step),
            shape=called(shape),
            depth=self._read(depth),
        )

    def _skive(self, step: Deed) -> str:
        piece = self._piece(step.pieces[0])
        if not step.features:
            return say(
                "Skive the {pieces} {thickness}.", pieces=self._names(step), thickness=_thinned(piece, piece.skived)
            )
        thin = round(piece.thickness * self._shop.rules.fold_skive)
        at = self._read(self._features[step.features[0]].x)
        return say(
            "Skive the {pieces} across its fold at {at}, {thickness}.",
            pieces=self._names(step),
            at=at,
            thickness=_thinned(piece, thin),
        )

    def _glue_edging(self, step: Deed) -> str:
        """Where the strips of an edging lie, and which edge stands out."""
        at = self._piece("edging").edging
        if at is None:
            return ""
        cut = {"pinked": "its pinked edge outwards", "scalloped": "its scalloped edge outwards"}
        return say(
            "Glue a strip of edging behind each edge of the {lined}, grain side up{cut}, from {start} to {end} along "
            "the strap, so that it stands out {reach}; ease it round where the strap narrows.",
            lined=called(step.pieces[0]),
            cut=say(", {how}", how=say(cut[at.cut.shape])) if at.cut else "",
            start=self._read(at.start),
            end=self._read(at.end),
            reach=self._read(at.reach),
        )

    def _glue(self, step: Deed) -> str:
        if step.pieces[-1] == "edging":
            return self._glue_edging(step)
        if "lining" in step.pieces:
            lined = called(step.plies[0])
            before = say(", the edging between") if "edging" in step.plies else ""
            glued = say(
                "Glue the lining behind the {lined}, flesh side to flesh side{before}", lined=lined, before=before
            )
            if self._covers:
                damp = say("; dampen it and mould it down round each") if self._piece("lining").rise else ""
                return say(
                    "{glued}, over the backs of all that is set{damp}. Look at each before: none is reached again.",
                    glued=glued,
                    damp=damp,
                )
            return f"{glued}."
        if len(step.pieces) > 1:
            return say(
                "Glue the {piece}, grain side up, {lap} over the body's end, to be sewn.",
                piece=called(step.pieces[0]),
                lap=self._read(self._piece(step.pieces[0]).lap),
            )
        scuffed = say("; scuff the lining's grain first, where grain meets grain") if "lining" in step.plies else ""
        seams = seams_of(self._piece(step.pieces[0]), self._features[step.features[0]].x)
        if not seams:
            return say("Glue the tail of the {which} down{scuffed}.", which=self._which_end(step), scuffed=scuffed)
        return say(
            "Glue the tail of the {which} down where it will be sewn, {spans} on the front ply, and no "
            "nearer to the fold: what it goes round, and a keeper, stay free{scuffed}.",
            which=self._which_end(step),
            spans=say_list(
                say("from {low} to {high}", low=self._read(low), high=self._read(high)) for low, high in seams
            ),
            scuffed=scuffed,
        )

    def _trim(self, step: Deed) -> str:
        return say("Trim the lining flush with the edges of the {plies}.", plies=called(step.plies[0]))

    def _bevel(self, step: Deed) -> str:
        return say("Bevel the edges of the {pieces}, front and back.", pieces=self._edged(step))

    def _dye(self, step: Deed) -> str:
        return say("Dye the edges of the {pieces}, and let them dry.", pieces=self._edged(step))

    def _burnish(self, step: Deed) -> str:
        return say(
            "Slick and burnish the edges of the {pieces}{goods}.",
            pieces=self._edged(step),
            goods=with_consumed("edge_m", self._shop),
        )

    def _edged(self, step: Deed) -> str:
        """The pieces; one that is edged after all others has its lining on by then."""
        lined = self._covers and step.pieces == (self._pattern.pieces[0].name,)
        return say("{pieces} with its lining", pieces=self._names(step)) if lined else self._names(step)

    def _finish(self, step: Deed) -> str:
        return say(
            "Dress the grain side of the {pieces}{goods}, and let it dry.",
            pieces=self._names(step),
            goods=with_consumed("leather_m2", self._shop),
        )

    def _prick(self, step: Deed) -> str:
        line, count = self._lines[step.features[0]], len(step.features)
        fixed = say("one in every corner") if line.closed else say("one at each end")
        return say_count(
            "Prick the {pieces} {seam}, {inside}, {extents}: {holes} holes, {pitch} apart, {fixed}.",
            "Prick the {pieces} {seam}, {inside}, {extents}: {count} lines of {holes} holes, {pitch} apart, {fixed}.",
            count,
            pieces=self._names(step),
            seam=say(_SEAMS[line.purpose]),
            inside=seam_inside(self._piece(step.pieces[0]), line, self._units),
            extents=self._extents(step),
            holes=line.holes,
            pitch=self._read(line.pitch),
            fixed=fixed,
        )

    def _extents(self, step: Deed) -> str:
        """`from 1/8 to 9 7/8 in`, from where to where lines go along their piece; those side by side once."""
        lines = (self._lines[name] for name in step.features)
        ends = dict.fromkeys((min(xs), max(xs)) for xs in ([x for x, _ in line.points] for line in lines))
        return say_list(say("from {low} to {high}", low=self._read(low), high=self._read(high)) for low, high in ends)

    def _punch(self, step: Deed) -> str:
        title = tool_title(step.tool or "", self._shop)
        both = say(" through both plies") if step.plies else ""
        if self._features[step.features[0]].method == "one_punch":
            return say("Punch with the {title}{both}: {counts}.", title=title, both=both, counts=self._counted(step))
        return say(
            "This shop has no slot punch for these: punch a round hole at each end of the slot "
            "with the {title} and make two knife cuts between{both}: {counts}.",
            title=title,
            both=both,
            counts=self._counted(step),
        )

    def _counted(self, step: Deed) -> str:
        """`body: 4 × joint hole; tongue billet: 2 × joint hole`."""
        counted: dict[str, dict[str, int]] = {name: {} for name in step.pieces}
        for each in step.features:
            counts, purpose = counted[each.partition(".")[0]], self._features[each].purpose
            counts[purpose] = counts.get(purpose, 0) + 1
        return "; ".join([self._counted_on(self._piece(name), counts) for name, counts in counted.items()])

    def _counted_on(self, piece: Piece, counts: dict[str, int]) -> str:
        what = ", ".join([f"{count} × {purpose_title(purpose)}" for purpose, count in counts.items()])
        return f"{several(piece)}: {what}" if piece.count == 1 else _of_each(piece, what)

    def _mark(self, step: Deed) -> str:
        first = self._features[step.features[0]]
        title = item_title(first.item, self._shop) if first.item else purpose_title(first.purpose)
        return say(
            "Mark, never punch: {count} × {title} on the {pieces}.",
            count=len(step.features),
            title=title,
            pieces=self._names(step),
        )


def tried_words(pieces: Sequence[Piece], shop: Shop) -> str:
    """What is tried on an offcut before these pieces are begun."""
    features = [feature for piece in pieces for feature in piece.features]
    items = dict.fromkeys(item for each in features for item in (each.item, each.fastener) if item)
    titles = [item_title(item, shop) for item in items]
    tried = [say("try every punch")] if any(each.action == "punch" for each in features) else []
    tried += [say("sew a few stitches")] if any(piece.stitch_lines for piece in pieces) else []
    tried += [say("set a spare one of each: {titles}", titles="; ".join(titles))] if titles else []
    return say_list(tried or [say("work an edge")])


def seams_of(piece: Piece, fold: Nm) -> list[tuple[Nm, Nm]]:
    """From where to where a fold's stitches go: two seams with a ring between them, none where it is riveted."""
    folds = [each.x for each in piece.features if each.purpose == "fold_line"]
    lines = ([x for x, _ in each.points] for each in piece.stitch_lines if each.purpose == "fold_stitch")
    spans = {(min(xs), max(xs)) for xs in lines if min(folds, key=lambda at: abs(at - xs[0])) == fold}
    return sorted(spans)


def _of_each(piece: Piece, what: str) -> str:
    return say("{pieces}, each: {what}", pieces=several(piece), what=what)


def _thinned(piece: Piece, to: Nm) -> str:
    """As a thickness gauge is read."""
    return say("from {thickness} to {to}", thickness=reading(piece.thickness, "mm"), to=reading(to, "mm"))
