"""The page of openapi/STOREFRONT.md, as it stands there: what gets into its cart."""

import re
from pathlib import Path

import pytest

DOCUMENT = (Path(__file__).parents[2] / "openapi/STOREFRONT.md").read_text(encoding="utf-8")
EXAMPLE = re.search(r"```html\n(.*?)```", DOCUMENT, re.DOTALL)[1]
PAGE = '<!doctype html><html lang="en"><title>A shop</title><link rel="icon" href="data:,"><main>{}</main></html>'
CHOOSE = """const select = document.querySelector("strap-design").shadowRoot.querySelector("[name=bells]");
  select.value = "3";
  select.dispatchEvent(new Event("change", { bubbles: true }));"""
ADD = 'document.querySelector("#add")'


@pytest.fixture
def shop(page, site, storefront):
    """The example in a page of another origin, opened."""
    address, folder = storefront
    html = PAGE.format(EXAMPLE.replace("https://straps.example", site))
    (folder / "shop.html").write_text(html, encoding="utf-8")
    page.goto(f"{address}/shop.html")
    return page


def enabled(page):
    page.wait_for_function(f"() => !{ADD}.disabled")


def test_nothing_can_be_added_before_anything_is_known():
    assert '<button id="add" disabled>' in EXAMPLE


def test_the_cart_gets_the_strap_that_is_shown_with_its_price(shop, site):
    page = shop
    enabled(page)
    page.locator("#add").click()
    (line,) = page.evaluate("cart")
    assert line["choices"]["bells"] == "6"
    ordered = page.request.get(f"{site}/v1/patterns/{line['sealed']}").json()
    assert ordered["spec"]["ornaments"]["count"] == 6
    assert line["shop"] == ordered["shop"]
    line_now = {"ref": "A1", "code": line["sealed"], "quantity": line["quantity"]}
    quote = page.request.post(f"{site}/v1/quotes", data={"lines": [line_now]}).json()
    for name in ("net", "tax", "total", "tax_title", "currency"):
        assert line[name] == quote[name]
    assert line["price"] == quote["total"]
    assert line["price"] in page.locator("strap-design [role=status]").inner_text()


def test_between_a_change_and_what_it_costs_there_is_nothing_to_add(shop):
    """The button is pressed in the very task of the change, and by a script that enables it first."""
    page = shop
    enabled(page)
    page.evaluate(f"() => {{ {CHOOSE} {ADD}.click(); {ADD}.disabled = false; {ADD}.click(); {ADD}.disabled = true; }}")
    assert page.evaluate("cart") == []
    enabled(page)
    page.locator("#add").click()
    assert [line["choices"]["bells"] for line in page.evaluate("cart")] == ["3"]


def test_while_the_service_does_not_answer_there_is_nothing_to_add(shop):
    page = shop
    enabled(page)
    page.route(re.compile("/price"), lambda route: route.abort())
    page.evaluate(f"() => {{ {CHOOSE} }}")
    page.locator("strap-design [role=status]", has_text="trying again").wait_for()
    assert page.evaluate(f"{ADD}.disabled")
    assert page.evaluate("strap.made") is None


def test_what_is_told_is_what_the_page_says_is_told(shop):
    page = shop
    enabled(page)
    named = {
        name for row in re.findall(r"^\| (`.*?) \|", DOCUMENT, re.MULTILINE) for name in re.findall(r"`(\w+)`", row)
    }
    assert set(page.evaluate("Object.keys(strap.detail)")) == named - {"detail"}
