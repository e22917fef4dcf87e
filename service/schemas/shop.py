"""The shop file's form: every table and line of it, with its bounds. `service.shop_file` reads the file."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any, get_args

from marshmallow import ValidationError, post_load, validates_schema

from service.schemas.choosing import chosen_document
from service.schemas.designs import DesignSchema
from service.schemas.exports import ExportSchema, wrong_exports
from service.schemas.fields import Choice, Length, OrderedSchema, StrictField, StrictSchema, Text, Whole
from service.schemas.gathered import Goods, Part, Several
from service.schemas.goods import (
    BuckleSchema,
    EdgeIronSchema,
    EndPunchSchema,
    FastenerSchema,
    LeatherSchema,
    RingSchema,
    RoundPunchSchema,
    SlotPunchSchema,
    SnapSchema,
    a_length,
    a_picture,
    gripping,
)
from service.schemas.looks import CutterSchema, FinishedLookSchema, PaperSchema
from service.schemas.mistakes import Mistake, unknown_name
from service.schemas.ornaments import OrnamentSchema
from service.schemas.pricing import CuttingSchema, PricingSchema, unknown_packs
from service.schemas.rules import DefaultsSchema, RulesSchema
from service.schemas.spec import SpecError, read_spec
from service.shop.fixings import Held, ScrewPost
from service.shop.limits import Limits
from service.shop.offer import OfferWords
from service.shop.shop import Defaults, SizeTable, WornBy
from service.strap.plane.lengths import INCH
from service.words import say

_CURRENCY = re.compile(r"[A-Z]{3}")
MOST_CARE = 6
MOST_CONTACT = 8
MOST_TERMS = 20


class Sizes(StrictField[dict[str, int]]):
    """Lengths by label."""

    kind = "a table of lengths by label"

    def _read(self, value: object) -> dict[str, int]:
        if not isinstance(value, dict) or not value:
            raise self.wrong_type(value)
        length = a_length()
        return {str(label): length.deserialize(size) or 0 for label, size in value.items()}


class SizeTableSchema(StrictSchema):
    """Sizes by label."""

    makes = SizeTable
    title = Text(required=True)
    measure = Choice("body_length", "finished_length", "girth", required=True)
    worn_by = Choice(*get_args(WornBy))
    sizes = Sizes(required=True)
    ease = Length(unit_needed=True, zero=True)

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def eased_girths(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """Ease is added to a girth: a length is what it is."""
        if "ease" in original and original.get("measure") != "girth":
            raise ValidationError({"ease": [Mistake("without_meaning", say('ease belongs to measure = "girth" only'))]})


class LimitsSchema(OrderedSchema):
    """The largest and smallest that the shop takes on."""

    makes = Limits
    ordered = (
        ("width_min", "width_max"),
        ("length_min", "length_max"),
        ("stitch_pitch_min", "stitch_pitch_max"),
    )
    width_min = a_length()
    width_max = a_length()
    length_min = a_length()
    length_max = a_length()
    ornaments_max = Whole(1, 2000, required=True)
    size_holes_max = Whole(1, 99, required=True)
    joint_count_max = Whole(1, 20, required=True)
    features_max = Whole(10, 20_000, required=True)
    stitch_pitch_min = a_length()
    stitch_pitch_max = a_length()


class AboutSchema(StrictSchema):
    """The shop's name, money and mark."""

    name = Text(required=True)
    currency = Text(required=True, most=3, form=_CURRENCY, kind="a currency code such as EUR")
    mark = a_picture()
    care = Several(Text(most=200), MOST_CARE)


class OfferWordsSchema(StrictSchema):
    """What stands on every offer."""

    makes = OfferWords
    contact = Several(Text(most=100), MOST_CONTACT)
    validity = Text(most=300)
    terms = Several(Text(most=600), MOST_TERMS)


_REFERENCES = {
    "leather": "leathers",
    "buckle": "buckles",
    "joint_fastener": "fasteners",
    "keeper_fastener": "fasteners",
    "ring": "rings",
}
_ITEMS = ("fasteners", "buckles", "rings", "snaps", "ornaments")
_TABLES = (
    "leathers",
    "round_punches",
    "slot_punches",
    "end_punches",
    "edge_irons",
    *_ITEMS,
)
_BOUNDED_WIDTHS = ("body_width", "strip_width", "billet_width")
_BOUNDED_COUNTS = {"size_holes": "size_holes_max", "joint_count": "joint_count_max"}


