"""The core's error family: each error inherits `StrapError` and a builtin, and carries its values as fields."""

from dataclasses import dataclass

from service.shop.goods import Nm

Path = tuple[str, ...]
"""Where something stands in a spec, e.g. `("ornaments", "count")`."""


class StrapError(Exception):
    """Base of every error that the core raises on purpose."""


class LengthError(StrapError, ValueError):
    """A text or number that cannot be read as a length. `reason` is a sentence for a maker."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing that is wrong with a spec.

    `limit` and `found` are lengths in nanometres where `is_length`, else plain counts.
    """

    path: Path
    code: str
    detail: str
    limit: Nm | None = None
    found: Nm | None = None
    is_length: bool = True


class Refusal(StrapError, ValueError):
    """A readable spec that cannot be made, with every fault that was found."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("; ".join(fault.detail for fault in faults))
        self.faults = faults
