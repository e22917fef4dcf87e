"""The shop file: TOML in, a `Shop` out, or every mistake in the file at once, by its dotted key."""

import hashlib
import tomllib
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from marshmallow import ValidationError

from service.schemas.mistakes import faults_of
from service.schemas.shop import SHOP_SCHEMA
from service.shop.shop import Shop
from service.strap.errors import Fault, StrapError

DEMO = Path(__file__).with_name("shop") / "demo.toml"


class ShopFileError(StrapError, ValueError):
    """A shop file that cannot be used. `faults` has every mistake; the message lists them, one a line."""

    def __init__(self, path: Path, faults: tuple[Fault, ...]) -> None:
        lines = [f"{dotted(fault.path)}: {fault.detail}" for fault in faults]
        super().__init__("\n  ".join([f"{path.name} cannot be used:", *lines]))
        self.path = path
        self.faults = faults


def dotted(path: tuple[str, ...]) -> str:
    """A place in the file as its dotted key; the file itself where the path is empty."""
    return ".".join(path) or "(file)"


def load_shop(path: Path) -> Shop:
    """Read a shop file. Raises `ShopFileError` with every mistake in it."""
    try:
        content = path.read_bytes()
        data = tomllib.loads(content.decode(), parse_float=Decimal)
    except OSError as error:
        raise _unreadable(path, error.strerror or "cannot be read") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, ValueError) as error:
        raise _unreadable(path, f"not TOML: {error}") from error
    try:
        tables = SHOP_SCHEMA.load(data)
    except ValidationError as error:
        raise ShopFileError(path, faults_of(error.messages, SHOP_SCHEMA)) from error
    return _shop(tables, hashlib.sha256(content).hexdigest())


@cache
def demo_shop() -> Shop:
    """The demo shop that comes with the service."""
    return load_shop(DEMO)


def _unreadable(path: Path, detail: str) -> ShopFileError:
    return ShopFileError(path, (Fault(path=(), code="unreadable", detail=detail),))


def _shop(tables: Mapping[str, Any], digest: str) -> Shop:
    about = tables["shop"]
    values: dict[str, Any] = {
        key: MappingProxyType(value) if isinstance(value, dict) else value
        for key, value in tables.items()
        if key != "shop"
    }
    return Shop(name=about["name"], currency=about["currency"], digest=digest, **values)