class ShopSchema(StrictSchema):
    """The whole file. Loads to a dict of tables; `service.shop_file` makes the `Shop` of it."""

    shop = Part(AboutSchema, "the shop's name and currency", required=True)
    leathers = Goods(LeatherSchema, "leathers", required=True)
    round_punches = Goods(RoundPunchSchema, "round punches", required=True)
    slot_punches = Goods(SlotPunchSchema, "slot punches", may_be_empty=True, required=True)
    end_punches = Goods(EndPunchSchema, "end punches", may_be_empty=True, required=True)
    edge_irons = Goods(EdgeIronSchema, "irons for edges", may_be_empty=True)
    fasteners = Goods(FastenerSchema, "fasteners", required=True)
    buckles = Goods(BuckleSchema, "buckles", required=True)
    rings = Goods(RingSchema, "rings", required=True)
    snaps = Goods(SnapSchema, "snaps", may_be_empty=True)
    ornaments = Goods(OrnamentSchema, "ornaments", required=True)
    size_tables = Goods(SizeTableSchema, "size tables", may_be_empty=True)
    rules = Part(RulesSchema, "the rules of the bench", required=True)
    defaults = Part(DefaultsSchema, "what a spec gets where it says nothing", required=True)
    limits = Part(LimitsSchema, "the shop's limits", required=True)
    paper = Part(PaperSchema, "how patterns are printed")
    cutting = Part(CuttingSchema, "how leather is cut")
    pricing = Part(PricingSchema, "what work and goods cost")
    cutter = Part(CutterSchema, "the lines of the cutter's drawing")
    finished = Part(FinishedLookSchema, "how a finished strap is shown")
    designs = Goods(DesignSchema, "designs", may_be_empty=True)
    offer = Part(OfferWordsSchema, "what stands on every offer")
    exports = Goods(ExportSchema, "orders that other tools export", may_be_empty=True)

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def references_exist(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """Every default that names an item names one of this file's."""
        defaults = _table(original, "defaults")
        wrong = {}
        for key, table in _REFERENCES.items():
            name, known = defaults.get(key), _table(original, table)
            if isinstance(name, str) and name not in known:
                wrong[key] = [Mistake("unknown_item", unknown_name(say("entry of {table}", table=table), name, known))]
        if wrong:
            raise ValidationError({"defaults": wrong})

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def packs_are_of_items(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """Every pack is of something in this file that is counted by the piece."""
        items = [name for table, name in _ids(original) if table in _ITEMS]
        wrong = unknown_packs(_table(_table(original, "pricing"), "packs"), items)
        if wrong:
            raise ValidationError({"pricing": {"packs": wrong}})

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def ids_are_unique(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """One id names one thing in the whole file, so that a tool or an item is found by its id alone."""
        seen: dict[str, str] = {}
        wrong: dict[str, dict[str, list[Mistake]]] = {}
        for table, name in _ids(original):
            if name in seen:
                twice = Mistake("given_twice", say("this id is already taken in {seen}", seen=seen[name]))
                wrong.setdefault(table, {})[name] = [twice]
            seen.setdefault(name, table)
        if wrong:
            raise ValidationError(wrong)

    @validates_schema(skip_on_field_errors=False)
    def defaults_within_limits(self, data: Mapping[str, Any], **_: object) -> None:
        """No default is one that the shop itself would refuse."""
        defaults, limits = data.get("defaults"), data.get("limits")
        if isinstance(defaults, Defaults) and isinstance(limits, Limits):
            wrong = dict(_beyond_limits(defaults, limits))
            if wrong:
                raise ValidationError({"defaults": wrong})

    @validates_schema(skip_on_field_errors=False)
    def ornaments_can_be_held(self, data: Mapping[str, Any], **_: object) -> None:
        """Every ornament that is held by a fastener has one that goes through its hole."""
        fasteners, wrong = data.get("fasteners") or {}, {}
        for name, each in (data.get("ornaments") or {}).items():
            if fasteners and isinstance(each.fixing, Held) and not any(map(each.fixing.takes, fasteners.values())):
                detail = say(
                    "no entry of fasteners is a {word} whose post goes through this hole", word=each.fixing.word
                )
                wrong[name] = {each.fixing.word: {"hole": [Mistake("unknown_item", detail)]}}
        if wrong:
            raise ValidationError({"ornaments": wrong})

    @post_load
    def barrels_grip(self, data: dict[str, Any], **_: object) -> dict[str, Any]:
        """Screw posts of a given barrel hold what the shop's slack about it holds."""
        slack = data["rules"].post_slack
        data["fasteners"] = {name: gripping(each, slack) for name, each in data["fasteners"].items()}
        data["ornaments"] = {
            name: replace(each, fixing=gripping(each.fixing, slack)) if isinstance(each.fixing, ScrewPost) else each
            for name, each in data["ornaments"].items()
        }
        return data

    @validates_schema(skip_on_field_errors=False)
    def designs_are_specs(self, data: Mapping[str, Any], **_: object) -> None:
        """Every design, with its defaults chosen, can be read as a spec."""
        defaults = data.get("defaults")
        if not isinstance(defaults, Defaults):
            return
        wrong: dict[str, Any] = {}
        for design in (data.get("designs") or {}).values():
            try:
                read_spec(chosen_document(design, design.defaults(), defaults.units), defaults.units)
            except SpecError as error:
                wrong[design.name] = {"spec": _tree(error)}
        if wrong:
            raise ValidationError({"designs": wrong})

    @validates_schema(skip_on_field_errors=False)
    def exports_mean_something(self, data: Mapping[str, Any], **_: object) -> None:
        """Every column and value of an export stands for one that orders of this shop can have."""
        defaults, designs = data.get("defaults"), data.get("designs")
        if isinstance(defaults, Defaults) and designs is not None:
            wrong = wrong_exports(data.get("exports") or {}, designs, defaults.units)
            if wrong:
                raise ValidationError({"exports": wrong})


def _tree(error: SpecError) -> dict[str, Any]:
    """The faults of a spec as marshmallow's messages, each under its place."""
    tree: dict[str, Any] = {}
    for fault in error.faults:
        here = tree
        for name in fault.path:
            here = here.setdefault(name, {})
        here.setdefault("_schema", []).append(Mistake(fault.code, fault.detail))
    return tree


def _table(original: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    table = original.get(key)
    return table if isinstance(table, dict) else {}


def _ids(original: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for table in _TABLES:
        for name in _table(original, table):
            yield table, name


def _widths_beyond(widths: Mapping[str, int], limits: Limits) -> Iterator[tuple[str, list[Mistake]]]:
    for key, width in widths.items():
        if not limits.width_min <= width <= limits.width_max:
            yield key, [Mistake("out_of_range", say("lies outside limits.width_min and limits.width_max"))]


def _beyond_limits(defaults: Defaults, limits: Limits) -> Iterator[tuple[str, Any]]:
    widths = {key: getattr(defaults, key) for key in _BOUNDED_WIDTHS}
    yield from _widths_beyond(widths, limits)
    in_mm = dict(_widths_beyond({key: defaults.mm[key] for key in _BOUNDED_WIDTHS if key in defaults.mm}, limits))
    if in_mm:
        yield "mm", in_mm
    for key, most in _BOUNDED_COUNTS.items():
        if getattr(defaults, key) > getattr(limits, most):
            yield key, [Mistake("out_of_range", say("is more than limits.{most}", most=most))]
    if not limits.stitch_pitch_min <= round(INCH / defaults.stitches_per_inch) <= limits.stitch_pitch_max:
        yield "stitches_per_inch", [Mistake("out_of_range", say("lies outside limits.stitch_pitch_min and _max"))]
    if defaults.size_holes % 2 == 0:
        yield "size_holes", [Mistake("not_odd", say("has to be odd: the middle hole is the nominal size"))]


SHOP_SCHEMA = ShopSchema()
