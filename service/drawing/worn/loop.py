"""The loop that a closed strap makes: a slightly flattened round, and where the viewer sees its places.

The middle of the leather runs along an ellipse whose length is the strap's own from the bar to the hole. x counts along
the strap made up, y across it, `out` from the middle of the leather outwards. All lengths are millimetres.
"""

from bisect import bisect_right
from dataclasses import dataclass
from math import cos, hypot, radians, sin, tau

from service.drawing.finished.turned import Turn

TILT = radians(24)
"""So far above the strap stands the viewer."""
FLATTENING = 0.86
"""The loop's depth over its width: a strap that is laid down by itself is no circle (from memory)."""
_ABOVE, _LEVEL = sin(TILT), cos(TILT)
_STEPS = 1440


def _lengths() -> tuple[float, ...]:
    """From the foremost place on along an ellipse half as wide as 1, by Simpson's rule; the last is all of it."""
    step, found = tau / _STEPS, [0.0]
    speed = [hypot(cos(n * step / 2), FLATTENING * sin(n * step / 2)) for n in range(2 * _STEPS + 1)]
    for n in range(_STEPS):
        found.append(found[-1] + step / 6 * (speed[2 * n] + 4 * speed[2 * n + 1] + speed[2 * n + 2]))
    return tuple(found)


_LENGTHS = _lengths()


@dataclass(frozen=True, slots=True)
class Loop:
    """A loop `length` round whose foremost place is at `front` along the strap."""

    length: float
    front: float

    @property
    def half_width(self) -> float:
        """Half as wide as the middle of the leather lies apart."""
        return self.length / _LENGTHS[-1]

    @property
    def half_depth(self) -> float:
        """The same from the front to the back."""
        return FLATTENING * self.half_width

    def angle(self, x: float) -> float:
        """Radians from the foremost place to the right, more than a turn where the strap lies on itself."""
        turns, rest = divmod((x - self.front) / self.half_width, _LENGTHS[-1])
        n = min(bisect_right(_LENGTHS, rest), _STEPS)
        share = (rest - _LENGTHS[n - 1]) / (_LENGTHS[n] - _LENGTHS[n - 1])
        return tau * (turns + (n - 1 + share) / _STEPS)

    def seen(self, x: float, y: float, out: float) -> tuple[float, float]:
        """Where a place is seen: right of the loop's middle, and below it."""
        right, near, (normal_x, normal_y) = self._place(x)
        return right + out * normal_x, (near + out * normal_y) * _ABOVE + y * _LEVEL

    def nearness(self, x: float) -> float:
        """How near a place lies to the viewer."""
        return self._place(x)[1]

    def turn(self, x: float) -> Turn:
        """How what lies there is turned to the viewer."""
        _, _, (right, near) = self._place(x)
        return Turn(
            (near, -right * _ABOVE, -right * _LEVEL),
            (0.0, _LEVEL, -_ABOVE),
            (right, near * _ABOVE, near * _LEVEL),
        )

    def spans(self, turn: int, *, is_front: bool) -> tuple[float, float]:
        """From where to where along the strap its outside faces the viewer, or its inside does, in a `turn` of it."""
        quarter = self.length / 4
        start = self.front + turn * self.length + (-quarter if is_front else quarter)
        return start, start + 2 * quarter

    def _place(self, x: float) -> tuple[float, float, tuple[float, float]]:
        """To the right, towards the viewer, and the way out there, of length 1."""
        angle, wide, deep = self.angle(x), self.half_width, self.half_depth
        right, near = sin(angle), cos(angle)
        size = hypot(right / wide, near / deep)
        return wide * right, deep * near, (right / wide / size, near / deep / size)


def ground(down: float) -> float:
    """How far below the middle the ground is seen that lies `down` below it."""
    return down * _LEVEL


FORESHORTENED = (1.0, _ABOVE)
"""How much of its width and of its depth is seen of what lies on the ground."""
