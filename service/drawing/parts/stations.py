"""Which places of a piece are dimensioned, and on which side of it.

Above the piece stands what is cut through or folded, the outline's shoulders and its far end; below it what
is only scribed; at its far end the places across it. Rows along the edges are given by their first and last
place and, where their steps are equal, by step and count; otherwise place by place.
"""

from collections.abc import Iterable, Sequence

from service.drawing.parts.callouts import Callout, even_row, rows_of
from service.drawing.parts.ruler import Station
from service.drawing.parts.symbols import CENTRE_OVERHANG
from service.shop.shop import Units
from service.strap.model.pattern import Feature, Piece
from service.strap.plane.lengths import MM, reading
from service.strap.plane.profile import cut_edge, edge_at
from service.words import say

_CLEAR = 1.0
"""Millimetres between an edge and the extension line that begins there."""
_Places = dict[int, list[str]]


def stations_above(piece: Piece, groups: Sequence[Callout], units: Units) -> tuple[Station, ...]:
    """What is cut through or folded, the shoulders of shaped ends, both ends of each lap, and the far end."""
    places = _tagged(group for group in groups if group.sample.action != "mark")
    for shoulder in _shoulders(piece):
        places.setdefault(shoulder, [])
    for lap in piece.splices:
        places.setdefault(lap.start, [])
        places.setdefault(lap.end, [])
    places.setdefault(piece.length, [])
    tip = _CLEAR - piece.width / MM / 2
    starts = {at: _CLEAR - (piece.width / 2 - edge_at(piece.outline, at)) / MM for at in places}
    starts[0] = tip if piece.outline.head_depth else _CLEAR - (piece.width // 2 - piece.outline.head_half) / MM
    ends = _CLEAR - (piece.width // 2 - piece.outline.foot_half) / MM
    starts[piece.length] = tip if piece.outline.foot_depth else ends
    return _stations(places, units, starts, _widths(piece))


def stations_below(groups: Sequence[Callout], units: Units) -> tuple[Station, ...]:
    """What is scribed only; nothing at all where nothing is."""
    places = _tagged(group for group in groups if group.sample.action == "mark")
    return _stations(places, units, {}, {}) if places else ()


def _shoulders(piece: Piece) -> list[int]:
    """Where shaped ends begin, and where tapers do and end."""
    head, foot = piece.outline.head_depth, piece.outline.foot_depth
    return [place for place, depth in ((head, head), (piece.length - foot, foot)) if depth] + list(_widths(piece))


def _widths(piece: Piece) -> dict[int, int]:
    """How wide a piece that narrows is where its tapers begin and end."""
    found: dict[int, int] = {}
    for taper in piece.outline.tapers:
        found |= {taper.narrow: taper.width, taper.full: piece.width}
    cut = cut_edge(piece.outline)
    if cut:
        found |= {at: round(2 * edge_at(piece.outline, at)) for at in (cut.start, cut.end)}
    return found


def _tagged(groups: Iterable[Callout]) -> _Places:
    places: _Places = {}
    for group in groups:
        for place in _dimensioned(group):
            tags = places.setdefault(place, [])
            if group.tag not in tags:
                tags.append(group.tag)
    return places


def _dimensioned(group: Callout) -> list[int]:
    """Places along the piece that are given one by one."""
    if group.sample.purpose != "border":
        return sorted({feature.x for feature in group.features})
    chosen: set[int] = set()
    for row in rows_of(group).values():
        chosen.update((row[0], row[-1]) if even_row(row) else row)
    return sorted(chosen)


def _stations(places: _Places, units: Units, starts: dict[int, float], widths: dict[int, int]) -> tuple[Station, ...]:
    """Places along a piece; where its tapers begin and end its width is read beside the place."""
    places.setdefault(0, [])

    return tuple(
        Station(
            at / MM,
            reading(at, units) if at else "0",
            " ".join(sorted(tags)),
            starts.get(at, _CLEAR),
            say("{width} wide", width=reading(widths[at], units)) if at in widths else "",
        )
        for at, tags in sorted(places.items())
    )


def stations_across(piece: Piece, units: Units) -> tuple[Station, ...]:
    """From the upper edge: every row of features, and the lower edge."""
    half, length = piece.width // 2, piece.length
    ends: dict[int, float] = {}
    for feature in piece.features:
        if feature.kind != "fold":
            end = (feature.x - length) / MM + _half_length(feature) + _CLEAR
            at = half + feature.row_y
            ends[at] = max(ends.get(at, end), end)
    if half in ends:
        ends[half] = CENTRE_OVERHANG
    shoulder, narrow = _CLEAR - piece.outline.foot_depth / MM, piece.outline.foot_half
    ends |= {half - narrow: shoulder, half + narrow: shoulder}
    if narrow < half:
        full = _CLEAR - piece.outline.narrowings[1].reach / MM if piece.outline.narrowings else shoulder
        ends |= {0: full, 2 * half: full}
    return tuple(Station(at / MM, reading(at, units) if at else "0", "", start) for at, start in sorted(ends.items()))


def _half_length(feature: Feature) -> float:
    across = feature.kind == "slot" and feature.angle == 90
    size = feature.width if across else feature.length if feature.kind == "slot" else feature.diameter
    return max(size or 0, 4 * MM if feature.kind == "mark" else 0) / MM / 2
