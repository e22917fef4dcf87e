"""One service for property tests, which may not ask for a fixture for each example."""

from service.app import create_app
from service.settings import Settings

CLIENT = create_app(Settings()).test_client()
