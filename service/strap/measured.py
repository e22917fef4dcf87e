"""One measured rule with what it is about, so that a failed one can be told to the right field."""

from dataclasses import dataclass

from service.shop.goods import Nm
from service.strap.pattern import Check, Feature


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A check and its `subject`: the purposes of the features, joined by `+`, or the piece or item."""

    check: Check
    subject: str


def at_least(rule: str, value: float, limit: Nm, *at: Feature, subject: str = "") -> Measured:
    """`value` must reach `limit`."""
    return Measured(
        check=Check(rule=rule, sense="least", value=round(value), limit=limit, at=_ids(at)),
        subject=subject or _subject(at),
    )


def at_most(rule: str, value: float, limit: Nm, *at: Feature, subject: str = "") -> Measured:
    """`value` must not pass `limit`."""
    return Measured(
        check=Check(rule=rule, sense="most", value=round(value), limit=limit, at=_ids(at)),
        subject=subject or _subject(at),
    )


def _ids(features: tuple[Feature, ...]) -> tuple[str, ...]:
    return tuple(feature.id for feature in features)


def _subject(features: tuple[Feature, ...]) -> str:
    return "+".join(sorted({feature.purpose for feature in features}))
