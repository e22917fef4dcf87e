"""The patterns of all straps at true size, their parts side by side on as few pages as hold them."""

from collections.abc import Iterator, Mapping, Sequence

from service.drawing.printed.document import SheetPages
from service.drawing.printed.flow import Block, Heading, Prose
from service.drawing.printed.pages import (
    SIZES,
    Cut,
    Owner,
    Stack,
    Tools,
    by_sheet,
    cuts_of,
    numbered,
    pages_of,
    planned_parts,
    stacked,
)
from service.drawing.printed.paper import PaperName
from service.drawing.printed.plan import key, plan
from service.drawing.work_order.sheet import mark_of
from service.shop.shop import Shop
from service.words import say
from service.workshop.day.batch import Job


class Patterns:
    """The patterns of these jobs on one paper. Raises `PaperTooSmall`."""

    def __init__(self, jobs: Sequence[Job], tools: Mapping[int, Tools], paper: PaperName, shop: Shop) -> None:
        self._jobs = jobs
        self._tools = tools
        self._cuts: dict[int, tuple[Cut, ...]] = {}
        for job in jobs:
            owner, units = Owner(str(job.number), mark_of(job)), job.pattern.spec.units
            self._cuts[job.number] = cuts_of(job.pattern, paper, shop.paper, None, units, tools[job.number], owner)
        every = [cut for cuts in self._cuts.values() for cut in cuts]
        self._stacks: tuple[Stack, ...] = tuple(stacked(sheet, blocks) for sheet, blocks in by_sheet(every))
        self._numbers = {block.part.name: number for number, _, _, block in numbered(self._stacks) if block}

    @property
    def count(self) -> int:
        """How many pages they take."""
        return sum(stack.count for stack in self._stacks)

    def pages(self) -> SheetPages:
        """Every page, without what stands on each."""
        return pages_of(self._stacks)

    def pages_of_jobs(self, begun: int) -> dict[int, tuple[int, ...]]:
        """The pages that each job's parts are on, by its number, where so many pages go before."""
        return {
            number: tuple(sorted({begun + self._numbers[block.part.name] for cut in cuts for block in cut.blocks}))
            for number, cuts in self._cuts.items()
        }

    def plans(self, begun: int, width: float) -> Iterator[Block]:
        """How the parts of each strap go together, where it has pieces in several, and the key to lines and tools."""
        numbers = {name: begun + number for name, number in self._numbers.items()}
        for job in self._jobs:
            cuts = self._cuts[job.number]
            if any(len(cut.blocks) > 1 for cut in cuts):
                yield Heading(say("How the pages of strap {mark} go together", mark=mark_of(job)))
                yield plan(planned_parts(cuts, numbers), width, SIZES)
        pieces = [cut.piece for cuts in self._cuts.values() for cut in cuts]
        titles = dict(pair for tools in self._tools.values() for pair in tools.titles)
        yield Prose("")
        yield key(pieces, sorted(titles.items()), width, SIZES)
