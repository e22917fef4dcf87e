"""Where things go along a piece, in words that a person follows with a ruler."""

from collections.abc import Iterable, Iterator, Sequence

from service.drawing import words
from service.drawing.parts.callouts import Callout, callouts, even_row, rows_of
from service.shop.shop import Shop, Units
from service.strap.model.pattern import Feature, Piece
from service.strap.plane.lengths import reading
from service.words import say
from service.workshop.names import inside_edge, purpose_title

_LISTED = 16
"""More places than this are told by first, step and last, where every one of them is exact."""


def station_lines(pieces: Iterable[tuple[str, Piece]], ids: Iterable[str], shop: Shop, units: Units) -> Iterator[str]:
    """One sentence for each group of equal features among `ids`, piece by piece; `pieces` are lettered.

    Stations count from the piece's buckle end (the end at the origin of its frame).
    """
    wanted = frozenset(ids)
    for letter, piece in pieces:
        for group in callouts(piece):
            if group.sample.id in wanted:
                yield _sentence(letter, piece, group, shop, units)


def _sentence(letter: str, piece: Piece, group: Callout, shop: Shop, units: Units) -> str:
    what = f"{len(group.features)} × {_what(group.sample, shop, units)}"
    rows = "; ".join(_rows(piece, group, units))
    return f"{letter} {words.PIECES[piece.name]}, {what}: {rows}"


def _what(sample: Feature, shop: Shop, units: Units) -> str:
    item = f" ({words.item_title(shop, sample.item)})" if sample.item else ""
    told = purpose_title(sample.purpose) + item
    if sample.kind != "slot":
        return told
    length, width = sample.length or 0, sample.width or 0
    lies = {0: "along", 90: "across"}.get(sample.angle, say("turned by {angle}°", angle=sample.angle))
    slot = say(
        "{told}, slot {length} × {width} {lies}",
        told=told,
        length=reading(length, units),
        width=reading(width, units),
        lies=lies,
    )
    if sample.method == "one_punch":
        return slot
    return say(
        "{slot}, holes {beside} to either side of the station", slot=slot, beside=reading((length - width) // 2, units)
    )


def _rows(piece: Piece, group: Callout, units: Units) -> Iterator[str]:
    """The places of each row; rows that mirror one another are told once."""
    rows = rows_of(group)
    for y, places in rows.items():
        if y == 0:
            yield say("on the centre line at {places_text}", places_text=places_text(places, units))
        elif rows.get(-y) != places:
            edge = "upper" if y < 0 else "lower"
            inside = inside_edge(piece, _inset(piece, y), units, say("the {side} edge", side=edge))
            yield say("{inside} at {places_text}", inside=inside, places_text=places_text(places, units))
        elif y < 0:
            inside = inside_edge(piece, _inset(piece, y), units, say("each edge"))
            yield say("{inside} at {places_text}", inside=inside, places_text=places_text(places, units))


def _inset(piece: Piece, y: int) -> int:
    return piece.outline.root_half - abs(y)


def places_text(places: Sequence[int], units: Units) -> str:
    """`3/4, 1 3/4 in`; a long row of equal exact steps as `1 in, then every 1 in to 21 in`."""
    row = even_row(list(places)) if len(places) > _LISTED else None
    if row is not None:
        first, step, last = (reading(each, units) for each in (row.first, row.step, row.last))
        if "≈" not in first + step + last:
            return say(
                "{first}, then every {step} to {last} ({count} places)",
                first=first,
                step=step,
                last=last,
                count=row.count,
            )
    return ", ".join(reading(place, units).removesuffix(f" {units}") for place in places) + f" {units}"
