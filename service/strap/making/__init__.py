"""Laying out: the three constructions, their ends, what is set on them and sewn, and where the row begins."""
