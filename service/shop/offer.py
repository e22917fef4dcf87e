"""What a shop says on every offer, beside what is offered."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferWords:
    """Nothing of it is reckoned with: it is printed as it stands."""

    contact: tuple[str, ...] = ()
    """Below the shop's name: where and how it is reached, its number for taxes."""
    validity: str | None = None
    """How long an offer holds, such as thirty days from its date."""
    terms: tuple[str, ...] = ()
    """Payment, delivery, what is not taken back: one sentence or paragraph each."""
