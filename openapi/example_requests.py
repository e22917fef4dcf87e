"""The requests that the document shows, and one line for each."""

import json
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
EXAMPLES = HERE / "examples"
REQUESTS = HERE / "requests"

SUMMARIES = {
    "bag_strap_hooks": "A bag strap with a snap hook and a rectangle, measured over all",
    "bag_strap_motif": "A bag strap: open, a ring at each end, with a mirrored sequence of ornaments",
    "bag_strap_two_buckles": "A bag strap from buckle to buckle, said by its two ends",
    "dancers_bell_garter": "A dancer's bell garter: one piece, by girth",
    "dog_collar_lead_ring": "A dog's collar by the shop's size table, with a ring for its tag",
    "dancers_snap_cuff": "A dancer's cuff that a snap closes, on either of two studs",
    "door_hanging": "A door hanging: open, with a ring fold and a hole end",
    "door_hanging_on_a_rail": "A door hanging with a loop for a rail, measured over all",
    "garter_by_size": "A garter by the shop's size table, with alternating ornaments",
    "goat_collar_centrepiece": "A goat's collar with a centrepiece",
    "goat_collar_sewn_ring": "A goat's collar with a ring sewn into its fold, right beside a fixed keeper",
    "graduated_door_hanging": "A door hanging with graduated bells, the largest in the middle",
    "harness_strap_joined": "A harness strap from buckle to buckle, and the strap that joins them",
    "herding_dog_collar": "A herding dog's collar: one piece, by finished length",
    "lined_bell_strap": "A two-ply bell strap: its lining covers the bells' shanks and their lace",
    "lined_bag_strap": "A lined bag strap: open, folded round a ring at each end and stitched",
    "neck_strap_with_keepers": "A neck strap: a lining strap behind its bells, held by keepers between them",
    "parade_harness_strap": "A parade harness strap: three pieces, with everything said",
    "pinked_parade_strap": "A tapered parade strap with a pinked edging between its two plies",
    "refused_too_many_bells": "Refused: more bells than the strap has room for; the answer offers remedies",
    "riveted_harness_strap": "A harness strap with riveted bells, said one by one and mirrored",
    "scalloped_dancers_garter": "A dancer's garter with scalloped edges",
    "sewn_harness_strap": "A harness strap whose buckle and narrower billet are stitched on",
    "shortest_one_piece": "The shortest one-piece strap",
    "shortest_open": "The shortest open strap",
    "shortest_three_piece": "The shortest three-piece strap",
    "spliced_bell_strap": "A bell strap longer than its leather's strips: lapped of two, and sewn",
    "staggered_harness_strap": "A harness strap with three staggered rows and two borders",
    "stitched_collar": "A dog's collar with its edges stitched, eight stitches to the inch",
    "tapered_parade_strap": "A parade strap that narrows to its ends in eased lines",
    "trouser_belt": "A trouser belt by the girth of the waist, plain",
}
"""One line for each file in `examples/`."""
REQUEST_SUMMARIES = {
    "QuoteRequest": {
        "at_several_quantities": "A design at 1, 10 and 50, with a markup, and leather by the cut plan",
        "pairs_sizes_and_sets": "A pair of garters, a collar in three sizes, and a watch strap in its two halves",
        "two_straps": "Three garters by their spec and twelve collars by their design",
    },
    "CutPlanRequest": {
        "bare_pieces_in_millimetres": "Pieces of no pattern, in millimetres, with trims",
        "pairs_from_few_hides": "More pairs than a hide holds: what is missing is told",
        "straps_from_stock": "Two orders of straps out of hides and an offcut",
    },
    "WorkOrderRequest": {
        "a_day": "A day's work: a pair, a collar in three sizes, a watch strap, a harness strap",
    },
}
"""One line for each file in the folders of `requests/`."""
TABLE_SUMMARIES = {
    "our_columns": "Orders in our own columns",
    "web_shop": "What a web shop exports, as it stands, with columns=web_shop",
}
"""One line for each file in `requests/orders`."""
_FOLDERS = {"QuoteRequest": "quotes", "CutPlanRequest": "cut_plans", "WorkOrderRequest": "work_orders"}


def examples() -> dict[str, Any]:
    """Every example request, by name."""
    return {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in sorted(EXAMPLES.glob("*.json"))}


def tables() -> dict[str, str]:
    """Every example of orders as CSV, by name."""
    folder = REQUESTS / "orders"
    return {path.stem: path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.csv"))}


def requests(asked: str) -> dict[str, Any]:
    """Every example request of one reckoning path, by name."""
    folder = REQUESTS / _FOLDERS[asked]
    return {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in sorted(folder.glob("*.json"))}
