"""A day's work: everything to make several straps at one bench."""

from typing import Annotated, NotRequired, TypedDict

from service.schemas.answers.cut_plan import CutPlanDocument
from service.schemas.answers.materials import MaterialsDocument
from service.schemas.answers.members import (
    Count,
    Millimetres,
    Number,
    Reading,
    Sealed,
    StrapOfOrderDocument,
    TermsDocument,
)
from service.schemas.answers.pattern import PatternDocument
from service.workshop.bench.step import Op

StrapNumber = Annotated[int, "The number of a distinct strap of this order."]


class _OfOrder(TypedDict):
    ref: str


class ShareDocument(_OfOrder, StrapOfOrderDocument):
    """So many of a strap for one line, and what they are called at the bench."""

    tag: Annotated[str, "`ref`, and what tells the strap from the others of its line."]
    quantity: Count
    sealed: Sealed


class JobDocument(TypedDict):
    """One distinct strap: whose it is, and everything that one of it needs.

    Straps of several lines that are cut, punched and set alike are one.
    """

    number: StrapNumber
    quantity: Annotated[Count, "How many are made, for all lines."]
    of: list[ShareDocument]
    pattern: PatternDocument


class LaidOutDocument(TypedDict):
    """So many for all of one strap."""

    strap: StrapNumber
    count: Count


class GoodsToLayOutDocument(TypedDict):
    """One item, or lace or thread of one length, over all straps."""

    item: str
    kind: str
    count: Count
    length_mm: NotRequired[Millimetres]
    length: NotRequired[Reading]
    of: list[LaidOutDocument]


class TaskPartDocument(TypedDict):
    """What is done to one strap: to all of it that are made."""

    strap: StrapNumber
    times: Annotated[Count, "How many of it are made."]
    steps: Annotated[list[Count], "The numbers of these steps in the strap's own `steps`."]
    sentences: Annotated[list[str], "What is done in each of them."]


class TaskToolDocument(TypedDict, total=False):
    """Of a task with a tool."""

    tool: Annotated[str, "As in the steps of a strap."]


class _TaskBegins(TypedDict):
    n: Count
    op: Op


class TaskDocument(_TaskBegins, TaskToolDocument):
    """One thing to do to several straps, with one tool as it is set.

    A tool comes again only where some strap needs it again after something else; every step of every strap is in one
    task, and the tasks keep the order of each strap's own steps.
    """

    do: Annotated[str, "What is done to all of them, as a sentence."]
    parts: list[TaskPartDocument]
    after: Annotated[list[Count], "The numbers of the tasks that have to be done before it."]


class OperationDocument(TypedDict):
    """One operation that is paid for, each of its tools set up once."""

    operation: str
    tools: Annotated[Count, "How many tools are set up."]
    count: Annotated[Number, "How many things are done, or metres."]
    unit: str
    minutes: Number


class FitDocument(TypedDict):
    """What a strap fits at one hole or stud."""

    hole: Count
    fits_mm: Millimetres
    fits: Reading


class TagDocument(_OfOrder, StrapOfOrderDocument):
    """What goes with a strap to who uses it; as many are printed as there are straps."""

    tag: str
    number: StrapNumber
    quantity: Count
    made: Annotated[str, "What kind of strap it is."]
    size: Annotated[str, "What it fits, or how long it is."]
    holes: Annotated[list[FitDocument], "At which holes it can be worn, and what it fits there."]
    care: list[str]
    cautions: list[str]


class WorkOrderDocument(TypedDict):
    """A day's work: cut plan, one bench sheet for all, each distinct strap, goods, minutes and tags."""

    title: str
    shop: TermsDocument
    quantity: Annotated[Count, "How many straps are made."]
    straps: list[JobDocument]
    materials: Annotated[MaterialsDocument, "Of all straps together."]
    goods: list[GoodsToLayOutDocument]
    cut_plan: CutPlanDocument
    tasks: list[TaskDocument]
    operations: Annotated[list[OperationDocument], "Minutes of work; none where the shop has no prices."]
    minutes: Annotated[Number, "Of all operations together."]
    tags: list[TagDocument]
