"""A pattern as JSON data: every length a pair of millimetres and of what a person reads off a ruler."""

from collections.abc import Iterable

from service.schemas.answers.pattern import (
    AlongDocument,
    BuckledDocument,
    CheckDocument,
    ClosedDocument,
    EdgeDocument,
    FeatureDocument,
    FeatureMadeDocument,
    FinishedDocument,
    HardwareDocument,
    JoinedDocument,
    MadeDocument,
    PieceDocument,
    SpliceDocument,
    StitchLineDocument,
    StripDocument,
    TaperDocument,
    WornDocument,
)
from service.schemas.readings import mm, read
from service.schemas.spec import spec_document
from service.schemas.steps import step_document
from service.shop.shop import Units
from service.strap.model.check import Check
from service.strap.model.closed import HoleLength, Joined
from service.strap.model.edging_at import EdgingAt
from service.strap.model.pattern import Feature, Finished, Hardware, HoleAt, Pattern, Piece
from service.strap.model.splice import Splice, Strip
from service.strap.model.stitch_line import StitchLine
from service.strap.model.worn import Worn
from service.strap.plane.lengths import tape_reading
from service.strap.plane.outline import TaperAt, chain_data, path_data
from service.strap.plane.profile import EdgeAt, cut_edge
from service.workshop.bench.step import Step


def made_document(pattern: Pattern, steps: Iterable[Step], cautions: Iterable[str], units: Units) -> MadeDocument:
    """What a pattern is, and how it is made. `units` are those of the readings."""
    return {
        "spec": spec_document(pattern.spec, pattern.spec.units),
        "finished": _finished(pattern.finished, units),
        "pieces": [_piece(piece, units) for piece in pattern.pieces],
        "hardware": [_hardware(item, units) for item in pattern.hardware],
        "checks": [check_document(check, units) for check in pattern.checks],
        "worn": [_worn(each, units) for each in pattern.worn],
        "steps": [step_document(step, units) for step in steps],
        "cautions": list(cautions),
    }


def _finished(finished: Finished, units: Units) -> FinishedDocument:
    found = _measured(finished, units)
    if finished.joined:
        found["joined"] = _joined(finished.joined, units)
    return found


def _joined(joined: Joined, units: Units) -> JoinedDocument:
    def closed(each: HoleLength) -> ClosedDocument:
        return {
            "length_mm": mm(each.length),
            "length": read(each.length, units),
            "fits_mm": mm(each.fits),
            "fits": tape_reading(each.fits, units),
        }

    return {
        "tightest": closed(joined.holes[0]),
        "loosest": closed(joined.holes[-1]),
        "holes": [_buckled(each, units) for each in joined.holes],
    }


def _measured(finished: Finished, units: Units) -> FinishedDocument:
    return {
        "measured_from": finished.measured_from,
        "length_mm": mm(finished.length),
        "length": read(finished.length, units),
        "from": {
            "fold_mm": mm(finished.from_fold),
            "fold": read(finished.from_fold, units),
            "bar_mm": mm(finished.from_bar),
            "bar": read(finished.from_bar, units),
            "frame_mm": mm(finished.from_frame),
            "frame": read(finished.from_frame, units),
        },
        "holes": [
            *(_buckled(each, units) for each in finished.holes),
            *(_open_hole(each, units) for each in finished.tip_holes),
        ],
        "weight_g": finished.weight_mg / 1000,
    }


def _buckled(each: HoleLength, units: Units) -> BuckledDocument:
    return {**_hole(each, units), "fits_mm": mm(each.fits), "fits": tape_reading(each.fits, units)}


def _open_hole(each: HoleAt, units: Units) -> BuckledDocument:
    return {**_hole(each, units), "at": each.at}


def _hole(each: HoleAt | HoleLength, units: Units) -> BuckledDocument:
    return {"hole": each.hole, "length_mm": mm(each.length), "length": read(each.length, units)}


def _piece(piece: Piece, units: Units) -> PieceDocument:
    found: PieceDocument = {
        "name": piece.name,
        "leather": piece.leather.id,
        "thickness_mm": mm(piece.thickness),
        "thickness": read(piece.thickness, units),
        "skived_mm": mm(piece.skived),
        "skived": read(piece.skived, units),
        "length_mm": mm(piece.length),
        "length": read(piece.length, units),
        "width_mm": mm(piece.width),
        "width": read(piece.width, units),
        "face": piece.face,
        "outline": path_data(piece.outline),
        "features": [_feature(feature, units) for feature in piece.features],
    }
    if piece.purpose:
        found["purpose"] = piece.purpose
        found["over_mm"], found["over"] = mm(piece.over), read(piece.over, units)
        found["rise_mm"], found["rise"] = mm(piece.rise), read(piece.rise, units)
        found["cut_length_mm"], found["cut_length"] = mm(piece.cut_length), read(piece.cut_length, units)
        found["cut_width_mm"], found["cut_width"] = mm(piece.cut_width), read(piece.cut_width, units)
    if piece.count > 1:
        found["count"] = piece.count
    if piece.at:
        found["at"] = list(piece.at)
    if piece.is_cut_to_size:
        found["cut_to_size"] = True
    if piece.edging and piece.name == "edging":
        found["along"] = _along(piece.edging, units)
    if piece.is_loose:
        found["held_by"] = "keepers"
    if piece.splices:
        found["splices"] = [_splice(lap, units) for lap in piece.splices]
        found["strips"] = [_strip(strip, units) for strip in piece.strips]
    if piece.lap:
        found["lap_mm"], found["lap"] = mm(piece.lap), read(piece.lap, units)
    _note_shape(found, piece, units)
    return found


