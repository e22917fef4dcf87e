"""What things are called at the bench: the shop's titles, and plain words for what has only a name in the data."""

from service.shop.shop import Shop

_PURPOSES = {
    "joint": "joint hole",
    "fold_rivet": "fold rivet hole",
    "prong_slot": "prong slot",
    "size_hole": "size hole",
    "ornament": "ornament",
    "between": "ornament between",
    "border": "border spot",
    "keeper_rivet": "keeper hole",
    "hanger": "hanging hole",
    "edge_stitch": "stitches along the edges",
    "fold_stitch": "stitches of the fold",
}


def called(name: str) -> str:
    """A piece, a shape or a construction in plain words."""
    return {"english_point": "English point"}.get(name, name.replace("_", " "))


def purpose_title(purpose: str) -> str:
    """What a feature is for."""
    return _PURPOSES.get(purpose, called(purpose))


def tool_title(tool: str, shop: Shop) -> str:
    """The shop's title of a punch; the name itself for hand tools."""
    for punches in (shop.round_punches, shop.slot_punches, shop.end_punches):
        if tool in punches:
            return punches[tool].title
    return tool


def item_title(item: str, shop: Shop) -> str:
    """The shop's title of something that is set on a strap; the name itself for lace and the like."""
    for goods in (shop.fasteners, shop.buckles, shop.rings, shop.ornaments):
        if item in goods:
            return goods[item].title
    return called(item)
