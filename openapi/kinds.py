"""Writes every kind of end, hold, outline, row and fixing with the shortest spec that gives it, and its picture.

`python -m openapi.kinds` writes openapi/KINDS.md, and the pictures beside it.
"""

import json
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

from PIL import Image

from service.drawing.finished.view import finished_view
from service.forms.png import png
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.solve import solve

HERE = Path(__file__).parent
TEXT = HERE / "KINDS.md"
PICTURES = HERE / "kinds"
_WIDTH = 640
_PAPER = "#f4efe6"
_MAX_PIXELS = 4_000_000
_COLOURS = 64

Spec = dict[str, Any]
_BUCKLE, _TIP, _RING = {"kind": "buckle"}, {"kind": "tip"}, {"kind": "ring"}


def _ends(head: Spec, foot: Spec | None = None, **more: Any) -> Spec:
    size, ends = {"body_length": "20 in"}, {"head": head, "foot": foot or {"kind": "plain"}}
    return {"construction": "two_ends", "size": size, "ends": ends, **more}


def _row(ornaments: Spec, **more: Any) -> Spec:
    size, body = {"body_length": "16 in"}, {"width": "1 1/2 in"}
    return {"construction": "open", "size": size, "body": body, "ornaments": ornaments, **more}


KINDS: dict[str, dict[str, Spec]] = {
    "Ends": {
        "plain": _ends({"kind": "plain"}),
        "hole": _ends({"kind": "hole"}),
        "slot": _ends({"kind": "slot"}),
        "ring": _ends({"kind": "ring"}),
        "loop": _ends({"kind": "loop", "rod": "1/2 in"}),
        "buckle": _ends(_BUCKLE),
        "tip": _ends(_TIP),
        "buckle and tip": _ends(_BUCKLE, _TIP),
        "buckle with two prongs": _ends({"buckle": "two_prong_38"}, _TIP, body={"width": "1 1/2 in"}),
        "buckle at each end": _ends(_BUCKLE, _BUCKLE),
        "snap": _ends({"half": "stud"}, {"half": "cap"}),
        "snap that breaks away": _ends(
            {"half": "stud", "snap": "break_away_20"}, {"half": "cap", "snap": "break_away_20"}
        ),
        "snap with sizes": _ends({"half": "stud", "count": 3}, {"half": "cap"}),
        "billet": _ends(_BUCKLE, {"kind": "billet", "end": _TIP}, body={"width": "1 1/2 in"}),
        "joining strap": _ends(_BUCKLE, _BUCKLE, joining_strap={"adds": {"from": "4 in", "to": "6 in"}}),
    },
    "Keepers and collar rings": {
        "loose keeper": _ends({"keeper": "loose"} | _BUCKLE, _TIP),
        "fixed keeper": _ends({"keeper": "fixed"} | _BUCKLE, _TIP),
        "two fixed keepers": _ends({"keeper": ["fixed", "fixed"]} | _BUCKLE, _TIP),
        "loose and fixed keeper": _ends({"keeper": ["loose", "fixed"]} | _BUCKLE, _TIP),
        "fixed keeper, sewn in": _ends({"keeper": "fixed", "hold": "stitches"} | _BUCKLE, _TIP),
        "collar ring": _ends({"ring": "ring_38"} | _BUCKLE, _TIP),
        "collar ring, sewn in beside a keeper": _ends(
            {"ring": "dee_38", "keeper": "fixed", "hold": "stitches"} | _BUCKLE, _TIP
        ),
        "no keeper": _ends({"keeper": "none"} | _BUCKLE, _TIP),
    },
    "What holds an end": {
        "fold held by rivets": _ends({"kind": "ring", "hold": "rivets"}),
        "fold held by stitches": _ends({"kind": "ring", "hold": "stitches"}),
        "fold held by screws": _ends({"kind": "ring", "hold": "screws"}),
        "billet joined by stitches": _ends(
            _BUCKLE, {"kind": "billet", "join": "stitches", "end": _TIP}, body={"width": "1 1/2 in"}
        ),
    },
    "Outlines": {
        "taper": _ends(_RING, _RING, body={"width": "1 1/2 in", "taper": {"to": "1 in"}}),
        "eased taper": _ends(_RING, _RING, body={"width": "1 1/2 in", "taper": {"to": "1 in", "line": "eased"}}),
        "scalloped edges": _row(
            {"item": "bell_25", "count": 5}, body={"width": "2 in", "edge": {"shape": "scalloped"}}
        ),
        "pinked edges": _row({"item": "bell_25", "count": 5}, body={"width": "2 in", "edge": {"shape": "pinked"}}),
        "edges by an iron": _row(
            {"item": "bell_25", "count": 5}, body={"width": "2 in", "edge": {"iron": "scallop_25"}}
        ),
        "cut edges along tapers": _ends(
            _RING, _RING, body={"width": "1 1/2 in", "taper": {"to": "1 in"}, "edge": {"iron": "pinking_13"}}
        ),
        "splices": _row(
            {"item": "bell_25", "count": 20},
            size={"body_length": "80 in"},
            body={"splices": "allowed"},
            leather="bridle_10_11",
        ),
    },
    "Rows": {
        "one ornament": _row({"item": "bell_25", "count": 5}),
        "alternating": _row({"items": ["bell_25", "spot_10"], "count": 7}),
        "graduated": _row({"items": ["bell_25", "bell_38"], "arrange": "graduated", "count": 7}),
        "sequence, mirrored": _row({"items": ["spot_6", "spot_10", "bell_25"], "mirrored": True}),
        "centrepiece": _row({"item": "spot_10", "count": 6, "centrepiece": "bell_38"}),
        "several rows": _row({"item": "spot_10", "count": 8, "rows": {"count": 2}}),
        "staggered rows": _row({"item": "spot_10", "count": 8, "rows": {"count": 2, "across": "staggered"}}),
        "between": _row({"item": "bell_25", "count": 4}, between={"item": "spot_10"}),
        "border": _row({"item": "bell_25", "count": 4}, body={"width": "2 in"}, border={"item": "spot_6"}),
    },
    "Keepers between ornaments": {
        "keepers between": _row({"item": "bell_25", "count": 6}, keepers_between={}),
        "in every second gap": _row({"item": "bell_25", "count": 9}, keepers_between={"every": 2, "width": "3/8 in"}),
        "along tapers": _row(
            {"item": "bell_25", "count": 8},
            body={"width": "2 in", "taper": {"to": "1 1/4 in"}},
            keepers_between={"width": "3/8 in"},
        ),
        "holding a lining": _row(
            {"item": "bell_25", "count": 6}, keepers_between={}, lining={"leather": "lining_2_3", "held_by": "keepers"}
        ),
    },
    "Edgings": {
        "edging": _row({"item": "bell_25", "count": 6}, edging={"leather": "latigo_6_7"}),
        "scalloped edging": _row(
            {"item": "bell_25", "count": 6}, edging={"leather": "latigo_6_7", "shape": "scalloped"}
        ),
        "straight edging": _row({"item": "bell_25", "count": 6}, edging={"leather": "latigo_6_7", "shape": "straight"}),
        "edging by an iron": _row(
            {"item": "bell_25", "count": 6}, edging={"leather": "latigo_6_7", "iron": "pinking_6"}
        ),
        "edging between two plies": _row(
            {"item": "bell_25", "count": 6},
            body={"width": "2 in"},
            lining="lining_2_3",
            edging={"leather": "latigo_6_7"},
        ),
    },
    "Fixings": {
        "shank": _row({"item": "bell_30", "count": 4}),
        "prongs": _row({"item": "spot_10", "count": 6}),
        "screw_post": _row({"item": "concho_25", "count": 4}),
        "split_pin": _row({"item": "bell_16_pinned", "count": 6}),
        "rivet": _row({"item": "no_2", "count": 4}),
        "screw": _row({"item": "no_4_screwed", "count": 4}),
    },
    "Linings and seams": {
        "lining": _row({"item": "bell_25", "count": 4}, lining="lining_2_3"),
        "stitched edges": _row({"item": "bell_25", "count": 4}, stitching={}),
    },
}
"""By group and name the shortest spec of each kind."""


