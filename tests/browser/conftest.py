"""The service and a shop of another origin, served to a headless Chromium."""

import ctypes
import functools
import http.server
import shutil
import threading
from pathlib import Path

import pytest
from playwright.sync_api import sync_playwright
from werkzeug.serving import make_server

from service.app import create_app
from service.settings import Settings
from tests.browser.telling import HURRY, PAGE

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
QUIET = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
"""Chromium asks nothing of its maker, and runs as root in a container."""


def can_be_driven():
    """Whether the library is here that what drives the browser needs."""
    try:
        ctypes.CDLL("libatomic.so.1")
    except OSError:
        return False
    return True


def pytest_collection_modifyitems(items):
    missing = pytest.mark.skip(reason="not installed here: Debian's packages are chromium and libatomic1")
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.slow)
            if CHROMIUM is None or not can_be_driven():
                item.add_marker(missing)


def serve(server):
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    return thread


@pytest.fixture(scope="session")
def site():
    """The address of the service."""
    server = make_server("127.0.0.1", 0, create_app(Settings()), threaded=True)
    thread = serve(server)
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()


@pytest.fixture
def storefront(tmp_path):
    """A site of another origin: its address, and the folder of its pages. One of them is isolated from all others."""

    class Silent(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *_):
            pass

        def end_headers(self):
            if self.path == "/isolated.html":
                self.send_header("Cross-Origin-Embedder-Policy", "require-corp")
                self.send_header("Cross-Origin-Opener-Policy", "same-origin")
            super().end_headers()

    handler = functools.partial(Silent, directory=tmp_path)
    with http.server.ThreadingHTTPServer(("localhost", 0), handler) as server:
        thread = serve(server)
        yield f"http://localhost:{server.server_port}", tmp_path
        server.shutdown()
        thread.join()


@pytest.fixture(scope="session")
def browser():
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield chromium
        chromium.close()


class Watch:
    """What a page asked for, and what it complained of."""

    def __init__(self, page):
        self.urls, self.complaints = [], []
        page.on("request", lambda request: self.urls.append(request.url))
        page.on("console", self._hear)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))

    def _hear(self, said):
        if said.type in ("error", "warning"):
            self.complaints.append(said.text)


@pytest.fixture
def page(browser):
    context = browser.new_context(accept_downloads=True)
    page = context.new_page()
    page.set_default_timeout(60_000)
    page.watch = Watch(page)
    yield page
    context.close()


@pytest.fixture
def open_shop(page, site, storefront):
    """Opens the page of a shop; its argument is what its script does more."""
    address, folder = storefront

    def open_page(more="", lang="en"):
        (folder / "index.html").write_text(PAGE.format(site=site, more=more, lang=lang), encoding="utf-8")
        page.add_init_script(HURRY)
        page.goto(f"{address}/index.html")
        return page

    return open_page
