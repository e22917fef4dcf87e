"""One measured rule with what it is about, so that a failed one can be told to the right field."""

from dataclasses import dataclass

from service.shop.goods import Nm
from service.strap.model.pattern import Check, Feature, StitchLine

Placed = Feature | StitchLine
"""What a rule is measured at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A check, its `subject` and the `item` it is about.

    The subject is the purposes of the features, joined by `+`, or a piece; the item is the ornament that is
    set there, if any.
    """

    check: Check
    subject: str
    item: str = ""


def at_least(rule: str, value: float, limit: Nm, *at: Placed, subject: str = "", item: str = "") -> Measured:
    """`value` must reach `limit`."""
    return Measured(
        check=Check(rule=rule, sense="least", value=round(value), limit=limit, at=_ids(at)),
        subject=subject or _subject(at),
        item=item or _item(at),
    )


def at_most(rule: str, value: float, limit: Nm, *at: Placed, subject: str = "", item: str = "") -> Measured:
    """`value` must not pass `limit`."""
    return Measured(
        check=Check(rule=rule, sense="most", value=round(value), limit=limit, at=_ids(at)),
        subject=subject or _subject(at),
        item=item or _item(at),
    )


def _ids(features: tuple[Placed, ...]) -> tuple[str, ...]:
    return tuple(feature.id for feature in features)


def _subject(features: tuple[Placed, ...]) -> str:
    return "+".join(sorted({feature.purpose for feature in features}))


def _item(features: tuple[Placed, ...]) -> str:
    """The item of the last feature of the decoration, by purpose: border, between, ornament."""
    order = ("border", "between", "ornament")
    set_there = [feature for feature in features if feature.purpose in order and feature.item]
    first = min(set_there, key=lambda feature: order.index(feature.purpose), default=None)
    return (first.item or "") if first else ""
