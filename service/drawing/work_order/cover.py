"""The cover of a work order: what is made of what for whom, with a picture of each distinct strap."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from service.drawing import lines, palette
from service.drawing.finished.view import finished_view
from service.drawing.font import CAP_HEIGHT
from service.drawing.model import Drawing, Group, Item, LineTo, MoveTo, Path, Text, Weight
from service.drawing.parts.wrap import wrap
from service.drawing.printed.boxes import BESIDE, SIDE, box
from service.drawing.printed.flow import Block, Heading, Prose, Strip
from service.drawing.sizes import Sizes
from service.shop.shop import Shop
from service.words import say, say_count, say_list
from service.workshop.day.batch import Job
from service.workshop.day.task_words import how_many, size_words

_RULE = lines.pen("continuous", 0.13, palette.BLACK)
_PICTURE_SHARE = 0.52
_HIGHEST = 24.0
_NUMBER_WIDE = 10.0
_GAP = 4.0


@dataclass(frozen=True, slots=True)
class Row:
    """A strap on the cover: a box, its number, its picture and what is told of it."""

    number: int
    picture: Drawing
    title: str
    told: tuple[str, ...]

    def strips(self, width: float, sizes: Sizes) -> Iterator[Strip]:
        """One strip."""
        em, left = sizes.em, BESIDE + _NUMBER_WIDE
        room = width * _PICTURE_SHARE - left
        scale = min(room / self.picture.width, _HIGHEST / self.picture.height)
        beside = width * _PICTURE_SHARE + _GAP
        titles = wrap(self.title, width - beside, em, "bold")
        told = [line for part in self.told for line in wrap(part, width - beside, em)]
        tall = (len(titles) + len(told)) * sizes.line + 0.3 * em
        height = max(tall, self.picture.height * scale, SIDE) + 2.0
        middle = height / 2
        pictured = tuple(item for layer in self.picture.layers for item in layer.items)
        items: list[Item] = [
            box(0.0, middle - SIDE / 2),
            Text(BESIDE, middle + CAP_HEIGHT * em * 0.8, str(self.number), em * 1.6, weight="bold", colour=palette.INK),
            Group(pictured, left, middle - self.picture.height * scale / 2, scale=scale),
        ]
        y = middle - tall / 2 + CAP_HEIGHT * em + 0.3 * em
        for n, line in enumerate((*titles, *told)):
            weight: Weight = "bold" if n < len(titles) else "regular"
            items.append(Text(beside, y + n * sizes.line, line, em, weight=weight, colour=palette.INK))
        items.append(Path((MoveTo(0.0, height + 0.6), LineTo(width, height + 0.6)), _RULE))
        yield Strip(tuple(items), height + 1.6)


def pictures_of(jobs: Sequence[Job], shop: Shop) -> dict[int, Drawing]:
    """How each strap will look, by its number."""
    return {job.number: finished_view(job.pattern, shop, units=job.pattern.spec.units, background=None) for job in jobs}


def cover_blocks(
    title: str, jobs: Sequence[Job], contents: str, pages: Mapping[int, Sequence[int]], pictures: Mapping[int, Drawing]
) -> Iterator[Block]:
    """The list of all straps. `pages` are those of each one's pattern, by its number."""
    yield Heading(title)
    yield Prose(_summary(jobs))
    yield Prose(contents)
    for job in jobs:
        yield Row(job.number, pictures[job.number], job.tags, tuple(_told(job, pages[job.number])))


def _summary(jobs: Sequence[Job]) -> str:
    straps = how_many(sum(job.quantity for job in jobs))
    different = say_count("one pattern", "{count} patterns", len(jobs))
    return say(
        "{straps} by {different}. Tick a strap off when all of it that are wanted lie finished.",
        straps=straps,
        different=different,
    )


def _told(job: Job, pages: Sequence[int]) -> Iterator[str]:
    pattern = job.pattern
    yield job.made
    yield say("{quantity} to make, {size}", quantity=job.quantity, size=size_words(pattern))
    which = say_list(map(str, pages))
    on = say("page {which}", which=which) if len(pages) == 1 else say("pages {which}", which=which)
    yield say("{leather}; pattern on {on}", leather=pattern.pieces[0].leather.title, on=on)
