"""How a shop prints, shows and cuts what it has worked out: nothing here makes another strap."""

from dataclasses import dataclass

from service.shop.goods import Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """How patterns are printed. Printers leave 4 to 6.7 mm unprinted (printer manuals)."""

    margin: Nm = 6_000_000
    """Left free along every edge of a page."""
    inch_margin: Nm = 7_000_000
    """The least that is left free on Letter and Tabloid: printers for inch papers leave 1/4 in (printer manuals)."""
    overlap: Nm = 10_000_000
    """Shown on both pages where a piece goes on from one to the next."""
    joint_sheets: int = 3
    """Sheets of paper that one joint less is worth: it is cut, laid and glued in minutes, and may lie askew."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishedLook:
    """How a finished strap is shown."""

    background: str | None = "#ffffff"
    """`#rrggbb` behind the strap; `None` leaves it transparent."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutterLines:
    """The lines of the cutter's drawing, as this shop's machine wants to be told its layers."""

    line_width: Nm = 250_000
    cut: str | None = None
    """`#rrggbb` of the outlines; `None` leaves each layer the colour that it has on the working drawing."""
    punch: str | None = None
    mark: str | None = None
    fold: str | None = None
    text: str | None = None
