"""The cautions that a pattern shows, each only where it applies."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from service.shop.goods import Nm
from service.shop.shop import Shop
from service.strap.model.loads import may_bear_load
from service.strap.model.pattern import Feature, Pattern, Purpose
from service.strap.model.spec import FOLDED
from service.strap.model.worn import TipLies
from service.strap.plane.lengths import reading
from service.words import opening, say, say_list
from service.workshop.names import item_title

_SET: tuple[Purpose, ...] = ("ornament", "between", "border")
_FOLDED: tuple[Purpose, ...] = ("joint", "fold_rivet", "keeper_rivet")
_For = Literal["bench", "use"]


@dataclass(frozen=True, slots=True)
class Cautions:
    """Sentences in a fixed order: for who makes a strap, and for who uses it; what stands above both comes last."""

    at_the_bench: tuple[str, ...]
    in_use: tuple[str, ...]


def cautions(pattern: Pattern, shop: Shop) -> tuple[str, ...]:
    """Sentences for the maker and for the one who will use the strap, in a fixed order.

    What the strap has, and who wears it, decide which apply; where it is not known who does, all are told.
    """
    return tuple(text for _, texts in _told(pattern, shop) for text in texts)


def cautions_of(pattern: Pattern, shop: Shop) -> Cautions:
    """The same sentences, each with whom it is for."""
    told: dict[_For, list[str]] = {"bench": [], "use": []}
    for who, texts in _told(pattern, shop):
        told[who] += texts
    return Cautions(tuple(told["bench"]), tuple(told["use"]))


def _told(pattern: Pattern, shop: Shop) -> Iterator[tuple[_For, Iterable[str]]]:
    """Every caution in order, and whom it is for."""
    features = [feature for piece in pattern.pieces for feature in piece.features]
    purposes = {feature.purpose for feature in features}
    yield "bench", (_by_the_tool(),)
    yield "use", _tip(pattern, shop)
    yield "bench", _bunched(pattern, shop)
    yield "use", _loads(pattern, features, purposes)
    yield "use", _breaking(pattern, shop)
    yield "use", _spliced(pattern)
    yield "bench", _sewn_late(pattern, shop)
    yield "use", _small_parts(features, purposes, shop)
    yield "use", _around(pattern)
    yield "use", (_above_all(),)


def _by_the_tool() -> str:
    return say("Work by the tool maker's instructions, and protect your eyes when punching and setting.")


def _above_all() -> str:
    return say("Where local rules or licensed practice speak, they stand above this pattern.")


def _around(pattern: Pattern) -> Iterator[str]:
    """What may happen to whoever it is round."""
    laced = any(line.item == "lace" for line in pattern.hardware)
    yield say(
        "Long straps and laces near the neck are a strangling hazard."
        if laced
        else "Long straps near the neck are a strangling hazard."
    )
    if pattern.spec.worn_by != "object" and any(line.length is None for line in pattern.hardware):
        yield say("Nickel against the skin: see the local law on release limits.")


def _loads(pattern: Pattern, features: Iterable[Feature], purposes: set[Purpose]) -> Iterator[str]:
    """What the strap is not to hold. What an animal might wear, and whatever is not a person's, might hold one."""
    spec = pattern.spec
    of_person = spec.worn_by == "person"
    if not purposes.isdisjoint(_SET):
        yield say(
            "A decorated strap is not rated to lift or restrain a person."
            if of_person
            else "A decorated strap is not rated to lead, tie, lift or restrain a person or an animal."
        )
        if any(line.purpose == "lead_ring" for line in pattern.hardware) and not of_person:
            yield say("The ring of a decorated collar is for a tag, not for a lead.")
    elif _may_hold(pattern) and not of_person:
        yield say(
            "No load was reckoned for this strap. Prove it before an animal is led or tied by it, look at its "
            "rivets and seams before each use, and lift or restrain nobody by it."
        )
        if any(feature.purpose == "fold_rivet" and feature.item for feature in features):
            yield say("A fold that is pulled at is stitched, or set with solid rivets: tubular caps are pried open.")
    if any(line.purpose == "snap_cap" for line in pattern.hardware):
        yield say("A snap lets go when it is pulled at: nobody and nothing is led, tied, lifted or held by it.")
    if _closes(pattern) and spec.worn_by in (None, "animal"):
        yield say(
            "A collar is worn by an animal under supervision only, and should break away where it could be caught."
        )


def _breaking(pattern: Pattern, shop: Shop) -> Iterator[str]:
    """Of an animal's collar, which is made for a girth: how to use one that breaks away, or what would."""
    spec = pattern.spec
    if not pattern.closes or spec.worn_by != "animal" or spec.size.measure != "girth":
        return
    own = {line.item for line in pattern.hardware}
    goods = [snap for snap in shop.snaps.values() if snap.breaks_away]
    if any(snap.id in own for snap in goods):
        yield say(
            "This collar breaks away: try before each use that it lets go at a pull, and lead, tie or lift nothing "
            "by it."
        )
    elif goods and not may_bear_load(pattern.spec):
        yield say(
            "A closure that breaks away is recommended round an animal's neck, such as the {titles}. Whether it is "
            "right for this animal and its place is for those to judge who know both.",
            titles=say_list(snap.title for snap in goods),
        )


