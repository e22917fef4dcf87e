"""What the members of requests mean, for the document: schema and member to one sentence."""

_STRAP = {
    "spec": "A strap's spec; its bare numbers are in its own units, else the shop's.",
    "code": "A pattern's code, or its `sealed`: of that the same strap, or 409 `shop_changed`.",
    "design": "The name of a design.",
    "choices": "What is chosen of the design; its defaults for all else.",
}
_ORDER = {
    "ref": "The caller's own name for this order, given once.",
    "quantity": "How many of it, or how many pairs and sets; 1 where nothing is said.",
    **_STRAP,
    "straps": "Straps that belong together, such as both halves of a watch strap, in place of one: each by its name.",
    "pair": "Whether of each strap a left one and a right one are made, mirror images, as one batch.",
    "sizes": "Labels of the size table by which the spec says its size, or of the design's `size_table`: the "
    "strap in each of these sizes, in place of the one that is said.",
}

_OUTER_END = {
    "kind": "`plain`, with a hanging `hole` or `slot`, folded round a `ring` or `buckle` or into a `loop`, a `tip`, or "
    "a half of a `snap`.",
    "shape": "The outline of the end.",
    "depth": "From the tip to where full width begins.",
    "hole": "Diameter of the hanging hole.",
    "slot": "Length of the hanging slot, across the strap.",
    "ring": "The id of a ring; beside a buckle at the head, of a collar ring in its fold: between two rivets, or in "
    "its seam.",
    "buckle": "The id of a buckle; where it is left out, the shop's usual one that takes this width.",
    "prong_slot": "Length of the slot for the buckle's prong, along the strap; where it is left out, the shop's rule.",
    "keeper": "`loose`, `fixed` (its ends riveted or sewn into what is turned back) or `none`, or a list of several; "
    "where it is left out, what the buckle needs.",
    "keeper_width": "Width of each keeper's loop, along the strap; where it is left out, the shop's rule.",
    "snap": "The id of a snap fastener; left out: the shop's first.",
    "half": "Which half of a `snap` it is: the `cap`, which closes over, or a `stud`.",
    "count": "How many studs of a `snap`, each a size; 1 where it is left out.",
    "spacing": "From one stud of a `snap` to the next.",
    "hold": "What holds a turned-back end: `rivets`, `screws` or `stitches`; left out: as `stitching.turn_back` says.",
    "rod": "How thick what goes through a `loop` is: a rod, a rail, a cord.",
    "size_holes": "The row of holes for the prong.",
    "tip_length": "From the last size hole to the tip's end; where it is left out, the shop's rule.",
}
"""What stands at the outer end of a piece."""

_TAPER = {
    "to": "The width at the end, as far as fold, holes or joint reach.",
    "over": "The length of the taper itself, behind what the end takes; where it is left out, by the shop's rule.",
    "line": "`straight` (the default), or `eased`: a curve that leaves both widths without a corner.",
}

_CUT_FROM = {
    "units": "Unit of bare numbers (but not of those in a spec) and of readings; the shop's own if left out.",
    "stock": "The leather there is; without it as many of the shop's own hides as it takes.",
    "kerf": "What each cut takes away.",
    "straighten": "Cut off one long edge of each hide first.",
    "end_trim": "Cut off each end of every strip.",
    "min_offcut": "The smallest offcut worth keeping.",
    "time_limit_s": "Seconds for the search, 2 where nothing is said.",
}
"""Out of what is cut, and how."""

