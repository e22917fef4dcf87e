"""How the pieces lie once the strap is made up: leather is neither lost nor doubled (geometry)."""

from collections import defaultdict
from itertools import pairwise

import pytest
from hypothesis import given, settings

from service.strap.errors import Refusal
from service.strap.solve import solve
from tests.support.straps import SHOP, specs


@pytest.mark.parametrize("construction", ["three_piece", "one_piece", "open"])
def test_the_plies_of_a_piece_are_all_of_it_each_part_once(construction):
    @settings(max_examples=60)
    @given(spec=specs(construction))
    def prove(spec):
        try:
            pattern = solve(spec, SHOP)
        except Refusal:
            return
        plies = defaultdict(list)
        for ply in pattern.placements:
            plies[ply.piece].append((ply.from_x, ply.to_x))
        for piece in pattern.pieces:
            if piece.name in ("keeper", "lining"):  # a loop of its own; what lies under another ply all along
                continue
            parts = sorted(plies[piece.name])
            assert parts[0][0] == 0
            assert parts[-1][1] == piece.length
            assert all(left[1] == right[0] for left, right in pairwise(parts))

    prove()
