"""Saying what a size left unsaid: the length that a label stands for, the ease, and where it is measured from."""

from service.shop.goods import Nm
from service.shop.shop import Shop, SizeTable
from service.strap.model.filled import FilledSize, Measure
from service.strap.model.spec import MeasuredFrom, Size


def filled_size(size: Size, shop: Shop, ease: Nm, *, closes: bool) -> FilledSize:
    """The size, to which the shop adds its `ease` where nobody says another.

    A strap that nothing `closes` is measured from end to end, and has no datum to say.
    """
    table = shop.size_tables.get(size.table or "")
    measure, stated = _stated(size, table)
    of_girth = measure == "girth"
    own = size.ease if size.ease is not None or table is None or not of_girth else table.ease
    wearing_ease = ease if own is None else own
    said: dict[Measure, Nm] = {measure: stated} if stated is not None else {}
    from_bars: MeasuredFrom = "bar" if measure in ("girth", "bar_to_bar") else "fold"
    return FilledSize(
        body_length=said.get("body_length"),
        bar_to_bar=said.get("bar_to_bar"),
        overall_length=said.get("overall_length"),
        finished_length=said.get("finished_length"),
        measured_from=size.measured_from or ("fold" if closes and measure == "finished_length" else None),
        girth=said.get("girth"),
        ease=wearing_ease if of_girth and said else size.ease,
        table=size.table,
        label=size.label,
        measure=measure,
        stated=stated or 0,
        datum=size.measured_from or from_bars,
        wearing_ease=wearing_ease,
    )


def _stated(size: Size, table: SizeTable | None) -> tuple[Measure, Nm | None]:
    """The way in which a length is said, and the length; nothing where the shop does not know its table or label."""
    if size.body_length is not None:
        return "body_length", size.body_length
    if size.bar_to_bar is not None:
        return "bar_to_bar", size.bar_to_bar
    if size.overall_length is not None:
        return "overall_length", size.overall_length
    if size.finished_length is not None:
        return "finished_length", size.finished_length
    if size.girth is not None or table is None:
        return "girth", size.girth
    return table.measure, table.sizes.get(size.label or "")
