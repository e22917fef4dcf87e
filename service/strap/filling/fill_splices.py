"""Saying what was left unsaid of splices."""

from service.shop.shop import Defaults
from service.strap.model.filled import FilledSplices
from service.strap.model.spec_leather import Splices, Splicing


def filled_splices(given: Splicing | Splices | None, defaults: Defaults, *, bears: bool) -> FilledSplices | None:
    """How a piece is spliced that is longer than its leather's strips; `None` where none is.

    What a shop allows of itself it does not do where the strap `bears` a load.
    """
    unsaid = "none" if bears else defaults.splices
    asked = given or unsaid
    if asked == "none":
        return None
    said = asked if isinstance(asked, Splices) else Splices()
    return FilledSplices(count=said.count, stitch_lines=said.stitch_lines or defaults.splice_stitch_lines)
