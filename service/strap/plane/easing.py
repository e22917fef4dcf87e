"""A change without a crease at either end."""


def eased(share: float) -> float:
    """How much of a change is done at a share of its way: 3 s² - 2 s³, level at 0 and at 1 (a cubic Hermite curve)."""
    return share * share * (3 - 2 * share)
