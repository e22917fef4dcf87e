"""The way through all steps, and the look at what has come of them."""

from typing import Any

from tests.walker.hands import HALF_TENTH, Work
from tests.walker.metal import KEEPERS, Metal


class Bench(Metal):
    """A bench at which a strap is made from its answer."""

    def make(self) -> None:
        """All steps, and a look at what has come of them. Raises `Botched`."""
        for step in self.answer["steps"]:
            self.step = step
            self.must(not self.measured, "the strap was already measured and laid away")
            if self.heed_after:
                self.must(step["n"] not in self.numbers, "this was done before")
                self.must(set(step["after"]) <= self.numbers, f"{step['after']} ought to be done first")
            self.numbers.add(step["n"])
            self.must(set(step["pieces"]) <= set(self.works), "there is no such piece")
            self.must(len(set(step["features"])) == len(step["features"]), "it names a thing twice")
            getattr(self, "do_" + step["op"])([self.works[name] for name in step["pieces"]])
        self.step = {"n": "end", "do": "look it over"}
        self.look_it_over()

    def look_it_over(self) -> None:
        """Nothing is left over, nothing is loose, and holes are as far apart as the answer says."""
        self.must(self.measured, "nobody measured it")
        self.must(not +self.goods, f"{+self.goods} are left over")
        for name, work in self.works.items():
            features = set(work.features) | set(work.lines) | work.ends | work.tapers | work.edges
            self.must(
                (name == "lining" and not work.own) or features <= work.made,
                f"{features - work.made} were never made",
            )
            self.must(self.ready(work), f"something on the {name} was never done")
            self.must(
                (name == "lining" and not work.own) or work.raw or {"bevel", "dye", "burnish", "finish"} <= work.done,
                f"the {name} is raw",
            )
            self.look_through(work)
            self.must(
                work.folds == work.folded == work.held - {"glue " + each for each in work.folds}, "a fold is loose"
            )
            rivets = {each for each, feature in work.features.items() if feature["mates"]}
            self.must(rivets <= work.filled, f"{rivets - work.filled} hold nothing")
            self.must(work.snaps <= work.filled, f"{work.snaps - work.filled} are empty")
            marks = {each for each, feature in work.features.items() if feature["purpose"] == "keeper_place"}
            self.must(marks <= work.filled, f"{marks - work.filled} have no keeper")
            self.must(set(work.lines) == work.sewn, "a line is not sewn")
        edging = self.works.get("edging")
        self.must(edging is None or "glued" in edging.done, "the edging is not on")
        lining, keepers = self.works.get("lining"), [self.works[name] for name in KEEPERS if name in self.works]
        self.must(
            lining is None or {"trimmed", "laid"} & lining.done or ("glued" in lining.done and lining.own),
            "the lining is not on, or stands over",
        )
        on = ("closed" if "at" in keeper.piece else "on" for keeper in keepers)
        self.must(all(what in keeper.done for what, keeper in zip(on, keepers, strict=True)), "a keeper lies aside")
        self.must(self.slipped == self.rings, "the collar ring lies beside the strap")
        billets = [work for name, work in self.works.items() if name.endswith("billet")]
        self.must(all(work.joined for work in billets), "a billet lies beside the strap")
        self.measure_holes()

    def look_through(self, work: Work) -> None:
        """Every cut goes through all that lies there, but what stands on a covered piece: its lining is whole."""
        for name, feature in work.features.items():
            whole = self.covers(work) and name in work.sets
            plies = (work.piece["name"],) if whole else self.through(work)
            self.must(feature["action"] != "punch" or work.pierced[name] == plies, f"{name} goes through other plies")

    def measure_holes(self) -> None:
        """From hole to hole as `finished` says, the middle one at the length that it gives for the whole strap."""
        told = self.answer["finished"]
        if "joined" in told:
            self.measure_joined(told)
        holes = [
            each
            for work in self.works.values()
            for each in work.features.values()
            if each["purpose"] in ("size_hole", "snap_stud")
        ]
        places = sorted({each["x_mm"] for each in holes})
        lengths = [each["length_mm"] for each in told["holes"] if "fits" in each]
        if not lengths:
            self.measure_tips({each["at"]: each["length_mm"] for each in told["holes"]})
            return
        if told["measured_from"] == "stud":
            self.measure_studs(lengths)
            return
        steps = [abs((b - places[0]) - (a - lengths[0])) < HALF_TENTH for a, b in zip(lengths, places, strict=True)]
        self.must(all(steps), "the holes are not where the answer says")
        middle = lengths[len(lengths) // 2]
        self.must(abs(middle - told["length_mm"]) < HALF_TENTH, "the middle hole is not at the finished length")

    def measure_joined(self, told: dict[str, Any]) -> None:
        """All round at each hole, the same at both ends: from bar to bar, and between these holes of the strap."""
        joining = self.works["joining_strap"]
        places = sorted({each["x_mm"] for each in joining.features.values() if each["purpose"] == "size_hole"})
        count = len(places) // 2
        between = [places[count + n] - places[count - 1 - n] for n in range(count)]
        lengths = [each["length_mm"] - told["from"]["bar_mm"] for each in told["joined"]["holes"]]
        same = [abs(a - b) < HALF_TENTH for a, b in zip(between, lengths, strict=True)]
        self.must(all(same), "the joining strap's holes are not where the answer says")
        ends = told["joined"]["tightest"], told["joined"]["loosest"]
        listed = told["joined"]["holes"][0], told["joined"]["holes"][-1]
        self.must(
            all(a["fits_mm"] == b["fits_mm"] for a, b in zip(ends, listed, strict=True)), "tightest or loosest is not"
        )

    def measure_tips(self, lengths: dict[str, float]) -> None:
        """Nothing of the strap closes at these holes: from its other end they are nearer than the tip behind them."""
        whole, seen = self.answer["finished"]["length_mm"], set()
        for name, work in self.works.items():
            long, is_foot = work.piece["length_mm"], not name.startswith("head_")
            holes = {each["id"]: each["x_mm"] for each in work.features.values() if each["id"] in lengths}
            for at, x in holes.items():
                behind = min(x, long - x) if name in ("strap", "body") else long - x if is_foot else x
                self.must(abs(whole - behind - lengths[at]) < HALF_TENTH, f"{at} is elsewhere")
                seen.add(at)
        self.must(seen == set(lengths), "lengths are told of holes that there are not")

    def measure_studs(self, lengths: list[float]) -> None:
        """On a strap of one piece, from the cap to each stud; of the rest the middle length is the finished one."""
        told = self.answer["finished"]
        self.must(lengths == sorted(lengths), "the first stud is not the tightest")
        self.must(lengths[(len(lengths) - 1) // 2] == told["length_mm"], "the middle stud is not at the length told")
        if len(self.works.keys() - {"lining"}) > 1:
            return
        (work,) = (work for name, work in self.works.items() if name != "lining")
        places = [work.features[name] for name in work.snaps]
        (cap,) = (each["x_mm"] for each in places if each["purpose"] == "snap_cap")
        found = sorted(abs(each["x_mm"] - cap) for each in places if each["purpose"] == "snap_stud")
        same = [abs(a - b) < HALF_TENTH for a, b in zip(found, lengths, strict=True)]
        self.must(all(same), "the studs are not where the answer says")
