"""The id by which a request is found again: in its answer, in the log and in a problem."""

import re
import uuid

REQUEST_ID = "X-Request-Id"
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._:-]{0,63}")


def request_id(given: str) -> str:
    """The caller's own id if it is a harmless one, else a new one."""
    return given if _ID.fullmatch(given) else uuid.uuid4().hex
