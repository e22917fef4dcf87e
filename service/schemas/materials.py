"""Materials as JSON data: every length a pair, areas in mm2, masses in grams."""

from service.schemas.answers.materials import MaterialsDocument
from service.schemas.readings import mm, read
from service.shop.shop import Units
from service.workshop.materials import Materials


def materials_document(materials: Materials, units: Units) -> MaterialsDocument:
    """Everything that one strap, or a list of straps, is made of."""
    return {
        "straps": materials.straps,
        "pieces": [
            {
                "piece": use.name,
                "leather": use.leather,
                "count": use.count,
                "length_mm": mm(use.length),
                "length": read(use.length, units),
                "width_mm": mm(use.width),
                "width": read(use.width, units),
                "area_mm2": area_mm2(use.area),
            }
            for use in materials.pieces
        ],
        "leather": [
            {
                "leather": use.leather,
                "area_mm2": area_mm2(use.area),
                "blank_mm2": area_mm2(use.blank),
                "waste_share": float(use.waste),
                "gross_mm2": area_mm2(use.gross),
            }
            for use in materials.leathers
        ],
        "strips": [
            {
                "leather": use.leather,
                "width_mm": mm(use.width),
                "width": read(use.width, units),
                "length_mm": mm(use.length),
                "length": read(use.length, units),
                "pieces": use.pieces,
            }
            for use in materials.strips
        ],
        "items": [{"item": use.item, "kind": use.kind, "count": use.count} for use in materials.items],
        "by_length": [
            {"item": use.item, "count": use.count, "length_mm": mm(use.length), "length": read(use.length, units)}
            for use in materials.lengths
        ],
        "consumables": [
            {
                "item": use.consumable.id,
                "title": use.consumable.title,
                "amount": float(use.amount),
                "unit": use.consumable.unit,
            }
            for use in materials.consumables
        ],
        "weight_g": materials.weight_mg / 1000,
    }


def area_mm2(area: int) -> float:
    """Square nanometres in square millimetres, to 0.01."""
    return round(area / 1e12, 2)
