"""JSON Schemas of the answers. The tests hold every answer that they get against these."""

from typing import Any, get_args

from service.strap.model.pattern import Action, Face, FeatureKind, Method, PieceName, Purpose
from service.strap.model.spec import LiningPurpose, MeasuredFrom

Json = dict[str, Any]

TEXT: Json = {"type": "string"}
COUNT: Json = {"type": "integer", "minimum": 0}
MILLIMETRES: Json = {"type": "number", "description": "Millimetres, rounded to 0.001."}
READING: Json = {
    "type": "string",
    "description": "What a person reads off a ruler: to 1/64 in or 0.1 mm; `≈` where that is not exact.",
    "pattern": r"^(≈ )?-?([0-9]+( [0-9]+/[0-9]+)?|[0-9]+/[0-9]+) in$|^(≈ )?-?[0-9]+(\.[0-9])? mm$",
}
FLAG: Json = {"type": "boolean"}


SEALED: Json = {
    "type": "string",
    "description": "A code that holds this very strap fast: asked for later it gives the same one, or 409 "
    "`shop_changed`. Keep it with an order.",
}


def ref(name: str) -> Json:
    """A reference to a schema of the document."""
    return {"$ref": f"#/components/schemas/{name}"}


def listed(items: Json, description: str = "") -> Json:
    """A list."""
    return {"type": "array", "items": items} | ({"description": description} if description else {})


def words(*values: str, description: str = "") -> Json:
    """One of a few words."""
    return {"type": "string", "enum": list(values)} | ({"description": description} if description else {})


def lengths(*names: str) -> Json:
    """The members of lengths, each a pair."""
    members: Json = {}
    for name in names:
        members |= {f"{name}_mm": MILLIMETRES, name: READING}
    return members


def closed(description: str, members: Json, optional: tuple[str, ...] = ()) -> Json:
    """An object with these members and no others; all but `optional` are always there."""
    return {
        "type": "object",
        "description": description,
        "properties": members,
        "required": [name for name in members if name not in optional],
        "additionalProperties": False,
    }


SEALED_STRAP = closed(
    "A strap that was sealed, in place of a spec: for a seal that is too long for a URL.",
    {"sealed": TEXT | {"description": "The `sealed` of a pattern, a price or a line of a quote."}},
)

PATTERN = closed(
    "Everything that one strap needs.",
    {
        "code": TEXT | {"description": "Stands for the spec in `/v1/patterns/{code}`."},
        "sealed": SEALED,
        "shop": ref("Terms"),
        "spec": ref("Spec") | {"description": "The spec with every default filled in."},
        "finished": ref("Finished"),
        "pieces": listed(ref("Piece")),
        "hardware": listed(ref("Hardware")),
        "checks": listed(ref("Check"), "The tightest place of every rule."),
        "worn": listed(ref("Worn"), "What the tip lies on, for each size hole; empty of an open strap."),
        "steps": listed(ref("Step"), "What to do, in order."),
        "cautions": listed(TEXT, "What to heed when making and using this strap."),
        "materials": ref("Materials"),
    },
)

FINISHED = closed(
    "The strap made up. Lengths run to the nominal size hole, or to the far end of an open strap.",
    {
        "measured_from": words(
            *get_args(MeasuredFrom),
            "ends",
            description="The datum of `length`; `ends` of an open strap: from end to end, without its rings.",
        ),
        **lengths("length"),
        "from": closed("The same length from each datum.", lengths("fold", "bar", "frame")),
        "holes": listed(
            closed(
                "Buckled at one hole; hole 1 is nearest to the buckle. `fits` is the girth that fits: the flat length "
                "from the bar less π times the strap's thickness and the ease; 0 where none does. Its reading "
                "is that of a tape, to 1/16 in or 1 mm.",
                {"hole": COUNT, **lengths("length", "fits")},
            )
        ),
        "weight_g": {"type": "number", "minimum": 0, "description": "Leather and hardware, in grams."},
    },
)

