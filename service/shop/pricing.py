"""What work and goods cost a shop, and how it makes a price of that. Money is in the shop's currency, as `Decimal`."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from decimal import Decimal
from typing import Literal

from service.shop.goods import Nm

Rounding = Literal["half_up", "half_even", "up"]
Shown = Literal["gross", "net"]
ConsumedPer = Literal["strap", "edge_m", "leather_m2", "rivet"]

CURRENCY_DECIMALS: Mapping[str, int] = {
    **dict.fromkeys(
        (
            "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND", "VUV", "XAF",
            "XOF", "XPF",
        ),
        0,
    ),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
    **dict.fromkeys(("CLF", "UYW"), 4),
}  # fmt: skip
"""Decimals of the currencies of ISO 4217 that do not have two (its list one; from memory)."""


def decimals_of(currency: str) -> int:
    """How many decimals a currency's amounts have."""
    return CURRENCY_DECIMALS.get(currency, 2)


@dataclass(frozen=True, slots=True)
class Margin:
    """Profit as a share of the price: price = cost / (1 - share)."""

    share: Decimal


@dataclass(frozen=True, slots=True)
class Markup:
    """Profit as a share of the cost: price = cost x (1 + share)."""

    share: Decimal


Profit = Margin | Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One kind of work: minutes to set up, once for each tool and batch, and minutes for each thing done."""

    setup: Decimal
    each: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Operations:
    """The kinds of work, by what is counted for each."""

    cut_strip: Operation
    """Each metre of strip; the tool is the strap cutter at one width in one leather."""
    cut_length: Operation
    """Each piece."""
    shape_end: Operation
    """Each end that is not square, and each taper."""
    punch: Operation
    """Each hole or slot that one blow of a punch makes, and each blow of an iron along an edge."""
    cut_slot: Operation
    """Each slot of two holes and two knife cuts, and each scallop or point of an edge that a knife cuts."""
    mark: Operation
    """Each scribed mark."""
    skive: Operation
    """Each piece thinned, and each ply of a fold where the shop thins folds."""
    finish_edge: Operation
    """Each metre of edge, bevelled, dyed and burnished, with the dressing of the leather."""
    set_bell: Operation
    """Each thing with a shank, pushed through its slot, whatever it looks like."""
    set_spot: Operation
    """Each thing with prongs, pressed through and clinched, whatever it looks like."""
    set_concho: Operation
    """Each thing with a screw post, screwed on, whatever it looks like."""
    lace: Operation
    """Each lace."""
    rivet: Operation
    """Each rivet; the tool is the setter for that rivet."""
    fold: Operation
    """Each end dampened and folded round a buckle or a ring, with what is slipped on before."""
    glue_lining: Operation
    """Each piece that is lined, and its lining trimmed."""
    stitch: Operation
    """Each stitch, its hole pricked; the tool is the iron of one pitch."""
    inspect: Operation
    """Each strap: measured, looked over and packed."""
    try_out: Operation | None = None
    """Each strap: punches and fixings tried on an offcut, the size in paper. Not charged where nothing is said."""

    def by_name(self) -> dict[str, Operation]:
        """Every operation that is charged, under its name."""
        said = ((field.name, getattr(self, field.name)) for field in fields(self))
        return {name: operation for name, operation in said if operation is not None}


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """An item bought `size` at a time for `price`: charged by `whole` packs, or by the share that is used."""

    id: str
    size: int
    price: Decimal
    charged: Literal["whole", "share"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Consumable:
    """Something used up on the way: `amount` in `unit` for each strap, metre of edge, m2 of leather or rivet."""

    id: str
    title: str
    per: ConsumedPer
    amount: Decimal
    unit: str
    price: Decimal
    """Of one unit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """From this quantity of a line on its price is lower by a share."""

    quantity: int
    discount: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Pricing:
    """How this shop reckons a price."""

    rounding: Rounding
    """How every amount is brought to the currency's decimals."""
    waste: Decimal
    """Share of the leather used that does not come out as pieces; leather is charged by blank / (1 - waste)."""
    overhead: Decimal
    """Rent, tools and office as a share of materials and labour."""
    profit: Profit
    tax: Decimal
    """Share of the net sum."""
    tax_title: str
    shown: Shown = "gross"
    """The price that buyers see: with the tax, or without it."""
    rate_per_hour: Decimal
    """What an hour of work costs."""
    operations: Operations
    packs: Mapping[str, Pack]
    per_metre: Mapping[str, Decimal]
    """Price of a metre of lace, thread and the like, by item."""
    consumables: Mapping[str, Consumable]
    breaks: tuple[Break, ...]
    """By rising quantity."""

    def discount(self, quantity: int) -> Decimal:
        """The share that a line of this quantity is cheaper by."""
        reached = [each.discount for each in self.breaks if quantity >= each.quantity]
        return reached[-1] if reached else Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """How leather is cut where a request does not say."""

    kerf: Nm = 0
    straighten: Nm = 0
    """Cut off one long edge of a hide first."""
    end_trim: Nm = 0
    """Cut off each end of every strip."""
    offcut_length: Nm = 0
    """The shortest offcut worth keeping."""
    offcut_width: Nm = 0
    """The narrowest offcut worth keeping."""
