"""Clients that are generated from the document by general-purpose generators ask a running service.

What they get is held against what the service answers to plain requests: no member is lost or read otherwise, and what
is sent arrives. `tests/clients` fetches the generators.
"""

import base64
import json
import os
import subprocess
import urllib.request
from pathlib import Path
from urllib.error import HTTPError
from urllib.parse import urlencode

import pytest

from openapi.example_requests import examples, requests
from tests.support.serving import Instance

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
PYTHON = ROOT / ".venv" / "clients" / "bin" / "python"
NODE_MODULES = ROOT / "build" / "clients" / "node_modules"
ASKED = {
    "spec": examples()["lined_bag_strap"],
    "refused": examples()["refused_too_many_bells"],
    "quote": requests("QuoteRequest")["two_straps"],
    "design": "bell_garter",
    "choices": {"length": "15in", "bells": "6"},
}

pytestmark = pytest.mark.slow
needs_python = pytest.mark.skipif(not PYTHON.exists(), reason="tests/clients fetches the generator of Python")
needs_node = pytest.mark.skipif(not NODE_MODULES.exists(), reason="tests/clients fetches the generator of TypeScript")


@pytest.fixture(scope="module")
def address():
    """Where the service answers."""
    served = Instance()
    yield f"http://127.0.0.1:{served.port}"
    served.stop()


def fetched(address, path, body=None):
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(address + path, data, {"Content-Type": "application/json"})
    try:
        with urllib.request.urlopen(request) as answer:
            return answer.read()
    except HTTPError as problem:
        return problem.read()


def answered(address):
    """What plain requests are answered; the id of a request is its own."""
    query = urlencode(ASKED["choices"])
    found = {
        "pattern": json.loads(fetched(address, "/v1/patterns", ASKED["spec"])),
        "quote": json.loads(fetched(address, "/v1/quotes", ASKED["quote"])),
        "as_chosen": json.loads(fetched(address, f"/v1/designs/bell_garter/pattern.json?{query}")),
        "price": json.loads(fetched(address, f"/v1/designs/bell_garter/price?{query}")),
        "refused": json.loads(fetched(address, "/v1/patterns", ASKED["refused"])),
    }
    picture = fetched(address, f"/v1/patterns/{found['pattern']['code']}.png?width_px=300")
    return found | {"picture": base64.b64encode(picture).decode()}


def told(output, address):
    """What a client says it got, and what plain requests got, without the ids of requests."""
    got, plain = json.loads(output), answered(address)
    for each in (got, plain):
        del each["refused"]["request_id"]
    return got, plain


def run(*command, cwd, **environment):
    done = subprocess.run(command, cwd=cwd, env=os.environ | environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture
def asking(address, tmp_path):
    """A folder with the document as the service answers it, and with what is to be asked."""
    (tmp_path / "openapi.json").write_bytes(fetched(address, "/openapi.json"))
    (tmp_path / "asked.json").write_text(json.dumps(ASKED), encoding="utf-8")
    return tmp_path


def media_types(document):
    """What the Python generator has to be told: which media types are bytes and which are text."""
    contents = {
        name: content["schema"]
        for methods in document["paths"].values()
        for operation in methods.values()
        for name, content in operation["responses"]["200"]["content"].items()
    }
    drawn = {name: schema for name, schema in contents.items() if "contentMediaType" in schema or "/svg" in name}
    return {
        name: "application/octet-stream" if schema.get("format") == "binary" else "text/html"
        for name, schema in drawn.items()
    }


@needs_python
def test_a_python_client_gets_what_was_answered(address, asking):
    out, settings = asking / "client", asking / "settings.yml"
    document = json.loads((asking / "openapi.json").read_text(encoding="utf-8"))
    settings.write_text(json.dumps({"content_type_overrides": media_types(document)}), encoding="utf-8")
    generate = [PYTHON, "-m", "openapi_python_client", "generate", "--path", "openapi.json", "--config", settings]
    path = f"{PYTHON.parent}:{os.environ['PATH']}"
    said = run(*generate, "--output-path", out, "--meta", "setup", cwd=asking, PATH=path)
    assert "warning" not in said.lower(), "the generator leaves out a part of the document"
    got, plain = told(run(PYTHON, HERE / "ask.py", address, "asked.json", cwd=asking, PYTHONPATH=str(out)), address)
    assert got == plain


@needs_node
def test_a_typescript_client_gets_what_was_answered(address, asking):
    (asking / "node_modules").symlink_to(NODE_MODULES)
    (asking / "package.json").write_text('{"type": "module"}')
    (asking / "ask.ts").write_bytes((HERE / "ask.ts").read_bytes())
    (asking / "tsconfig.json").write_bytes((HERE / "tsconfig.json").read_bytes())
    programs = NODE_MODULES / ".bin"
    run(programs / "openapi-typescript", "openapi.json", "-o", "api.d.ts", cwd=asking)
    run(programs / "tsc", "--project", ".", cwd=asking)
    got, plain = told(run("node", "ask.js", address, "asked.json", cwd=asking), address)
    finished = plain["as_chosen"]["finished"]["length"]
    assert got.pop("read") == {"lines": 2, "length": finished, "price": plain["price"]["price"]}
    assert got == plain
