"""The ends of a strap as JSON: their shapes, what belongs to each kind, and the holes of a tongue."""

from collections.abc import Iterable, Mapping
from typing import Any, get_args

from marshmallow import ValidationError, validates_schema

from service.schemas.edges import TaperSchema
from service.schemas.fields import Choice, Length, StrictSchema, Whole
from service.schemas.gathered import Part, Several
from service.schemas.ids import Id
from service.schemas.mistakes import Mistake, mistake, refuse
from service.shop.goods import EndShape, SnapHalf
from service.strap.ends.kinds import KINDS
from service.strap.model.spec import End, EndKind, Ends, Hold, Keeper, SizeHoles, StrapEnd
from service.words import say, say_list

MOST_COUNTED = 1_000_000
"""Whole numbers above this are a slip of the pen; what a shop really takes on is for its limits to say."""
MOST_KEEPERS = 3
"""At one buckle: whatever is more holds no tip any better."""


class EndSchema(StrictSchema):
    """The shape of an end."""

    makes = End
    shape = Choice(*get_args(EndShape))
    depth = Length(zero=True)


class SizeHolesSchema(StrictSchema):
    """The row of holes for the prong."""

    makes = SizeHoles
    count = Whole(1, MOST_COUNTED)
    spacing = Length()
    diameter = Length()


class OuterEndSchema(StrictSchema):
    """One end: plain, to hang it by, folded round a ring or a buckle, a tip with size holes, or a half of a snap."""

    makes = StrapEnd
    kind = Choice(*(kind for kind in get_args(EndKind) if kind != "billet"))
    shape = Choice(*get_args(EndShape))
    depth = Length(zero=True)
    hole = Length()
    slot = Length()
    ring = Id()
    buckle = Id()
    prong_slot = Length()
    keeper = Several(Choice(*get_args(Keeper)), MOST_KEEPERS, alone=True)
    keeper_width = Length()
    rod = Length()
    size_holes = Part(SizeHolesSchema, "the size holes")
    tip_length = Length()
    hold = Choice(*get_args(Hold))
    snap = Id()
    half = Choice(*get_args(SnapHalf))
    count = Whole(1, MOST_COUNTED)
    spacing = Length()

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_kind(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """Nothing that belongs to another kind of end than this one is."""
        given = {name for name in _BELONGS if original.get(name) is not None}
        kind = original.get("kind")
        if kind in (None, *_MADE_AT) and len(given & _MADE_AT) > 1 and "buckle" not in given:
            raise mistake("one_of", say("an end has a hole, a slot or a ring, and only one of them"))
        told = kind or next((each.name for each in KINDS if given & set(each.tells)), None)
        told = "billet" if kind is None and "end" in given else told
        refuse(
            {
                name: say("{name} belongs to kind {belongs} only", name=name, belongs=_listed(_BELONGS[name]))
                for name in sorted(given)
                if told and told not in _BELONGS[name]
            }
        )
        needed = next((each.needs for each in KINDS if each.name == told), ())
        missing = {
            name: [Mistake("missing", say("a {told} needs its {name}", told=told, name=name))]
            for name in needed
            if name not in given
        }
        if missing:
            raise ValidationError(missing)


_BILLET = ("width", "taper", "join", "adds", "end")
_BELONGS = {
    **{name: tuple(kind.name for kind in KINDS if name in kind.members) for kind in KINDS for name in kind.members},
    **dict.fromkeys(_BILLET, ("billet",)),
}
"""The kinds of end that each member may be said of; shape and depth may be said of any but a buckle's."""
_MADE_AT = frozenset({"hole", "slot", "ring"})


def _listed(kinds: Iterable[str]) -> str:
    return say_list((f"{kind!r}" for kind in kinds), "{most} or {last}")


class StrapEndSchema(OuterEndSchema):
    """One end of the body, or a billet that is riveted on and ends in one of the others."""

    kind = Choice(*get_args(EndKind))
    width = Length()
    taper = Part(TaperSchema, "how the billet narrows to its outer end")
    join = Choice(*get_args(Hold))
    adds = Length()
    end = Part(OuterEndSchema, "what the billet ends in")

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def billet_ends(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """A billet ends in something."""
        if original.get("kind") == "billet" and original.get("end") is None:
            raise ValidationError({"end": [Mistake("missing", say("a billet needs an end of its own, such as a tip"))]})


class EndsSchema(StrictSchema):
    """The two ends of an open strap, or of one of two_ends."""

    makes = Ends
    head = Part(StrapEndSchema, "the end at the origin")
    foot = Part(StrapEndSchema, "the far end")
