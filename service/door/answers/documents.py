"""The OpenAPI document, the page that shows it to people, and the chapter on the rules of the bench."""

from functools import lru_cache

import orjson
from flask import request

from service.door.call import Call
from service.door.pages.docs_page import HtmlPage
from service.door.pages.shop_pages import HTML
from service.door.reply import Reply


def get_document(call: Call) -> Reply:
    """`GET /openapi.json`."""
    return Reply(content=_served(call.service.document, request.script_root))


@lru_cache(maxsize=4)
def _served(document: bytes, root: str) -> bytes:
    """The document as it is for who reaches the service below a path (OpenAPI 3.1, Server Object)."""
    if not root:
        return document
    told = orjson.loads(document)
    return orjson.dumps({**told, "servers": [{**server, "url": root} for server in told["servers"]]})


def get_page(call: Call) -> Reply:
    """`GET /docs`."""
    return _page(call.service.docs)


def get_rules(call: Call) -> Reply:
    """`GET /docs/rules`."""
    return _page(call.service.rules)


def _page(page: HtmlPage) -> Reply:
    return Reply(content=page.content, media_type=HTML, headers={"Content-Security-Policy": page.policy})
