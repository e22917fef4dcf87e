"""The same spec gives the same bytes and tags in another process, locale, time zone and hash seed."""

import os
import subprocess
import sys

import pytest

from tests.support.door import GOOD

SCRIPT = """
import hashlib
from service.app import create_app
from tests.support.door import GOOD
client = create_app().test_client()
FORMS = (
    ("application/json", ""), ("image/svg+xml", ""), ("image/png", "?width_px=400"), ("application/pdf", ""),
    ("image/svg+xml", "?view=finished"), ("image/png", "?view=finished&width_px=400"),
    ("image/svg+xml", "?view=cutter"), ("image/vnd.dxf", ""),
)
for name, spec in sorted(GOOD.items()):
    for form, query in FORMS:
        answer = client.post("/v1/patterns" + query, json=spec, headers={"Accept": form})
        assert answer.status_code == 200
        print("found", name, form, query, answer.headers["ETag"], hashlib.sha256(answer.data).hexdigest())
print("found", hashlib.sha256(client.get("/docs").data + client.get("/v1/shop").data).hexdigest())
refused = client.get("/v1/shop?b=1&a=2&c=3").json
refused.pop("request_id")
print("found", refused)
"""


def run(**environment):
    kept = {name: value for name, value in os.environ.items() if not name.startswith("STRAP_")}
    done = subprocess.run(
        [sys.executable, "-u", "-c", SCRIPT], env=kept | environment, capture_output=True, text=True, check=True
    )
    return [line for line in done.stdout.splitlines() if line.startswith("found ")]


@pytest.mark.slow
def test_the_same_bytes_everywhere():
    first = run(PYTHONHASHSEED="1", TZ="UTC", LC_ALL="C")
    second = run(PYTHONHASHSEED="4242", TZ="Pacific/Auckland", LC_ALL="C.UTF-8", LANGUAGE="de")
    assert first == second
    assert len(first) == 8 * len(GOOD) + 2
