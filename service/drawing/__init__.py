"""From a pattern to a neutral drawing in millimetres: the working sheet, its parts, and the bundled font.

Knows patterns and paper, never file formats: nothing here writes SVG, PNG or PDF, or reads a setting.
"""
