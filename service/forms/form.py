"""What a form of output is, what may be asked of one, and what it is made of."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, Protocol

from service.drawing.model import Drawing
from service.drawing.printed.document import BenchSheet, Document
from service.drawing.printed.paper import PaperName
from service.shop.goods import Nm
from service.shop.shop import Units

View = Literal["pattern", "finished", "cutter", "worn"]
Cost = Literal["small", "large"]
"""Of making one answer. A large one takes its turn among large ones, so that small ones need not wait for it."""
Place = Literal["print", "pattern", "picture", "data"]
"""Where a page offers a file to take away, in this order."""


class Subject(Protocol):
    """What is encoded: a pattern or a cut plan. Each of these is made when it is asked for, and only then."""

    def data(self) -> Mapping[str, Any]:
        """Everything that is known of it, as JSON data."""

    def drawing(self) -> Drawing:
        """The wanted view as one drawing."""

    def pages(self) -> Document:
        """It, on paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """The most that one drawing may take."""

    pixels: int
    """Of a raster picture, width times height."""
    pages: int
    """Of a document."""


@dataclass(frozen=True, slots=True)
class DownloadOffer:
    """A file that a page offers: its title, and what stands in the query beside the choices."""

    place: Place
    title: str
    query: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Form:
    """A form of output. There is one object of each, and its name is all that is shown of it."""

    name: str
    """Also its suffix, behind a dot."""
    title: str = field(repr=False)
    media_type: str = field(repr=False)
    is_text: bool = field(repr=False, default=False)
    views: tuple[View, ...] = field(repr=False, default=())
    """Those that it comes in, the one first that is meant where none is named; none where it is no drawing."""
    parameters: frozenset[str] = field(repr=False)
    """The query parameters that have a meaning for it."""
    of_posted: frozenset[str] = field(repr=False, default=frozenset())
    """Further ones, of a strap that is posted."""
    refusals: tuple[str, ...] = field(repr=False, default=())
    """Codes of the problems that it can have with a pattern or a plan that is made."""
    headers: Mapping[str, str] = field(repr=False, default_factory=dict)
    """What a browser has to be told before it shows one."""
    libraries: tuple[str, ...] = field(repr=False, default=())
    """Those whose version shows in its bytes, each with it."""
    downloads: tuple[DownloadOffer, ...] = field(repr=False, default=())
    cost: "Callable[[OutputOptions], Cost]" = field(repr=False)
    encode: "Callable[[Subject, OutputOptions, Budget], bytes]" = field(repr=False)
    """The same subject and options give the same bytes. Raises what `refusals` name."""

    @property
    def takes(self) -> frozenset[str]:
        """Every query parameter that may have a meaning for it."""
        return self.parameters | self.of_posted

    @property
    def suffix(self) -> str:
        """What a URL of this form ends in."""
        return f".{self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class OutputOptions:
    """How an answer is made. `units` are those of readings; at most one of `dpi` and `width_px` is given.

    `height_px` (with `width_px`) frames the finished look. Its `background` is `rrggbb`, `transparent` or, where
    nothing is said, the shop's. `paper` and `sheet` are those of a printed pattern; the `kerf` of the cutter's
    drawing is in nanometres.
    """

    form: Form
    view: View = "pattern"
    units: Units | None = None
    piece: str | None = None
    dpi: int | None = None
    width_px: int | None = None
    height_px: int | None = None
    background: str | None = None
    paper: PaperName = "a4"
    sheet: BenchSheet = "true"
    kerf: Nm = 0
    hole: int | None = None
    """At which the worn view is closed; the nominal one where nothing is said."""
    vary: tuple[str, ...] = ()
    """What is turned, to be seen before and after."""
    price: bool = False
    """Whether prices are told of what is turned."""


def always(cost: Cost) -> Callable[[OutputOptions], Cost]:
    """The cost of a form that costs the same whatever its options are."""
    return lambda _: cost
