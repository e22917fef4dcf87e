"""A reload: what the settings' files say, the shop and the keys among them, is taken anew together, or not at all.

The environment of a process does not change, so what a reload can find wrong is in the files that it names.
"""

import logging
from collections.abc import Callable
from typing import TypeVar

from flask import Flask

from service.app import create_app, usable_shop
from service.desk.selling import DesignsError
from service.door.machine.metrics import RELOAD_REFUSED
from service.settings import SettingsError, read_settings, settings_at_start
from service.shop_file import ShopFileError
from service.words import say

_LOG = logging.getLogger("service.reloading")
Result = TypeVar("Result")


def reloaded(app: Flask) -> Flask:
    """The service as its files now say; or the app as it is, where they cannot be used. The log says which."""
    try:
        fresh, mistakes = _anew()
    except Exception as error:  # noqa: BLE001 # whatever it is, the server that runs has to go on
        _LOG.exception("a reload failed by a fault of ours")
        fresh, mistakes = None, (say("(service): {kind}", kind=type(error).__name__),)
    RELOAD_REFUSED.set(int(fresh is None))
    if fresh is None:
        _LOG.error("reload refused: shop and keys stay as they were", extra={"mistakes": mistakes})
        return app
    return fresh


def _anew() -> tuple[Flask | None, tuple[str, ...]]:
    """The service as its files now say; or None, and every mistake in any of them."""
    settings, wrong = _tried(read_settings)
    shop, wrong_shop = _tried(lambda: usable_shop(settings_at_start()))
    if settings is None or shop is None:
        return None, wrong + wrong_shop
    keys = None if settings.keys_file is None else len(settings.keys_file.keys)
    fresh = create_app(settings, shop)
    _LOG.info("reloaded", extra={"shop": shop.name, "digest": shop.digest[:12], "keys": keys})
    return fresh, ()


def _tried(read: Callable[[], Result]) -> tuple[Result | None, tuple[str, ...]]:
    """What is read, or the mistakes that it has."""
    try:
        return read(), ()
    except (SettingsError, ShopFileError, DesignsError) as error:
        return None, error.mistakes
