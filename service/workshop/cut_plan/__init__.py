"""One plan that cuts a whole batch of straps out of the leather in stock, hide by hide.

Two cuts deep: strips of one width the long way of a hide, then pieces out of strips. Knows widths, lengths
and counts as whole numbers; never what a strap is for, nor HTTP, JSON, drawing or the clock.
"""