WORN = closed(
    "The strap buckled at one size hole: the tip lies on its grain side from the bar on.",
    {
        "hole": COUNT,
        "lies_down": {"type": "boolean", "description": "Whether the tip can lie down: else not a hole to wear it at."},
        "covers": listed(
            closed(
                "A thing under the tip. A `fault` keeps the tip from lying down at the middle hole and is refused; "
                "whatever else is covered, a flat spot or something at another hole, is a `warning`.",
                {
                    "at": TEXT | {"description": "The id of a feature, or `lead_ring`."},
                    **lengths("by"),
                    "severity": words("fault", "warning"),
                },
            ),
            "The nearest to the bar first. `by` is how far the tip reaches past the near rim.",
        ),
    },
)

PIECE = closed(
    "One flat piece of leather. Origin on its centre line at the buckle end, x along it, y down the drawing.",
    {
        "name": words(*get_args(PieceName)),
        "leather": TEXT,
        **lengths("thickness", "skived", "length", "width"),
        "face": words(*get_args(Face), description="The side of the leather that lies up in the piece's frame."),
        "outline": TEXT | {"description": "SVG path data in millimetres, in the piece's own frame."},
        "features": listed(ref("Feature")),
        "purpose": words(
            *get_args(LiningPurpose),
            description="Of a lining: whether it covers the backs of what is set, or is set through too.",
        ),
        "over_mm": MILLIMETRES
        | {"description": "Of a lining: how much larger it is cut all round, to be trimmed flush."},
        "over": READING,
        "rise_mm": MILLIMETRES | {"description": "Of a lining: how much longer it is cut, to lie over the backs."},
        "rise": READING,
        "stitch_lines": listed(ref("StitchLine"), "Left out where the piece is not stitched."),
    },
    optional=("purpose", "over_mm", "over", "rise_mm", "rise", "stitch_lines"),
)

STITCH_LINE = closed(
    "A line of stitches on a piece; in a turned-back end it goes through both plies, and is given on the front one.",
    {
        "id": TEXT | {"description": "`piece.edge_stitch.n` or `piece.fold_stitch.n`."},
        "path": TEXT | {"description": "SVG path data in millimetres, in the piece's own frame: straight chords."},
        "closed": FLAG | {"description": "Whether it ends where it begins."},
        "holes": COUNT | {"description": "Every corner and, of an open line, both ends are holes."},
        "stitches": COUNT,
        **lengths("pitch", "length"),
    },
)

FEATURE = closed(
    "One thing done to a piece, at its centre.",
    {
        "id": TEXT | {"description": "`piece.purpose.n`, the same for the same spec."},
        "kind": words(*get_args(FeatureKind)),
        "action": words(*get_args(Action), description="`punch` cuts through; `mark` is scribed, never cut."),
        "purpose": words(*get_args(Purpose)),
        **lengths("x", "y", "diameter", "length", "width"),
        "angle_deg": {"type": "number", "description": "Of a slot: 0 lies along the strap, 90 across it."},
        "method": words(*get_args(Method), description="Where it is not one punch: holes, then cuts."),
        "tool": TEXT,
        "item": TEXT,
        "mates": listed(TEXT, "Features of other pieces that this one meets."),
    },
    optional=(
        "diameter_mm", "diameter", "length_mm", "length", "width_mm", "width", "angle_deg", "method",
        "tool", "item",
    ),
)  # fmt: skip

HARDWARE = closed(
    "So many of one item; lace and thread have a length.",
    {"item": TEXT, "count": COUNT, "for": TEXT, **lengths("length")},
    optional=("length_mm", "length"),
)

CHECK = closed(
    "The tightest place of one rule.",
    {
        "rule": TEXT,
        "passed": FLAG,
        "sense": words("least", "most", description="Whether `limit` is the least or the most that `value` may be."),
        **lengths("value", "limit"),
        "at": listed(TEXT, "The features that it was measured at."),
    },
)

PROBLEM = closed(
    "What is wrong (RFC 9457).",
    {
        "type": {"type": "string", "format": "uri-reference", "description": "Where this kind is explained."},
        "title": TEXT,
        "status": {"type": "integer", "minimum": 400, "maximum": 599},
        "detail": TEXT,
        "code": TEXT | {"description": "Stable; the table of problems lists them all."},
        "request_id": TEXT,
        "errors": listed(ref("Fault"), "Every fault at once."),
        "remedies": listed(ref("Remedy"), "Each would make the strap one that can be made."),
        "changed": listed(ref("Changed"), "Of `shop_changed`: every sealed strap that would be another one today."),
    },
    optional=("errors", "remedies", "changed"),
)

