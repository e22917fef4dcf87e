"""What lies on the bench, and what hands do in every step: take goods, look at the plies, stop."""

import re
from collections import Counter
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

Json = dict[str, Any]
_ORNAMENTS = ("ornament", "between", "border")
HALF_TENTH = 0.05
"""Millimetres by which holes that meet may differ: half of what a ruler shows."""


class Botched(Exception):
    """The strap is spoilt: at which step, and why."""


@dataclass
class Work:
    """One piece on the bench, and how far it has come."""

    piece: Json
    done: set[str] = field(default_factory=set)
    made: set[str] = field(default_factory=set)
    filled: set[str] = field(default_factory=set)
    laced: set[str] = field(default_factory=set)
    sewn: set[str] = field(default_factory=set)
    damp: set[str] = field(default_factory=set)
    folded: set[str] = field(default_factory=set)
    held: set[str] = field(default_factory=set)
    skived: set[str] = field(default_factory=set)
    pierced: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """The plies that each hole goes through, by feature or line."""
    joined: bool = False
    thin_laps: set[str] = field(default_factory=set)
    glued_laps: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.laps = {lap["id"]: lap for lap in self.piece.get("splices", [])}
        self.features: dict[str, Json] = {each["id"]: each for each in self.piece["features"]}
        self.lines: dict[str, Json] = {line["id"]: line for line in self.piece.get("stitch_lines", [])}
        self.tapers = {taper["id"] for taper in self.piece.get("tapers", [])}
        cut = (1,) if "along" in self.piece else (1, 2)
        self.edges = {f"{self.piece['name']}.edge.{n}" for n in cut if "edge" in self.piece}
        self.ends = set(_shaped_ends(self.piece))
        self.folds = {name for name, each in self.features.items() if each["action"] == "fold"}
        self.flat_work = (set(self.features) | set(self.lines)) - self.folds
        self.sets = {name for name, each in self.features.items() if each["purpose"] in _ORNAMENTS}
        self.snaps = {name for name, each in self.features.items() if each["purpose"] in ("snap_cap", "snap_stud")}
        self.shanks = {name for name in self.sets if self.features[name]["kind"] == "slot"}

    @property
    def lap_lines(self) -> set[str]:
        """The lines of stitches that sew its laps."""
        return {name for name in self.lines if "splice_stitch" in name}

    @property
    def loose(self) -> bool:
        """Whether it is a lining that keepers are to hold."""
        return "held_by" in self.piece

    @property
    def own(self) -> bool:
        """Whether it is a lining with edges of its own."""
        return self.loose or "cut_to_size" in self.piece

    @property
    def raw(self) -> bool:
        """Whether its edges stay as they are cut: those of an edging that is pinked or scalloped."""
        return "along" in self.piece and "edge" in self.piece

    @property
    def whole(self) -> bool:
        """Whether its strips, if it has several, are one by now: thinned, glued and sewn."""
        return self.glued_laps == set(self.laps) and self.lap_lines <= self.sewn

    @property
    def flat(self) -> bool:
        """Neither folded nor joined to anything but its lining."""
        return not self.folded and not self.joined and "closed" not in self.done

    @property
    def bare(self) -> bool:
        """Nothing is set on it yet."""
        return not self.filled and self.flat


def _shaped_ends(piece: Json) -> list[str]:
    """The ends that are not cut square: no straight line of the outline goes all across them."""
    number = r"-?\d+(?:\.\d+)?(?:e-?\d+)?"
    ends_of = rf"(?:[ML]|C(?:{number} ){{4}})({number}) ({number})"
    lines = [(float(x), float(y)) for x, y in re.findall(ends_of, piece["outline"])]
    across = [(x, abs(y - to_y)) for (x, y), (to_x, to_y) in pairwise([*lines, lines[0]]) if x == to_x]
    widths = dict.fromkeys((1, 2), piece["width_mm"])
    widths |= {int(taper["id"][-1]): taper["width_mm"] for taper in piece.get("tapers", [])}
    ends = ((n, x) for n, x in ((1, 0.0), (2, piece["length_mm"])))
    square = {n for n, at in ends for x, wide in across if x == at and abs(wide - widths[n]) < HALF_TENTH}
    return [f"{piece['name']}.end.{n}" for n in (1, 2) if n not in square]


class Hands:
    """A strap in the making: its pieces and the goods that were laid out for it."""

    def __init__(self, answer: Json, *, heed_after: bool = True) -> None:
        self.answer = answer
        self.heed_after = heed_after
        self.works = {piece["name"]: Work(piece) for piece in answer["pieces"]}
        self.goods: Counter[tuple[str, float | None]] = Counter()
        for line in answer["hardware"]:
            self.goods[line["item"], line.get("length_mm")] += line["count"]
        self.purposes = {(line["item"], line["for"]) for line in answer["hardware"]}
        self.rings = [line["item"] for line in answer["hardware"] if line["for"] == "lead_ring"]
        self.lined: str | None = None
        self.laid_on: dict[str, str] = {}
        """Billets that are glued to the body, to be sewn."""
        self.slipped: list[str] = []
        self.numbers: set[int] = set()
        self.measured = False
        self.tried: set[str] = set()
        self.step: Json = {}

    def must(self, holds: object, why: str) -> None:
        """Stop unless it holds."""
        if not holds:
            raise Botched(f"step {self.step['n']} ({self.step['do']}): {why}")

    def take(self, *wanted: tuple[str, int]) -> None:
        """Take the step's goods from what was laid out: just so many of these items."""
        used = Counter[str]()
        for each in self.step["uses"]:
            key = each["item"], each.get("length_mm")
            self.must(self.goods[key] >= each["count"], f"not enough {each['item']} was laid out")
            self.goods[key] -= each["count"]
            used[each["item"]] += each["count"]
        self.must(used == Counter(dict(wanted)), f"{dict(wanted)} were wanted, {dict(used)} are taken")

    def lay(self, *plies: str) -> None:
        """The leather under the tool is just this."""
        self.must(tuple(self.step["plies"]) == plies, f"{plies} lie here, not {self.step['plies']}")

    def one(self, works: list[Work]) -> Work:
        """The only piece of a step."""
        self.must(len(works) == 1, "this is done to one piece at a time")
        return works[0]

    def covers(self, work: Work) -> bool:
        """Whether a lining is to come over the backs of what is set on this piece, the one that has its outline."""
        lining = self.works.get("lining")
        if lining is None or lining.piece["purpose"] != "cover" or work is lining:
            return False
        return bool(work.piece["outline"] == lining.piece["outline"])

    def backed(self) -> str:
        """The last that is done to what is covered before holes go through both."""
        lining = self.works["lining"]
        return "laid" if lining.loose else "glued" if lining.own else "burnish"

    def sewn(self, work: Work, line: str) -> tuple[str, ...]:
        """The plies under a line of stitches, with an edging that it holds."""
        front, *behind = self.through(work)
        edging = self.works.get("edging")
        if edging is None or "edge_stitch" not in line or "glued" not in edging.done:
            return (front, *behind)
        between = edging.piece["along"]["lies"] == "between"
        return (front, "edging", *behind) if between else (front, *behind, "edging")

    def through(self, work: Work) -> tuple[str, ...]:
        """The piece with what is glued behind it."""
        name = work.piece["name"]
        return (name, "lining") if self.lined == name else (name,)
