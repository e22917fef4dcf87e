"""A document of pages: what goes to a printer. Millimetres, y downwards, as in a drawing."""

from dataclasses import dataclass
from typing import Literal

from service.drawing.model import Group, Item
from service.drawing.parts.panel import Box
from service.drawing.printed.paper import Sheet
from service.strap.errors import StrapError
from service.strap.model.pattern import PieceName
from service.words import say

BenchSheet = Literal["true", "false", "only"]
"""Whether the bench sheet follows the pattern, is left out, or comes alone."""


class TooManyPages(StrapError, ValueError):
    """A document of more pages than are made."""

    def __init__(self, found: int, most: int) -> None:
        super().__init__(
            say(
                "the document would have {found} pages, at most {most} are made: a larger paper needs fewer",
                found=found,
                most=most,
            )
        )
        self.found = found
        self.most = most


@dataclass(frozen=True, slots=True)
class Window:
    """Items with their origin at (`x`, `y`) of the page, of which only what lies in `box` is shown."""

    box: Box
    items: tuple[Item, ...]
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a piece on one page. `number` counts from 1; `left` and `right` are x in the piece's frame.

    `begins` and `ends` are the joints to the parts before and after it; `None` at the piece's own ends.
    """

    piece: PieceName
    letter: str
    number: int
    count: int
    left: float
    right: float
    begins: float | None
    ends: float | None

    @property
    def name(self) -> str:
        """`B 2/4`; the letter alone where the piece is whole on its page."""
        return self.letter if self.count == 1 else f"{self.letter} {self.number}/{self.count}"

    @property
    def joint_before(self) -> str:
        """The name of the joint to the part before: no other joint of the pattern has it."""
        return f"X{self.letter}{self.number - 1}"

    @property
    def joint_after(self) -> str:
        """The name of the joint to the part after."""
        return f"X{self.letter}{self.number}"


@dataclass(frozen=True, slots=True)
class Placed:
    """A part whose piece has its origin at (`x`, `y`) of the page."""

    part: Part
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Page:
    """One page. Windows are drawn before the items, which nothing clips; `parts` says what it shows."""

    width: float
    height: float
    title: str
    windows: tuple[Window, ...]
    items: tuple[Item, ...]
    parts: tuple[Placed, ...] = ()


SheetPages = tuple[tuple[Sheet, Page], ...]
"""Pages with the paper that each is printed on."""


def inner_page(sheet: Sheet, title: str, items: tuple[Item, ...]) -> Page:
    """A page with its items where the sheet has room for them, from the upper left corner."""
    return Page(sheet.width, sheet.height, title, (), (Group(items, sheet.inner.left, sheet.inner.top),))


@dataclass(frozen=True, slots=True)
class Document:
    """Pages with what a reader of documents wants to know of them."""

    title: str
    description: str
    language: str
    pages: tuple[Page, ...]
