"""Geometry that knows no leather: lengths, outlines, bends, even and clear spacing."""