def _spliced(pattern: Pattern) -> Iterator[str]:
    """What a lap is not to hold: no spec tells all that a strap is used for."""
    if any(piece.splices for piece in pattern.pieces):
        yield say(
            "A splice is made to bear no load: lead, tie, lift or ride by nothing that has one. Straps for that "
            "are the work of those who are licensed for it."
        )


def _sewn_late(pattern: Pattern, shop: Shop) -> Iterator[str]:
    """Where a machine has no room beside what is set before the edges are sewn: needles have it."""
    lined, lining = pattern.pieces[0], pattern.piece("lining")
    if lining is None or lining.purpose != "cover" or all(ln.purpose != "edge_stitch" for ln in lined.stitch_lines):
        return
    room, flat = shop.rules.machine_room, shop.rules.flat_under_tip
    items = {each.id: each for each in shop.ornaments.values() if each.height > flat}
    raised = [each for each in lined.features if each.item in items]
    least = min((lined.width // 2 - abs(each.y) - each.footprint // 2 for each in raised), default=room)
    if least < room:
        units = pattern.spec.units
        yield say(
            "Sew its edges by hand: beside what stands up {found} is left, and the housing of a machine takes {room}.",
            found=reading(max(least, 0), units),
            room=reading(room, units),
        )


def _may_hold(pattern: Pattern) -> bool:
    """Whether somebody might tie or lift by it: it is folded round something."""
    return any(end.kind in FOLDED for end in pattern.ends.outermost)


def _closes(pattern: Pattern) -> bool:
    """Whether it is closed round something, on itself or by a buckle on another strap."""
    return pattern.closes or any(line.purpose in ("buckle", "foot_buckle") for line in pattern.hardware)


def _bunched(pattern: Pattern, shop: Shop) -> list[str]:
    """A round ring needs more inside width than the strap (common practice); a buckle's slack is not enough."""
    width, slack = pattern.pieces[0].width, shop.rules.buckle_slack
    rings = [shop.rings[line.item] for line in pattern.hardware if line.purpose in ("head", "foot")]
    narrow = [ring.title for ring in rings if ring.shape == "round" and ring.inside_width - width <= slack]
    return [
        say(
            "The {title} is no wider than the strap: the fold bunches in its curve. A dee or a wider ring lies better.",
            title=title,
        )
        for title in dict.fromkeys(narrow)
    ]


_FAMILIES = {"bell": "bells", "spot": "spots", "concho": "conchos"}


def _small_parts(features: Iterable[Feature], purposes: set[Purpose], shop: Shop) -> Iterator[str]:
    """What is set or riveted on the strap, by its family."""
    items = {feature.item for feature in features if feature.item and feature.purpose in _SET}
    families = {shop.ornaments[item].family for item in items}
    names = [say(name) for family, name in _FAMILIES.items() if family in families]
    if not purposes.isdisjoint(_FOLDED):
        names.append(say("rivets"))
    if not purposes.isdisjoint(("snap_cap", "snap_stud")):
        names.append(say("snaps"))
    if names:
        yield say("{parts} are small parts: not for young children.", parts=opening(say_list(names)))


def _tip(pattern: Pattern, shop: Shop) -> list[str]:
    """What the tip comes to lie on when the strap is buckled, the tightest hole first."""
    units, sentences = pattern.spec.units, _SENTENCES_JOINED if pattern.finished.joined else _SENTENCES
    return [
        say(sentences[lies], holes=_holes(holes), by=reading(by, units), what=_titles(items, shop))
        for lies in sentences
        for holes, by, items in [_under(pattern, lies)]
        if holes
    ]


_SENTENCES: dict[TipLies, str] = {
    "through": "Pass the tip through the collar ring when buckling.",
    "raised": "Not to be worn at {holes}: the tip lies up to {by} over the {what} there, and cannot lie down.",
    "flat": "Buckled at {holes} the tip lies on the {what}, which is flat enough.",
}


_SENTENCES_JOINED: dict[TipLies, str] = {
    "through": "Pass the joining strap's tip through the collar ring when buckling.",
    "raised": "Not to be worn at {holes} of the joining strap, counted from its middle: a tip lies up to {by} over the "
    "{what} there, and cannot lie down.",
    "flat": "Buckled at {holes} of the joining strap, counted from its middle, a tip lies on the {what}, which is flat "
    "enough.",
}


def _under(pattern: Pattern, lies: TipLies) -> tuple[list[int], Nm, list[str]]:
    """The holes at which something lies so under the tip, how far the tip reaches over it, and what it is.

    What is flat is of no use to the tip where something raised lies under it as well.
    """
    found = [
        (worn.hole, each)
        for worn in pattern.worn
        for each in worn.covers
        if each.lies == lies and (each.keeps_up if lies == "raised" else lies != "flat" or worn.lies_down)
    ]
    holes = sorted({hole for hole, _ in found})
    return holes, max((each.by for _, each in found), default=0), list(dict.fromkeys(each.item for _, each in found))


def _holes(holes: list[int]) -> str:
    """The tightest holes by their numbers: they lie next to one another."""
    if len(holes) == 1:
        return say("hole {first}", first=holes[0])
    told = "holes {first} and {last}" if len(holes) == 2 else "holes {first} to {last}"
    return say(told, first=holes[0], last=holes[-1])


def _titles(items: list[str], shop: Shop) -> str:
    return say_list((item_title(item, shop) for item in items), "{most} and the {last}")
