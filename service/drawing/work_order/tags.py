"""Tags to cut out and tie on: whose a strap is, what it fits at which hole, its care, what is to be minded."""

from collections.abc import Iterator, Sequence

from service.drawing import lines, palette
from service.drawing.font import CAP_HEIGHT
from service.drawing.model import Circle, Group, Item, Path, Text
from service.drawing.parts.check_bar import rectangle
from service.drawing.parts.panel import Panel
from service.drawing.parts.wrap import wrap
from service.drawing.printed.packing import pack
from service.drawing.sizes import Sizes
from service.shop.shop import Shop
from service.strap.plane.lengths import tape_reading
from service.words import say
from service.workshop.day.batch import Job, Share
from service.workshop.day.task_words import size_words

SIZES = Sizes(2.7)
MOST_COPIES = 120
"""Tags that are printed one for each strap; of more straps there is one for each order, to be copied."""
_EDGE = lines.pen("dashed", lines.NARROW, palette.GREY)
_HOLE = lines.pen("continuous", lines.NARROW, palette.GREY)
_PADDING, _EYE, _GAP = 3.0, 2.0, 3.0
_COLUMNS = 2


def tag_pages(jobs: Sequence[Job], shop: Shop, width: float, height: float) -> list[tuple[Item, ...]]:
    """Pages of tags with room for `width` × `height`, cut out along their dashed edges; the emptiest is the last."""
    wide = (width - (_COLUMNS - 1) * _GAP) / _COLUMNS
    many = sum(job.quantity for job in jobs) > MOST_COPIES
    panels = [panel for job in jobs for share in job.shares for panel in _tags(job, share, shop, wide, many=many)]
    spots = pack([(each.width, each.height) for each in panels], width, height, _GAP)
    count = 1 + max(spot.page for spot in spots)
    pages: list[list[Item]] = [[] for _ in range(count)]
    floors = [0.0] * count
    for panel, spot in zip(panels, spots, strict=True):
        pages[spot.page].append(Group(panel.items, spot.x, spot.y))
        floors[spot.page] = max(floors[spot.page], spot.y + panel.height)
    last = min(range(count), key=floors.__getitem__)
    return [tuple(page) for n, page in enumerate(pages) if n != last] + [tuple(pages[last])]


def _tags(job: Job, share: Share, shop: Shop, width: float, *, many: bool) -> Iterator[Panel]:
    """One for each strap; where there are very many, one of which as many copies are made."""
    if many:
        yield _tag(job, share, say("{count} of it", count=share.quantity), shop, width)
        return
    for copy in range(1, share.quantity + 1):
        yield _tag(job, share, f"{copy}/{share.quantity}" if share.quantity > 1 else "", shop, width)


def _tag(job: Job, share: Share, copy: str, shop: Shop, width: float) -> Panel:
    em, room = SIZES.em, width - 2 * _PADDING
    items: list[Item] = [Circle(width - _PADDING - _EYE, _PADDING + _EYE, _EYE, _HOLE)]
    y = _PADDING + CAP_HEIGHT * em * 1.6
    beside = room - 2 * _EYE - 2.0
    name, *more = wrap(f"{share.tag}  {copy}".rstrip(), beside, em * 1.6, "bold")
    items.append(Text(_PADDING, y, name, em * 1.6, weight="bold", colour=palette.INK))
    told = [(line, "bold") for line in more]
    made = say("{made}, {size}", made=share.title, size=size_words(share.pattern))
    told += [(line, "regular") for line in wrap(made, beside, em)]
    told += [(line, "bold") for line in _fits(share, room)]
    for number, text in enumerate((*shop.care, *job.cautions.in_use)):
        signed = wrap(text, room - 2.2, em * 0.94)
        told += [(("• " if n == 0 else "   ") + line, "small") for n, line in enumerate(signed)]
        if number + 1 == len(shop.care):
            told.append(("", "small"))
    for line, weight in told:
        y += SIZES.line * (0.94 if weight == "small" else 1.0) if line else 0.6 * em
        size = em * 0.94 if weight == "small" else em
        items.append(
            Text(_PADDING, y, line, size, weight="bold" if weight == "bold" else "regular", colour=palette.INK)
        )
    y += SIZES.line
    items.append(
        Text(
            _PADDING,
            y,
            say("{shop}, strap {number}", shop=shop.name, number=job.number),
            em * 0.94,
            colour=palette.GREY,
        )
    )
    height = y + _PADDING
    return Panel((Path(rectangle(0.0, 0.0, width, height), _EDGE), *items), width, height)


def _fits(share: Share, room: float) -> Iterator[str]:
    """What it fits at each hole or stud, tightest first."""
    holes, units = share.pattern.worn_at, share.pattern.spec.units
    if len(holes) < 2:
        return
    each = "stud {n}: {fits}" if share.pattern.is_snapped else "hole {n}: {fits}"
    told = "  ·  ".join(say(each, n=hole.hole, fits=tape_reading(hole.fits, units)) for hole in holes)
    yield from wrap(told, room, SIZES.em, "bold")
