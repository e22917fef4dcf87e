"""Groups of equal features of one piece: each gets a letter, its tool and what it is for."""

from dataclasses import dataclass
from itertools import pairwise

from service.drawing import words
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Feature, Piece
from service.strap.plane.lengths import reading
from service.words import say, say_list

_RULER_SLACK = 2_000
"""Nanometres: steps that differ by less are one step (each place is rounded on its own)."""


@dataclass(frozen=True, slots=True)
class Callout:
    """Equal features of one piece, in order along it. `tag` is the letter that the rulers repeat."""

    tag: str
    features: tuple[Feature, ...]

    @property
    def sample(self) -> Feature:
        """One of them: they differ in nothing but where they are."""
        return self.features[0]


@dataclass(frozen=True, slots=True)
class EvenRow:
    """Places at equal steps: `count` of them from `first` to `last`."""

    first: int
    last: int
    count: int

    @property
    def step(self) -> int:
        """From one to the next, to the nearest nanometre."""
        return round((self.last - self.first) / (self.count - 1))

    def text(self, units: Units) -> str:
        """`21 × 1 in (= 21 in)`, the way ISO 129-1 writes equal steps."""
        whole = reading(self.last - self.first, units)
        return f"{self.count - 1} × {reading(self.step, units)} (= {whole})"


def callouts(piece: Piece) -> tuple[Callout, ...]:
    """The piece's features grouped by tool, size and purpose; lettered in the order of their first place."""
    groups: dict[tuple[object, ...], list[Feature]] = {}
    for feature in sorted(piece.features, key=lambda each: (each.x, each.y, each.id)):
        groups.setdefault(_likeness(feature), []).append(feature)
    return tuple(Callout(letters(index), tuple(features)) for index, features in enumerate(groups.values()))


def _likeness(feature: Feature) -> tuple[object, ...]:
    return (
        feature.kind, feature.action, feature.purpose, feature.diameter, feature.length, feature.width,
        feature.angle, feature.method, feature.tool, feature.item,
    )  # fmt: skip


def letters(index: int) -> str:
    """A, B, … Z, AA, AB, …: without I and O, which are read as figures."""
    alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    text = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, len(alphabet))
        text = alphabet[rest] + text
    return text


def even_row(places: list[int]) -> EvenRow | None:
    """The row, if there are three ascending places or more and all steps are equal within 2 µm."""
    if len(places) < 3:
        return None
    row = EvenRow(places[0], places[-1], len(places))
    steps = (after - before for before, after in pairwise(places))
    return row if all(abs(step - row.step) <= _RULER_SLACK for step in steps) else None


def what(callout: Callout, shop: Shop, units: Units) -> str:
    """How many, and the tool: `6 × slot punch 5/8 in`."""
    sample = callout.sample
    return f"{len(callout.features)} × {_tool(sample, shop, units)}"


def _tool(sample: Feature, shop: Shop, units: Units) -> str:
    if sample.action == "fold":
        return "fold"
    if sample.action == "mark":
        return say("scribe only, never cut")
    title = words.punch_title(shop, sample.tool)
    if sample.kind == "hole":
        return title or say("hole {diameter}", diameter=reading(sample.diameter or 0, units))
    size = f"{reading(sample.length or 0, units)} × {reading(sample.width or 0, units)}"
    if sample.method == "holes_and_cuts":
        return say("slot {size}: two holes, {title}, and two knife cuts", size=size, title=title or say("round punch"))
    return title or say("slot {size}", size=size)


def why(callout: Callout, shop: Shop) -> str:
    """What the features are for, the item that goes there, how a slot lies and which piece they meet."""
    sample = callout.sample
    parts = [say(words.PURPOSES[sample.purpose])]
    if sample.item:
        parts.append(words.item_title(shop, sample.item))
    if sample.kind == "slot" and sample.angle in (0, 90):
        parts.append("along" if sample.angle == 0 else "across")
    return ", ".join(parts)


def row_detail(callout: Callout, piece: Piece, units: Units) -> str | None:
    """For rows along the edges: how far inside, first place, step and count. `None` for anything else."""
    rows = rows_of(callout)
    if callout.sample.purpose != "border" or not rows:
        return None
    insets = sorted({piece.outline.root_half - abs(y) for y in rows})
    edges = say("each edge") if len(rows) == 2 else say("the edge")
    edges = say("the roots of {edges}", edges=edges) if piece.outline.cut else edges
    inside = say_list(reading(inset, units) for inset in insets)
    places = next(iter(rows.values()))
    row = even_row(places)
    if row is None or any(other != places for other in rows.values()):
        return say("{inside} inside {edges}", inside=inside, edges=edges)
    return say(
        "{inside} inside {edges}: first at {first}, then {text}",
        inside=inside,
        edges=edges,
        first=reading(row.first, units),
        text=row.text(units),
    )


def rows_of(callout: Callout) -> dict[int, list[int]]:
    """Places along the piece, in order, by distance across it."""
    rows: dict[int, list[int]] = {}
    for feature in callout.features:
        rows.setdefault(feature.row_y, []).append(feature.x)
    return rows
