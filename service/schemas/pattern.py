"""A pattern as JSON data: every length a pair of millimetres and of what a person reads off a ruler."""

from collections.abc import Iterable
from functools import lru_cache
from typing import Any

from service.schemas.spec import spec_document
from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.model.pattern import Check, Feature, Finished, Hardware, Pattern, Piece, StitchLine, Worn
from service.strap.plane.lengths import millimetres, reading, tape_reading
from service.strap.plane.outline import chain_data, path_data
from service.workshop.bench.step import Goods, Step


@lru_cache(maxsize=16_384)
def _said(length: Nm, units: Units) -> tuple[float, str]:
    """A length as a number of millimetres and as its reading; straps of one shop share most of theirs."""
    return millimetres(length), reading(length, units)


def pair(name: str, length: Nm, units: Units) -> dict[str, float | str]:
    """One length under two names: `x_mm` as a number of millimetres, `x` as its reading in `units`."""
    number, text = _said(length, units)
    return {name + "_mm": number, name: text}


def pattern_document(
    pattern: Pattern, code: str, steps: Iterable[Step], cautions: Iterable[str], units: Units
) -> dict[str, Any]:
    """The whole pattern as the contract has it. `units` are those of the readings."""
    return {
        "code": code,
        "spec": spec_document(pattern.spec, pattern.spec.units or units),
        "finished": _finished(pattern.finished, units),
        "pieces": [_piece(piece, units) for piece in pattern.pieces],
        "hardware": [_hardware(item, units) for item in pattern.hardware],
        "checks": [_check(check, units) for check in pattern.checks],
        "worn": [_worn(each, units) for each in pattern.worn],
        "steps": [_step(step, units) for step in steps],
        "cautions": list(cautions),
    }


def _finished(finished: Finished, units: Units) -> dict[str, Any]:
    return {
        "measured_from": finished.measured_from,
        **pair("length", finished.length, units),
        "from": {
            **pair("fold", finished.from_fold, units),
            **pair("bar", finished.from_bar, units),
            **pair("frame", finished.from_frame, units),
        },
        "holes": [
            {"hole": each.hole, **pair("length", each.length, units), **_girth(each.fits, units)}
            for each in finished.holes
        ],
        "weight_g": finished.weight_mg / 1000,
    }


def _girth(girth: Nm, units: Units) -> dict[str, Any]:
    return {"fits_mm": millimetres(girth), "fits": tape_reading(girth, units)}


def _piece(piece: Piece, units: Units) -> dict[str, Any]:
    found: dict[str, Any] = {
        "name": piece.name,
        "leather": piece.leather.id,
        **pair("thickness", piece.thickness, units),
        **pair("skived", piece.skived, units),
        **pair("length", piece.length, units),
        **pair("width", piece.width, units),
        "face": piece.face,
        "outline": path_data(piece.outline),
        "features": [_feature(feature, units) for feature in piece.features],
    }
    if piece.purpose:
        found |= {"purpose": piece.purpose, **pair("over", piece.over, units), **pair("rise", piece.rise, units)}
    if piece.stitch_lines:
        found["stitch_lines"] = [_stitch_line(line, units) for line in piece.stitch_lines]
    return found


def _stitch_line(line: StitchLine, units: Units) -> dict[str, Any]:
    return {
        "id": line.id,
        "path": chain_data(line.points, closed=line.closed),
        "closed": line.closed,
        "holes": line.holes,
        "stitches": line.stitches,
        **pair("pitch", line.pitch, units),
        **pair("length", line.length, units),
    }


def _feature(feature: Feature, units: Units) -> dict[str, Any]:
    found: dict[str, Any] = {
        "id": feature.id,
        "kind": feature.kind,
        "action": feature.action,
        "purpose": feature.purpose,
        **pair("x", feature.x, units),
        **pair("y", feature.y, units),
    }
    for name in ("diameter", "length", "width"):
        length = getattr(feature, name)
        if length is not None:
            found.update(pair(name, length, units))
    if feature.kind == "slot":
        found["angle_deg"] = feature.angle
    if feature.method != "one_punch":
        found["method"] = feature.method
    for name in ("tool", "item"):
        if getattr(feature, name) is not None:
            found[name] = getattr(feature, name)
    found["mates"] = list(feature.mates)
    return found


def _hardware(item: Hardware, units: Units) -> dict[str, Any]:
    found: dict[str, Any] = {"item": item.item, "count": item.count, "for": item.purpose}
    if item.length is not None:
        found.update(pair("length", item.length, units))
    return found


def _check(check: Check, units: Units) -> dict[str, Any]:
    return {
        "rule": check.rule,
        "passed": check.passed,
        "sense": check.sense,
        **pair("value", check.value, units),
        **pair("limit", check.limit, units),
        "at": list(check.at),
    }


def _worn(worn: Worn, units: Units) -> dict[str, Any]:
    covers = [{"at": each.at, **pair("by", each.by, units), "severity": each.severity} for each in worn.covers]
    return {"hole": worn.hole, "lies_down": worn.lies_down, "covers": covers}


def _step(step: Step, units: Units) -> dict[str, Any]:
    found: dict[str, Any] = {"n": step.n, "op": step.op}
    found |= {"piece": step.piece} if step.piece else {}
    found |= {"pieces": list(step.pieces), "plies": list(step.plies), "do": step.do}
    found |= {"tool": step.tool} if step.tool else {}
    found |= {"features": list(step.features), "uses": [_goods(each, units) for each in step.uses]}
    return found | {"after": list(step.after)}


def _goods(goods: Goods, units: Units) -> dict[str, Any]:
    found: dict[str, Any] = {"item": goods.item, "count": goods.count}
    return found if goods.length is None else found | pair("length", goods.length, units)
