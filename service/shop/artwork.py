"""A picture of the shop's own, as it is kept once its file has been read, judged and cleaned."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Artwork:
    """A small picture. `width` and `height` are those of its own user units: they give its proportion.

    `png` has it in pixels, transparent around it. `markup` has it as SVG elements without a root: shapes
    and gradients only, whose ids all begin with `{prefix}`, to be replaced by whoever sets it in a document.
    """

    width: float
    height: float
    png: bytes
    markup: str
