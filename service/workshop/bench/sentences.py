"""The work in words: one sentence for each step, made of its data and of the pattern that it belongs to."""

from collections import Counter
from collections.abc import Callable
from operator import attrgetter

from service.shop.goods import Nm
from service.shop.pricing import ConsumedPer
from service.shop.shop import Shop
from service.strap.model.laces import laces_of
from service.strap.model.pattern import KEEPERS, Pattern, Piece, StitchPurpose
from service.strap.plane.lengths import reading, tape_reading
from service.workshop.bench.splice_words import listed, splice_sentence
from service.workshop.bench.step import Deed, Goods, Op
from service.workshop.bench.taper_words import taper_sentence
from service.workshop.names import called, end_to_end, item_title, long_reading, purpose_title, tool_title

_SEAMS: dict[StitchPurpose, str] = {
    "edge_stitch": "along the edges",
    "fold_stitch": "where its fold is sewn",
    "joint_stitch": "where it is sewn to the body",
    "splice_stitch": "in each lap",
}
_SEWN: dict[StitchPurpose, str] = {
    "edge_stitch": "along the edges",
    "fold_stitch": "through both plies of the fold",
    "joint_stitch": "through the billet and the body",
    "splice_stitch": "through the laps",
}
_Told = Callable[[Deed], str]
_DRAWN = {1: "a needle at one end", 2: "a needle at each end, as a saddle stitch"}


