"""Colours of the working sheet.

The hues are those of Okabe and Ito (*Color Universal Design*), told apart by every kind of colour vision;
their tints are the same hues thinned with white. Nothing is told by colour alone.
"""

from service.drawing.model import Colour

BLACK: Colour = "#000000"
ORANGE: Colour = "#e69f00"
SKY_BLUE: Colour = "#56b4e9"
BLUISH_GREEN: Colour = "#009e73"
YELLOW: Colour = "#f0e442"
BLUE: Colour = "#0072b2"
VERMILLION: Colour = "#d55e00"
REDDISH_PURPLE: Colour = "#cc79a7"
OKABE_ITO = (BLACK, ORANGE, SKY_BLUE, BLUISH_GREEN, YELLOW, BLUE, VERMILLION, REDDISH_PURPLE)

INK: Colour = "#1c1c1c"
"""Text."""
GREY: Colour = "#666666"
"""Dimension lines, captions."""
PALE: Colour = "#a6a6a6"
"""What is shown for orientation only."""
LEATHER: Colour = "#f7f3ea"
"""The piece itself, so that a hole is seen as a hole."""
HOLE: Colour = "#d3e6f2"
"""What is cut through: the hue of `BLUE`, thinned."""
PAPER: Colour = "#ffffff"
