"""The service as a wheel (PEP 427): everything that it reads is in it, and it starts from it, far from its sources."""

import os
import re
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.support.serving import ROOT, ask, free_port, wait_for

pytestmark = pytest.mark.slow

pytest.importorskip("pip", reason="this environment has no pip of its own")

PIP = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--no-input"]
NOT_CARRIED = re.compile(r"openapi/(examples|requests|kinds)/|\.pyc$")
"""Examples and pictures are for the documents; compiled code is made where it is installed."""


def tracked():
    """The files of the packages, by the paths that a wheel has them at."""
    told = subprocess.run(
        ["git", "ls-files", "service", "openapi"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return {path for path in told.stdout.splitlines() if not NOT_CARRIED.search(path)}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """A wheel of the tree as git knows it, built with the locked setuptools and without a network."""
    folder = tmp_path_factory.mktemp("wheel")
    for path in (
        *tracked(),
        "pyproject.toml",
        "README.md",
        "LICENSE",
        "deploy/requirements.in",
        "tests/requirements.in",
    ):
        (folder / "source" / path).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / path, folder / "source" / path)
    command = [*PIP, "wheel", "--no-deps", "--no-build-isolation", "--no-index", "-w", folder, folder / "source"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    (made,) = folder.glob("*.whl")
    return made


def test_every_file_of_the_packages_is_in_it_and_nothing_of_the_tests(wheel):
    held = {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name}
    assert held == tracked()


@pytest.fixture(scope="module")
def port(wheel, tmp_path_factory):
    """The service as it starts from the wheel alone: its settings file beside it, its libraries those of the tests."""
    folder = tmp_path_factory.mktemp("elsewhere")
    site, port = folder / "site", free_port()
    command = [*PIP, "install", "--no-deps", "--no-index", "--target", site, wheel]
    subprocess.run(command, check=True, capture_output=True)
    shutil.copy(ROOT / "deploy" / "gunicorn.conf.py", folder)
    given = {name: value for name, value in os.environ.items() if not name.startswith(("STRAP_", "PROMETHEUS_"))}
    given |= {"PYTHONPATH": str(site), "STRAP_BIND": f"127.0.0.1:{port}", "STRAP_WORKERS": "1"}
    loaded = [sys.executable, "-c", "import service; print(service.__file__)"]
    told = subprocess.run(loaded, cwd=folder, env=given, capture_output=True, text=True, check=True)
    assert Path(told.stdout.strip()) == site / "service" / "__init__.py"
    command = [sys.executable, "-m", "gunicorn", "--config", "gunicorn.conf.py", "service.wsgi:app"]
    with subprocess.Popen(command, cwd=folder, env=given, stdout=subprocess.DEVNULL) as process:
        try:
            wait_for(port)
            yield port
        finally:
            process.terminate()


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/", "text/html"), ("/docs", "text/html"), ("/docs/rules", "text/html"), ("/page.css", "text/css"),
        ("/page.js", "text/javascript"),
        ("/embed.js", "text/javascript"), ("/favicon.svg", "image/svg+xml"), ("/openapi.json", "application/json"),
        ("/v1/shop", "application/json"), ("/v1/designs/bell_garter/pattern.json", "application/json"),
        ("/v1/designs/bell_garter/pattern.svg", "image/svg+xml"), ("/health/ready", "application/json"),
        ("/v1/designs/bell_garter/pattern.pdf", "application/pdf"),
        ("/v1/designs/bell_garter/pattern.png?view=finished&width_px=300", "image/png"),
    ],
)  # fmt: skip
def test_from_it_every_kind_of_answer_is_given(port, client, path, kind):
    """The same as from the sources, to the byte."""
    status, headers, content = ask(port, path)
    assert (status, headers["content-type"].partition(";")[0]) == (200, kind)
    if path != "/":  # whose links name the port
        assert content == client.get(path).data
