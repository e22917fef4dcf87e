"""Answers requests, a JSON object a line, by the service of whichever tree Python finds first, and says the answers.

Run as a file, so that it needs nothing of the tree that it is asked about but `service.app` and `service.settings`, and
the demo shop's file where there is a `shop`: changes of it, each a way into the file and the value that is set there,
or none where what is there is taken out. A request has `path` and `accept`, and `body` where it is sent; an answer has
`status` and `body`. The status is 0 where the shop so changed is none, and the body then says why.
"""

import hashlib
import json
import shutil
import sys
import tomllib
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import service
from service.app import create_app
from service.settings import Settings

MARK = "answer "
"""Before each answer: the service writes its log among them."""
_DEMO = Path(service.__path__[0]) / "shop" / "demo.toml"


def answered(client: Any, asked: dict[str, Any]) -> dict[str, Any]:
    """What the service says to one request; a digest where it is no text."""
    headers = {"Accept": asked["accept"]}
    ask = client.get if "body" not in asked else client.post
    answer = ask(asked["path"], headers=headers, **({"json": asked["body"]} if "body" in asked else {}))
    is_text = answer.mimetype.endswith(("json", "+xml")) or answer.mimetype.startswith("text/")
    body = answer.get_data(as_text=True) if is_text else hashlib.sha256(answer.data).hexdigest()
    return {"status": answer.status_code, "body": body}


def app_of(changes: list[dict[str, Any]]) -> Any:
    """The service in the demo shop so changed. Raises what it raises where that is no shop."""
    if not changes:
        return create_app(Settings())
    with TemporaryDirectory() as folder:
        path = Path(folder, "changed.toml")
        for picture in _DEMO.parent.glob("*.svg"):
            shutil.copy(picture, folder)
        data = tomllib.loads(_DEMO.read_text(encoding="utf-8"), parse_float=Decimal)
        for change in changes:
            _change(data, **change)
        path.write_text("".join(f"{_written(key)} = {_written(value)}\n" for key, value in data.items()), "utf-8")
        return create_app(Settings(shop_file=path))


def _change(data: Any, way: list[Any], **new: Any) -> None:
    """Set a value, or take it out. Raises `LookupError` where this tree's file has no such place."""
    for name in way[:-1]:
        data = data[name]
    if "value" in new:
        data[way[-1]] = new["value"]
    else:
        del data[way[-1]]


def _written(value: Any) -> str:
    """A value as TOML."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_written(key)} = {_written(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_written, value)) + "]"
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str | bool) else str(value)


def answers(lines: Iterator[str]) -> Iterator[dict[str, Any]]:
    """The answer to each request; a shop is opened once where one request after another is of it."""
    opened: Any = None
    for line in lines:
        asked = json.loads(line, parse_float=Decimal)
        if opened is None or asked["shop"] != opened[0]:
            try:
                opened = (asked["shop"], app_of(asked["shop"]).test_client(), "")
            except Exception as error:  # noqa: BLE001 - whatever it is, it is what that version says to this shop
                opened = (asked["shop"], None, f"{type(error).__name__}: {error}")
        _, client, wrong = opened
        yield answered(client, json.loads(line)) if client else {"status": 0, "body": wrong}


def main() -> None:
    """Answer until there is nothing more to read."""
    for answer in answers(sys.stdin):
        print(MARK + json.dumps(answer), flush=True)


if __name__ == "__main__":
    main()
