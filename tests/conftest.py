"""What all tests share: how thorough the property tests are, and the demo shop."""

import os

import pytest
from hypothesis import HealthCheck, Phase, settings

from service.shop_file import demo_shop
from tests.attacks.growth import IS_TIMED

_COMMON = {
    "deadline": None,
    "derandomize": True,
    "suppress_health_check": [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
}
settings.register_profile("default", max_examples=50, **_COMMON)
settings.register_profile("thorough", max_examples=2000, **_COMMON)
settings.register_profile("mutants", max_examples=25, phases=[Phase.explicit, Phase.generate], **_COMMON)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "default"))


@pytest.fixture(scope="session")
def shop():
    """The demo shop."""
    return demo_shop()


def pytest_collection_modifyitems(config, items):
    """The longest tests first, so that two workers end together; none that times what it does, unless asked for."""
    if not IS_TIMED:
        timed = [item for item in items if item.get_closest_marker("timed")]
        items[:] = [item for item in items if item not in timed]
        config.hook.pytest_deselected(items=timed)
    items.sort(key=lambda item: "nothing_accepted_collides" not in item.nodeid)
