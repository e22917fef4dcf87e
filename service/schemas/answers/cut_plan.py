"""How a batch is cut out of the leather in stock."""

from typing import Annotated, Literal, TypedDict

from service.schemas.answers.members import Area, Count, Millimetres, Reading, Share, StrapOfOrderDocument


class TallyDocument(TypedDict):
    """Hides and their whole area."""

    sheets: Count
    area_mm2: Area


class _OfOrder(TypedDict):
    ref: Annotated[str, "The order's ref."]


class _Wanted(_OfOrder, StrapOfOrderDocument):
    copy: Count
    piece: str


_CutFrom = TypedDict(
    "_CutFrom",
    {
        "from_mm": Millimetres,
        "from": Reading,
        "to_mm": Millimetres,
        "to": Reading,
        "length_mm": Millimetres,
        "length": Reading,
    },
)


class CutPieceDocument(_Wanted, _CutFrom):
    """A piece, along its strip."""


_StripFrom = TypedDict(
    "_StripFrom",
    {
        "n": Count,
        "width_mm": Millimetres,
        "width": Reading,
        "from_mm": Millimetres,
        "from": Reading,
    },
)


class StripDocument(_StripFrom):
    """A strip; `from` is its place across the hide, `n` its number in working order."""

    pieces: list[CutPieceDocument]


class OffcutDocument(TypedDict):
    """What is left and worth keeping: the rest of the hide's width, or of a strip."""

    of: Literal["hide", "strip"]
    width_mm: Millimetres
    width: Reading
    length_mm: Millimetres
    length: Reading
    across_mm: Millimetres
    across: Reading
    along_mm: Millimetres
    along: Reading


class _Sheet(TypedDict):
    stock: str
    n: Count
    leather: str
    length_mm: Millimetres
    length: Reading
    width_mm: Millimetres
    width: Reading
    straighten_mm: Millimetres
    straighten: Reading
    end_trim_mm: Millimetres
    end_trim: Reading
    strips: list[StripDocument]
    offcuts: list[OffcutDocument]


_SheetYield = TypedDict("_SheetYield", {"yield": Annotated[Share, "Share of the hide that becomes pieces."]})


class SheetDocument(_Sheet, _SheetYield):
    """The `n`th hide of a stock."""


class MissingDocument(_Wanted):
    """A piece that the stock does not hold."""

    leather: str
    width_mm: Millimetres
    width: Reading
    length_mm: Millimetres
    length: Reading
    why: Literal["stock_used_up", "fits_no_sheet"]


class _MoreOf(TypedDict):
    leather: str


class MoreStockDocument(TypedDict, total=False):
    """Of more hides of a stock."""

    stock: Annotated[str, "A stock of that size; else it is the size the shop buys."]


class MoreDocument(_MoreOf, MoreStockDocument):
    """So many more hides would hold what is missing; `at_least` as many by any plan."""

    length_mm: Millimetres
    length: Reading
    width_mm: Millimetres
    width: Reading
    count: Count
    at_least: Count


_LeatherPlanYield = TypedDict(
    "_LeatherPlanYield",
    {
        "leather": str,
        "used": TallyDocument,
        "lower_bound": TallyDocument,
        "proven": bool,
        "settings": Count,
        "pieces_mm2": Area,
        "offcuts_mm2": Area,
        "yield": Share,
    },
)


class LeatherPlanDocument(_LeatherPlanYield):
    """The same by leather."""


class CutStepDocument(TypedDict):
    """One thing to do and tick off."""

    n: Count
    stock: str
    sheet: Count
    do: str


class CutPlanDocument(TypedDict):
    """How a batch is cut: strips of one width the long way of a hide, then pieces out of strips."""

    sheets: list[SheetDocument]
    used: TallyDocument
    lower_bound: Annotated[TallyDocument, "What no plan of the pieces that are placed is below."]
    proven: Annotated[bool, "Whether no plan needs less leather."]
    cut_short: Annotated[bool, "Whether time ended the search; else equal requests give equal plans."]
    settings: Annotated[Count, "How often the strap cutter is set."]
    missing: list[MissingDocument]
    more: list[MoreDocument]
    leathers: list[LeatherPlanDocument]
    steps: list[CutStepDocument]
