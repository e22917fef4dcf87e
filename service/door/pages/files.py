"""The files that pages use, as they stand."""

from pathlib import Path

_HERE = Path(__file__).parent


def page_file(name: str) -> bytes:
    """The content of a style, a script or a picture."""
    return (_HERE / name).read_bytes()
