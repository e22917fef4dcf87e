"""The cautions that a pattern shows, each only where it applies."""

from collections.abc import Iterable, Iterator

from service.shop.goods import Nm
from service.shop.shop import Shop
from service.strap.model.pattern import Feature, Pattern, Purpose, TipLies
from service.strap.model.spec import FOLDED
from service.strap.plane.lengths import reading
from service.workshop.names import item_title

_SET: tuple[Purpose, ...] = ("ornament", "between", "border")
_FOLDED: tuple[Purpose, ...] = ("joint", "fold_rivet", "keeper_rivet")


def cautions(pattern: Pattern, shop: Shop) -> tuple[str, ...]:
    """Sentences for the maker and for the one who will use the strap, in a fixed order.

    What the strap has, and who wears it, decide which apply; where it is not known who does, all are told.
    """
    features = [feature for piece in pattern.pieces for feature in piece.features]
    texts = ["Work by the tool maker's instructions, and protect your eyes when punching and setting."]
    texts += _tip(pattern, shop)
    texts += _bunched(pattern, shop)
    texts += _loads(pattern, features)
    texts += _spliced(pattern)
    texts += _small_parts(features, shop)
    laced = any(line.item == "lace" for line in pattern.hardware)
    texts.append(f"Long straps {'and laces ' if laced else ''}near the neck are a strangling hazard.")
    if pattern.spec.worn_by != "object" and any(line.length is None for line in pattern.hardware):
        texts.append("Nickel against the skin: see the local law on release limits.")
    texts.append("Where local rules or licensed practice speak, they stand above this pattern.")
    return tuple(texts)


def _loads(pattern: Pattern, features: Iterable[Feature]) -> Iterator[str]:
    """What the strap is not to hold. What an animal might wear, and whatever is not a person's, might hold one."""
    spec = pattern.spec
    of_person = spec.worn_by == "person"
    if any(feature.purpose in _SET for feature in features):
        persons = "lift or restrain a person"
        yield f"A decorated strap is not rated to {persons if of_person else f'lead, tie, {persons} or an animal'}."
        if any(line.purpose == "lead_ring" for line in pattern.hardware) and not of_person:
            yield "The ring of a decorated collar is for a tag, not for a lead."
    elif _may_hold(pattern) and not of_person:
        yield (
            "No load was reckoned for this strap. Prove it before an animal is led or tied by it, look at its rivets "
            "and seams before each use, and lift or restrain nobody by it."
        )
        if any(feature.purpose == "fold_rivet" and feature.item for feature in features):
            yield "A fold that is pulled at is stitched, or set with solid rivets: tubular caps are pried open."
    if any(line.purpose == "snap_cap" for line in pattern.hardware):
        yield "A snap lets go when it is pulled at: nobody and nothing is led, tied, lifted or held by it."
    if _closes(pattern) and spec.worn_by in (None, "animal"):
        yield "A collar is worn by an animal under supervision only, and should break away where it could be caught."


def _spliced(pattern: Pattern) -> Iterator[str]:
    """What a lap is not to hold: no spec tells all that a strap is used for."""
    if any(piece.splices for piece in pattern.pieces):
        yield (
            "A splice is made to bear no load: lead, tie, lift or ride by nothing that has one. Straps for that are "
            "the work of those who are licensed for it."
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
        f"The {title} is no wider than the strap: the fold bunches in its curve. A dee or a wider ring lies better."
        for title in dict.fromkeys(narrow)
    ]


def _small_parts(features: Iterable[Feature], shop: Shop) -> Iterator[str]:
    """What is set or riveted on the strap, by its family."""
    features = tuple(features)
    families = {shop.ornaments[feature.item].family for feature in features if feature.purpose in _SET and feature.item}
    names = [f"{family}s" for family in ("bell", "spot", "concho") if family in families]
    if any(feature.purpose in _FOLDED for feature in features):
        names.append("rivets")
    if any(feature.purpose in ("snap_cap", "snap_stud") for feature in features):
        names.append("snaps")
    if names:
        listed = " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
        yield f"{listed[0].upper()}{listed[1:]} are small parts: not for young children."


def _tip(pattern: Pattern, shop: Shop) -> list[str]:
    """What the tip comes to lie on when the strap is buckled, the tightest hole first."""
    units = pattern.spec.units
    return [
        _SENTENCES[lies].format(holes=_holes(holes), by=reading(by, units), what=_titles(items, shop))
        for lies in _SENTENCES
        for holes, by, items in [_under(pattern, lies)]
        if holes
    ]


_SENTENCES: dict[TipLies, str] = {
    "through": "Pass the tip through the collar ring when buckling.",
    "raised": "Not to be worn at {holes}: the tip lies up to {by} over the {what} there, and cannot lie down.",
    "flat": "Buckled at {holes} the tip lies on the {what}, which is flat enough.",
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
        return f"hole {holes[0]}"
    return f"holes {holes[0]} {'and' if len(holes) == 2 else 'to'} {holes[-1]}"


def _titles(items: list[str], shop: Shop) -> str:
    return " and the ".join(item_title(item, shop) for item in items)
