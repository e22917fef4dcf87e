"""A batch out of hides of several sizes: a first plan, then column generation over strips and hides together.

The program has a row for each piece size (made at least as often as wanted), for each strip length and width
(strips cut at least as often as hides yield them the other way round: hides yield what strips take), for each
width (no fewer strips than one long hide alone would need), and for each size of hide in stock.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import gcd

from service.workshop.cut_plan.bars import Pattern, ceil_div, lower_bound, trimmed
from service.workshop.cut_plan.batch import (
    Hide,
    HideCut,
    Solved,
    StripCut,
    Wanted,
    bars_of,
    piece_count,
    strip_of,
)
from service.workshop.cut_plan.effort import (
    COMBINATIONS,
    PATTERNS_ENUMERATED,
    PRICING_ROUNDS,
    ROWS,
    Effort,
)
from service.workshop.cut_plan.in_order import cheapest_in_order, cost_of
from service.workshop.cut_plan.knapsack import (
    Lattice,
    full_patterns,
    lattice,
    most_valuable,
    value_bound,
)
from service.workshop.cut_plan.linear import Column, Program
from service.workshop.cut_plan.pricing import PRICE_SCALE
