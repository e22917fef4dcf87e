"""The strap as it is worn: closed to a loop that stands before the viewer, or hung up.

From the same model as the finished look, true to scale. A loop is seen from the front and a little above, in parallel
projection: across the picture a millimetre is a millimetre. What lies farther away is painted first.
Knows patterns and colours, never file formats.
"""
