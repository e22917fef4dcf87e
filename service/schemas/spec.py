"""The strap spec as JSON: read strictly into `Spec`, and written back in one canonical form."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import fields
from typing import Any, get_args

from marshmallow import ValidationError, validates_schema

from service.schemas.edges import BodyTaperSchema, EdgeSchema, EdgingSchema
from service.schemas.ends import MOST_COUNTED, EndSchema, EndsSchema, SizeHolesSchema
from service.schemas.fields import Choice, Flag, Length, StrictSchema, Text, Whole, bare_units
from service.schemas.gathered import Part, Several
from service.schemas.ids import PRINTABLE, Id
from service.schemas.joining import JoiningStrapSchema
from service.schemas.keepers import KeepersBetweenSchema
from service.schemas.lining import LiningField
from service.schemas.mistakes import Mistake, faults_of, mistake, refuse
from service.schemas.spacing import Spacing
from service.schemas.splices import SplicesField
from service.shop.shop import Units, WornBy
from service.strap.errors import Fault, StrapError
from service.strap.model.spec import (
    LENGTHS,
    Billet,
    Body,
    Construction,
    End,
    Ends,
    Hand,
    JoiningStrap,
    Joint,
    Lining,
    MeasuredFrom,
    Range,
    Size,
    SizeHoles,
    Spec,
    Stitching,
    StrapEnd,
)
from service.strap.model.spec_edges import BodyTaper, Edge, Edging, Taper
from service.strap.model.spec_leather import KeepersBetween, Splices
from service.strap.model.spec_set import Across, Arrange, Between, Border, Row, Rows
from service.strap.plane.lengths import exact_text
from service.words import say, say_list

UNITS: tuple[Units, ...] = get_args(Units)
_COUNTS = frozenset({"count", "per_gap", "per_inch", "strands", "stitch_lines", "every"})
SIZES = (*LENGTHS, "table")
_MOST_LISTED = 24
"""Entries in one list of the spec: a longer motif is a slip of the pen."""
_MOST_IN_TURN = 100
"""Ornaments of a row that are said one by one: mirrored, the bells of a whole horse and more."""


class SpecError(StrapError, ValueError):
    """A document that cannot be read as a spec, with every fault in it."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("; ".join(f"{'.'.join(fault.path)}: {fault.detail}" for fault in faults))
        self.faults = faults


