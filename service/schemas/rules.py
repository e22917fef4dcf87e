"""The shop file's rules of the bench and its defaults, each with what is otherwise in jobs in millimetres."""

from dataclasses import MISSING, fields
from typing import Any, assert_never, cast, get_args

from marshmallow.fields import Field

from service.schemas.fields import Choice, Length, Number, OrderedSchema, StrictSchema, Whole
from service.schemas.gathered import Part
from service.schemas.goods import END_SHAPES, a_length, an_id
from service.shop import figures
from service.shop.shop import Defaults, Rules
from service.strap.model.spec_leather import Splicing
from service.strap.rules.checks import RULES

_OWN = {rule.figure.name: rule.figure for rule in RULES if rule.figure}


def _in_mm() -> dict[str, Field[Any]]:
    """What of the rules is otherwise in a job in millimetres: measures that are laid out, not clearances."""
    laid_out = {name: each for name, each in figures.figures_of(Rules).items() if isinstance(each, figures.Length)}
    return {
        name: Length(unit_needed=True, zero=each.zero, load_default=each.usual_mm)
        for name, each in laid_out.items()
        if each.laid_out
    }


def _figures() -> dict[str, Field[Any]]:
    """Every figure of the rules, and after them those that a rule declares for itself."""
    needed = {each.name for each in fields(Rules) if each.default is MISSING}
    own: dict[str, Field[Any]] = {name: Length(unit_needed=True, zero=each.zero) for name, each in _OWN.items()}
    return {name: _field(each, needed=name in needed) for name, each in figures.figures_of(Rules).items()} | own


def _field(figure: figures.Figure, *, needed: bool) -> Field[Any]:
    match figure:
        case figures.Length():
            return Length(required=needed, unit_needed=True, zero=figure.zero)
        case figures.Number():
            return Number(figure.least, figure.most, required=needed)
        case _:
            assert_never(figure)


def _rules(**read: Any) -> Rules:
    own = {name: read.pop(name) for name in _OWN if name in read}
    return Rules(**read, own=own)


RulesInMmSchema = cast("type[StrictSchema]", StrictSchema.from_dict(_in_mm(), name="RulesInMmSchema"))


class _RulesSchema(OrderedSchema):
    """The rules of the bench."""

    makes = staticmethod(_rules)
    ordered = (("hole_ease", "hole_slack"), ("slot_ease", "slot_slack"), ("clinch_min", "clinch_max"))
    mm = Part(RulesInMmSchema, "rules for jobs in millimetres")


RulesSchema = cast("type[OrderedSchema]", _RulesSchema.from_dict(_figures(), name="RulesSchema"))


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
    edge_repeat = Length(unit_needed=True)
    edge_depth = Length(unit_needed=True)
    edging_reach = Length(unit_needed=True)


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
    edge_repeat = Length(unit_needed=True)
    edge_depth = Length(unit_needed=True)
    edging_reach = Length(unit_needed=True)
    splices = Choice(*get_args(Splicing))
    splice_stitch_lines = Whole(2, 4)
    mm = Part(DefaultsInMmSchema, "defaults for jobs in millimetres")
