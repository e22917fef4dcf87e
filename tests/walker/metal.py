"""What is sewn, set, laced, folded and riveted."""

from collections import Counter

from tests.walker.hands import HALF_TENTH, Json, Work
from tests.walker.leather import Leather

FIXED = {"fixed_keeper", "foot_fixed_keeper"}
"""Keepers whose ends a fold holds."""
KEEPERS = {"keeper", "head_keeper", "foot_keeper", "", *FIXED} | {
    f"keeper_between{n}" for n in ("", *map("_{}".format, range(2, 13)))
}
"""All of them, and the name of none."""


class Metal(Leather):
    """The work with goods."""

    def do_stitch(self, works: list[Work]) -> None:
        """Lines that are pricked, through the plies that lie there; a thread for each."""
        left = set(self.step["features"])
        purposes = {name.split(".")[1] for name in left}
        self.must(len(purposes) == 1, "edges, folds and laps are not sewn at once")
        for work in works:
            mine = left & set(work.lines)
            self.must(mine and mine <= work.made - work.sewn, "a line is pricked, and then sewn once")
            self.must(purposes != {"edge_stitch"} or work.flat, "edges are sewn flat")
            plies = self.under(work, next(iter(mine)))
            self.must(all(work.pierced[name] == plies for name in mine), "the needle finds no hole in what lies behind")
            work.held |= {self.fold_of(work, name) for name in mine} if purposes == {"fold_stitch"} else set()
            if purposes == {"joint_stitch"}:
                work.joined = self.works[self.laid_on[work.piece["name"]]].joined = True
            self.lay(*plies)
            work.sewn |= mine
            left -= mine
        self.must(not left, "there is no such line")
        self.take(("thread", len(self.step["features"])))

    def do_set(self, works: list[Work]) -> None:
        """Things of one kind in their places, on a flat strap that has all its holes."""
        work, names = self.one(works), self.step["features"]
        if set(names) <= work.snaps:
            self.snap(work, names)
            return
        here = (work.sets | set(work.lines)) if self.covers(work) else work.flat_work
        self.must(work.flat and here <= work.made, "it is not flat, or not all its holes and marks are there")
        self.must(not self.covers(work) or self.lined is None, "its back would lie bare behind the lining")
        items = {work.features[name]["item"] for name in names if name in work.sets}
        self.must(len(items) == 1 and len(set(names)) == len(names), "one kind of thing is set at a time")
        self.must(set(names) <= work.sets - work.filled, "something stands there already, or nothing belongs there")
        self.lay(*self.through(work))
        held = Counter(each for name in names if (each := work.features[name].get("fastener")))
        self.take((items.pop(), len(names)), *held.items())
        work.filled |= set(names)

    def snap(self, work: Work, names: list[str]) -> None:
        """Halves of a snap through all plies of a flat piece, once nothing else is to be done there."""
        self.must(names and set(names) <= work.made - work.filled, "there is no hole for it, or it is filled")
        self.must(work.flat and self.ready(work), "it is not flat, or something on it is still to be done")
        items = {(work.features[name]["item"], work.features[name]["purpose"]) for name in names}
        self.must(len(items) == 1, "one half is set at a time")
        self.lay(*self.through(work))
        self.take((items.pop()[0], len(names)))
        work.filled |= set(names)

    def do_lace(self, works: list[Work]) -> None:
        """Through every shank of one row, behind a flat strap, long enough from the first to the last."""
        work, names = self.one(works), set(self.step["features"])
        self.must(
            names and names <= (work.shanks & work.filled) - work.laced, "a lace goes through shanks that are set"
        )
        rows = {work.features[name]["y_mm"] for name in names}
        row = {name for name in work.shanks if work.features[name]["y_mm"] in rows}
        self.must(len(rows) == 1 and names == row, "a lace goes through one whole row")
        self.must(work.flat, "the back of the row is covered")
        self.must(not self.covers(work) or self.lined is None, "the lining covers the back of the row")
        self.lay(*self.through(work))
        places = [work.features[name]["x_mm"] for name in names]
        self.must(
            self.step["uses"] and self.step["uses"][0]["length_mm"] > max(places) - min(places), "it is too short"
        )
        self.take(("lace", 1))
        work.laced |= names

    # ---------------------------------------------------------------- closing

    def ready(self, work: Work) -> bool:
        """Whether all flat work on a piece is done: holes, edges sewn, everything set and laced."""
        edges = {name for name in work.lines if "edge_stitch" in name}
        laced = work.shanks <= work.laced
        on = not self.covers(work) or self.backed() in work.done
        return work.flat_work <= work.made and edges <= work.sewn and work.sets <= work.filled and laced and on

    def do_dampen(self, works: list[Work]) -> None:
        """A fold, or a keeper, before it is bent."""
        work = self.one(works)
        what = set(self.step["features"]) or {work.piece["name"]}
        self.must("finish" in work.done and what.isdisjoint(work.damp), "it is damp, or not finished")
        self.must(what <= work.folds - work.folded or what < KEEPERS, "there is nothing to bend")
        self.must(self.ready(work), "a damp piece takes no more work")
        work.damp |= what

    def do_slip(self, works: list[Work]) -> None:
        """A closed ring or keeper over an end that is open; what comes on last lies nearest to the buckle."""
        work, loops = works[0], works[1:]
        if loops:
            self.must(len(loops) == 1 and loops[0].piece["name"] in KEEPERS - FIXED, "that is no loop")
            self.must(work.folds and not work.folded and self.ready(work), "no closed loop passes a buckle")
            self.must(self.slipped == self.rings, "the ring cannot pass the keeper")
            self.advance(loops, "slipped", "closed")
            return
        self.must(self.rings and work.folds and not work.folded, "there is no open end to slip it over")
        self.must(self.ready(work), "a ring in the way of what is still to be done")
        self.take((self.rings[0], 1))
        self.slipped.append(self.rings[0])

    def do_tuck(self, works: list[Work]) -> None:
        """Damp keepers round the front ply of an end that is still open, each at a hole or a mark of its own."""
        work, keeper = works
        self.must(keeper.piece["name"] in FIXED and keeper.damp, "that is no keeper for a fold, or it cracks")
        folds = set(self.step["features"])
        self.must(len(folds) == 1 and folds <= work.folds - work.folded, "its ends have no open fold to go into")
        self.must(self.ready(work) and keeper.flat_work <= keeper.made, "something on it is still to be done")
        at_foot = keeper.piece["name"].startswith("foot_")
        self.must(at_foot or self.slipped == self.rings, "the ring cannot pass the keeper")
        places = self.kept_places(work, keeper, *folds)
        self.must(len(places) == keeper.piece.get("count", 1), "there are other places than keepers")
        self.advance([keeper], "tucked", "finish")

    def kept_places(self, work: Work, keeper: Work, fold: str) -> list[float]:
        """Where keepers belong on the front ply: over holes that meet theirs, or over marks, inwards of the fold."""
        at, middle = work.features[fold]["x_mm"], work.piece["length_mm"] / 2
        holes = set(keeper.features)
        over = [
            each["x_mm"]
            for each in work.features.values()
            if (holes & set(each["mates"]) if holes else each["purpose"] == "fixed_keeper")
        ]
        near = [x for x in over if min(work.folds, key=lambda each: abs(work.features[each]["x_mm"] - x)) == fold]
        return [x for x in near if (x - at) * (middle - at) > 0]

    def do_fold(self, works: list[Work]) -> None:
        """A damp end round its buckle or ring, with every closed loop on it that it will trap."""
        work, names = works[0], set(self.step["features"])
        folds = names & work.folds
        self.must(len(folds) == 1 and folds <= work.damp - work.folded, "one damp end is folded at a time, once")
        self.must(self.ready(work) and not work.joined, "something on it is still to be done")
        (fold,) = (work.features[name] for name in folds)
        slots = {
            name
            for name, each in work.features.items()
            if each["purpose"] == "prong_slot" and each["x_mm"] == fold["x_mm"]
        }
        self.must(names - folds == slots <= work.made, "the prong has no slot to go through")
        ends = ("head", "foot") if not slots else ("buckle", "foot_buckle")
        for goods in self.step["uses"]:
            self.must({(goods["item"], end) for end in ends} & self.purposes, "this is not what it is folded round")
            self.take((goods["item"], 1))
        self.must(len(self.step["uses"]) == 1 or not slots, "a prong in no buckle")
        self.must(not slots or self.slipped == self.rings, "the ring can no longer be slipped on")
        loops = works[1:]
        kinds = [loop.piece["name"] in FIXED for loop in loops]
        self.must(slots or not loops, "a keeper where there is no buckle")
        self.must(len(set(kinds)) == len(kinds), "an end has loose keepers and fixed ones, each of one kind")
        on = [("tucked" if fixed else "slipped") for fixed in kinds]
        self.must(all(how in loop.done for how, loop in zip(on, loops, strict=True)), "the keeper is not on")
        self.lay(*self.through(work), *reversed(self.through(work)))
        work.folded |= folds
        work.made |= folds
        for how, loop in zip(on, loops, strict=True):
            self.advance([loop], "on", how)

    def do_rivet(self, works: list[Work]) -> None:
        """Pairs of holes that meet, each held by one rivet."""
        names = self.step["features"]
        holes = {name: (work, each) for work in works for name, each in work.features.items() if name in set(names)}
        self.must(names and len(names) == len(set(names)) == len(holes), "there are no such holes here")
        for name, (work, hole) in holes.items():
            self.must(name in work.made - work.filled, f"{name} is not punched, or is filled")
            self.must(set(hole["mates"]) <= set(holes) and hole["mates"], f"{name} meets nothing here")
        set_in = [hole for _, hole in holes.values() if hole.get("item")]
        items = {hole["item"] for hole in set_in}
        self.must(len(items) == 1, "one rivet goes through both holes")
        copies = works[0].piece.get("count", 1)
        self.take((items.pop(), len(set_in) // 2 * copies))
        purposes = {hole["purpose"] for hole in set_in}
        self.must(len(purposes) == 1, "a joint is riveted by itself")
        {"keeper_rivet": self.close, "fold_rivet": self.hold, "joint": self.join}[purposes.pop()](works, holes)
        for name, (work, _) in holes.items():
            work.filled.add(name)

    def close(self, works: list[Work], holes: dict[str, tuple[Work, Json]]) -> None:
        """A keeper's lap: it is thin and damp, and both its holes meet.

        One that goes round the strap between its ornaments is closed there, over all that it holds.
        """
        keeper, around = works[0], works[1:]
        if "at" in keeper.piece:
            self.must(len(around) == 1 and around[0].flat and self.ready(around[0]), "what it goes round is not ready")
            marks = {name for name, each in around[0].features.items() if each["purpose"] == "keeper_place"}
            here = set(keeper.piece["at"])
            self.must(here <= marks - around[0].filled, "there is no mark for it, or a keeper over it")
            self.must(len(here) == keeper.piece.get("count", 1), "there are other marks than keepers")
            around[0].filled |= here
            self.must(self.lined or "lining" not in self.works, "the lining that it is to hold lies beside it")
        else:
            self.one(works)
        self.must(
            keeper.damp < KEEPERS and keeper.damp and set(holes) == set(keeper.features), "it cracks, or does not close"
        )
        self.lay(keeper.piece["name"], keeper.piece["name"])
        self.advance([keeper], "closed", "finish")

    def hold(self, works: list[Work], holes: dict[str, tuple[Work, Json]]) -> None:
        """A fold whose two plies' holes lie on one another, as far before it as behind it; keepers' ends between them.

        It is held once all its rivets are set.
        """
        work, keepers = works[0], works[1:]
        mine = [hole for piece, hole in holes.values() if piece is work]
        middles = {self.middle(work, hole) for hole in mine}
        near = {fold for fold in work.folded - work.held if all(self.is_at(work, fold, each) for each in middles)}
        self.must(len(near) == 1, "these holes do not meet over a fold that is open")
        (fold,) = near
        ends: tuple[str, ...] = ()
        for keeper in keepers:
            name = keeper.piece["name"]
            self.must(
                name in FIXED and "on" in keeper.done and set(keeper.features) <= set(holes), "it holds no keeper"
            )
            self.must(all(set(keeper.features) <= set(hole["mates"]) for hole in mine), "a rivet beside the keeper")
            self.must(len(mine) == 2 * keeper.piece.get("count", 1), "each keeper takes a rivet of its own")
            ends = (name, name)
        self.lay(*self.through(work), *ends, *reversed(self.through(work)))
        rivets = {name for name, each in work.features.items() if each["purpose"] == "fold_rivet"}
        own = {name for name in rivets if self.is_at(work, fold, self.middle(work, work.features[name]))}
        work.held |= near if own <= work.filled | set(holes) else set()

    def middle(self, work: Work, hole: Json) -> float:
        """Half way between a hole and that of the other ply which it meets."""
        return float(hole["x_mm"] + work.features[hole["mates"][0]]["x_mm"]) / 2

    def is_at(self, work: Work, fold: str, x: float) -> bool:
        """Whether a fold lies there."""
        return bool(abs(work.features[fold]["x_mm"] - x) < HALF_TENTH)

    def join(self, works: list[Work], holes: dict[str, tuple[Work, Json]]) -> None:
        """A billet over an end of the body: the holes meet at one distance from one another."""
        billet, body = works
        self.must(self.ready(body), "what is still to be set on the body can no longer be laid flat")
        pairs = [(hole, body.features[hole["mates"][0]]) for work, hole in holes.values() if work is billet]
        offsets = [met["x_mm"] - hole["x_mm"] for hole, met in pairs]
        self.must(max(offsets) - min(offsets) < HALF_TENTH, "the holes of billet and body do not meet")
        self.lay(billet.piece["name"], *self.through(body))
        billet.joined = body.joined = True

    def do_measure(self, works: list[Work]) -> None:
        """The last thing of all."""
        self.must(len(works) == len(self.works), "the whole strap is measured")
        self.measured = True