def entries() -> Iterator[tuple[str, str, Spec]]:
    """Group, name and spec of each."""
    for group, kinds in KINDS.items():
        for name, spec in kinds.items():
            yield group, name, spec


def file_of(name: str) -> str:
    """The file of a kind's picture."""
    return f"{name.replace(',', '').replace(' ', '_')}.png"


def text() -> str:
    """The page: each kind with its picture, and its spec."""
    lines = [
        "# What can be asked for", "",
        "Each kind with the shortest spec that gives it, and what the demo shop makes of that, as it will look. Send",
        "a spec to `/v1/patterns`; what it leaves unsaid the shop says. `python -m openapi.kinds` makes this page.", "",
    ]  # fmt: skip
    for group, kinds in KINDS.items():
        lines += [f"## {group}", ""]
        for name, spec in kinds.items():
            lines += [
                f"### {name}",
                "",
                f"![{name}](kinds/{file_of(name)})",
                "",
                "```json",
                json.dumps(spec),
                "```",
                "",
            ]
    return "\n".join(lines)


def picture(spec: Spec) -> Image.Image:
    """What the demo shop makes of it, as it will look."""
    shop = demo_shop()
    drawing = finished_view(solve(read_spec(spec, shop.defaults.units), shop), shop, units="in", background=_PAPER)
    data = png(drawing, dpi=None, width_px=_WIDTH, max_pixels=_MAX_PIXELS, colours="full")
    return Image.open(BytesIO(data)).convert("RGB")


def main() -> None:
    """Write the page and its pictures."""
    TEXT.write_text(text(), encoding="utf-8")
    PICTURES.mkdir(exist_ok=True)
    for each in PICTURES.glob("*.png"):
        each.unlink()
    for _, name, spec in entries():
        flat = picture(spec).quantize(_COLOURS, dither=Image.Dither.NONE)
        flat.save(PICTURES / file_of(name), optimize=True)


if __name__ == "__main__":
    main()
