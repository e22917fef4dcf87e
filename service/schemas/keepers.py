"""Keepers between ornaments: in every so many gaps, or in gaps that are said."""

from collections.abc import Mapping
from typing import Any

from marshmallow import validates_schema

from service.schemas.fields import Length, StrictSchema, Whole
from service.schemas.gathered import Several
from service.schemas.mistakes import mistake
from service.strap.model.spec_leather import KeepersBetween
from service.words import say

MOST_GAP = 10_000
_MOST_SPANS = 24


class KeepersBetweenSchema(StrictSchema):
    """Loops of leather between the ornaments; each of the `gaps` is from, to and every."""

    makes = KeepersBetween
    every = Whole(1, MOST_GAP)
    gaps = Several(Several(Whole(1, MOST_GAP), 3, least=3), _MOST_SPANS)
    width = Length()

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def one_way(self, _data: object, original: Mapping[str, Any], **_: object) -> None:
        """In every so many gaps, or in these."""
        if original.get("every") is not None and original.get("gaps") is not None:
            raise mistake("one_of", say("give every or gaps, and only one of them"))
