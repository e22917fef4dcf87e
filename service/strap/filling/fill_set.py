"""Saying what was left unsaid of what is set and sewn on: the row, what stands between, borders, stitches."""

from service.shop.goods import Nm
from service.shop.shop import Defaults, Rules
from service.strap.model.filled import (
    FilledBetween,
    FilledBorder,
    FilledKeepers,
    FilledRow,
    FilledRows,
    FilledStitching,
)
from service.strap.model.row import said_count
from service.strap.model.spec import Spec, Stitching
from service.strap.model.spec_leather import KeepersBetween
from service.strap.model.spec_set import Arrange, Between, Border, Row, Rows
from service.strap.plane.lengths import INCH


def filled_row(row: Row | None, width: Nm) -> FilledRow | None:
    """A row with its count and spacing, and the way in which several items are arranged."""
    if row is None:
        return None
    return FilledRow(
        item=row.item,
        items=row.items,
        arrange=row.arrange or _arrange(row),
        mirrored=row.mirrored,
        centrepiece=row.centrepiece,
        count=said_count(row) if row.count is None else row.count,
        spacing=row.spacing or "ruler",
        rows=_rows(row.rows, width) if row.rows else None,
    )


def _arrange(row: Row) -> Arrange | None:
    """Of several items that are said one by one a sequence, else one after the other again and again."""
    if row.mirrored or (row.items and row.count is None):
        return "sequence"
    return "alternating" if len(row.items or ()) > 1 else None


def _rows(rows: Rows, width: Nm) -> FilledRows:
    """Rows that are told no distance share the width in equal lanes."""
    count = rows.count or 2
    return FilledRows(count=count, across=rows.across or "level", distance=rows.distance or width // count)


def filled_between(given: Between | tuple[Between, ...] | None) -> FilledBetween | tuple[FilledBetween, ...] | None:
    """One or several things in each gap, still as one or several."""
    if given is None:
        return None
    return tuple(_between(each) for each in given) if isinstance(given, tuple) else _between(given)


def _between(between: Between) -> FilledBetween:
    return FilledBetween(item=between.item, per_gap=1 if between.per_gap is None else between.per_gap)


def filled_borders(
    given: Border | tuple[Border, ...] | None, defaults: Defaults
) -> FilledBorder | tuple[FilledBorder, ...] | None:
    """One or several border rows, still as one or several."""
    if given is None:
        return None
    return tuple(_border(each, defaults) for each in given) if isinstance(given, tuple) else _border(given, defaults)


def _border(border: Border, defaults: Defaults) -> FilledBorder:
    inset, step = border.inset or defaults.border_inset, border.step or defaults.border_step
    return FilledBorder(item=border.item, inset=inset, step=step)


def filled_keepers(given: KeepersBetween | None, rules: Rules) -> FilledKeepers | None:
    """Keepers between, as wide as the shop makes its others."""
    if given is None:
        return None
    every = None if given.gaps else given.every or 1
    return FilledKeepers(every=every, gaps=given.gaps, width=given.width or rules.keeper_width)


def filled_stitching(spec: Spec, defaults: Defaults) -> FilledStitching | None:
    """A lining, and an edging, is stitched on along the edges unless something else is said, or keepers hold it."""
    sewn = Stitching(edges=False) if _sews_an_end(spec) else None
    held = spec.lining is not None and not spec.lining_is_loose
    given = spec.stitching or (Stitching() if held or spec.edging else sewn)
    if given is None:
        return None
    per_inch = given.per_inch or defaults.stitches_per_inch
    return FilledStitching(
        inset=given.inset or defaults.stitch_inset,
        per_inch=None if given.pitch else per_inch,
        pitch=given.pitch,
        strands=given.strands or defaults.stitch_strands,
        edges=not spec.lining_is_loose if given.edges is None else given.edges,
        turn_back=bool(given.turn_back),
        apart=given.pitch or round(INCH / per_inch),
    )


def _sews_an_end(spec: Spec) -> bool:
    """Whether a fold or a billet is asked to be held by stitches."""
    ends = [each for end in spec.ends.both for each in (end, end.outermost)]
    return any("stitches" in (end.hold, end.join) for end in ends)
