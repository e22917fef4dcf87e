"""Where labels go along a line: each as near as may be to the thing it tells of, none over another."""

from collections.abc import Sequence


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Places nearest to the ascending `wanted` ones, at least `gap` apart, within [low, high].

    Nearest by least squares. With z_i = place_i - i·gap this is isotonic regression, for z must ascend:
    pool adjacent violators, linear in the number of labels (Barlow et al., *Statistical Inference under Order
    Restrictions*; from memory). The bounds become one interval for all z, to which the answer is clipped.
    Raises `ValueError` where the labels cannot all stand between `low` and `high`.
    """
    room = high - low - (len(wanted) - 1) * gap
    if room < -1e-9:
        raise ValueError(f"{len(wanted)} labels {gap} apart do not fit between {low} and {high}")
    levels = _pooled([place - index * gap for index, place in enumerate(wanted)])
    top = max(low, low + room)
    return [min(max(level, low), top) + index * gap for index, level in enumerate(levels)]


def _pooled(values: Sequence[float]) -> list[float]:
    """The ascending sequence nearest to `values`: neighbours out of order are replaced by their mean."""
    blocks: list[tuple[float, int]] = []
    for value in values:
        total, count = value, 1
        while blocks and blocks[-1][0] / blocks[-1][1] > total / count:
            earlier, many = blocks.pop()
            total, count = total + earlier, count + many
        blocks.append((total, count))
    return [total / count for total, count in blocks for _ in range(count)]
