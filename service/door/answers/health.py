"""For the machines that run the service: whether it lives, whether it can do its work, and what was counted."""

import orjson

from service.door.call import Call
from service.door.errors import NotReady
from service.door.machine.metrics import BUILD, exposition
from service.door.reply import Reply
from service.forms.face import FontError, check_font
from service.schemas.answers.shop import HealthDocument

METRICS_TYPE = "text/plain; version=0.0.4; charset=utf-8"


def get_live(_call: Call) -> Reply:
    """The process answers."""
    return _status({"status": "live"})


def get_ready(_call: Call) -> Reply:
    """The process can draw: what a drawing needs is in its place. Raises `NotReady`."""
    try:
        check_font()
    except FontError as error:
        raise NotReady("the drawing font cannot be used") from error
    return _status({"status": "ready"})


def get_metrics(call: Call) -> Reply:
    """What was counted since the start, for Prometheus: of all of this server's processes."""
    BUILD.labels(call.shop.digest[:12]).set(1)
    return Reply(content=exposition(), media_type=METRICS_TYPE)


def _status(document: HealthDocument) -> Reply:
    return Reply(content=orjson.dumps(document))
