"""Wiring only: settings and shop in, a Flask app out."""

import logging
import os
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NoReturn

from flask import Flask

from service.desk.selling import DesignsError, check_designs
from service.door.caching import engine_digest
from service.door.clean_paths import register_clean_paths
from service.door.guards import register_guards
from service.door.hosts import known_hosts
from service.door.keys import KeyRing
from service.door.machine.answer_cache import AnswerCache
from service.door.machine.deadline import Deadline
from service.door.machine.front_cache import FrontCache
from service.door.machine.lanes import lanes
from service.door.machine.logs import configure_logs
from service.door.machine.rates import register_rates
from service.door.machine.telemetry import register_telemetry
from service.door.mounting import mount
from service.door.pages.docs_page import docs_page, rules_page
from service.door.problems import register_problems
from service.door.routes import operation_paths, page_paths, quiet_routes, register_routes, routes
from service.door.service import Service
from service.forms.face import FontError, check_font
from service.forms.listed import library_versions
from service.settings import Settings, SettingsError, read_settings
from service.shop.shop import Shop
from service.shop_file import ShopFileError, demo_shop, load_shop
from service.workshop.rule_book import entries

_LOG = logging.getLogger("service")
DOCUMENT = Path(__file__).parents[1] / "openapi" / "openapi.json"
FIGURES = Path(__file__).parents[1] / "openapi" / "rules"


class _App(Flask):
    """Nothing here is asynchronous, so that nothing needs to be asked whether it is, five times in each request."""

    def ensure_sync(self, func: Callable[..., Any]) -> Callable[..., Any]:
        """The function as it is."""
        return func


def create_app(settings: Settings | None = None, shop: Shop | None = None) -> Flask:
    """The service as a WSGI app.

    Settings are read from the environment where none are given, the shop from the file that they name. Raises
    `SettingsError`, `ShopFileError` and `DesignsError` with every mistake, and the painter's error where the font is
    missing.
    """
    settings = settings or read_settings()
    shop = shop or usable_shop(settings)
    check_font()
    service = _service(settings, shop)
    service.keys.warn_of_ends(datetime.now(UTC))
    app = _App(__name__, static_folder=None)
    app.url_map.merge_slashes = False
    register_telemetry(app, quiet_routes())
    register_guards(app, settings, quiet_routes())
    problem = register_problems(app, shop)
    register_rates(app, settings, quiet_routes(), problem)
    register_clean_paths(app, page_paths(settings), settings.cache_seconds)
    register_routes(app, service)
    if settings.cors_origins == "*" and not settings.rate_per_minute:
        front = FrontCache(app.wsgi_app, service.cache, settings.kept_bytes, known_hosts(settings))
        app.wsgi_app = front  # type: ignore[method-assign,assignment]
    mount(app, settings, operation_paths(), [route.path for route in routes(settings)])
    return app


def usable_shop(settings: Settings) -> Shop:
    """The shop that the settings name. Raises `ShopFileError` and `DesignsError` with every mistake."""
    shop = load_shop(settings.shop_file) if settings.shop_file else demo_shop()
    check_designs(shop)
    return shop


def start() -> Flask:
    """The app; or the end of the process, with every mistake in the settings or the shop file told.

    Its status is then that of a wrong configuration (sysexits(3): 78).
    """
    configure_logs()
    try:
        settings = read_settings()
        app = create_app(settings)
    except (SettingsError, ShopFileError, DesignsError, FontError) as error:
        refuse_to_start(error)
    warn_if_open(settings)
    return app


def refuse_to_start(error: Exception) -> NoReturn:
    """End the process with the mistakes told, and with a status by which a supervisor knows that a retry is no use."""
    print(error, file=sys.stderr)  # noqa: T201 # whoever starts a process by hand reads it here
    raise SystemExit(os.EX_CONFIG)


def warn_if_open(settings: Settings) -> None:
    """Say in the log that everybody may see what the shop pays, where that is so."""
    if not settings.keys_file:
        _LOG.warning("prices, costs and cut plans are open to everyone: there are no keys (STRAP_KEYS_FILE)")


def _service(settings: Settings, shop: Shop) -> Service:
    document = DOCUMENT.read_bytes()
    deadline = Deadline(settings.deadline)
    return Service(
        settings=settings,
        shop=shop,
        stamp=engine_digest() + shop.digest.encode() + library_versions().encode(),
        document=document,
        docs=docs_page(document),
        rules=rules_page(entries(shop), FIGURES),
        keys=KeyRing(settings.keys_file, settings.guesses_per_minute),
        cache=AnswerCache(settings.kept_bytes),
        lanes=lanes(settings, deadline),
        deadline=deadline,
        bodies=Deadline(settings.body_seconds),
    )
