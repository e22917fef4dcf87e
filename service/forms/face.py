"""The bundled font as cairo knows it: registered from its files, then proved to be the right one.

The process gets a fontconfig configuration with these faces and no others, so nothing that is installed on
the machine, and no change of it while the service runs, can alter what is drawn.
"""

import ctypes
import os
from functools import lru_cache
from threading import Lock

import cairocffi

from service.drawing import font
from service.drawing.model import Weight
from service.strap.errors import StrapError
from service.words import say

_LIBRARY = "libfontconfig.so.1"
_CAIRO_WEIGHTS: dict[Weight, int] = {
    "regular": cairocffi.FONT_WEIGHT_NORMAL,
    "bold": cairocffi.FONT_WEIGHT_BOLD,
}
_registering = Lock()


class FontError(StrapError, RuntimeError):
    """Cairo does not draw with the bundled font."""


def cairo_face(weight: Weight) -> cairocffi.FontFace:
    """A face of the bundled family, for one context. Raises `FontError` where it cannot be registered."""
    with _registering:
        _register()
    return cairocffi.ToyFontFace(font.FAMILY, cairocffi.FONT_SLANT_NORMAL, _CAIRO_WEIGHTS[weight])


def text_options() -> cairocffi.FontOptions:
    """Without these, cairo moves letters to whole units and garbles a drawing in millimetres."""
    return cairocffi.FontOptions(
        hint_style=cairocffi.HINT_STYLE_NONE,
        hint_metrics=cairocffi.HINT_METRICS_OFF,
        antialias=cairocffi.ANTIALIAS_GRAY,
    )


def check_font() -> None:
    """Compare every advance that cairo measures with the file's. Raises `FontError`. Call it at start."""
    for weight in font.WEIGHTS:
        context = cairocffi.Context(cairocffi.ImageSurface(cairocffi.FORMAT_A8, 1, 1))
        context.set_font_face(cairo_face(weight))
        context.set_font_options(text_options())
        context.set_font_size(font.UNITS_PER_EM)
        for character, advance in font.face(weight).advances.items():
            found = context.text_extents(character)[4]
            if abs(found - advance) > 0.5:
                raise FontError(
                    say(
                        "cairo does not use the bundled font {family} ({weight}): {character!r} is "
                        "{found} units wide and ought to be {advance}",
                        family=font.FAMILY,
                        weight=weight,
                        character=character,
                        found=found,
                        advance=advance,
                    )
                )


@lru_cache(maxsize=1)
def _register() -> None:
    try:
        library = ctypes.CDLL(_LIBRARY)
    except OSError as error:
        raise FontError(
            say("{library} is missing: install the package libcairo2, which brings it", library=_LIBRARY)
        ) from error
    library.FcConfigCreate.restype = ctypes.c_void_p
    config = ctypes.c_void_p(library.FcConfigCreate())
    for weight in font.WEIGHTS:
        file = font.font_file(weight)
        if not library.FcConfigAppFontAddFile(config, os.fsencode(file)):
            raise FontError(say("the bundled font {file} cannot be read", file=file.name))
    library.FcConfigSetRescanInterval(config, 0)
    if not library.FcConfigSetCurrent(config):
        raise FontError("the bundled font cannot be registered with fontconfig")
