"""What the members of a spec mean, for the document: schema and member to one sentence."""

MEANINGS: dict[str, dict[str, str]] = {
    "Spec": {
        "units": "Unit of bare numbers and of printed readings; the shop's own where it is left out.",
        "construction": "`three_piece`: a body with two billets riveted to it. `one_piece`: one strip, "
        "folded round the buckle. `open`: one strip without a buckle.",
        "size": "How long the strap is.",
        "leather": "The id of a leather.",
        "body": "The decorated part.",
        "billet": "The buckled parts; not of an open strap.",
        "joint": "How pieces are riveted, or a turned-back end to itself.",
        "ends": "The ends of an open strap.",
        "ornaments": "The ornaments along the middle.",
        "between": "Smaller things in each gap between neighbouring ornaments.",
        "border": "A row along both edges, in register with the ornaments.",
    },
    "Size": {
        "body_length": "Length of a three-piece strap's body, or of the whole flat strip of another.",
        "finished_length": "Length made up, from its datum to the nominal size hole.",
        "measured_from": "Datum of `finished_length`: `fold` (the default), `bar` or `frame`.",
        "girth": "Measured round what the strap goes round.",
        "ease": "Added to `girth`.",
    },
    "Body": {"width": "Across the strap.", "end": "Of a three-piece strap's body."},
    "End": {"shape": "The outline of the end.", "depth": "From the tip to where full width begins."},
    "Billet": {
        "width": "Of a three-piece strap only; a one-piece strap has its body's width.",
        "buckle": "The id of a buckle.",
        "tip": "The end that goes through the buckle.",
        "size_holes": "The row of holes for the prong.",
        "keeper": "Whether a loop holds the tip; where it is left out, the buckle decides.",
    },
    "SizeHoles": {
        "count": "Odd: the middle one is the nominal size.",
        "spacing": "From hole to hole.",
    },
    "Joint": {
        "fastener": "The id of a fastener; where it is left out, one that holds the stack.",
        "count": "Rivets in a joint.",
        "spacing": "From rivet to rivet.",
        "end_distance": "From the piece's end to the first rivet.",
    },
    "Ends": {"head": "The end at the origin.", "foot": "The far end."},
    "StrapEnd": {
        "kind": "`plain`, with a hanging `hole`, or folded round a `ring`.",
        "shape": "The outline of the end.",
        "depth": "From the tip to where full width begins.",
        "hole": "Diameter of the hanging hole.",
        "ring": "The id of a ring.",
    },
    "Row": {
        "item": "The id of an ornament.",
        "count": "How many.",
        "spacing": "`ruler` (the default): a pitch that a ruler shows; `even`; or a given pitch.",
    },
    "Pitch": {"pitch": "From the middle of one ornament to the middle of the next."},
    "Between": {"item": "The id of an ornament.", "per_gap": "How many in each gap."},
    "Border": {
        "item": "The id of an ornament.",
        "inset": "From the edge to the middle of each spot.",
        "step": "The wanted distance from spot to spot; the nearest that keeps register is taken.",
    },
}
