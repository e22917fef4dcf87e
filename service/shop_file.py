"""The shop file: TOML in, a `Shop` out, or every mistake in the file at once, by its dotted key."""

import hashlib
import tomllib
from collections.abc import Callable, Mapping
from decimal import Decimal, InvalidOperation
from functools import cache, partial
from pathlib import Path
from types import MappingProxyType
from typing import Any

from marshmallow import ValidationError

from service.artwork.clean import MOST_BYTES
from service.artwork.render import read_artwork
from service.artwork.values import ArtworkError
from service.schemas.json_text import DEEPEST
from service.schemas.mistakes import faults_of
from service.schemas.shop import SHOP_SCHEMA
from service.shop.artwork import Artwork
from service.shop.shop import Shop
from service.strap.errors import Fault, StrapError
from service.words import say

SENT = Path("shop_file")
"""What stands for the path of a shop file that has none."""
LONGEST_LINE, MOST_DOTS = 2000, 60
"""Of a shop file that somebody sent."""
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
    except OSError as error:
        raise _unreadable(path, error.strerror or "cannot be read") from error
    return _read(path, content, partial(_picture, path.parent))


def sent_text(content: bytes) -> str:
    """A shop file that somebody sent, as text. Raises `ShopFileError`."""
    try:
        return content.decode()
    except UnicodeDecodeError as error:
        raise _unreadable(SENT, say("not TOML: {error}", error=error)) from error


def read_shop(content: bytes, held: Mapping[str, Artwork]) -> Shop:
    """A shop file that somebody sent. No file is read: its pictures are those held here. Raises `ShopFileError`."""
    _refuse_beyond_reason(content)

    def picture(name: str) -> Picture:
        if name not in held:
            raise ArtworkError(say("is no picture that this shop has, and no file is read for a comparison"))
        return name.encode(), held[name]

    return _read(SENT, content, picture)


def _refuse_beyond_reason(content: bytes) -> None:
    """Refuse what a reader of TOML takes long over: its work on a key grows faster than the dots in it."""
    for number, line in enumerate(content.splitlines(), 1):
        if len(line) > LONGEST_LINE or line.count(b".") > MOST_DOTS:
            told = "line {line} has more than {bytes} bytes or {dots} dots"
            raise _unreadable(SENT, say(told, line=number, bytes=LONGEST_LINE, dots=MOST_DOTS))


def _read(path: Path, content: bytes, picture: Callable[[str], Picture]) -> Shop:
    try:
        data = tomllib.loads(content.decode(), parse_float=Decimal)
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, ValueError) as error:
        raise _unreadable(path, say("not TOML: {error}", error=error)) from error
    except InvalidOperation as error:
        raise _unreadable(path, say("not TOML: a number has an exponent beyond reason")) from error
    except RecursionError as error:
        raise _unreadable(path, say("tables or lists are nested too deep")) from error
    _refuse_deep(path, data)
    try:
        tables = SHOP_SCHEMA.load(data)
    except ValidationError as error:
        raise ShopFileError(path, faults_of(error.messages, SHOP_SCHEMA)) from error
    return _shop(tables, content, _pictures(path, tables, picture))


def _refuse_deep(path: Path, data: object) -> None:
    level: list[Any] = [data]
    for _ in range(DEEPEST):
        level = [
            each
            for part in level
            for each in (part.values() if isinstance(part, dict) else part)
            if isinstance(each, dict | list)
        ]
        if not level:
            return
    raise _unreadable(path, say("tables or lists are nested more than {deepest} deep", deepest=DEEPEST))


@cache
def demo_shop() -> Shop:
    """The demo shop that comes with the service."""
    return load_shop(DEMO)


def _unreadable(path: Path, detail: str) -> ShopFileError:
    return ShopFileError(path, (Fault(path=(), code="unreadable", detail=detail),))


def _pictures(path: Path, tables: Mapping[str, Any], picture: Callable[[str], Picture]) -> dict[str, Picture]:
    """The pictures that the file names, each read once. Raises `ShopFileError` with every one that cannot be used."""
    wanted: list[tuple[tuple[str, ...], str | None]] = [(("shop", "mark"), tables["shop"].get("mark"))]
    wanted += [(("ornaments", each.id, "picture"), each.picture) for each in tables["ornaments"].values()]
    found: dict[str, Picture] = {}
    faults = []
    for key, name in wanted:
        try:
            if name is not None and name not in found:
                found[name] = picture(name)
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
