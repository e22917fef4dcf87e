"""A day's work: several straps at one bench, their steps merged, their goods and minutes summed.

Knows patterns, steps and the shop; nothing of JSON and paper.
"""
