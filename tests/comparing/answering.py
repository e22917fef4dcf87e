"""Answers requests, a JSON object a line, by the service of whichever tree Python finds first, and says the answers.

Run as a file, so that it needs nothing of the tree that it is asked about but `service.app` and `service.settings`.
A request has `path` and `accept`, and `spec` where it is sent; an answer has `status` and `body`.
"""

import json
import sys
from typing import Any

from service.app import create_app
from service.settings import Settings

MARK = "answer "
"""Before each answer: the service writes its log among them."""


def answered(client: Any, asked: dict[str, Any]) -> dict[str, Any]:
    """What the service says to one request."""
    headers = {"Accept": asked["accept"]}
    ask = client.get if "spec" not in asked else client.post
    more = {"json": asked["spec"]} if "spec" in asked else {}
    answer = ask(asked["path"], headers=headers, **more)
    return {"status": answer.status_code, "body": answer.get_data(as_text=True)}


def main() -> None:
    """Answer until there is nothing more to read."""
    client = create_app(Settings()).test_client()
    for line in sys.stdin:
        print(MARK + json.dumps(answered(client, json.loads(line))), flush=True)


if __name__ == "__main__":
    main()
