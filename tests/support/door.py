"""The service as tests call it: an app on the demo shop, a client, and the example requests."""

import pytest

from openapi.example_requests import examples
from service.app import create_app
from service.settings import Settings

GARTER, HANGING, COLLAR, HARNESS, REFUSED = (
    examples()[name]
    for name in (
        "dancers_bell_garter", "door_hanging", "herding_dog_collar", "parade_harness_strap",
        "refused_too_many_bells",
    )
)  # fmt: skip
GOOD = {name: spec for name, spec in examples().items() if spec != REFUSED}
"""Every example that can be made."""


@pytest.fixture(scope="session")
def app():
    """The service on the demo shop, with its default settings."""
    return create_app(Settings())


@pytest.fixture
def client(app):
    """A caller of the service."""
    return app.test_client()
