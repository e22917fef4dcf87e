"""The cautions that a pattern shows, each only where it applies."""

from service.shop.shop import Shop
from service.strap.lengths import reading
from service.strap.pattern import Pattern, Purpose

_SET: tuple[Purpose, ...] = ("ornament", "between", "border")
_FOLDED: tuple[Purpose, ...] = ("joint", "fold_rivet", "keeper_rivet")


def cautions(pattern: Pattern, shop: Shop) -> tuple[str, ...]:
    """Sentences for the maker and for the one who will use the strap, in a fixed order."""
    features = [feature for piece in pattern.pieces for feature in piece.features]
    decorated = any(feature.purpose in _SET for feature in features)
    riveted = any(feature.purpose in _FOLDED for feature in features)
    metal = any(line.length is None for line in pattern.hardware)
    texts = ["Work by the tool maker's instructions, and protect your eyes when punching and setting."]
    texts += _tip(pattern, shop)
    if decorated:
        texts.append("A decorated strap is not rated to lead, tie, lift or restrain a person or an animal.")
    if pattern.spec.construction != "open":
        texts.append(
            "A collar is worn by an animal under supervision only, and should break away where it could be caught."
        )
    if decorated or riveted:
        texts.append("Bells, spots and rivets are small parts: not for young children.")
    texts.append("Long straps and laces near the neck are a strangling hazard.")
    if metal:
        texts.append("Nickel against the skin: see the local law on release limits.")
    texts.append("Where local rules or licensed practice speak, they stand above this pattern.")
    return tuple(texts)


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
