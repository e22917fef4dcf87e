"""Whether two patterns are of the same strap, and by which figures a person sees where they differ.

A pattern is known again by what is cut, punched and set, to the 0.001 mm that answers tell: not by titles, prices,
colours, masses and tools, nor by checks and steps. What later versions add to patterns may be added here only where a
pattern has it: a digest that was given out must stay the digest of the same strap.
"""

import hashlib
import json
from base64 import urlsafe_b64encode
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any

from service.shop.goods import Nm
from service.strap.model.edging_at import EdgingAt
from service.strap.model.pattern import Feature, Finished, Pattern, Piece
from service.strap.model.stitch_line import StitchLine
from service.strap.plane.outline import chain_data, path_data
from service.values import dataclass

_DIGEST_BYTES = 16

Path = tuple[str, ...]
Figures = Mapping[Path, int]
"""Micrometres, or a count, by where it stands: `("pieces", "body", "length")`."""

FINISHED = ("length", "first_hole", "last_hole")
PIECE = ("length", "width", "thickness")
ROW = ("count", "size", "first", "last")
"""Of the features of one purpose: how many, the diameter or length of the first, and where the first and last are."""
ITEM = ("count", "length")


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A figure that was one thing and is another; `None` where there is no such thing. Counts, else nanometres."""

    path: Path
    before: int | None
    after: int | None

    @property
    def is_length(self) -> bool:
        """Whether it is a length rather than a count."""
        return self.path[-1] != "count"


def pattern_digest(pattern: Pattern) -> str:
    """128 bits of SHA-256, in base64url, of all that makes this strap another than any other."""
    said = [
        [_piece(piece) for piece in pattern.pieces],
        sorted([each.item, each.count, _micrometres(each.length)] for each in pattern.hardware),
        _finished(pattern.finished),
    ]
    digest = hashlib.sha256(json.dumps(said, separators=(",", ":")).encode()).digest()
    return urlsafe_b64encode(digest[:_DIGEST_BYTES]).rstrip(b"=").decode()


def figures_of(pattern: Pattern) -> Figures:
    """The figures of a pattern that say the most to a person."""
    found: dict[Path, int] = {}
    holes = [each.length for each in pattern.finished.holes]
    _note(found, ("finished",), FINISHED, (pattern.finished.length, *holes[:1], *holes[-1:]))
    for piece in pattern.pieces:
        _note(found, ("pieces", piece.name), PIECE, (piece.length, piece.width, piece.thickness))
        for purpose, row in _rows(piece.features).items():
            places = [each.x for each in row]
            values = (len(row), _size(row[0]), *places[:1], *places[1:][-1:])
            _note(found, ("pieces", piece.name, purpose), ROW, values)
    for each in pattern.hardware:
        path = ("hardware", each.item)
        count, length = found.get((*path, "count"), 0), found.get((*path, "length"), 0) * 1000
        own = () if each.length is None else (length + each.length,)
        _note(found, path, ITEM, (count + each.count, *own))
    return found


def moved(before: Figures, after: Figures) -> tuple[Moved, ...]:
    """Every figure that is not in both, or not the same in both."""
    paths = dict.fromkeys((*before, *after))
    found = (Moved(path=path, before=_told(before, path), after=_told(after, path)) for path in paths)
    return tuple(each for each in found if each.before != each.after)


def _told(figures: Figures, path: Path) -> int | None:
    value = figures.get(path)
    return value if value is None or path[-1] == "count" else value * 1000


def _note(found: dict[Path, int], path: Path, names: Iterable[str], values: Iterable[int]) -> None:
    """Write down as many values as there are, lengths in micrometres."""
    for name, value in zip(names, values, strict=False):
        found[(*path, name)] = value if name == "count" else _micrometres(value)


def _rows(features: Iterable[Feature]) -> dict[str, list[Feature]]:
    found: dict[str, list[Feature]] = {}
    for feature in features:
        found.setdefault(feature.purpose, []).append(feature)
    return found


def _size(feature: Feature) -> Nm:
    return feature.long


@lru_cache(maxsize=16_384)
def _micrometres(length: Nm | None) -> int:
    """Half away from zero, as answers round; nothing is 0."""
    size = (abs(length or 0) + 500) // 1000
    return -size if length and length < 0 else size


def _piece(piece: Piece) -> list[Any]:
    """Linings carried whatever was set before there were others: only one that covers says what it is for."""
    purpose = [piece.purpose] if piece.purpose == "cover" else []
    return [
        piece.name,
        piece.leather.id,
        *map(_micrometres, (piece.length, piece.width, piece.thickness, piece.skived)),
        path_data(piece.outline),
        sorted(map(_feature, piece.features)),
        [_stitch_line(line) for line in piece.stitch_lines],
        *purpose,
        *([piece.count] if piece.count > 1 else []),
        *(["loose"] if piece.is_loose else []),
        *(_edging(piece.edging) if piece.edging and piece.name != "edging" else []),
        *([[_micrometres(lap.start), _micrometres(lap.end)] for lap in piece.splices]),
        *([_micrometres(piece.lap)] if piece.lap else []),
    ]


def _edging(at: EdgingAt) -> list[Any]:
    return ["edging", at.lies, *map(_micrometres, (at.start, at.end, at.reach, at.hold))]


def _feature(feature: Feature) -> list[Any]:
    lengths = (feature.x, feature.y, feature.diameter, feature.length, feature.width, feature.footprint)
    what = [feature.purpose, feature.kind, feature.action, feature.item or "", feature.angle]
    return [*what, *map(_micrometres, lengths)]


def _stitch_line(line: StitchLine) -> list[Any]:
    return [line.purpose, line.closed, line.stitches, chain_data(line.points, closed=line.closed)]


def _finished(finished: Finished) -> list[Any]:
    lengths = (finished.length, finished.from_fold, finished.from_bar, finished.from_frame)
    datum = "fold" if finished.measured_from == "ends" else finished.measured_from  # as the seals that are out say it
    return [datum, *map(_micrometres, lengths), [_micrometres(each.length) for each in finished.holes]]
