"""From a pattern to a day's work: the steps at the bench, cautions, materials, price and cutting.

Knows patterns and the shop. Never imports HTTP, JSON, drawing, the clock or the environment.
"""
