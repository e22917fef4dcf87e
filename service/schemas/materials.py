"""Materials as JSON data: every length a pair, areas in mm2, masses in grams."""

from service.schemas.answers.materials import (
    ConsumableUseDocument,
    LeatherUseDocument,
    LengthUseDocument,
    MaterialsDocument,
    PieceUseDocument,
    StripUseDocument,
)
from service.schemas.readings import mm, read
from service.shop.shop import Units
from service.workshop.materials import ConsumableUse, LeatherUse, LengthUse, Materials, PieceUse, StripUse


def materials_document(materials: Materials, units: Units) -> MaterialsDocument:
    """Everything that one strap, or a list of straps, is made of."""
    return {
        "straps": materials.straps,
        "pieces": [_piece(use, units) for use in materials.pieces],
        "leather": [_leather(use) for use in materials.leathers],
        "strips": [_strip(use, units) for use in materials.strips],
        "items": [{"item": use.item, "kind": use.kind, "count": use.count} for use in materials.items],
        "by_length": [_length(use, units) for use in materials.lengths],
        "consumables": [_consumable(use) for use in materials.consumables],
        "weight_g": materials.weight_mg / 1000,
    }


def _piece(use: PieceUse, units: Units) -> PieceUseDocument:
    return {
        "piece": use.name,
        "leather": use.leather,
        "count": use.count,
        "length_mm": mm(use.length),
        "length": read(use.length, units),
        "width_mm": mm(use.width),
        "width": read(use.width, units),
        "area_mm2": area_mm2(use.area),
    }


def _leather(use: LeatherUse) -> LeatherUseDocument:
    return {
        "leather": use.leather,
        "area_mm2": area_mm2(use.area),
        "blank_mm2": area_mm2(use.blank),
        "waste_share": float(use.waste),
        "gross_mm2": area_mm2(use.gross),
    }


def _strip(use: StripUse, units: Units) -> StripUseDocument:
    return {
        "leather": use.leather,
        "width_mm": mm(use.width),
        "width": read(use.width, units),
        "length_mm": mm(use.length),
        "length": read(use.length, units),
        "pieces": use.pieces,
    }


def _length(use: LengthUse, units: Units) -> LengthUseDocument:
    return {
        "item": use.item,
        "count": use.count,
        "length_mm": mm(use.length),
        "length": read(use.length, units),
    }


def _consumable(use: ConsumableUse) -> ConsumableUseDocument:
    return {
        "item": use.consumable.id,
        "title": use.consumable.title,
        "amount": float(use.amount),
        "unit": use.consumable.unit,
    }


def area_mm2(area: int) -> float:
    """Square nanometres in square millimetres, to 0.01."""
    return round(area / 1e12, 2)
