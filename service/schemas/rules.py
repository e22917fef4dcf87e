"""The shop file's rules of the bench and its defaults, each with what is otherwise in jobs in millimetres."""

from service.schemas.fields import Choice, Length, Number, OrderedSchema, Part, StrictSchema, Whole
from service.schemas.goods import END_SHAPES, a_length, a_share, an_id
from service.shop.shop import GRADUATION_MM, Defaults, Rules


class RulesInMmSchema(StrictSchema):
    """What of the rules is otherwise in a job in millimetres: measures that are laid out, not clearances."""

    graduation = Length(unit_needed=True, load_default=GRADUATION_MM)
    keeper_room = Length(unit_needed=True, zero=True)
    first_fold_rivet = Length(unit_needed=True)
    ring_fold_slack = Length(unit_needed=True, zero=True)
    first_size_hole = Length(unit_needed=True)
    tip_past_keeper = Length(unit_needed=True, zero=True)
    keeper_width = Length(unit_needed=True)
    keeper_lap = Length(unit_needed=True)
    ease = Length(unit_needed=True, zero=True)


class RulesSchema(OrderedSchema):
    """The rules of the bench."""

    makes = Rules
    ordered = (("hole_ease", "hole_slack"), ("slot_ease", "slot_slack"), ("clinch_min", "clinch_max"))
    end_distance = a_length()
    edge_web = a_length(zero=True)
    cut_web = a_length(zero=True)
    ornament_clear = a_length(zero=True)
    hardware_clear = a_length(zero=True)
    ornament_edge = a_length(zero=True)
    tail_gap = a_length(zero=True)
    ruler_tolerance = a_share()
    hole_ease = a_length(zero=True)
    hole_slack = a_length(zero=True)
    slot_ease = a_length(zero=True)
    slot_slack = a_length(zero=True)
    post_slack = Length(unit_needed=True, zero=True)
    cap_clear = Length(unit_needed=True, zero=True)
    size_hole_over_prong = a_length(zero=True)
    prong_slot_over_width = a_length(zero=True)
    keeper_room = a_length(zero=True)
    neutral_fraction = a_share()
    first_fold_rivet = a_length()
    buckle_slack = a_length(zero=True)
    ring_fold_slack = a_length(zero=True)
    first_size_hole = a_length()
    tip_widths = a_share("0", "20")
    tip_past_keeper = a_length(zero=True)
    flat_under_tip = Length(unit_needed=True, zero=True)
    keeper_width = a_length()
    keeper_lap = a_length()
    keeper_ease = a_length(zero=True)
    keeper_skive = a_share("0.05")
    fold_skive = a_share("0.05")
    lining_over = Length(unit_needed=True, zero=True)
    lining_run = Number("0", "10")
    stitch_edge = a_length(zero=True)
    stitch_web = a_length(zero=True)
    stitch_clear = a_length(zero=True)
    stitched_fold = a_length()
    thread_multiple = a_share("1", "20")
    thread_spare = a_length(zero=True)
    thread_drawn = Length(unit_needed=True)
    lace_thickness = a_length()
    lace_knot = a_length(zero=True)
    lace_waste = a_share("0", "10")
    clinch_min = a_length(zero=True)
    clinch_max = a_length()
    ease = a_length(zero=True)
    graduation = Length(unit_needed=True)
    mm = Part(RulesInMmSchema, "rules for jobs in millimetres")


class DefaultsInMmSchema(StrictSchema):
    """What a spec gets otherwise where its units are millimetres."""

    body_width = Length(unit_needed=True)
    strip_width = Length(unit_needed=True)
    billet_width = Length(unit_needed=True)
    size_hole_spacing = Length(unit_needed=True)
    joint_spacing = Length(unit_needed=True)
    joint_end_distance = Length(unit_needed=True)
    hang_hole = Length(unit_needed=True)
    hang_slot = Length(unit_needed=True)
    border_inset = Length(unit_needed=True)
    border_step = Length(unit_needed=True)
    stitch_inset = Length(unit_needed=True)


class DefaultsSchema(OrderedSchema):
    """What a spec gets where it says nothing."""

    makes = Defaults
    units = Choice("in", "mm", required=True)
    leather = an_id()
    body_width = a_length()
    strip_width = a_length()
    body_end = Choice(*END_SHAPES, required=True)
    billet_width = a_length()
    buckle = an_id()
    tip = Choice(*END_SHAPES, required=True)
    size_holes = Whole(1, 99, required=True)
    size_hole_spacing = a_length()
    joint_fastener = an_id()
    joint_count = Whole(1, 20, required=True)
    joint_spacing = a_length()
    joint_end_distance = a_length()
    keeper_fastener = an_id()
    ring = an_id()
    hang_hole = a_length()
    hang_slot = a_length()
    border_inset = a_length()
    border_step = a_length()
    stitch_inset = a_length()
    stitches_per_inch = Whole(1, 40, required=True)
    stitch_strands = Whole(1, 4, required=True)
    mm = Part(DefaultsInMmSchema, "defaults for jobs in millimetres")
