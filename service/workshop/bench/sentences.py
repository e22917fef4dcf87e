"""The work in words: one sentence for each step, made of its data and of the pattern that it belongs to."""

from collections.abc import Callable
from functools import cached_property
from operator import attrgetter

from service.shop.shop import Shop
from service.strap.model.laces import laces_of
from service.strap.model.pattern import BETWEEN_KEEPERS, FIXED_KEEPERS, KEEPERS, Pattern
from service.strap.model.stitch_line import StitchPurpose
from service.strap.plane.lengths import tape_reading
from service.words import say, say_count, say_list
from service.workshop.bench.keeper_words import KeeperWords
from service.workshop.bench.splice_words import splice_sentence
from service.workshop.bench.step import Deed, Goods, Op
from service.workshop.names import called, consumed, end_to_end, item_title, long_reading, nominal_size, several

_SEWN: dict[StitchPurpose, str] = {
    "edge_stitch": "along the edges",
    "fold_stitch": "through both plies of the fold",
    "joint_stitch": "through the billet and the body",
    "splice_stitch": "through the laps",
}
_RIVETED = (
    "Rivet the {piece}, grain side up, over the body's end with {what}: its holes at {here} on the body's at {there}."
)
_SCREWED = (
    "Screw the {piece}, grain side up, over the body's end with {what}: its holes at {here} on the body's at {there}."
)
_Told = Callable[[Deed], str]
_DRAWN = {1: "a needle at one end", 2: "a needle at each end, as a saddle stitch"}


