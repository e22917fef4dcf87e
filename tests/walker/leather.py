"""What is done to leather: cut, shaped, thinned, lined, edged, pricked, punched, marked."""

import re

from tests.walker.hands import HALF_TENTH, Hands, Work

_EDGES = ("bevel", "dye", "burnish", "finish")


class Leather(Hands):
    """The work on flat and bare pieces."""

    def do_test(self, works: list[Work]) -> None:
        """Punches and what is set, on an offcut: nothing of the strap, nor of what was laid out, is touched."""
        self.attempt(works, "offcut")

    def do_try(self, works: list[Work]) -> None:
        """The size, in paper or string."""
        self.attempt(works, "size")

    def attempt(self, works: list[Work], what: str) -> None:
        """Try a thing, once, before the leather is cut."""
        touched = [works, *(self.step[name] for name in ("features", "plies", "uses"))]
        self.must(not any(touched), "a try touches nothing of the strap")
        self.must(what not in self.tried, "this was tried before")
        self.must(not any(work.done for work in self.works.values()), "the leather is cut already")
        self.tried.add(what)

    def do_strip(self, works: list[Work]) -> None:
        """One setting of the strap cutter is one width in one leather, once size, punches and fixings are tried."""
        worked = any(work.flat_work for work in self.works.values())
        self.must(self.tried == ({"size", "offcut"} if worked else {"size"}), "good leather is cut before it is tried")
        widths = {(w.piece["leather"], w.piece["width_mm"] + 2 * w.piece.get("over_mm", 0)) for w in works}
        self.must(len(widths) == 1, "widths differ")
        self.advance(works, "strip", None)

    def do_cut(self, works: list[Work]) -> None:
        """To length, from its strip; one that is lapped of several strips, those that reach from lap to lap."""
        work = self.one(works)
        self.advance([work], "cut", "strip")
        laps = list(work.laps.values())
        begin, end = [0, *(lap["from_mm"] for lap in laps)], [*(lap["to_mm"] for lap in laps), work.piece["length_mm"]]
        for strip, start, stop in zip(work.piece.get("strips", []), begin, end, strict=bool(laps)):
            reaches = abs(strip["from_mm"] - start) < HALF_TENTH and strip["cut_mm"] >= stop - start - HALF_TENTH
            self.must(reaches, f"{strip['name']} does not reach over its laps")

    def advance(self, works: list[Work], what: str, before: str | None) -> None:
        """Do a thing that is done once to a piece, after another."""
        for work in works:
            self.must(what not in work.done, f"the {work.piece['name']} was {what} before")
            self.must(before is None or before in work.done, f"the {work.piece['name']} is not {before} yet")
            work.done.add(what)

    def do_taper(self, works: list[Work]) -> None:
        """Narrowed on a piece that is cut, before an end punch is set to it."""
        work, tapers = self.one(works), set(self.step["features"])
        self.must("cut" in work.done and "bevel" not in work.done, "a piece is tapered once cut, with raw edges")
        self.must(not work.ends & work.made, "its ends are shaped already, by punches of their width")
        self.must(tapers and tapers <= work.tapers - work.made, "there is no such taper left to cut")
        work.made |= tapers

    def edge_cut(self, works: list[Work]) -> None:
        """Both long edges, on a piece that is as wide as it will be, before they are worked."""
        work, edges = self.one(works), set(self.step["features"])
        self.must(work.whole and "cut" in work.done and "bevel" not in work.done, "raw edges are cut, of a whole piece")
        self.must(work.tapers <= work.made, "an edge is cut along its taper")
        shape = {"scallop": "scalloped", "pink": "pinked"}[self.step["op"]]
        self.must(work.piece.get("edge", {}).get("shape") == shape, "these edges are cut otherwise")
        self.must(edges == work.edges and not edges & work.made, "there is no such edge left to cut")
        work.made |= edges

    do_scallop = do_pink = edge_cut

    def do_shape(self, works: list[Work]) -> None:
        """Ends, on a piece that is cut, before its edges are worked."""
        work, ends = self.one(works), set(self.step["features"])
        self.must(work.whole, "its strips are not one yet")
        self.must("cut" in work.done and "bevel" not in work.done, "ends are shaped on a cut piece with raw edges")
        self.must(work.tapers <= work.made, "an end is shaped once it is as wide as it will be")
        self.must(ends and ends <= work.ends - work.made, "there is no such end left to shape")
        work.made |= ends

    def do_skive(self, works: list[Work]) -> None:
        """The flesh side, while it is bare and open."""
        work, folds = self.one(works), set(self.step["features"])
        self.must("cut" in work.done and work.bare, "only a flat bare piece is skived")
        self.must("bevel" not in work.done and "glued" not in work.done, "its edges or its flesh side are done with")
        if folds and folds <= set(work.laps):
            self.must(folds.isdisjoint(work.thin_laps), "this lap is thin already")
            work.thin_laps |= folds
        elif folds:
            known = {fold for each in self.works.values() for fold in each.folds}
            self.must(folds <= known - work.skived, "there is no such fold left to skive")
            work.skived |= folds
        else:
            self.must(work.piece["skived_mm"] < work.piece["thickness_mm"], "this piece stays as thick as it is")
            self.advance([work], "skived", "cut")

    def do_glue(self, works: list[Work]) -> None:
        """A lining behind its piece, a tail behind its front, or strips at their laps."""
        laps = set(self.step["features"])
        if laps and laps <= set(works[0].laps):
            self.glue_laps(self.one(works), laps)
            return
        if self.step["pieces"][-1] == "edging":
            self.glue_edging(*works)
            return
        if self.step["pieces"][-1] == "lining":
            self.must(len(works) == 2, "a lining is glued behind one piece")
            lined, lining = works
            if lining.own:
                self.glue_behind_edging(lined, lining)
                return
            self.must(lined.whole and lining.whole, "its strips are not one yet")
            self.must(
                lined.ends | lined.tapers | lined.edges <= lined.made and lined.flat,
                "it is lined once it is shaped, while it is flat",
            )
            self.must("cut" in lined.done and "bevel" not in lined.done, "edges are worked with the lining on")
            if self.covers(lined):
                self.must("finish" in lined.done, "its grain is dressed before anything stands on it")
                self.must(lined.sets <= lined.filled, "a back that is still to come is covered already")
                self.must(lined.shanks <= lined.laced, "shanks that are still to be laced are covered already")
            else:
                self.must(lined.bare, "what goes through both is set through both")
            self.advance([lined, lining], "glued", "cut")
            self.lay(lined.piece["name"], "lining")
            self.lined = lined.piece["name"]
            return
        if len(works) == 2:
            self.lay_on(*works)
            return
        work, folds = self.one(works), set(self.step["features"])
        glued = {"glue " + each for each in folds}
        loose = folds <= work.folded - work.held and glued.isdisjoint(work.held)
        self.must(len(folds) == 1 and loose, "a tail that is folded and loose is glued")
        self.lay(*self.through(work), *reversed(self.through(work)))
        work.held |= glued

    def glue_edging(self, body: Work, edging: Work) -> None:
        """Strips that are cut along their outer edge, behind edges that are worked, before they are sewn."""
        self.must("cut" in edging.done and edging.whole and edging.edges <= edging.made, "its edge is cut on the bench")
        self.must(edging.raw or "finish" in edging.done, "its edge is raw")
        self.must("burnish" in body.done and body.flat, "an edge with something beside it can no longer be worked")
        between = edging.piece["along"]["lies"] == "between"
        self.must("lining" in self.works or not between, "there is nothing to lie between")
        self.must((self.lined is not None) == ("lining" in self.works and not between), "it lies on the wrong side")
        if self.covers(body):
            self.must(body.sets <= body.filled and body.shanks <= body.laced, "what is still to be set lies hidden")
        self.must(not any("edge_stitch" in name for name in body.sewn), "what is to hold it is sewn already")
        self.advance([edging], "glued", "cut" if edging.raw else "finish")
        self.lay(*self.through(body), "edging")

    def glue_behind_edging(self, lined: Work, lining: Work) -> None:
        """A lining that is cut to size, behind an edging that lies there, both with worked edges."""
        self.must("glued" in self.works["edging"].done, "the edging is to lie before it")
        self.must("burnish" in lined.done and "finish" in lining.done and lined.flat, "an edge is raw, or not flat")
        if self.covers(lined):
            self.must(lined.sets <= lined.filled, "a back that is still to come is covered already")
            self.must(lined.shanks <= lined.laced, "shanks that are still to be laced are covered already")
        else:
            self.must(lined.bare, "what goes through both is set through both")
        self.advance([lined, lining], "glued", "finish")
        self.lay(lined.piece["name"], "edging", "lining")
        self.lined = lined.piece["name"]

    def glue_laps(self, work: Work, laps: set[str]) -> None:
        """Laps that are thin, while nothing else was done to their strips."""
        self.must(laps <= work.thin_laps - work.glued_laps, "a lap is thinned, and then glued once")
        self.must(not work.made and work.bare and "bevel" not in work.done, "laps are glued before all other work")
        self.lay(work.piece["name"], work.piece["name"])
        work.glued_laps |= laps

    def lay_on(self, billet: Work, body: Work) -> None:
        """A billet on the body's end, to be sewn there: its lines are pricked, and all else is done."""
        lines = set(self.step["features"])
        seam = {name for name in billet.lines if "joint_stitch" in name}
        self.must(lines == seam <= billet.made, "this is not all of its seam, or it is not pricked")
        self.must("finish" in billet.done and self.ready(body), "what is still to be done can no longer be laid flat")
        self.must(billet.features.keys() - billet.folds <= billet.made, "a hole in the billet is still to be made")
        self.lay(billet.piece["name"], *self.through(body))
        self.laid_on[billet.piece["name"]] = body.piece["name"]

    def do_lay(self, works: list[Work]) -> None:
        """A lining strap behind the backs of all that it covers, to be held by keepers."""
        self.must(len(works) == 2, "a lining is laid behind one piece")
        lined, lining = works
        self.must(lining.loose and self.covers(lined), "this lining is glued on")
        self.must(lined.flat and lined.sets <= lined.filled, "a back that is still to come is covered already")
        self.must(lined.shanks <= lined.laced, "shanks that are still to be laced are covered already")
        self.must({"finish"} <= lined.done & lining.done, "a strap is laid down raw")
        self.advance([lined, lining], "laid", "finish")
        self.lay(lined.piece["name"], "lining")
        self.lined = lined.piece["name"]

    def do_trim(self, works: list[Work]) -> None:
        """The lining that stands over."""
        lining = self.one(works)
        self.must(self.lined is not None and lining is self.works["lining"], "there is nothing that stands over")
        self.lay(self.lined or "", "lining")
        self.advance([lining], "trimmed", "glued")

    def edge(self, works: list[Work]) -> None:
        """One pass over all edges of pieces that are shaped, thinned and lined, while they are bare."""
        op = self.step["op"]
        for work in works:
            name = work.piece["name"]
            thin = work.piece["skived_mm"] < work.piece["thickness_mm"]
            covered = self.covers(work) and not self.works["lining"].own
            late = covered and op != "finish"
            before = self.before(op, covered=covered)
            self.must(work.whole, f"the strips of the {name} are not one yet")
            flat = work.flat if late else work.bare
            self.must(
                flat and work.ends | work.tapers | work.edges <= work.made,
                f"the {name} is not shaped, or no longer bare",
            )
            self.must(not late or "trimmed" in self.works["lining"].done, f"the {name} has its lining still to come")
            self.must(not thin or "skived" in work.done, f"the {name} is still to be skived")
            self.must(name != "lining" or work.own, "a lining that is glued on has no edge of its own")
            if "lining" in self.works and work.sets | work.folds and "glued" in work.done:
                self.must("trimmed" in self.works["lining"].done, "its lining still stands over")
            self.advance([work], op, before)

    def before(self, op: str, *, covered: bool) -> str:
        """What an edge has behind it: a grain is dressed last of all, but before what stands on it is covered."""
        order = ("finish", "bevel", "dye", "burnish") if covered else _EDGES
        return order[order.index(op) - 1] if op != order[0] else "cut"

    do_bevel = do_dye = do_burnish = do_finish = edge

    # ---------------------------------------------------------------- holes

    def hole(self, works: list[Work]) -> None:
        """Everything that one tool makes in pieces that are finished, flat and bare."""
        op, left = self.step["op"], list(self.step["features"])
        if op == "prick" and any(set(left) <= work.lap_lines for work in works):
            self.prick_laps(self.one(works), set(left))
            return
        self.must(len(left) == len(set(left)) and left, "a hole is made once")
        for work in works:
            mine = [name for name in left if name in (work.lines if op == "prick" else work.features)]
            self.must(mine, f"there is nothing to do on the {work.piece['name']}")
            self.must("finish" in work.done and work.whole, f"the {work.piece['name']} is not ready")
            self.must(not any(self.in_lap(work, name) for name in mine), "this would be cut into a lap")
            covered = self.covers(work) and self.backed() in work.done
            self.must(work.flat if covered else work.bare, f"the {work.piece['name']} is no longer bare")
            self.must(op != "prick" or work.bare, "an iron finds no room beside what is set")
            self.must(not self.step["plies"] or self.step["plies"] == list(self.through(work)), "other plies lie here")
            for name in mine:
                self.must(name not in work.made, f"{name} is there already")
                feature = work.features.get(name, {"action": "prick"})
                self.must(feature["action"] == op, f"{name} is made otherwise")
                self.must(op != "punch" or feature["tool"] == self.step["tool"], f"{name} wants another punch")
                work.made.add(name)
                work.pierced[name] = self.sewn(work, name)
                left.remove(name)
        self.must(not left, f"{left} lie on no piece of this step")

    do_prick = do_punch = do_mark = hole

    def prick_laps(self, work: Work, lines: set[str]) -> None:
        """Lines along the strap, none straight across it, in laps that are glued."""
        self.must(lines <= work.lap_lines - work.made and work.glued_laps == set(work.laps), "its laps are not glued")
        for name in lines:
            ends = [float(each) for each in re.findall(r"-?\d+(?:\.\d+)?", work.lines[name]["path"])]
            self.must(len(ends) == 4 and ends[1] == ends[3], "a strap tears at a line that runs across it")
            inside = [lap for lap in work.laps.values() if lap["from_mm"] <= ends[0] < ends[2] <= lap["to_mm"]]
            self.must(len(inside) == 1, f"{name} lies in no lap")
            work.pierced[name] = (work.piece["name"],) * 2
        self.lay(*(work.piece["name"],) * 2)
        work.made |= lines

    def in_lap(self, work: Work, name: str) -> bool:
        """Whether what is cut or set there is so in a lap; a keeper may go round one."""
        feature = work.features.get(name)
        laps = work.laps.values() if feature and feature["purpose"] != "keeper_place" else ()
        return feature is not None and any(lap["from_mm"] <= feature["x_mm"] <= lap["to_mm"] for lap in laps)

    def do_pierce(self, works: list[Work]) -> None:
        """Lines that were pricked in fewer plies than lie there now, through all of them."""
        work, lines = self.one(works), set(self.step["features"])
        self.must(lines and lines <= set(work.lines) & work.made - work.sewn, "there is nothing pricked to pierce")
        self.must(len({name.split(".")[1] for name in lines}) == 1, "edges and folds are not pierced at once")
        plies = self.under(work, next(iter(lines)))
        self.must(all(work.pierced[name] != plies for name in lines), "these go through all that lies here")
        self.lay(*plies)
        for name in lines:
            work.pierced[name] = plies

    def fold_of(self, work: Work, line: str) -> str:
        """The fold that a line of stitches holds: the nearest to where it begins."""
        at = float(re.findall(r"-?[\d.]+", work.lines[line]["path"])[0])
        return min(work.folds, key=lambda fold: abs(work.features[fold]["x_mm"] - at))

    def under(self, work: Work, line: str) -> tuple[str, ...]:
        """The plies under a line of stitches: those of a fold twice, once its tail lies glued on its front."""
        if "splice_stitch" in line:
            return (work.piece["name"],) * 2
        plies = self.sewn(work, line)
        if "joint_stitch" in line:
            self.must(work.piece["name"] in self.laid_on, "the billet lies loose")
            return (*plies, *self.through(self.works[self.laid_on[work.piece["name"]]]))
        if "fold_stitch" not in line:
            return plies
        glued = {each.removeprefix("glue ") for each in work.held if each.startswith("glue ")}
        fold = self.fold_of(work, line)
        self.must(fold in work.folded & glued, "a fold is pierced and sewn once it is folded and glued")
        return (*plies, *reversed(plies))
