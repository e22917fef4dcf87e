"""The same spec gives the same bytes and tags in another process, locale, time zone and hash seed."""

import os
import subprocess
import sys

import pytest

SCRIPT = """
import hashlib
from service.app import create_app
from tests.support.door import GOOD
client = create_app().test_client()
for name, spec in sorted(GOOD.items()):
    for form in ("application/json", "image/svg+xml", "image/png"):
        query = "?width_px=400" if form == "image/png" else ""
        answer = client.post("/v1/patterns" + query, json=spec, headers={"Accept": form})
        assert answer.status_code == 200
        print(name, form, answer.headers["ETag"], hashlib.sha256(answer.data).hexdigest())
print(hashlib.sha256(client.get("/docs").data + client.get("/v1/shop").data).hexdigest())
refused = client.get("/v1/shop?b=1&a=2&c=3").json
refused.pop("request_id")
print(refused)
"""


def run(**environment):
    kept = {name: value for name, value in os.environ.items() if not name.startswith("STRAP_")}
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], env=kept | environment, capture_output=True, text=True, check=True
    )
    return done.stdout


@pytest.mark.slow
def test_the_same_bytes_everywhere():
    first = run(PYTHONHASHSEED="1", TZ="UTC", LC_ALL="C")
    second = run(PYTHONHASHSEED="4242", TZ="Pacific/Auckland", LC_ALL="C.UTF-8", LANGUAGE="de")
    assert first == second
    assert first.count("\n") == 23
