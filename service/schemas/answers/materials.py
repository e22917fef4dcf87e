"""What a strap, or a list of straps, is made of."""

from typing import Annotated, TypedDict

from service.schemas.answers.members import Area, Count, Keyword, Millimetres, Reading, Share
from service.workshop.materials import UseKind


class PieceUseDocument(TypedDict):
    """So many of one piece; the area is inside its outline."""

    piece: str
    leather: str
    count: Count
    length_mm: Millimetres
    length: Reading
    width_mm: Millimetres
    width: Reading
    area_mm2: Area


class LeatherUseDocument(TypedDict):
    """One leather: inside the outlines, as cut from strips, and with the shop's waste share."""

    leather: str
    area_mm2: Area
    blank_mm2: Area
    waste_share: Share
    gross_mm2: Area


class StripUseDocument(TypedDict):
    """Strip of one width: one setting of the strap cutter."""

    leather: str
    width_mm: Millimetres
    width: Reading
    length_mm: Millimetres
    length: Reading
    pieces: Count


class ItemUseDocument(TypedDict):
    """So many of one item."""

    item: str
    kind: UseKind
    count: Count


class LengthUseDocument(TypedDict):
    """Lace and thread, all together."""

    item: str
    count: Count
    length_mm: Millimetres
    length: Reading


class ConsumableUseDocument(TypedDict):
    """Something used up on the way."""

    item: str
    title: str
    amount: Annotated[float, Keyword("minimum", 0)]
    unit: str


class MaterialsDocument(TypedDict):
    """What a strap is made of."""

    straps: Count
    pieces: list[PieceUseDocument]
    leather: list[LeatherUseDocument]
    strips: list[StripUseDocument]
    items: list[ItemUseDocument]
    by_length: list[LengthUseDocument]
    consumables: list[ConsumableUseDocument]
    weight_g: Annotated[float, "Finished, in grams.", Keyword("minimum", 0)]
