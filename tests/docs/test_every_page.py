"""All pages of the docs: every address they name is answered, every command in them runs and does what it says."""

import hashlib
import json
import re
import shutil
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from werkzeug.serving import make_server

from service.app import create_app
from service.settings import DECLARED, read_settings
from service.shop_file import demo_shop

ROOT = Path(__file__).parents[2]
PAGES = [
    "README.md",
    "DEVELOPERS.md",
    "deploy/README.md",
    "openapi/CHANGELOG.md",
    "openapi/STOREFRONT.md",
    "openapi/description.md",
    "tests/SOURCES.md",
]
TEXTS = {name: (ROOT / name).read_text(encoding="utf-8") for name in PAGES}
OF_A_DESIGN = ["/choices", "/pattern", "/price"]
OURS = ("service", "deploy", "tests", "openapi")


def found(pattern):
    return sorted({match for text in TEXTS.values() for match in re.findall(pattern, text)})


@pytest.fixture(scope="module")
def client():
    return create_app(read_settings({})).test_client()


@pytest.mark.parametrize("address", [each for each in found(r"`(?:GET )?(/[^`\s]*)`") if each not in OF_A_DESIGN])
def test_every_address_leads_somewhere(client, address):
    """A path that takes a POST alone refuses a GET, and one that needs a parameter says so; none is unknown."""
    example = json.loads((ROOT / "openapi/examples/shortest_open.json").read_text(encoding="utf-8"))
    code = client.post("/v1/patterns", json=example).json["code"]
    path = address.replace("{code}", code).replace("{design}", next(iter(demo_shop().designs)))
    assert client.get(path).status_code in {200, 405, 422}


@pytest.mark.parametrize("rest", OF_A_DESIGN)
def test_every_address_of_a_design_is_answered(client, rest):
    for name in demo_shop().designs:
        assert client.get(f"/v1/designs/{name}{rest}").status_code == 200


@pytest.mark.parametrize("module", [name for name in found(r"`python -m ([\w.]+)`") if name.startswith(OURS)])
def test_every_module_that_writes_a_file_finds_it_current(module, tmp_path):
    """Run in a copy of the tree, it changes nothing."""
    for folder in (*OURS, "README.md", "pyproject.toml"):
        source = ROOT / folder
        (shutil.copytree if source.is_dir() else shutil.copy)(source, tmp_path / folder)
    before = digests(tmp_path)
    subprocess.run([sys.executable, "-B", "-m", module], cwd=tmp_path, check=True, capture_output=True)
    assert digests(tmp_path) == before


def digests(folder):
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file() and path.suffix not in (".pyc", ".png")
    }


@pytest.mark.parametrize("script", found(r"`\.?/?((?:tests|deploy)/[a-z]+)(?: [^`]*)?`"))
def test_every_script_says_what_it_does(script):
    path = ROOT / script
    assert path.exists()
    if path.is_file():
        told = subprocess.run([path, "--help"], capture_output=True, text=True, check=True, timeout=120).stdout
        assert told.startswith(script)


def test_every_variable_of_the_environment_is_one_that_is_read():
    declared = {each.variable for each in DECLARED}
    assert set(found(r"`(STRAP_[A-Z_]+)`")) <= declared


def test_the_key_that_is_made_opens_a_cut_plan(tmp_path):
    """The commands of deploy/README.md, as they stand: the caller's half of a key, and the line for the file."""
    commands = next(
        text for text in re.findall(r"```sh\n(.*?)```", TEXTS["deploy/README.md"], re.DOTALL) if "key=" in text
    )
    told = subprocess.run(["bash", "-ec", commands], capture_output=True, text=True, check=True).stdout.splitlines()
    key, entry = told[0].removeprefix("give out: "), told[1]
    keys = tmp_path / "keys"
    keys.write_text(entry + "\n", encoding="ascii")
    app = create_app(read_settings({"STRAP_KEYS_FILE": str(keys)}))
    server = make_server("127.0.0.1", 0, app, threaded=True)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        answers = [
            ask(server.server_port, header)
            for header in ([], ["-H", f"Authorization: Bearer {key}"], ["-H", "Authorization: Bearer x"])
        ]
    finally:
        server.shutdown()
    assert answers == ["401", "200", "401"]


def ask(port, header):
    if shutil.which("curl") is None:
        pytest.skip("curl is not installed here")
    plan = json.dumps({"orders": [{"ref": "1", "design": "bell_garter", "quantity": 1}]})
    command = ["curl", "-s", "-o", "/dev/null", "-w", "%{http_code}", f"http://127.0.0.1:{port}/v1/cut-plans",
               "-H", "Content-Type: application/json", "-d", plan, *header]  # fmt: skip
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout
