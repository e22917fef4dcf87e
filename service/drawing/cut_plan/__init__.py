"""Drawings of a cut plan: every hide with its strips and pieces named, and the cutting order to tick off.

A hide is shown at two scales, along and across, so that narrow strips can be read; it is no pattern to cut by.
"""
