"""A shop with other habits than the demo shop's: every rule, default and limit that a strap can feel is another."""

import functools
import re
import tempfile
from pathlib import Path

from service.shop.shop import Shop
from service.shop_file import load_shop
from tests.schemas.test_designs import without_designs

CHANGED = """
[rules]
end_distance = "5/16 in"
edge_web = "2.7 mm"
cut_web = "2.6 mm"
ornament_clear = "1.9 mm"
hardware_clear = "1.2 mm"
ornament_edge = "1.4 mm"
tail_gap = "2 mm"
ruler_tolerance = "0.17"
hole_ease = "0.2 mm"
hole_slack = "1.3 mm"
slot_ease = "0.4 mm"
slot_slack = "2.1 mm"
size_hole_over_prong = "0.6 mm"
prong_slot_over_width = "3/16 in"
keeper_room = "9/16 in"
neutral_fraction = "0.42"
first_fold_rivet = "1 7/8 in"
buckle_slack = "3/16 in"
ring_fold_slack = "5/16 in"
first_size_hole = "1 3/4 in"
tip_widths = "2.2"
tip_past_keeper = "3/8 in"
keeper_width = "3/8 in"
keeper_lap = "5/8 in"
keeper_ease = "1.5 mm"
keeper_skive = "0.6"
fold_skive = "0.9"
stitch_edge = "2.3 mm"
stitch_web = "1.2 mm"
stitch_clear = "1.4 mm"
stitched_fold = "3/8 in"
thread_multiple = "2.3"
thread_spare = "5 in"
lace_thickness = "2.2 mm"
lace_knot = "5 in"
lace_waste = "0.13"
clinch_min = "1.3 mm"
clinch_max = "4.1 mm"
ease = "3/8 in"
[defaults]
units = "mm"
leather = "harness_8_9"
body_width = "1 7/8 in"
strip_width = "24 mm"
body_end = "round"
billet_width = "24 mm"
tip = "straight_point"
size_holes = 7
size_hole_spacing = "22 mm"
joint_fastener = "double_cap_medium_long"
joint_count = 3
joint_spacing = "24 mm"
joint_end_distance = "18 mm"
keeper_fastener = "double_cap_small_long"
ring = "ring_38"
hang_hole = "5 mm"
hang_slot = "5/8 in"
border_inset = "7 mm"
border_step = "22 mm"
stitch_inset = "4 mm"
stitches_per_inch = 6
stitch_strands = 1
[limits]
width_min = "1/2 in"
width_max = "5 in"
length_min = "4 in"
length_max = "80 in"
ornaments_max = 30
size_holes_max = 9
joint_count_max = 3
features_max = 900
stitch_pitch_min = "2.2 mm"
stitch_pitch_max = "4.9 mm"
[size_tables.garter]
measure = "finished_length"
[size_tables.belt]
measure = "body_length"
[cutting]
kerf = "0.5 mm"
straighten = "4 mm"
end_trim = "3 mm"
[pricing]
rounding = "half_even"
waste = "0.1"
overhead = "0.07"
margin = "0.41"
tax = "0.077"
tax_title = "VAT 7.7 %"
rate_per_hour = "29.50"
"""


def _with_changes(text: str) -> str:
    """The file with each key of `CHANGED` as it is there."""
    section = ""
    for line in CHANGED.strip().splitlines():
        if line.startswith("["):
            section = line
            continue
        start = text.index(f"\n{section}\n")
        key = line.partition(" = ")[0]
        place = re.compile(rf"^{key} = .*$", re.MULTILINE).search(text, start)
        assert place, line
        text = text[: place.start()] + line + text[place.end() :]
    return text


@functools.cache
def other_shop() -> Shop:
    """The shop."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "other.toml")
        path.write_text(_with_changes(without_designs(path.parent)), encoding="utf-8")
        return load_shop(path)
