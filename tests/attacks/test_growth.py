"""The proof of the proof: what is quadratic fails, what is linear passes."""

import re

import pytest

from tests.attacks.growth import assert_linear

TWICE = re.compile(r'"(?:[^"\\]|\\.)*"')
"""Looks at the rest of the text once for each quote in a text that is never closed."""


@pytest.mark.timed
def test_a_scanner_that_starts_anew_at_each_quote_is_found_out():
    with pytest.raises(AssertionError, match="power of"):
        assert_linear(lambda text: len(TWICE.findall(text)), lambda size: '"' + '\\"' * (size // 2))


def counted(times):
    """Work of so many steps, each of them a line."""
    done = 0
    for _ in range(times):
        done += 1
    return done


def test_quadratic_work_is_found_out_behind_what_any_input_costs():
    with pytest.raises(AssertionError, match="power of"):
        assert_linear(lambda size: counted(200) + counted(size * size // 100), lambda size: size, (64, 256, 1024, 4096))


def test_linear_work_and_sorting_pass():
    assert_linear(lambda text: text.count("\\"), lambda size: '"' + '\\"' * (size // 2))
    assert_linear(lambda size: sorted((n * 7919) % size for n in range(size)), lambda size: size)
    assert_linear(counted, lambda size: size)
