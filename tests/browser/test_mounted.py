"""The pages and the element where the service lies below a path of its host: they ask for nothing outside it."""

import pytest
from werkzeug.serving import make_server

from service.app import create_app
from service.settings import Settings
from tests.browser.conftest import serve
from tests.browser.test_try_it import choose, settled
from tests.support.stripping import PREFIX, Stripping


@pytest.fixture(scope="module")
def mounted():
    """The host with the service below its path, and the proxy in front of it."""
    proxy = Stripping(None)
    server = make_server("127.0.0.1", 0, proxy, threaded=True)
    host = f"http://127.0.0.1:{server.server_port}"
    proxy.app = create_app(Settings(public_url=host + PREFIX))
    thread = serve(server)
    yield host, proxy
    server.shutdown()
    thread.join()


def test_a_design_is_tried_and_taken_away(page, mounted):
    host, proxy = mounted
    site = host + PREFIX
    page.goto(f"{site}/workshop")
    page.get_by_role("link", name="bell garter").first.click()
    settled(page)
    page.evaluate(
        """() => document.querySelector("strap-design").addEventListener("strap-change",
             ({ detail }) => console.log("changed", JSON.stringify(detail)))"""
    )
    choose(page, "Bells", "3")
    assert page.url.startswith(f"{site}/workshop/designs/bell_garter?")
    addresses = page.evaluate(
        """() => [...document.querySelectorAll("[data-form]")].map((each) => each.src ?? each.href)"""
    )
    assert len(addresses) > 5
    for address in addresses:
        assert address.startswith(f"{site}/v1/designs/bell_garter/pattern.")
        assert "bells=3" in address
        assert page.request.get(address).status == 200
    for snippet in ("#curl", "#image"):
        (link,) = page.evaluate(f"document.querySelector('{snippet}').textContent.match(/https?:[^'\"]*/g)")
        assert link.startswith(f"{site}/v1/designs/bell_garter/pattern.")
        assert page.request.get(link).status == 200
    assert all(url.startswith(f"{site}/") for url in page.watch.urls)
    assert [each for each in page.watch.complaints if "changed" not in each] == []
    assert proxy.elsewhere == []


def test_the_element_works_in_a_page_of_another_origin(page, mounted, storefront):
    host, proxy = mounted
    address, folder = storefront
    (folder / "index.html").write_text(
        '<!doctype html><html lang="en"><title>A shop</title><link rel="icon" href="data:,">'
        f'<script src="{host}{PREFIX}/embed.js" async></script>'
        '<strap-design design="bell_garter"></strap-design></html>',
        encoding="utf-8",
    )
    page.goto(f"{address}/index.html")
    settled(page)
    page.wait_for_function("""() => document.querySelector("strap-design").detail?.price""")
    assert {url for url in page.watch.urls if url.startswith(host) and not url.startswith(f"{host}{PREFIX}/")} == set()
    assert page.watch.complaints == []
    assert proxy.elsewhere == []
