"""A bare Flask app that gives one fixed content: what no answer of ours can be faster than."""

import os

from flask import Flask, Response

app = Flask(__name__)
CONTENT = b"x" * int(os.environ.get("STATIC_BYTES", "50000"))


@app.get("/static")
def static_reply() -> Response:
    """The content, with a type and a lifetime."""
    return Response(CONTENT, content_type="image/svg+xml", headers={"Cache-Control": "public, max-age=3600"})
