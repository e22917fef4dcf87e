"""Cubic Bézier curves: points, derivatives and halves, for whoever follows one."""

from itertools import pairwise

Place = tuple[float, float]
Curve = tuple[Place, Place, Place, Place]
"""Both ends with the two control points between them."""


def point(curve: Curve, t: float) -> Place:
    """The place at parameter t."""
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    x = sum(weight * point[0] for weight, point in zip(weights, curve, strict=True))
    return x, sum(weight * point[1] for weight, point in zip(weights, curve, strict=True))


def derivative(curve: Curve, t: float) -> Place:
    """The velocity at t."""
    weights = (3 * (1 - t) ** 2, 6 * t * (1 - t), 3 * t * t)
    steps = tuple((b[0] - a[0], b[1] - a[1]) for a, b in pairwise(curve))
    x = sum(weight * step[0] for weight, step in zip(weights, steps, strict=True))
    return x, sum(weight * step[1] for weight, step in zip(weights, steps, strict=True))


def second_derivative(curve: Curve, t: float) -> Place:
    """The acceleration at t."""
    a, b, c, d = curve

    def along(axis: int) -> float:
        return 6 * ((1 - t) * (c[axis] - 2 * b[axis] + a[axis]) + t * (d[axis] - 2 * c[axis] + b[axis]))

    return along(0), along(1)


def split(curve: Curve, t: float) -> tuple[Curve, Curve]:
    """The curve up to t and from there on, by de Casteljau's construction."""

    def between(a: Place, b: Place) -> Place:
        return a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t

    a, b, c, d = curve
    ab, bc, cd = between(a, b), between(b, c), between(c, d)
    abc, bcd = between(ab, bc), between(bc, cd)
    at = between(abc, bcd)
    return (a, ab, abc, at), (at, bcd, cd, d)


def halves(curve: Curve) -> tuple[Curve, Curve]:
    """The curve in two by de Casteljau's construction."""

    def middle(a: Place, b: Place) -> Place:
        return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2

    a, b, c, d = curve
    ab, bc, cd = middle(a, b), middle(b, c), middle(c, d)
    abc, bcd = middle(ab, bc), middle(bc, cd)
    centre = middle(abc, bcd)
    return (a, ab, abc, centre), (centre, bcd, cd, d)
