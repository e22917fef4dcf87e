"""What this shop works with, and how the process is."""

from typing import Annotated, Literal, TypedDict

from service.schemas.answers.members import AtLeast, Json, TermsDocument


class EntryDocument(TypedDict):
    """What every entry of the shop's goods has."""

    id: str
    title: str


Entry = Annotated[
    Json,
    AtLeast(EntryDocument),
    "One entry: its id, its title and its measures, every length a pair. What the shop pays for it is told to the "
    "holder of a key, or to all while there are no keys.",
]


class ShopDocument(TypedDict):
    """What this shop works with."""

    name: str
    currency: str
    limits: Annotated[Json, "The largest and smallest that the shop takes on."]
    defaults: Annotated[Json, "What a spec gets where it says nothing."]
    rules: Annotated[Json, "Clearances and measures of the bench."]
    leathers: list[Entry]
    round_punches: list[Entry]
    slot_punches: list[Entry]
    end_punches: list[Entry]
    edge_irons: list[Entry]
    fasteners: list[Entry]
    buckles: list[Entry]
    rings: list[Entry]
    snaps: list[Entry]
    ornaments: list[Entry]
    digest: Annotated[str, "SHA-256 of the shop file and its pictures."]
    shop: Annotated[TermsDocument, "As in every pattern and price."]


class HealthDocument(TypedDict):
    """How the process is."""

    status: Literal["live", "ready"]