_BOUND: Json = {"anyOf": [{"type": "integer"}, READING]}

FAULT = closed(
    "One thing that is wrong: in the body by `pointer`, in the query by `parameter`.",
    {
        "pointer": {
            "type": "string",
            "format": "json-pointer",
            "description": "RFC 6901, into the caller's document.",
        },
        "parameter": TEXT,
        "code": TEXT,
        "detail": TEXT,
        "limit": _BOUND,
        "limit_mm": MILLIMETRES,
        "found": _BOUND,
        "found_mm": MILLIMETRES,
    },
    optional=("pointer", "parameter", "limit", "limit_mm", "found", "found_mm"),
)

CHANGED = closed(
    "A sealed strap of which the shop would make another today, or none.",
    {
        "pointer": {"type": "string", "format": "json-pointer", "description": "Of orders: where the seal stands."},
        "moved": listed(
            ref("Moved"),
            "What differs. None of a strap that can no longer be made, or where only what is no figure differs.",
        ),
        "errors": listed(ref("Fault"), "Why it can no longer be made, in places of its spec; else empty."),
        "code": TEXT | {"description": "The same spec, no longer sealed."},
        "today": {
            "type": ["string", "null"],
            "format": "uri-reference",
            "description": "What the shop makes of that spec today, or why it does not and what would help; "
            "null where that is too long for a URL.",
        },
    },
    optional=("pointer",),
)

MOVED = closed(
    "A figure that moved: a count, or a length as a pair. `from` is left out where there was none, `to` where "
    "there is none.",
    {
        "figure": TEXT | {"description": "Its place, such as `pieces.body.length` or `hardware.bell_38.count`."},
        "detail": TEXT,
        "from": _BOUND,
        "from_mm": MILLIMETRES,
        "to": _BOUND,
        "to_mm": MILLIMETRES,
    },
    optional=("from", "from_mm", "to", "to_mm"),
)

REMEDY = closed("Changes that make the spec one that is accepted.", {"detail": TEXT, "changes": listed(ref("Change"))})

CHANGE = closed(
    "Set the value at this place of the caller's document; of a design, or the query's `parameter` to `text`.",
    {
        "parameter": TEXT,
        "text": TEXT,
        "pointer": {"type": "string", "format": "json-pointer"},
        "value": {
            "type": ["string", "integer", "boolean", "object", "null"],
            "description": "null leaves the member out.",
        },
    },
    optional=("parameter", "text"),
)

_GOODS: Json = {
    "type": "object",
    "properties": {"id": TEXT, "title": TEXT},
    "required": ["id", "title"],
    "description": "One entry: its id, its title and its measures, every length a pair. What the shop pays for "
    "it is told to the holder of a key, or to all while there are no keys.",
}

SHOP = closed(
    "What this shop works with.",
    {
        "name": TEXT,
        "currency": TEXT,
        "limits": {"type": "object", "description": "The largest and smallest that the shop takes on."},
        "defaults": {"type": "object", "description": "What a spec gets where it says nothing."},
        "rules": {"type": "object", "description": "Clearances and measures of the bench."},
        **{
            name: listed(_GOODS)
            for name in (
                "leathers", "round_punches", "slot_punches", "end_punches",
                "fasteners", "buckles", "rings", "ornaments",
            )
        },
        "digest": TEXT | {"description": "SHA-256 of the shop file and its pictures."},
        "shop": ref("Terms") | {"description": "As in every pattern and price."},
    },
)  # fmt: skip

HEALTH = closed("How the process is.", {"status": words("live", "ready")})

OPEN_API: Json = {
    "type": "object",
    "description": "An OpenAPI 3.1 document.",
    "required": ["openapi", "paths"],
}

ANSWERS: dict[str, Json] = {
    "Change": CHANGE,
    "Changed": CHANGED,
    "Check": CHECK,
    "Fault": FAULT,
    "Feature": FEATURE,
    "Finished": FINISHED,
    "Worn": WORN,
    "Hardware": HARDWARE,
    "Health": HEALTH,
    "Moved": MOVED,
    "OpenApi": OPEN_API,
    "Pattern": PATTERN,
    "Piece": PIECE,
    "StitchLine": STITCH_LINE,
    "Problem": PROBLEM,
    "Remedy": REMEDY,
    "SealedStrap": SEALED_STRAP,
    "Shop": SHOP,
}
