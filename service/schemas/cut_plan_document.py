"""A cut plan as JSON data: every length a pair, areas in mm2."""

from collections.abc import Iterable

from service.schemas.answers.cut_plan import (
    CutPlanDocument,
    LeatherPlanDocument,
    MissingDocument,
    MoreDocument,
    MoreStockDocument,
    OffcutDocument,
    SheetDocument,
    StripDocument,
    TallyDocument,
)
from service.schemas.materials import area_mm2
from service.schemas.readings import mm, read
from service.schemas.sets import strap_of_order
from service.shop.shop import Units
from service.workshop.cut_plan.model import CutPlan, LeatherPlan, Missing, More, Offcut, Sheet, Strip, Tally
from service.workshop.cut_plan.steps import CutStep


def cut_plan_document(plan: CutPlan, steps: Iterable[CutStep], units: Units) -> CutPlanDocument:
    """The plan as JSON data, with its cutting order."""
    return {
        "sheets": [_sheet(sheet, units) for sheet in plan.sheets],
        "used": _tally(plan.used),
        "lower_bound": _tally(plan.lower_bound),
        "proven": plan.proven,
        "cut_short": plan.cut_short,
        "settings": plan.settings,
        "missing": [_missing(each, units) for each in plan.missing],
        "more": [_more(each, units) for each in plan.more],
        "leathers": [_leather(each) for each in plan.leathers],
        "steps": [{"n": step.n, "stock": step.stock, "sheet": step.sheet, "do": step.do} for step in steps],
    }


def _sheet(sheet: Sheet, units: Units) -> SheetDocument:
    return {
        "stock": sheet.stock.id,
        "n": sheet.n,
        "leather": sheet.stock.leather,
        "length_mm": mm(sheet.stock.length),
        "length": read(sheet.stock.length, units),
        "width_mm": mm(sheet.stock.width),
        "width": read(sheet.stock.width, units),
        "straighten_mm": mm(sheet.stock.straighten),
        "straighten": read(sheet.stock.straighten, units),
        "end_trim_mm": mm(sheet.stock.end_trim),
        "end_trim": read(sheet.stock.end_trim, units),
        "strips": [_strip(strip, units) for strip in sheet.strips],
        "offcuts": [_offcut(offcut, units) for offcut in sheet.offcuts],
        "yield": round(sheet.pieces_area / sheet.area, 4),
    }


def _strip(strip: Strip, units: Units) -> StripDocument:
    return {
        "n": strip.n,
        "width_mm": mm(strip.width),
        "width": read(strip.width, units),
        "from_mm": mm(strip.from_y),
        "from": read(strip.from_y, units),
        "pieces": [
            {
                "ref": piece.wanted.ref,
                **strap_of_order(piece.wanted.strap),
                "copy": piece.wanted.copy,
                "piece": piece.wanted.piece,
                "from_mm": mm(piece.from_x),
                "from": read(piece.from_x, units),
                "to_mm": mm(piece.from_x + piece.wanted.length),
                "to": read(piece.from_x + piece.wanted.length, units),
                "length_mm": mm(piece.wanted.length),
                "length": read(piece.wanted.length, units),
            }
            for piece in strip.pieces
        ],
    }


def _offcut(offcut: Offcut, units: Units) -> OffcutDocument:
    return {
        "of": offcut.of,
        "width_mm": mm(offcut.width),
        "width": read(offcut.width, units),
        "length_mm": mm(offcut.length),
        "length": read(offcut.length, units),
        "across_mm": mm(offcut.from_y),
        "across": read(offcut.from_y, units),
        "along_mm": mm(offcut.from_x),
        "along": read(offcut.from_x, units),
    }


def _tally(tally: Tally) -> TallyDocument:
    return {"sheets": tally.sheets, "area_mm2": area_mm2(tally.area)}


def _missing(missing: Missing, units: Units) -> MissingDocument:
    wanted = missing.wanted
    return {
        "ref": wanted.ref,
        **strap_of_order(wanted.strap),
        "copy": wanted.copy,
        "piece": wanted.piece,
        "leather": wanted.leather,
        "width_mm": mm(wanted.width),
        "width": read(wanted.width, units),
        "length_mm": mm(wanted.length),
        "length": read(wanted.length, units),
        "why": missing.why,
    }


def _more(more: More, units: Units) -> MoreDocument:
    stock: MoreStockDocument = {"stock": more.stock} if more.stock else {}
    return {
        "leather": more.leather,
        **stock,
        "length_mm": mm(more.length),
        "length": read(more.length, units),
        "width_mm": mm(more.width),
        "width": read(more.width, units),
        "count": more.count,
        "at_least": more.at_least,
    }


def _leather(plan: LeatherPlan) -> LeatherPlanDocument:
    pieces = sum(sheet.pieces_area for sheet in plan.sheets)
    return {
        "leather": plan.leather,
        "used": _tally(plan.used),
        "lower_bound": _tally(plan.lower_bound),
        "proven": plan.proven,
        "settings": plan.settings,
        "pieces_mm2": area_mm2(pieces),
        "offcuts_mm2": area_mm2(sum(sheet.offcuts_area for sheet in plan.sheets)),
        "yield": round(pieces / plan.used.area, 4) if plan.used.area else 0.0,
    }