class Words(KeeperWords):
    """The words for the steps of one strap: those on flat leather, and what is set, sewn and closed after them."""

    def __init__(self, pattern: Pattern, shop: Shop) -> None:
        super().__init__(pattern, shop)
        self._by_op: dict[Op, _Told] = {
            "test": self._test, "try": self._try,
            "strip": self._strip, "cut": self._cut, "taper": self._taper, "scallop": self._edge, "pink": self._edge,
            "shape": self._shape, "skive": self._skive,
            "glue": self._glue, "lay": self._lay, "trim": self._trim, "bevel": self._bevel, "dye": self._dye,
            "burnish": self._burnish,
            "finish": self._finish, "prick": self._prick, "punch": self._punch, "mark": self._mark,
            "pierce": self._pierce, "stitch": self._stitch, "set": self._set, "lace": self._lace,
            "dampen": self._dampen, "slip": self._slip, "tuck": self._tuck, "fold": self._fold, "rivet": self._rivet,
            "measure": self._measure,
        }  # fmt: skip

    def sentence(self, step: Deed) -> str:
        """What is done in a step, told to who does it."""
        if len(step.pieces) == 1:
            told = splice_sentence(self._piece(step.pieces[0]), step, self._units)
            if told:
                return told
        return self._by_op[step.op](step)

    def _pierce(self, step: Deed) -> str:
        purpose = self._lines[step.features[0]].purpose
        holes = sum(self._lines[name].holes for name in step.features)
        through = (
            say("every ply of the fold") if purpose == "fold_stitch" else say_list(called(each) for each in step.plies)
        )
        return say(
            "Pierce through {through}, from hole to hole as they were pricked: {holes} holes.",
            through=through,
            holes=holes,
        )

    def _stitch(self, step: Deed) -> str:
        seam = say(_SEWN[self._lines[step.features[0]].purpose])
        threads = say_list(self._thread(goods) for goods in step.uses)
        lines = say_count("the line", "{count} lines", len(step.features))
        stitching = self._pattern.spec.stitching
        strands = stitching.strands if stitching else self._shop.defaults.stitch_strands
        drawn = say(_DRAWN.get(strands, "{strands} strands in each line"), strands=strands)
        line = self._lines[step.features[0]]
        pierced = line.purpose in ("fold_stitch", "joint_stitch") or (self._covers and line.purpose == "edge_stitch")
        sewn = (
            "Sew {lines} {seam} with {threads}, {drawn}."
            if pierced
            else "Sew {lines} {seam} with {threads}, {drawn}; an awl opens each pricked hole."
        )
        return say(sewn, lines=lines, seam=seam, threads=threads, drawn=drawn)

    def _thread(self, goods: Goods) -> str:
        length = long_reading(goods.length or 0, self._units)
        return say_count("{length} of thread", "{count} threads of {length} each", goods.count, length=length)

    def _set(self, step: Deed) -> str:
        goods, *held = step.uses
        if goods.item in self._shop.snaps:
            return self._set_snap(step)
        how, item = say(self._shop.ornaments[goods.item].fixing.do), item_title(goods.item, self._shop)
        for each in held:
            item = say("{item}, each with a {fastener}", item=item, fastener=item_title(each.item, self._shop))
        told = "{how} {count} × {item}. The lining will cover the backs." if self._covers else "{how} {count} × {item}."
        return say(told, how=how, count=goods.count, item=item)

    def _set_snap(self, step: Deed) -> str:
        (goods,) = step.uses
        features = [self._features[each] for each in step.features]
        title, piece = item_title(goods.item, self._shop), called(step.pieces[0])
        at = say_list(self._read(each.x) for each in features)
        if features[0].purpose == "snap_cap":
            how = say("its cap on the grain side, its socket behind")
        else:
            how = say("each stud on the grain side, its post through from behind")
        return say(
            "Set {count} × {title} at {at} of the {piece}, {how}, and try that it holds.",
            count=goods.count,
            title=title,
            at=at,
            piece=piece,
            how=how,
        )

    def _lace(self, step: Deed) -> str:
        rows = self._laced[step.pieces[0]]
        row = say(
            "row {index} of {count}, counted from the upper edge",
            index=rows.index(step.features[0]) + 1,
            count=len(rows),
        )
        through = (
            say("every shank")
            if len(rows) == 1
            else say("the {count} shanks of {row}", count=len(step.features), row=row)
        )
        long = long_reading(step.uses[0].length or 0, self._units)
        return say(
            "Run one lace of {long} behind the strap through {through}, knot it at both ends and cut off its tails.",
            long=long,
            through=through,
        )

    @cached_property
    def _laced(self) -> dict[str, list[str]]:
        """The first shank of each lace of each piece."""
        goods, rules = self._shop.ornaments, self._shop.rules
        return {
            name: [lace.shanks[0].id for lace in laces_of(piece.features, goods, rules)]
            for name, piece in self._pieces.items()
        }

    def _dampen(self, step: Deed) -> str:
        if step.piece in BETWEEN_KEEPERS:
            return say("Dampen the {pieces}, so that their corners do not crack.", pieces=self._names(step))
        if step.piece in (*KEEPERS, *FIXED_KEEPERS):
            return self._damp_keeper(self._piece(step.piece))
        at = self._read(self._features[step.features[0]].x)
        return say(
            "Dampen the {which} across its fold at {at}, so that its grain does not crack.",
            which=self._which_end(step),
            at=at,
        )

    def _slip(self, step: Deed) -> str:
        if step.pieces[-1] in KEEPERS:
            end = self._end_of(step.pieces[0], is_foot=step.pieces[-1] == "foot_keeper")
            keeper = self._piece(step.pieces[-1])
            return say(
                "From the {pieces}'s end at {end} slip on the closed {keeper}, past the fold."
                if keeper.count == 1
                else "From the {pieces}'s end at {end} slip on, one after the other, the {keeper}, past the fold.",
                pieces=called(step.pieces[0]),
                end=end,
                keeper=several(keeper),
            )
        strap, title = self._piece(step.pieces[0]), item_title(step.uses[0].item, self._shop)
        fold = next(each.x for each in strap.features if each.action == "fold")
        rivets = sorted(each.x for each in strap.features if each.purpose == "fold_rivet" and each.x > fold)
        between = say(", to between {rivets}", rivets=say_list(self._read(x) for x in rivets[:2])) if rivets else ""
        between = between or self._in_gap(strap)
        return say(
            "From the {strap}'s end at 0 slip on the {title}, past the fold{between}.",
            strap=called(strap.name),
            title=title,
            between=between,
        )

    def _fold(self, step: Deed) -> str:
        title = say_list(item_title(goods.item, self._shop) for goods in step.uses) if step.uses else ""
        is_foot = self._is_foot(step)
        if all(goods.item in self._shop.rings for goods in step.uses):
            ends = self._pattern.ends
            rod = (ends.foot if is_foot else ends.head).outermost.rod
            into = (
                say("round the {title}", title=title)
                if title
                else say("into a loop round a rod of {rod}", rod=self._read(rod or 0))
            )
            return say("Fold the {which}, grain side out, {into}.", which=self._which_end(step), into=into)
        end = self._end_of(step.pieces[0], is_foot=is_foot)
        not_ring = say(" and not through the ring") if self._pattern.ends.head.outermost.ring and not is_foot else ""
        slots = sum(self._features[each].purpose == "prong_slot" for each in step.features)
        meeting = say("lining to lining") if "lining" in step.plies else say("flesh to flesh")
        return say(
            "Grain side down, lay the {title} on the fold, its face down and {prongs}; "
            "fold the end at {end} back over the bar, {meeting}{through}.",
            title=title,
            end=end,
            through=self._through_keepers(step, not_ring),
            prongs=say("its prong through the slot") if slots == 1 else say("each of its prongs through its slot"),
            meeting=meeting,
        )

    def _rivet(self, step: Deed) -> str:
        (goods,) = step.uses
        what = f"{goods.count} × {item_title(goods.item, self._shop)}"
        if step.pieces[0] in BETWEEN_KEEPERS:
            return self._close_between(self._piece(step.pieces[0]), what)
        screwed = self._shop.fasteners[goods.item].is_screw
        if step.piece in KEEPERS:
            return self._close(self._piece(step.piece), what)
        if step.pieces[-1] in FIXED_KEEPERS:
            return say(
                "Screw the fold of the {which}, and the ends of the {keeper} in it, with {what}."
                if screwed
                else "Rivet the fold of the {which}, and the ends of the {keeper} in it, with {what}.",
                which=self._which_end(step),
                keeper=several(self._piece(step.pieces[-1])),
                what=what,
            )
        if len(step.pieces) == 1:
            piece = self._piece(step.pieces[0])
            folds = [each for each in piece.features if each.action == "fold"]
            which = self._which_end(step) if len(folds) > 1 else called(piece.name)
            return say(
                "Screw the fold of the {which} with {what}."
                if screwed
                else "Rivet the fold of the {which} with {what}.",
                which=which,
                what=what,
            )
        joined = (each for each in self._piece(step.pieces[0]).features if each.id in step.features)
        laid = sorted(joined, key=attrgetter("x"))
        over = [self._features[each.mates[0]] for each in laid]
        here, there = (say_list(self._read(each.x) for each in holes) for holes in (laid, over))
        return say(
            _SCREWED if screwed else _RIVETED,
            piece=called(step.pieces[0]),
            what=what,
            here=here,
            there=there,
        )

    def _lay(self, step: Deed) -> str:
        return say(
            "Lay the lining behind the {piece}, flesh side to flesh side, over the backs of all that is set, and clamp "
            "both at their ends: keepers will hold it, and neither glue nor stitches.",
            piece=called(step.plies[0]),
        )

    def _measure(self, _: Deed) -> str:
        finished = self._pattern.finished
        length, added = tape_reading(finished.length, self._units), self._added()
        if not self._pattern.is_buckled:
            return say(
                "Measure: {length} {end_to_end}{joined}.{added}",
                length=length,
                end_to_end=end_to_end(self._pattern),
                joined=self._joined(),
                added=added,
            )
        hole, count = nominal_size(self._pattern), len(finished.holes)
        if count % 2:
            hole = say("{hole}, hole {number} of {count}", hole=hole, number=finished.nominal_hole, count=count)
        return say(
            "Measure: {length} from the {measured_from} to {hole}.{added}",
            length=length,
            measured_from=finished.measured_from,
            hole=hole,
            added=added,
        )

    def _added(self) -> str:
        """What the shop gives with each strap."""
        titles = consumed("strap", self._shop)
        return say(" Add to it: {titles}.", titles=say_list(titles)) if titles else ""