class Words:
    """The words for the steps of one strap."""

    def __init__(self, pattern: Pattern, shop: Shop) -> None:
        self._pattern = pattern
        self._shop = shop
        self._units = pattern.spec.units
        self._features = {each.id: each for piece in pattern.pieces for each in piece.features}
        self._lines = {line.id: line for piece in pattern.pieces for line in piece.stitch_lines}
        self._by_op: dict[Op, _Told] = {
            "test": self._test, "try": self._try,
            "strip": self._strip, "cut": self._cut, "taper": self._taper, "shape": self._shape, "skive": self._skive,
            "glue": self._glue, "trim": self._trim, "bevel": self._bevel, "dye": self._dye, "burnish": self._burnish,
            "finish": self._finish, "prick": self._prick, "punch": self._punch, "mark": self._mark,
            "pierce": self._pierce, "stitch": self._stitch, "set": self._set, "lace": self._lace,
            "dampen": self._dampen, "slip": self._slip, "fold": self._fold, "rivet": self._rivet,
            "measure": self._measure,
        }  # fmt: skip

    def sentence(self, step: Deed) -> str:
        """What is done in a step, told to who does it."""
        if len(step.pieces) == 1:
            told = splice_sentence(self._piece(step.pieces[0]), step, self._units)
            if told:
                return told
        return self._by_op[step.op](step)

    # ------------------------------------------------------------ before good leather is touched

    def _test(self, _: Deed) -> str:
        features = self._features.values()
        items = dict.fromkeys(item for each in features for item in (each.item, each.fastener) if item)
        titles = [item_title(item, self._shop) for item in items]
        tried = ["try every punch"] if any(each.action == "punch" for each in features) else []
        tried += ["sew a few stitches"] if self._lines else []
        tried += [f"set a spare one of each: {'; '.join(titles)}"] if titles else []
        leathers = listed(dict.fromkeys(piece.leather.title for piece in self._pattern.pieces))
        return (
            f"On an offcut of {leathers}, in as many plies as on the strap, {listed(tried or ['work an edge'])}. "
            "Go on once all of it is clean and holds."
        )

    def _try(self, _: Deed) -> str:
        finished = self._pattern.finished
        length = tape_reading(finished.length, self._units)
        fits = [tape_reading(hole.fits, self._units) for hole in self._pattern.worn_at]
        if not finished.holes:
            return f"Try the size in paper or string: {length} {end_to_end(self._pattern)}{self._joined()}."
        girths = f"fits girths of {fits[0]} to {fits[-1]} and " if len(fits) > 1 else ""
        span = f"from the {finished.measured_from} to the middle hole"
        wanted = f"it {girths}is {length} {end_to_end(self._pattern) if self._pattern.is_snapped else span}"
        return f"Try the size with paper or string where it will be worn: {wanted}."

    # ------------------------------------------------------------ leather

    def _strip(self, step: Deed) -> str:
        pieces = [self._piece(name) for name in step.pieces]
        width, total = (
            self._read(pieces[0].cut_width),
            self._read(sum(strip.cut_length for piece in pieces for strip in piece.strips)),
        )
        over = self._over(pieces[0], "at each edge")
        return (
            f"Set the strap cutter to {width} and cut {total} of strip "
            f"from {pieces[0].leather.title} for {self._names(step)}{over}."
        )

    def _cut(self, step: Deed) -> str:
        piece = self._piece(step.pieces[0])
        over = self._over(piece, "at each end, to be trimmed once it is glued")
        rise = f", {self._read(piece.rise)} of it to lie over the backs" if piece.rise else ""
        return f"Cut the {self._names(step)} to {self._read(piece.cut_length)}{over}{rise}."

    def _over(self, piece: Piece, where: str) -> str:
        return f", {self._read(piece.over)} over {where}" if piece.over else ""

    def _taper(self, step: Deed) -> str:
        return taper_sentence(self._piece(step.pieces[0]), step.features, self._units)

    def _shape(self, step: Deed) -> str:
        outline = self._piece(step.pieces[0]).outline
        shape, depth = outline.head if step.features[0].endswith(".1") else outline.foot
        one = "first" if step.features[0].endswith(".1") else "last"
        ends = "both ends" if len(step.features) == 2 else f"the {one} end"
        return f"Shape {ends} of the {self._names(step)}: {called(shape)}, {self._read(depth)} deep."

    def _skive(self, step: Deed) -> str:
        piece = self._piece(step.pieces[0])
        if not step.features:
            return f"Skive the {self._names(step)} {_thinned(piece, piece.skived)}."
        thin = round(piece.thickness * self._shop.rules.fold_skive)
        at = self._read(self._features[step.features[0]].x)
        return f"Skive the {self._names(step)} across its fold at {at}, {_thinned(piece, thin)}."

    def _glue(self, step: Deed) -> str:
        if "lining" in step.pieces:
            lined = called(step.plies[0])
            glued = f"Glue the lining behind the {lined}, flesh side to flesh side"
            if self._covers:
                damp = "; dampen it and mould it down round each" if self._piece("lining").rise else ""
                return f"{glued}, over the backs of all that is set{damp}. Look at each before: none is reached again."
            return f"{glued}."
        if len(step.pieces) > 1:
            lap = self._read(self._piece(step.pieces[0]).lap)
            return f"Glue the {called(step.pieces[0])}, grain side up, {lap} over the body's end, to be sewn."
        scuffed = "; scuff the lining's grain first, where grain meets grain" if "lining" in step.plies else ""
        return f"Glue the tail of the {self._which_end(step)} down, to be sewn{scuffed}."

    def _trim(self, step: Deed) -> str:
        return f"Trim the lining flush with the edges of the {called(step.plies[0])}."

    def _bevel(self, step: Deed) -> str:
        return f"Bevel the edges of the {self._edged(step)}, front and back."

    def _dye(self, step: Deed) -> str:
        return f"Dye the edges of the {self._edged(step)}, and let them dry."

    def _burnish(self, step: Deed) -> str:
        return f"Slick and burnish the edges of the {self._edged(step)}{self._with('edge_m')}."

    def _edged(self, step: Deed) -> str:
        """The pieces; one that is edged after all others has its lining on by then."""
        lined = self._covers and step.pieces == (self._pattern.pieces[0].name,)
        return f"{self._names(step)} with its lining" if lined else self._names(step)

    def _finish(self, step: Deed) -> str:
        return f"Dress the grain side of the {self._names(step)}{self._with('leather_m2')}, and let it dry."

    def _with(self, per: ConsumedPer) -> str:
        """The shop's own goods that are used up by the metre of edge or by the leather."""
        titles = self._consumed(per)
        return f" with {listed(titles)}" if titles else ""

    def _consumed(self, per: ConsumedPer) -> list[str]:
        consumables = self._shop.pricing.consumables.values() if self._shop.pricing else ()
        return [each.title for each in consumables if each.per == per]

    # ------------------------------------------------------------ holes

    def _prick(self, step: Deed) -> str:
        line, count = self._lines[step.features[0]], len(step.features)
        lines = "" if count == 1 else f"{count} lines of "
        fixed = "one in every corner" if line.closed else "one at each end"
        return (
            f"Prick the {self._names(step)} {_SEAMS[line.purpose]}, {self._read(line.inset)} inside the edge, "
            f"{self._extents(step)}: {lines}{line.holes} holes, {self._read(line.pitch)} apart, {fixed}."
        )

    def _extents(self, step: Deed) -> str:
        """`from 1/8 to 9 7/8 in`, from where to where lines go along their piece; those side by side once."""
        lines = (self._lines[name] for name in step.features)
        ends = dict.fromkeys((min(xs), max(xs)) for xs in ([x for x, _ in line.points] for line in lines))
        return " and ".join(f"from {self._read(low)} to {self._read(high)}" for low, high in ends)

    def _punch(self, step: Deed) -> str:
        title = tool_title(step.tool or "", self._shop)
        both = " through both plies" if step.plies else ""
        if self._features[step.features[0]].method == "one_punch":
            return f"Punch with the {title}{both}: {self._counted(step)}."
        return (
            f"This shop has no slot punch for these: punch a round hole at each end of the slot with the {title} "
            f"and make two knife cuts between{both}: {self._counted(step)}."
        )

    def _counted(self, step: Deed) -> str:
        """`body: 4 × joint hole; tongue billet: 2 × joint hole`."""
        told = []
        for name in step.pieces:
            ids = {each.id for each in self._piece(name).features}
            counts = Counter(self._features[each].purpose for each in step.features if each in ids)
            what = ", ".join(f"{count} × {purpose_title(purpose)}" for purpose, count in counts.items())
            told.append(f"{called(name)}: {what}")
        return "; ".join(told)

    def _mark(self, step: Deed) -> str:
        title = item_title(self._features[step.features[0]].item or "", self._shop)
        return f"Mark, never punch: {len(step.features)} × {title} on the {self._names(step)}."

    # ------------------------------------------------------------ setting

    def _pierce(self, step: Deed) -> str:
        purpose = self._lines[step.features[0]].purpose
        holes = sum(self._lines[name].holes for name in step.features)
        through = "every ply of the fold" if purpose == "fold_stitch" else listed(called(each) for each in step.plies)
        return f"Pierce through {through}, from hole to hole as they were pricked: {holes} holes."

    def _stitch(self, step: Deed) -> str:
        seam = _SEWN[self._lines[step.features[0]].purpose]
        threads = " and ".join(self._thread(goods) for goods in step.uses)
        lines = "the line" if len(step.features) == 1 else f"{len(step.features)} lines"
        stitching = self._pattern.spec.stitching
        strands = stitching.strands if stitching else self._shop.defaults.stitch_strands
        drawn = _DRAWN.get(strands, f"{strands} strands in each line")
        line = self._lines[step.features[0]]
        pierced = line.purpose in ("fold_stitch", "joint_stitch") or (self._covers and line.purpose == "edge_stitch")
        opened = "" if pierced else "; an awl opens each pricked hole"
        return f"Sew {lines} {seam} with {threads} in all, {drawn}{opened}."

    def _thread(self, goods: Goods) -> str:
        told = f"{long_reading(goods.length or 0, self._units)} of thread"
        return told if goods.count == 1 else f"{goods.count} times {told}"

    def _set(self, step: Deed) -> str:
        goods, *held = step.uses
        if goods.item in self._shop.snaps:
            return self._set_snap(step)
        how = self._shop.ornaments[goods.item].fixing.do
        by = "".join(f", each with a {item_title(each.item, self._shop)}" for each in held)
        backs = " The lining will cover the backs." if self._covers else ""
        return f"{how} {goods.count} × {item_title(goods.item, self._shop)}{by}.{backs}"

    def _set_snap(self, step: Deed) -> str:
        (goods,) = step.uses
        features = [self._features[each] for each in step.features]
        title, piece = item_title(goods.item, self._shop), called(step.pieces[0])
        at = listed(self._read(each.x) for each in features)
        if features[0].purpose == "snap_cap":
            how = "its cap on the grain side, its socket behind"
        else:
            how = "each stud on the grain side, its post through from behind"
        return f"Set {goods.count} × {title} at {at} of the {piece}, {how}, and try that it holds."

    @property
    def _covers(self) -> bool:
        lining = self._pattern.piece("lining")
        return lining is not None and lining.purpose == "cover"

    def _lace(self, step: Deed) -> str:
        features = self._piece(step.pieces[0]).features
        rows = [lace.shanks[0].id for lace in laces_of(features, self._shop.ornaments, self._shop.rules)]
        row = f"row {rows.index(step.features[0]) + 1} of {len(rows)}, counted from the upper edge"
        through = "every shank" if len(rows) == 1 else f"the {len(step.features)} shanks of {row}"
        long = long_reading(step.uses[0].length or 0, self._units)
        return f"Run one lace of {long} behind the strap through {through}, knot it at both ends and cut off its tails."

    # ------------------------------------------------------------ closing

    def _dampen(self, step: Deed) -> str:
        if step.piece in KEEPERS:
            return f"Dampen the {called(step.piece)}, so that its corners do not crack."
        at = self._read(self._features[step.features[0]].x)
        return f"Dampen the {self._which_end(step)} across its fold at {at}, so that its grain does not crack."

    def _slip(self, step: Deed) -> str:
        if step.pieces[-1] in KEEPERS:
            end = self._end_of(step.pieces[0], is_foot=step.pieces[-1] == "foot_keeper")
            keeper = called(step.pieces[-1])
            return f"From the {called(step.pieces[0])}'s end at {end} slip on the closed {keeper}, past the fold."
        strap, title = self._piece(step.pieces[0]), item_title(step.uses[0].item, self._shop)
        fold = next(each.x for each in strap.features if each.action == "fold")
        rivets = sorted(each.x for each in strap.features if each.purpose == "fold_rivet" and each.x > fold)
        between = f", to between {listed(self._read(x) for x in rivets[:2])}" if rivets else ""
        return f"From the {called(strap.name)}'s end at 0 slip on the {title}, past the fold{between}."

    def _fold(self, step: Deed) -> str:
        title = " and ".join(item_title(goods.item, self._shop) for goods in step.uses)
        is_foot = self._is_foot(step)
        if all(goods.item in self._shop.rings for goods in step.uses):
            ends = self._pattern.ends
            rod = (ends.foot if is_foot else ends.head).outermost.rod
            into = f"round the {title}" if title else f"into a loop round a rod of {self._read(rod or 0)}"
            return f"Fold the {self._which_end(step)}, grain side out, {into}."
        end = self._end_of(step.pieces[0], is_foot=is_foot)
        not_ring = " and not through the ring" if self._pattern.ends.head.ring and not is_foot else ""
        keeper = step.pieces[-1]
        through = f", and pass the tail through the {called(keeper)}{not_ring}" if keeper in KEEPERS else ""
        meeting = "lining to lining" if "lining" in step.plies else "flesh to flesh"
        return (
            f"Grain side down, lay the {title} on the fold, its face down and its prong through the slot; "
            f"fold the end at {end} back over the bar, {meeting}{through}."
        )

    def _end_of(self, name: str, *, is_foot: bool) -> str:
        """The place at which a piece ends."""
        return self._read(self._piece(name).length) if is_foot else "0"

    def _which_end(self, step: Deed) -> str:
        """An open strap may be folded at both ends: its first one is at the 0 of its places."""
        piece = self._piece(step.pieces[0])
        if self._pattern.is_buckled or piece is not self._pattern.pieces[0]:
            return called(piece.name)
        return f"{called(piece.name)}'s {'last' if self._is_foot(step) else 'first'} end"

    def _is_foot(self, step: Deed) -> bool:
        """Whether what is done at a fold, or at what holds one, is done nearer the piece's last end."""
        piece = self._piece(step.pieces[0])
        return self._pattern.is_at_foot(piece, *(self._features[each] for each in step.features))

    def _rivet(self, step: Deed) -> str:
        (goods,) = step.uses
        what = f"{goods.count} × {item_title(goods.item, self._shop)}"
        verb = "Screw" if self._shop.fasteners[goods.item].is_screw else "Rivet"
        if step.piece in KEEPERS:
            lap = self._read(lap_of(self._piece(step.piece)))
            return (
                f"Close the {called(step.piece)} round the strap's width: lap its ends by {lap}, "
                f"so that its holes meet, and rivet them with {what}."
            )
        if len(step.pieces) == 1:
            piece = self._piece(step.pieces[0])
            folds = [each for each in piece.features if each.action == "fold"]
            which = self._which_end(step) if len(folds) > 1 else called(piece.name)
            return f"{verb} the fold of the {which} with {what}."
        joined = (each for each in self._piece(step.pieces[0]).features if each.id in step.features)
        laid = sorted(joined, key=attrgetter("x"))
        over = [self._features[each.mates[0]] for each in laid]
        here, there = (listed(self._read(each.x) for each in holes) for holes in (laid, over))
        return (
            f"{verb} the {called(step.pieces[0])}, grain side up, over the body's end with {what}: "
            f"its holes at {here} on the body's at {there}."
        )

    def _measure(self, _: Deed) -> str:
        finished = self._pattern.finished
        length, added = tape_reading(finished.length, self._units), self._added()
        if not self._pattern.is_buckled:
            return f"Measure: {length} {end_to_end(self._pattern)}{self._joined()}.{added}"
        hole = f"hole {finished.nominal_hole} of {len(finished.holes)}"
        return f"Measure: {length} from the {finished.measured_from} to the middle hole, {hole}.{added}"

    def _joined(self) -> str:
        """What its joining strap makes of it."""
        joined = self._pattern.finished.joined
        if joined is None:
            return ""
        least, most = (tape_reading(length, self._units) for length in (joined.least, joined.most))
        return f"; from {least} to {most} all round, closed by the joining strap"

    def _added(self) -> str:
        """What the shop gives with each strap."""
        titles = self._consumed("strap")
        return f" Add to it: {listed(titles)}." if titles else ""

    # ------------------------------------------------------------ parts of sentences

    def _piece(self, name: str) -> Piece:
        return next(piece for piece in self._pattern.pieces if piece.name == name)

    def _names(self, step: Deed) -> str:
        return listed(called(name) for name in step.pieces)

    def _read(self, length: Nm) -> str:
        return reading(length, self._units)


def _thinned(piece: Piece, to: Nm) -> str:
    """As a thickness gauge is read."""
    return f"from {reading(piece.thickness, 'mm')} to {reading(to, 'mm')}"


def lap_of(keeper: Piece) -> Nm:
    """By how much a keeper's ends lie over one another once its two holes meet."""
    holes = [feature.x for feature in keeper.features]
    return min(holes) + keeper.length - max(holes)
