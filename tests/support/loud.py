"""The service with every logger at its loudest, and with routes that fail: for `tests/attacks/test_secrets.py`."""

import logging

from flask import Response, request

from service.app import start

app = start()
logging.getLogger().setLevel(logging.DEBUG)
for _name in (*logging.Logger.manager.loggerDict, "gunicorn.error", "werkzeug", "flask"):
    logging.getLogger(_name).setLevel(logging.DEBUG)


def _fail() -> Response:
    """Fail inside the framework, with words that repeat everything that a caller sent."""
    raise ValueError(f"cannot use {request.headers} {request.query_string!r} {request.get_data()!r}")


def _pour() -> Response:
    """Fail after the head is sent, where gunicorn itself has to say so."""
    sent = f"{request.headers} {request.query_string!r}"

    def parts() -> object:
        yield b"a"
        raise ValueError(sent)

    return Response(parts())  # type: ignore[arg-type]


app.add_url_rule("/fails", view_func=_fail, methods=["GET", "POST"])
app.add_url_rule("/pours", view_func=_pour)
