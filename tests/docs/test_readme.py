"""The README runs: its requests are sent to a started service as they stand, its answers are compared."""

import json
import re
import shutil
import subprocess
import threading
from collections import Counter
from pathlib import Path

import ezdxf
import pytest
from PIL import Image
from werkzeug.serving import make_server

from service.app import create_app
from service.settings import Settings

ROOT = Path(__file__).parents[2]
BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
BLOCKS = BLOCK.findall((ROOT / "README.md").read_text(encoding="utf-8"))
REQUESTS = [text for kind, text in BLOCKS if kind == "sh" and text.startswith("curl")]


@pytest.fixture(scope="module")
def port():
    """A started service's port."""
    server = make_server("127.0.0.1", 0, create_app(Settings()), threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield server.server_port
    server.shutdown()
    thread.join(10)


def send(command: str, port: int, folder: Path) -> str:
    """What a curl command of the README prints."""
    if shutil.which("curl") is None:
        pytest.skip("curl is not installed here")
    here = command.replace("http://127.0.0.1:8000", f"http://127.0.0.1:{port}")
    return subprocess.run(["bash", "-c", here], cwd=folder, check=True, capture_output=True, text=True).stdout


def is_within(part: object, whole: object) -> bool:
    """Whether everything that `part` says stands in `whole` too; of a list, its entries in order."""
    if isinstance(part, dict):
        return isinstance(whole, dict) and all(k in whole and is_within(v, whole[k]) for k, v in part.items())
    if isinstance(part, list):
        return isinstance(whole, list) and all(map(is_within, part, whole)) and len(part) <= len(whole)
    return part == whole


def test_the_refusal_is_the_one_that_is_shown(port, tmp_path):
    shown = next(json.loads(text) for kind, text in BLOCKS if kind == "json")
    answer = json.loads(send(REQUESTS[0], port, tmp_path))
    assert answer["status"] == 422
    assert is_within(shown, answer)


def test_the_picture_is_written_at_true_size(port, tmp_path):
    send(REQUESTS[1], port, tmp_path)
    with Image.open(tmp_path / "strap.png") as picture:
        assert picture.format == "PNG"
        assert picture.info["dpi"] == pytest.approx((150, 150), abs=0.1)


def test_what_a_machine_cuts_is_written(port, tmp_path):
    """Read by ezdxf: a strap with its keeper, five slots for bells, one for the prong."""
    (request,) = (text for text in REQUESTS if ".dxf" in text)
    send(request, port, tmp_path)
    document = ezdxf.readfile(tmp_path / "garter.dxf")
    assert document.audit().errors == []
    found = Counter((each.dxf.layer, each.dxftype()) for each in document.modelspace())
    assert (found["cut", "LWPOLYLINE"], found["punch", "LWPOLYLINE"]) == (2, 6)


def test_the_first_two_commands_exist_and_are_executable():
    first = next(text for kind, text in BLOCKS if kind == "sh")
    for line in first.splitlines():
        script = ROOT / line.split()[0]
        assert script.is_file()
        assert script.stat().st_mode & 0o111


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "deploy/README.md"])
def test_every_file_that_the_docs_name_is_there(name):
    text = (ROOT / name).read_text(encoding="utf-8")
    linked = re.findall(r"\]\(((?!http)[^)#]+)\)", text)
    missing = [path for path in linked if not (ROOT / name).parent.joinpath(path).exists()]
    assert missing == []