MEANINGS: dict[str, dict[str, str]] = {
    "Spec": {
        "units": "Unit of bare numbers and of printed readings, and of the shop's defaults; the shop's own where it is "
        "left out.",
        "construction": "`three_piece`: a body with two billets riveted to it. `one_piece`: one strip, "
        "folded round the buckle. `open`: one strip without a buckle. `two_ends`: any two of the `ends` there are.",
        "size": "How long the strap is.",
        "worn_by": "Who or what wears it: it decides which cautions apply. Where it is left out, the size table's own; "
        "where that does not say either, every caution applies.",
        "hand": "Which of a pair it is. `right` is the mirror image of the strap as it is asked for, grain side up as "
        "is the `left`; most straps are their own.",
        "leather": "The id of a leather.",
        "lining": "A leather behind the body, or behind the whole of a single strip: its id, or an object that says "
        "what it is for as well; counted in every stack.",
        "body": "The decorated part.",
        "billet": "The buckled parts of a three-piece or one-piece strap.",
        "joining_strap": "A strap of its own with a tip at each end, between the buckles of a strap that has two.",
        "joint": "How pieces are riveted, or a turned-back end to itself.",
        "ends": "The ends of an open strap, or of one of `two_ends`.",
        "ornaments": "The ornaments along the middle.",
        "between": "Smaller things in each gap between neighbouring ornaments; one, or a list in order.",
        "border": "A row along both edges, in register with the ornaments; one, or a list.",
        "keepers_between": "Loops of leather round the strap, and its lining, in the gaps between its ornaments; `{}` "
        "in each.",
        "edging": "Strips of another leather, sewn on, that stand out along both long edges between the ends.",
        "stitching": "Lines of stitches; `{}` stitches along the edges. A lined strap has them unless told otherwise.",
    },
    "Size": {
        "body_length": "Length of the body between billets, or of the whole flat strip.",
        "bar_to_bar": "Length made up, between the axes of the bars of two buckles.",
        "overall_length": "Length made up over all, between whatever lies outermost: a tip, a frame, a ring.",
        "finished_length": "Length made up, from its datum to the nominal size hole, or from end to end.",
        "measured_from": "Datum of `finished_length`: `fold` (the default), `bar` or `frame`.",
        "girth": "Measured round what the strap goes round. On a ruler its hole lies at the nearest graduation.",
        "ease": "Added to `girth`; where it is left out, what the table or the shop adds.",
        "table": "The id of a table of the shop's sizes; in place of a length.",
        "label": "The label of a size in that table, such as M.",
    },
    "Lining": {
        "leather": "The id of a leather.",
        "purpose": "`cover`: glued on once everything is set, over the backs; prongs, shanks and screws go through the "
        "outer leather only. `carry`: glued on first, and all is set through both. Where it is left out, and of a bare "
        "id, it covers prongs and shanks, unless they hold in both plies and not in the outer one alone.",
        "held_by": "`stitches`: glued, and sewn along the edges unless `stitching` says otherwise, as where it is left "
        "out. `keepers`: a strap of its own that covers the backs, held by `keepers_between` alone.",
    },
    "KeepersBetween": {
        "every": "One in every so many gaps, the first among them; 1 where it is left out. Either this or `gaps`.",
        "gaps": "The gaps that have one: from a gap, to a gap, in every so many. Gap 1 lies between the first two "
        "ornaments.",
        "width": "Of each loop, along the strap; where it is left out, the shop's rule.",
    },
    "Body": {
        "width": "Across the strap, where it is widest.",
        "end": "Of a three-piece strap's body.",
        "taper": "How it narrows to its ends, which have their buckles, holes and joints at that width. Everything "
        "along the edges follows them.",
        "edge": "How its long edges are cut, between what its ends take.",
        "splices": "Whether a body, or a single strip, that is longer than its leather's strips is lapped of as few "
        "as will do, its lining likewise: `allowed`, `none`, or an object; where it is left out, as the shop does. "
        "One by which somebody may be led or tied never is.",
    },
    "Splices": {
        "count": "How many laps; where it is left out, as few as the leather allows.",
        "stitch_lines": "Lines of stitches in each lap, all along the strap; where it is left out, the shop's.",
    },
    "Edge": {
        "shape": "`straight` (as where nothing is said), `scalloped` in arcs, or `pinked` in points. Either this or "
        "an `iron`.",
        "repeat": "About how long one scallop or point is: each long edge has a whole number of them between what its "
        "ends take. Where it is left out, that of the shop's first iron for the rest, or its usual.",
        "depth": "How far the roots lie inside the edge, from which stitches, borders and clearances are measured; "
        "where it is left out, as `repeat`.",
        "iron": "The id of an iron of the shop's, which has its shape, repeat and depth: it cuts them as near as whole "
        "repeats come out.",
    },
    "Edging": {
        "leather": "The id of a leather.",
        "shape": "Of its outer edge: `pinked` (as where nothing is said), `scalloped` or `straight`. Either this or an "
        "`iron`.",
        "reach": "How far it stands out beyond the edge; where it is left out, the shop's usual.",
        "lies": "`behind` all plies, or `between` the leather and a lining that is glued on, which is then cut to "
        "size; where it is left out, between them if there is one.",
        "repeat": "As of `body.edge`.",
        "depth": "As of `body.edge`.",
        "iron": "As of `body.edge`.",
    },
    "BodyTaper": {
        **_TAPER,
        "to": "The width at both ends. Either this or `head` and `foot`.",
        "head": "How it narrows to its head alone, or otherwise than to its foot.",
        "foot": "How it narrows to its foot alone, or otherwise than to its head.",
    },
    "Taper": _TAPER,
    "End": {"shape": "The outline of the end.", "depth": "From the tip to where full width begins."},
    "Billet": {
        "width": "Of a three-piece strap only; a one-piece strap has its body's width.",
        "buckle": "The id of a buckle.",
        "tip": "The end that goes through the buckle.",
        "size_holes": "The row of holes for the prong.",
        "prong_slot": "Length of the slot for the buckle's prong; where it is left out, by the shop's rule.",
        "keeper": "Whether a loop holds the tip; where it is left out, the buckle decides.",
        "keeper_width": "Of the loop, along the strap; where it is left out, by the shop's rule.",
        "tip_length": "From the last size hole to the tip's end; where it is left out, so many strap widths.",
        "ring": "The id of a collar ring, between the first two rivets of the turned-back end, or in its seam; "
        "one-piece straps.",
    },
    "SizeHoles": {
        "count": "Odd: the middle one is the nominal size.",
        "spacing": "From hole to hole.",
        "diameter": "Of each hole; where it is left out, by the buckle's prong and the shop's rule.",
    },
    "Joint": {
        "fastener": "The id of a fastener; where it is left out, one that holds the stack.",
        "count": "Rivets in a joint.",
        "spacing": "From rivet to rivet.",
        "end_distance": "From the piece's end to the first rivet.",
    },
    "Ends": {"head": "The end at the origin.", "foot": "The far end."},
    "StrapEnd": {
        **_OUTER_END,
        "kind": "As of an outer end, or a `billet` that is riveted over the body's end. Where it is left out, the rest "
        "of what is said tells it. `open` straps have plain ends, holes, slots and rings only.",
        "shape": "The outline of the end; of a billet that of its riveted end.",
        "width": "Of a billet; where it is left out, the shop's usual.",
        "adds": "How far a billet reaches past the body's end; left out: as far as what it carries needs.",
        "join": "What joins a billet to the body: `rivets` (where it is left out), `screws` or `stitches`.",
        "taper": "Of a billet: how it narrows from its joint to its outer end, which makes it longer by that.",
        "end": "What a billet ends in itself.",
    },
    "OuterEnd": _OUTER_END,
    "JoiningStrap": {
        "width": "Where it is left out, that of what goes through the two buckles.",
        "adds": "What it adds between the two bars, at its innermost holes and at its outermost; or its `length`.",
        "length": "Its own, from tip to tip.",
        "size_holes": "The row of holes behind each tip; how many follows from what it adds.",
        "tip": "The shape of both its tips.",
    },
    "Adds": {"from": "At its innermost holes.", "to": "At its outermost holes."},
    "Row": {
        "item": "The id of an ornament; either this or `items`.",
        "items": "The ids of several ornaments, arranged by `arrange`, or said one by one.",
        "arrange": "`graduated`: the largest in the middle, mirrored (of a smallest and a largest, every size that "
        "the shop stocks between them); `alternating`: the default beside a `count`; `sequence`: a motif, repeated, "
        "or where no `count` is given every thing of the row in turn.",
        "mirrored": "Whether a `sequence` is mirrored about the middle: the same order back down to the first.",
        "centrepiece": "The id of an ornament for the exact middle, beside the even `count` of the others.",
        "count": "How many, without the centrepiece. A sequence without it is set once, as it is said; mirrored the "
        "last item is the middle one, so that 20 items are 39 ornaments, and 40 about a centrepiece.",
        "spacing": "`ruler` (the default): everything along the strap on the shop's finest graduation, wherever the "
        "clearances allow; `even`: exactly the even pitch; or a given pitch. Ornaments of different sizes have equal "
        "clear gaps, on a ruler alike to half a graduation.",
        "rows": "Several such rows across the strap.",
    },
    "Rows": {
        "count": "How many rows; 2 where it is left out.",
        "across": "`level` (the default), or `staggered`: every second row stands in the gaps of the first.",
        "distance": "Between the rows' centre lines; the width in equal lanes where it is left out.",
    },
    "Pitch": {"pitch": "From the middle of one ornament to the middle of the next."},
    "Between": {"item": "The id of an ornament.", "per_gap": "How many in each gap."},
    "Border": {
        "item": "The id of an ornament.",
        "inset": "From the edge to the middle of each spot.",
        "step": "The wanted distance from spot to spot; the nearest that keeps register is taken, on a ruler one that "
        "it shows if that is within a quarter.",
    },
    "Stitching": {
        "inset": "From the edge to the line of stitches.",
        "per_inch": "Stitches to the inch, commonly 5 to 12; either this or `pitch`.",
        "pitch": "From hole to hole, as on a pricking iron; the nearest that comes out whole from corner to corner "
        "is taken.",
        "strands": "Of thread in each line: a saddle stitch has two.",
        "edges": "Whether the body or strip is stitched along its edges (the default).",
        "turn_back": "Whether an end folded round a buckle or a ring is stitched in place of its rivets.",
    },
    "QuoteRequest": {
        "lines": "What is priced; each line is made as one batch.",
        "what_if": "Quantities that every line takes in turn, beside the quantities of the lines.",
        "margin": "Profit as a share of the price, instead of the shop's own; needs a key once there are keys.",
        "markup": "Profit as a share of the cost, instead of the shop's own; not together with `margin`; needs "
        "a key as well.",
        "leather_by": "`waste_share` (the default), or `cut_plan`: what a plan out of the shop's hides really uses; "
        "needs a key as well.",
        "offer": "What the offer (`application/pdf`) says of itself; JSON has no use for it.",
    },
    "OfferTexts": {
        "number": "By which the offer is found again.",
        "date": "As it is printed: nothing here knows the time.",
        "for": "Whom it is for: a name, and lines of an address.",
    },
    "StrapOrder": _ORDER,
    "Member": {"name": "What it is called in its set.", **_STRAP},
    "CutOrder": _ORDER | {"pieces": "Bare pieces of leather that belong to no pattern."},
    "BarePiece": {
        "name": "What it is found by again.",
        "leather": "The id of a leather.",
        "width": "That of the strip that it is cut from.",
        "length": "Along the strip.",
    },
    "CutPlanRequest": _CUT_FROM
    | {
        "orders": "What is cut; every piece of every order is in the plan once, or missing.",
    },
    "WorkOrderRequest": _CUT_FROM
    | {
        "title": "What stands on the cover, such as the day.",
        "lines": "What is made.",
    },
    "ComparisonRequest": {
        "shop_file": "The other shop file, TOML as it stands. Pictures that it names are those of this shop: no file "
        "is read.",
        "codes": "Codes and seals of straps that were sold or are kept.",
        "designs": "Names of this shop's designs. Without them and without codes all designs of both files are "
        "compared, at most twenty.",
    },
    "Stock": {
        "id": "What the hides are found by again, given once.",
        "leather": "The id of a leather.",
        "length": "Usable length, along which strips are cut.",
        "width": "Usable width.",
        "count": "How many there are.",
        "straighten": "For these hides, instead of the request's.",
        "end_trim": "For these hides, instead of the request's.",
    },
    "MinOffcut": {"length": "The shortest.", "width": "The narrowest."},
}
