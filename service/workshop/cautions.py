"""The cautions that a pattern shows, each only where it applies."""

from collections.abc import Iterable, Iterator

from service.shop.shop import Shop
from service.strap.lengths import reading
from service.strap.pattern import Feature, Pattern, Purpose

_SET: tuple[Purpose, ...] = ("ornament", "between", "border")
_FOLDED: tuple[Purpose, ...] = ("joint", "fold_rivet", "keeper_rivet")


def cautions(pattern: Pattern, shop: Shop) -> tuple[str, ...]:
    """Sentences for the maker and for the one who will use the strap, in a fixed order.

    What the strap has, and who wears it, decide which apply; where it is not known who does, all are told.
    """
    features = [feature for piece in pattern.pieces for feature in piece.features]
    texts = ["Work by the tool maker's instructions, and protect your eyes when punching and setting."]
    texts += _tip(pattern, shop)
    texts += _loads(pattern, features)
    texts += _small_parts(features, shop)
    laced = any(line.item == "lace" for line in pattern.hardware)
    texts.append(f"Long straps {'and laces ' if laced else ''}near the neck are a strangling hazard.")
    if any(line.length is None for line in pattern.hardware):
        texts.append("Nickel against the skin: see the local law on release limits.")
    texts.append("Where local rules or licensed practice speak, they stand above this pattern.")
    return tuple(texts)


def _loads(pattern: Pattern, features: Iterable[Feature]) -> Iterator[str]:
    """What the strap is not to hold. What an animal might wear, and whatever is not a person's, might hold one."""
    spec = pattern.spec
    if any(feature.purpose in _SET for feature in features):
        persons = "lift or restrain a person"
        whom = persons if spec.worn_by == "person" else f"lead, tie, {persons} or an animal"
        yield f"A decorated strap is not rated to {whom}."
    if spec.construction != "open" and spec.worn_by in (None, "animal"):
        yield "A collar is worn by an animal under supervision only, and should break away where it could be caught."


def _small_parts(features: Iterable[Feature], shop: Shop) -> Iterator[str]:
    """What is set or riveted on the strap, by its family."""
    features = tuple(features)
    families = {shop.ornaments[feature.item].family for feature in features if feature.purpose in _SET and feature.item}
    names = [f"{family}s" for family in ("bell", "spot", "concho") if family in families]
    if any(feature.purpose in _FOLDED for feature in features):
        names.append("rivets")
    if names:
        listed = " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
        yield f"{listed[0].upper()}{listed[1:]} are small parts: not for young children."


def _tip(pattern: Pattern, shop: Shop) -> list[str]:
    """Where the tip, at the tightest hole, comes to lie over the first ornament."""
    placed = {ply.piece: ply for ply in pattern.placements if ply.direction == 1}
    tongue = next((p for p in pattern.pieces if any(f.purpose == "size_hole" for f in p.features)), None)
    carrier = next((p for p in pattern.pieces if any(f.purpose == "ornament" for f in p.features)), None)
    if tongue is None or carrier is None:
        return []
    tightest = min(f.x for f in tongue.features if f.purpose == "size_hole")
    first = min((f for f in carrier.features if f.purpose == "ornament"), key=lambda f: f.x)
    reach = tongue.length - tightest
    rim = placed[carrier.name].offset + first.x - first.footprint // 2
    if reach <= rim:
        return []
    units = pattern.spec.units or shop.defaults.units
    return [f"Buckled at hole 1 the tip lies {reading(reach - rim, units)} over the first ornament."]
