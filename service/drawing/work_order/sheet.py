"""The bench sheet of a day: each task with its tool and number, and below it a box for every strap."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from service.drawing import lines, palette
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.model import Item, LineTo, MoveTo, Path, Text
from service.drawing.parts.callouts import letters
from service.drawing.parts.wrap import wrap
from service.drawing.printed.boxes import Entry, entries_strips
from service.drawing.printed.flow import Block, Heading, Prose, Strip
from service.drawing.printed.pages import Tools
from service.drawing.printed.stations_text import station_lines
from service.drawing.sizes import Sizes
from service.shop.shop import Shop
from service.words import say
from service.workshop.bench.step import Step
from service.workshop.day.batch import Job
from service.workshop.day.merging import Part, Task
from service.workshop.day.task_words import TaskWords
from service.workshop.names import tool_title

_RULE = lines.pen("continuous", lines.WIDE, palette.BLACK)
_ORDERED = ("punch", "mark")


@dataclass(frozen=True, slots=True)
class TaskBlock:
    """One task: its head over a row for each strap, or several in a row where they are short."""

    number: str
    tool: str
    head: str
    entries: tuple[Entry, ...]

    def strips(self, width: float, sizes: Sizes) -> Iterator[Strip]:
        """The head stays with the first row, and comes again on a new page."""
        yield replace(self._head(width, sizes, self.head), keep=True)
        again = self._head(width, sizes, say("{head} Continued.", head=self.head))
        yield from entries_strips(self.entries, width, sizes, again)
        yield Strip((), 1.2)

    def _head(self, width: float, sizes: Sizes, told: str) -> Strip:
        em, indent = sizes.em * 1.08, 8.0
        tool_wide = text_width(self.tool, sizes.em) + 4.0 if self.tool else 0.0
        told_lines = wrap(told, width - indent - tool_wide, em, "bold")
        base = 1.1 + CAP_HEIGHT * em + 0.5 * em
        items: list[Item] = [Path((MoveTo(0.0, 0.6), LineTo(width, 0.6)), _RULE)]
        items.append(Text(0.0, base, self.number, em, weight="bold", colour=palette.INK))
        items += [
            Text(indent, base + n * sizes.line, line, em, weight="bold", colour=palette.INK)
            for n, line in enumerate(told_lines)
        ]
        items.append(Text(width, base, self.tool, sizes.em, "end", colour=palette.INK))
        return Strip(tuple(items), base + (len(told_lines) - 1) * sizes.line + 0.8 * em)


def tools_of_day(jobs: Sequence[Job], tasks: Sequence[Task], shop: Shop) -> Mapping[int, Tools]:
    """For each job the letters of its punches: one letter for each tool over all jobs, as they are picked up."""
    letter_of: dict[str, str] = {}
    found: dict[int, dict[str, str]] = {}
    titles: dict[int, dict[str, str]] = {}
    for task in tasks:
        if task.setting.op != "punch":
            continue
        letter = letter_of.setdefault(task.setting.tool, letters(len(letter_of)).lower())
        for part in task.parts:
            ids = (each for step in part.steps for each in step.features)
            found.setdefault(part.job.number, {}).update(dict.fromkeys(ids, letter))
            titles.setdefault(part.job.number, {})[letter] = tool_title(task.setting.tool, shop)
    for job in jobs:
        folds = (each.id for piece in job.pattern.pieces for each in piece.features if each.action == "fold")
        found.setdefault(job.number, {}).update(dict.fromkeys(folds, "fold"))
    return {job.number: Tools(found[job.number], tuple(sorted(titles.get(job.number, {}).items()))) for job in jobs}


def sheet_blocks(
    jobs: Sequence[Job], tasks: Sequence[Task], tools: Mapping[int, Tools], told: TaskWords, shop: Shop
) -> Iterator[Block]:
    """Every task of the day in order."""
    yield Heading(say("Bench sheet for all straps"))
    yield Prose(
        say(
            "One tool after the other, each over all straps, in an order that suits every strap. The bold number is a "
            "strap's, as on the cover and the patterns; what stands behind it is done to each of so many. Places are "
            "read along the centre line from each piece's 0, its first end, every piece with its grain side up. Prick "
            "each through the pattern, or by a ruler, before it is punched. Small letters are those of the patterns."
        )
    )
    cautions = dict.fromkeys(text for job in jobs for text in job.cautions.at_the_bench)
    yield from (Prose(text, sign="•") for text in cautions)
    for task in tasks:
        yield _block(task, tools, told, shop)


def _block(task: Task, tools: Mapping[int, Tools], told: TaskWords, shop: Shop) -> TaskBlock:
    tool = tool_title(task.setting.tool, shop) if task.setting.tool else ""
    if task.setting.op == "punch":
        letter = tools[task.parts[0].job.number].letter_of[task.sample.features[0]]
        tool = f"{letter}  {tool}"
    entries = tuple(_entry(part, told, shop) for part in task.parts)
    return TaskBlock(str(task.n), tool, told.head(task), entries)


def _entry(part: Part, told: TaskWords, shop: Shop) -> Entry:
    if part.steps[0].op in _ORDERED:
        return Entry(mark_of(part.job), tuple(_stations(part.job, part.steps, shop)))
    return Entry(mark_of(part.job), told.lines(part))


def mark_of(job: Job) -> str:
    """What stands beside a strap's box: its number, and whose it is."""
    return f"{job.number}  {job.tags}"


def _stations(job: Job, steps: Iterable[Step], shop: Shop) -> Iterator[str]:
    lettered = [(f"{job.number}{letters(n)}", piece) for n, piece in enumerate(job.pattern.pieces)]
    for step in steps:
        through = say("through both plies, ") if step.plies else ""
        for line in station_lines(lettered, step.features, shop, job.pattern.spec.units):
            yield through + line