def _note_shape(found: PieceDocument, piece: Piece, units: Units) -> None:
    """Write down how a piece is shaped along its edges, and sewn."""
    cut = cut_edge(piece.outline)
    if cut:
        found["edge"] = _edge(cut, units)
    if piece.outline.tapers:
        found["tapers"] = [_taper(piece, taper, units) for taper in piece.outline.tapers]
    if piece.stitch_lines:
        found["stitch_lines"] = [_stitch_line(line, units) for line in piece.stitch_lines]


def _along(at: EdgingAt, units: Units) -> AlongDocument:
    return {
        "lies": at.lies,
        "reach_mm": mm(at.reach),
        "reach": read(at.reach, units),
        "hold_mm": mm(at.hold),
        "hold": read(at.hold, units),
        "from_x_mm": mm(at.start),
        "from_x": read(at.start, units),
        "to_x_mm": mm(at.end),
        "to_x": read(at.end, units),
    }


def _splice(lap: Splice, units: Units) -> SpliceDocument:
    return {
        "id": lap.id,
        "from_mm": mm(lap.start),
        "from": read(lap.start, units),
        "to_mm": mm(lap.end),
        "to": read(lap.end, units),
    }


def _strip(strip: Strip, units: Units) -> StripDocument:
    return {
        "name": strip.name,
        "from_mm": mm(strip.start),
        "from": read(strip.start, units),
        "cut_mm": mm(strip.cut_length),
        "cut": read(strip.cut_length, units),
    }


def _edge(cut: EdgeAt, units: Units) -> EdgeDocument:
    return {
        "shape": cut.shape,
        "count": cut.count,
        "repeat_mm": mm(cut.repeat),
        "repeat": read(cut.repeat, units),
        "depth_mm": mm(cut.depth),
        "depth": read(cut.depth, units),
        "from_x_mm": mm(cut.start),
        "from_x": read(cut.start, units),
        "to_x_mm": mm(cut.end),
        "to_x": read(cut.end, units),
    }


def _taper(piece: Piece, taper: TaperAt, units: Units) -> TaperDocument:
    return {
        "id": f"{piece.name}.taper.{taper.n}",
        "width_mm": mm(taper.width),
        "width": read(taper.width, units),
        "narrow_x_mm": mm(taper.narrow),
        "narrow_x": read(taper.narrow, units),
        "full_x_mm": mm(taper.full),
        "full_x": read(taper.full, units),
        "line": "eased" if taper.eased else "straight",
    }


def _stitch_line(line: StitchLine, units: Units) -> StitchLineDocument:
    return {
        "id": line.id,
        "path": chain_data(line.points, closed=line.closed),
        "closed": line.closed,
        "holes": line.holes,
        "stitches": line.stitches,
        "pitch_mm": mm(line.pitch),
        "pitch": read(line.pitch, units),
        "length_mm": mm(line.length),
        "length": read(line.length, units),
    }


def _feature(feature: Feature, units: Units) -> FeatureDocument:
    return {
        "id": feature.id,
        "kind": feature.kind,
        "action": feature.action,
        "purpose": feature.purpose,
        "x_mm": mm(feature.x),
        "x": read(feature.x, units),
        "y_mm": mm(feature.y),
        "y": read(feature.y, units),
        **_made(feature, units),
        "mates": list(feature.mates),
    }


def _made(feature: Feature, units: Units) -> FeatureMadeDocument:
    """What only some features have."""
    found: FeatureMadeDocument = {}
    if feature.diameter is not None:
        found["diameter_mm"], found["diameter"] = mm(feature.diameter), read(feature.diameter, units)
    if feature.length is not None:
        found["length_mm"], found["length"] = mm(feature.length), read(feature.length, units)
    if feature.width is not None:
        found["width_mm"], found["width"] = mm(feature.width), read(feature.width, units)
    if feature.kind == "slot":
        found["angle_deg"] = feature.angle
    if feature.method != "one_punch":
        found["method"] = feature.method
    if feature.tool is not None:
        found["tool"] = feature.tool
    if feature.item is not None:
        found["item"] = feature.item
    if feature.fastener is not None:
        found["fastener"] = feature.fastener
    return found


def _hardware(item: Hardware, units: Units) -> HardwareDocument:
    found: HardwareDocument = {"item": item.item, "count": item.count, "for": item.purpose}
    if item.length is not None:
        found["length_mm"], found["length"] = mm(item.length), read(item.length, units)
    return found


def check_document(check: Check, units: Units) -> CheckDocument:
    """What one rule found, and its limit."""
    return {
        "rule": check.rule,
        "passed": check.passed,
        "sense": check.sense,
        "value_mm": mm(check.value),
        "value": read(check.value, units),
        "limit_mm": mm(check.limit),
        "limit": read(check.limit, units),
        "at": list(check.at),
    }


def _worn(worn: Worn, units: Units) -> WornDocument:
    return {
        "hole": worn.hole,
        "lies_down": worn.lies_down,
        "covers": [
            {"at": each.at, "by_mm": mm(each.by), "by": read(each.by, units), "severity": each.severity}
            for each in worn.covers
        ],
    }
