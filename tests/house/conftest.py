"""The fixtures of these tests."""

from tests.support.door import app, client

__all__ = ["app", "client"]
