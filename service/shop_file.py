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

from service.artwork.clean import MOST_BYTES
from service.artwork.render import read_artwork
from service.artwork.values import ArtworkError
from service.schemas.mistakes import faults_of
from service.schemas.shop import SHOP_SCHEMA
from service.shop.artwork import Artwork
from service.shop.shop import Shop
from service.strap.errors import Fault, StrapError
from service.words import say

DEMO = Path(__file__).with_name("shop") / "demo.toml"
Picture = tuple[bytes, Artwork]
"""A picture's file as it stands, and what was made of it."""


class ShopFileError(StrapError, ValueError):
    """A shop file that cannot be used. `faults` has every mistake, `mistakes` each as a line behind its key."""

    def __init__(self, path: Path, faults: tuple[Fault, ...]) -> None:
        self.path = path
        self.faults = faults
        self.mistakes = tuple(f"{dotted(fault.path)}: {fault.detail}" for fault in faults)
        super().__init__("\n  ".join([say("{file} cannot be used:", file=path.name), *self.mistakes]))


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
        raise _unreadable(path, say("not TOML: {error}", error=error)) from error
    try:
        tables = SHOP_SCHEMA.load(data)
    except ValidationError as error:
        raise ShopFileError(path, faults_of(error.messages, SHOP_SCHEMA)) from error
    return _shop(tables, content, _pictures(path, tables))


@cache
def demo_shop() -> Shop:
    """The demo shop that comes with the service."""
    return load_shop(DEMO)


def _unreadable(path: Path, detail: str) -> ShopFileError:
    return ShopFileError(path, (Fault(path=(), code="unreadable", detail=detail),))


def _pictures(path: Path, tables: Mapping[str, Any]) -> dict[str, Picture]:
    """The pictures that the file names, each read once. Raises `ShopFileError` with every one that cannot be used."""
    wanted: list[tuple[tuple[str, ...], str | None]] = [(("shop", "mark"), tables["shop"].get("mark"))]
    wanted += [(("ornaments", each.id, "picture"), each.picture) for each in tables["ornaments"].values()]
    found: dict[str, Picture] = {}
    faults = []
    for key, name in wanted:
        try:
            if name is not None and name not in found:
                found[name] = _picture(path.parent, name)
        except ArtworkError as error:
            detail = say("{name} cannot be used: it {error}", name=name, error=error)
            faults.append(Fault(path=key, code="unusable_picture", detail=detail))
    if faults:
        raise ShopFileError(path, tuple(faults))
    return found


def _picture(folder: Path, name: str) -> Picture:
    """One picture beside the shop file; a longer file than is allowed is not read to its end."""
    file = folder / name
    try:
        if file.resolve().parent != folder.resolve() or not file.is_file():
            raise ArtworkError("is no file beside the shop file")
        with file.open("rb") as stream:
            content = stream.read(MOST_BYTES + 1)
    except OSError as error:
        raise ArtworkError(error.strerror or "cannot be read") from error
    return content, read_artwork(content)


def _digest(content: bytes, pictures: Mapping[str, Picture]) -> str:
    digest = hashlib.sha256(content)
    for name in sorted(pictures):
        digest.update(name.encode() + b"\0" + pictures[name][0])
    return digest.hexdigest()


def _shop(tables: Mapping[str, Any], content: bytes, pictures: Mapping[str, Picture]) -> Shop:
    about = tables["shop"]
    values: dict[str, Any] = {
        key: MappingProxyType(value) if isinstance(value, dict) else value
        for key, value in tables.items()
        if key != "shop"
    }
    return Shop(
        name=about["name"],
        currency=about["currency"],
        mark=about.get("mark"),
        care=about.get("care", ()),
        artwork=MappingProxyType({name: artwork for name, (_, artwork) in pictures.items()}),
        digest=_digest(content, pictures),
        **values,
    )
