"""The finished look: the strap made up and laid flat, seen from the front, the buckle's end at the left.

Made of plain shapes and gradients, light from the upper left. True proportion: one unit is one millimetre.
Knows patterns and colours, never file formats.
"""