class SizeSchema(StrictSchema):
    """How long: exactly one of the lengths, a girth and a size of a table."""

    makes = Size
    body_length = Length()
    bar_to_bar = Length()
    overall_length = Length()
    finished_length = Length()
    measured_from = Choice(*get_args(MeasuredFrom))
    girth = Length()
    ease = Length(zero=True)
    table = Id()
    label = Text(most=40, form=PRINTABLE, kind="a label of the shop's")

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_length(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """Exactly one length, and nothing that belongs to another."""
        given = [name for name in SIZES if original.get(name) is not None]
        if len(given) != 1:
            found = say_list(given) or "none"
            raise mistake(
                "one_of", say("give exactly one of {sizes}; given: {found}", sizes=", ".join(SIZES), found=found)
            )
        if "table" in given and original.get("label") is None:
            raise ValidationError({"label": [Mistake("missing", say("a table needs the label of a size, such as M"))]})
        refuse(
            {
                name: say("{name} belongs to {owner} only", name=name, owner=owner)
                for name, owner in (("measured_from", "finished_length"), ("ease", "girth"), ("label", "table"))
                if original.get(name) is not None and owner not in given
            }
        )


class BodySchema(StrictSchema):
    """The decorated part."""

    makes = Body
    width = Length()
    end = Part(EndSchema, "the shape of the body's ends")
    splices = SplicesField()
    taper = Part(BodyTaperSchema, "how the body narrows to its ends")
    edge = Part(EdgeSchema, "how its long edges are cut")


class BilletSchema(StrictSchema):
    """The buckled parts."""

    makes = Billet
    width = Length()
    buckle = Id()
    tip = Part(EndSchema, "the shape of the tip")
    size_holes = Part(SizeHolesSchema, "the size holes")
    prong_slot = Length()
    keeper = Flag()
    keeper_width = Length()
    ring = Id()
    tip_length = Length()


class JointSchema(StrictSchema):
    """How pieces are riveted."""

    makes = Joint
    fastener = Id()
    count = Whole(1, MOST_COUNTED)
    spacing = Length()
    end_distance = Length()


class RowsSchema(StrictSchema):
    """Several rows across the strap."""

    makes = Rows
    count = Whole(1, 12)
    across = Choice(*get_args(Across))
    distance = Length()


class RowSchema(StrictSchema):
    """The ornaments along the middle: one `item`, or `items` and the way to arrange them."""

    makes = Row
    item = Id()
    items = Several(Id(), _MOST_IN_TURN)
    arrange = Choice(*get_args(Arrange))
    mirrored = Flag()
    centrepiece = Id()
    count = Whole(0, MOST_COUNTED)
    spacing = Spacing()
    rows = Part(RowsSchema, "several rows across the strap")

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_kind(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """One item or several, and a way to arrange them only for several."""
        given = [name for name in ("item", "items") if original.get(name) is not None]
        if len(given) != 1:
            raise mistake(
                "one_of", say("give exactly one of item and items; given: {given}", given=say_list(given) or "none")
            )
        in_turn = "items" in given and original.get("arrange") in (None, "sequence")
        refuse(
            {
                name: say("{name} belongs to {owner} only", name=name, owner=owner)
                for name, owner, belongs in (
                    ("arrange", "items", "items" in given),
                    ("mirrored", 'arrange "sequence"', in_turn),
                )
                if original.get(name) is not None and not belongs
            }
        )
        if original.get("count") is None and not in_turn:
            raise ValidationError({"count": [Mistake("missing", say("has to be given: how many, but for a sequence"))]})


class BetweenSchema(StrictSchema):
    """Smaller things in the gaps."""

    makes = Between
    item = Id(required=True)
    per_gap = Whole(0, MOST_COUNTED)


class BorderSchema(StrictSchema):
    """A row along both edges."""

    makes = Border
    item = Id(required=True)
    inset = Length()
    step = Length()


class StitchingSchema(StrictSchema):
    """Lines of stitches: `per_inch` or `pitch` says how fine."""

    makes = Stitching
    inset = Length()
    per_inch = Whole(1, 40)
    pitch = Length()
    strands = Whole(1, 4)
    edges = Flag()
    turn_back = Flag()

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_fineness(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """Stitches to the inch or their pitch, never both."""
        if original.get("per_inch") is not None and original.get("pitch") is not None:
            raise mistake("one_of", say("give per_inch or pitch, and only one of them"))


class SpecSchema(StrictSchema):
    """The whole of what is asked for. Only `construction` and `size` have to be given."""

    makes = Spec
    units = Choice(*UNITS)
    construction = Choice(*get_args(Construction), required=True)
    size = Part(SizeSchema, "how long the strap is", required=True)
    worn_by = Choice(*get_args(WornBy))
    hand = Choice(*get_args(Hand))
    leather = Id()
    lining = LiningField()
    body = Part(BodySchema, "the decorated part")
    billet = Part(BilletSchema, "the buckled parts")
    joint = Part(JointSchema, "how pieces are riveted")
    ends = Part(EndsSchema, "the ends of an open strap, or of one of two_ends")
    joining_strap = Part(JoiningStrapSchema, "the strap that joins two buckles")
    ornaments = Part(RowSchema, "the ornaments along the middle")
    between = Several(Part(BetweenSchema, "what stands between the ornaments"), _MOST_LISTED, alone=True)
    border = Several(Part(BorderSchema, "the row along both edges"), _MOST_LISTED, alone=True)
    keepers_between = Part(KeepersBetweenSchema, "keepers between the ornaments")
    edging = Part(EdgingSchema, "strips that stand out along the edges")
    stitching = Part(StitchingSchema, "the lines of stitches")


SPEC_SCHEMA = SpecSchema()


def units_of(document: object, default: Units) -> Units:
    """The units of a document's bare numbers and printed readings."""
    units = document.get("units") if isinstance(document, dict) else None
    return next((known for known in UNITS if known == units), default)


def read_spec(document: object, default_units: Units) -> Spec:
    """Read a JSON document as a spec. Raises `SpecError` with every fault in it."""
    if not isinstance(document, dict):
        raise SpecError((Fault(path=(), code="wrong_type", detail=say("a spec has to be a JSON object")),))
    before = bare_units.set(units_of(document, default_units))
    try:
        spec: Spec = SPEC_SCHEMA.read(document)
    except ValidationError as error:
        raise SpecError(faults_of(error.messages, SPEC_SCHEMA)) from error
    finally:
        bare_units.reset(before)
    return spec


def spec_document(spec: Spec, units: Units) -> dict[str, Any]:
    """The spec as JSON data. The unsaid is left out; lengths are exact texts, in `units` if possible."""
    return dict(_members(spec, units))


def canonical_json(spec: Spec, default_units: Units) -> bytes:
    """The one JSON text for everything that means the same as this spec: keys sorted, no white space."""
    document = spec_document(spec, spec.units or default_units)
    return json.dumps(document, sort_keys=True, separators=(",", ":")).encode()


def _members(part: object, units: Units) -> Iterator[tuple[str, Any]]:
    for name in _names(type(part)) or ():
        value = getattr(part, name)
        if value is not None:
            written = _value(part, name, value, units)
            if written is not None:
                yield _WRITTEN.get(name, name), written


def _value(part: object, name: str, value: object, units: Units) -> Any:
    """A member as it is written; None where it says nothing."""
    kind = type(value)
    if kind is int and name not in _COUNTS:
        length = exact_text(value, units)
        return {"pitch": length} if name == "spacing" and isinstance(part, Row) else length
    if isinstance(value, tuple):
        return [_listed(each, units) for each in value]
    return (dict(_members(value, units)) or _EMPTY.get(name)) if _names(kind) else value


def _listed(each: object, units: Units) -> Any:
    """An entry of a list."""
    if _names(type(each)):
        return dict(_members(each, units))
    return list(each) if isinstance(each, tuple) else each


def _names(kind: type[object]) -> tuple[str, ...] | None:
    """The members of a part as the document has them, of a filled one those of the part that was given; else None."""
    if kind not in _NAMES_OF:
        _NAMES_OF[kind] = next((_NAMES[each] for each in kind.__mro__ if each in _NAMES), None)
    return _NAMES_OF[kind]


_WRITTEN = {"least": "from", "most": "to"}
"""Members that are words of Python's."""
_EMPTY: dict[str, dict[str, Any]] = {"stitching": {}, "splices": {}, "keepers_between": {}}
"""Parts that say something though they say no more than that they are wanted."""
_NAMES = {
    part: tuple(field.name for field in fields(part))
    for part in (
        Spec,
        Size,
        Lining,
        Body,
        Splices,
        BodyTaper,
        Edge,
        Edging,
        Taper,
        End,
        Billet,
        SizeHoles,
        Joint,
        Ends,
        JoiningStrap,
        Range,
        StrapEnd,
        Row,
        Rows,
        Between,
        Border,
        KeepersBetween,
        Stitching,
    )
}
_NAMES_OF: dict[type[object], tuple[str, ...] | None] = {}
"""Of each kind that was met: there are only so many."""
