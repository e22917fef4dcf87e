"""The steps of the bench as JSON data."""

from service.schemas.answers.steps import GoodsDocument, StepDocument, StepPieceDocument, StepToolDocument
from service.schemas.readings import mm, read
from service.shop.shop import Units
from service.workshop.bench.step import Goods, Step


def step_document(step: Step, units: Units) -> StepDocument:
    """One step; `units` are those of the lengths that it takes."""
    alone = step.piece
    piece: StepPieceDocument = {"piece": alone} if alone else {}
    tool: StepToolDocument = {"tool": step.tool} if step.tool else {}
    return {
        "n": step.n,
        "op": step.op,
        **piece,
        "pieces": list(step.pieces),
        "plies": list(step.plies),
        "do": step.do,
        **tool,
        "features": list(step.features),
        "uses": [_goods(each, units) for each in step.uses],
        "after": list(step.after),
    }


def _goods(goods: Goods, units: Units) -> GoodsDocument:
    found: GoodsDocument = {"item": goods.item, "count": goods.count}
    if goods.length is not None:
        found["length_mm"], found["length"] = mm(goods.length), read(goods.length, units)
    return found
