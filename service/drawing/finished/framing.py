"""The frame that a picture fills."""


def framed(width: float, height: float, aspect: float | None) -> tuple[float, float]:
    """The least frame of an `aspect` (width over height) round a picture: background is added, nothing cut off."""
    if aspect is None:
        return width, height
    return max(width, height * aspect), max(height, width / aspect)
