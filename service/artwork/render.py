"""A clean picture drawn once, by CairoSVG, into a bounded number of pixels."""

from io import BytesIO

from cairosvg.surface import PNGSurface
from PIL import Image

from service.artwork.clean import Clean, clean
from service.artwork.values import ArtworkError
from service.shop.artwork import Artwork
from service.words import say

LONGEST_PX = 512


def read_artwork(content: bytes) -> Artwork:
    """The picture in an SVG file of the shop's own. Raises `ArtworkError` with what is wrong with it."""
    picture = clean(content)
    drawn = _drawn(picture)
    alpha = Image.open(BytesIO(drawn)).convert("RGBA").getchannel("A")
    if alpha.getbbox() is None:
        raise ArtworkError("draws nothing within its viewBox")
    return Artwork(width=picture.width, height=picture.height, png=drawn, markup=picture.markup)


def _drawn(picture: Clean) -> bytes:
    scale = LONGEST_PX / max(picture.width, picture.height)
    width, height = max(1, round(picture.width * scale)), max(1, round(picture.height * scale))
    size = f'width="{width}" height="{height}" viewBox="0 0 {picture.width:g} {picture.height:g}"'
    body = picture.markup.replace("{prefix}", "")
    document = f'<svg xmlns="http://www.w3.org/2000/svg" {size} preserveAspectRatio="none">{body}</svg>'
    try:
        png: bytes = PNGSurface.convert(
            bytestring=document.encode(), output_width=width, output_height=height, url_fetcher=_refuse
        )
    except Exception as error:  # CairoSVG raises whatever its many parsers and cairo raise
        raise ArtworkError(say("cannot be drawn: {kind}", kind=type(error).__name__)) from error
    return png


def _refuse(url: str, _: str) -> bytes:
    raise ArtworkError(say("refers to {url!r}", url=url[:40]))
