"""How a thing is turned to the viewer."""

from math import cos, hypot, sin
from typing import NamedTuple

Vector = tuple[float, float, float]
"""To the right, down, and towards the viewer."""


class Turn(NamedTuple):
    """A thing's own axes as the viewer sees them, each of length 1 and square to the others."""

    along: Vector
    down: Vector
    out: Vector

    def spun(self, angle: float) -> "Turn":
        """The same, turned by `angle` (radians, clockwise) about the axis that stands out."""
        c, s = cos(angle), sin(angle)
        return Turn(_mixed(self.along, self.down, c, s), _mixed(self.along, self.down, -s, c), self.out)

    @property
    def matrix(self) -> tuple[float, float, float, float]:
        """How a flat face of it is seen."""
        return self.along[0], self.along[1], self.down[0], self.down[1]

    @property
    def leaning(self) -> tuple[float, float]:
        """The way, of length 1, in which the picture shows it to stand out; down where it faces the viewer."""
        x, y, _ = self.out
        size = hypot(x, y)
        return (x / size, y / size) if size > 1e-9 else (0.0, 1.0)

    def at(self, along: float, down: float, out: float) -> tuple[float, float]:
        """Where a place in its own frame is seen."""
        x = along * self.along[0] + down * self.down[0] + out * self.out[0]
        return x, along * self.along[1] + down * self.down[1] + out * self.out[1]

    def depth(self, along: float, down: float, out: float) -> float:
        """How near to the viewer a place in its own frame lies."""
        return along * self.along[2] + down * self.down[2] + out * self.out[2]


def _mixed(one: Vector, other: Vector, a: float, b: float) -> Vector:
    return a * one[0] + b * other[0], a * one[1] + b * other[1], a * one[2] + b * other[2]
