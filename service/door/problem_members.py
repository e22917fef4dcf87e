"""What each error adds to its problem document: the faults by their places, what would help, what has changed."""

from collections.abc import Callable, Mapping
from typing import Any

from flask import g

from service.desk.ordering import OrdersRefused
from service.desk.pipeline import CannotMake
from service.desk.rows import ChangedRow
from service.desk.sealing import Changed, ShopChanged
from service.desk.selling import ChoiceRefused
from service.door.errors import MemberNeedsKey, QueryError
from service.door.mounting import here
from service.drawing.cutting.layers import KerfTooWide
from service.drawing.parts.chosen import UnknownPiece
from service.drawing.printed.document import TooManyPages
from service.drawing.printed.pages import PaperTooSmall
from service.drawing.worn.closed import HoleNotWorn
from service.forms.raster import PictureTooLarge
from service.schemas.answers.problem import ChangedAtDocument, ChangedDocument, FaultDocument, ProblemMembersDocument
from service.schemas.comparison import ComparisonError
from service.schemas.design_document import choice_at, way_out_document
from service.schemas.orders import OrdersError
from service.schemas.problem import fault_document, pointer, remedy_document
from service.schemas.seals import moved_document
from service.schemas.spec import SpecError
from service.schemas.withheld import reason
from service.shop.shop import Units
from service.shop_file import ShopFileError, dotted
from service.strap.errors import Fault
from service.words import say


def members(error: Exception, units: Units) -> ProblemMembersDocument:
    """What an error adds to its problem document, with readings in `units`; nothing where it has nothing to add."""
    write = _WRITERS.get(type(error))
    return write(error, units) if write else {}


def _unreadable(error: SpecError, units: Units) -> ProblemMembersDocument:
    return {"errors": [fault_document(fault, units) for fault in error.faults]}


def _unmakeable(error: CannotMake, units: Units) -> ProblemMembersDocument:
    document = g.get("document")
    return {
        "errors": [fault_document(fault, units) for fault in error.faults],
        "remedies": [remedy_document(remedy, document, units) for remedy in error.remedies],
    }


def _refused_orders(error: OrdersRefused, units: Units) -> ProblemMembersDocument:
    return {
        "errors": [fault_document(fault, units) for fault in error.faults],
        "remedies": list(error.documents),
    }


def _refused_choice(error: ChoiceRefused, units: Units) -> ProblemMembersDocument:
    return {
        "reason": reason(error.why, error.design, error.chosen, units),
        "errors": [_fault_of_choice(fault, choice_at(error.design, fault.path), units) for fault in error.faults],
        "remedies": [way_out_document(error.design, error.chosen, way, units) for way in error.ways],
    }


def _fault_of_choice(fault: Fault, name: str | None, units: Units) -> FaultDocument:
    found = fault_document(fault, units)
    if name:
        found["parameter"] = name
    return found


def _members_of_key(error: MemberNeedsKey, _units: Units) -> ProblemMembersDocument:
    detail = "only the holder of an API key may say this"
    return {"errors": [{"pointer": pointer((name,)), "code": "key_needed", "detail": detail} for name in error.names]}


def _changed(error: ShopChanged, _units: Units) -> ProblemMembersDocument:
    return {"changed": [_change(each) for each in error.changes]}


def _change(changed: Changed) -> ChangedDocument:
    place: ChangedAtDocument = {"pointer": pointer(changed.path)} if changed.path else {}
    if isinstance(changed, ChangedRow):
        place |= {"row": changed.row, "column": changed.column}
    address = here(f"/v1/patterns/{changed.code}")
    return {
        **place,
        "moved": [moved_document(each, changed.units) for each in changed.moved],
        "errors": [fault_document(fault, changed.units) for fault in changed.faults],
        "code": changed.code,
        "today": address if len(address) <= g.url_max else None,
    }


def _query(error: QueryError, _units: Units) -> ProblemMembersDocument:
    return {
        "errors": [{"parameter": fault.parameter, "code": fault.code, "detail": fault.detail} for fault in error.faults]
    }


def _shop_file(error: ShopFileError, _units: Units) -> ProblemMembersDocument:
    return {
        "errors": [{"key": dotted(fault.path), "code": fault.code, "detail": fault.detail} for fault in error.faults]
    }


def _piece(error: UnknownPiece, _units: Units) -> ProblemMembersDocument:
    return {"errors": [{"parameter": "piece", "code": "unknown_piece", "detail": str(error)}]}


def _pages(error: TooManyPages, _units: Units) -> ProblemMembersDocument:
    fault: FaultDocument = {"parameter": "paper", "code": "too_many_pages", "detail": str(error)}
    return {"errors": [{**fault, "limit": error.most, "found": error.found}]}


def _paper(error: PaperTooSmall, _units: Units) -> ProblemMembersDocument:
    return {"errors": [{"parameter": "paper", "code": "paper_too_small", "detail": str(error)}]}


def _kerf(error: KerfTooWide, _units: Units) -> ProblemMembersDocument:
    return {"errors": [{"parameter": "kerf", "code": "kerf_too_wide", "detail": str(error)}]}


def _hole(error: HoleNotWorn, _units: Units) -> ProblemMembersDocument:
    return {"errors": [{"parameter": "hole", "code": "hole_not_worn", "detail": str(error)}]}


def _picture(error: PictureTooLarge, _units: Units) -> ProblemMembersDocument:
    return {
        "errors": [
            {
                "parameter": name,
                "code": "picture_too_large",
                "detail": say("at most {name}={limit} will do", name=name, limit=limit),
                "limit": limit,
            }
            for name, limit in error.largest.items()
        ]
    }


_WRITERS: Mapping[type[Exception], Callable[[Any, Units], ProblemMembersDocument]] = {
    SpecError: _unreadable,
    OrdersError: _unreadable,
    ComparisonError: _unreadable,
    ShopFileError: _shop_file,
    CannotMake: _unmakeable,
    OrdersRefused: _refused_orders,
    ChoiceRefused: _refused_choice,
    QueryError: _query,
    ShopChanged: _changed,
    MemberNeedsKey: _members_of_key,
    UnknownPiece: _piece,
    PictureTooLarge: _picture,
    PaperTooSmall: _paper,
    TooManyPages: _pages,
    KerfTooWide: _kerf,
    HoleNotWorn: _hole,
}
