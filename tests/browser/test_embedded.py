"""The element and the pictures in a page of another origin, under that page's own rules."""

import json

import pytest

TWO = """<!doctype html><html lang="en"><title>A shop</title><link rel="icon" href="data:,">
<style>body {{ font: italic 20px Georgia; }}</style>
<main><h1>A shop</h1><strap-design id="one" design="bell_garter" bells="6" length="15 in"></strap-design>
<strap-design id="two" design="goat_collar">A collar</strap-design><p id="told"></p></main>
<script>addEventListener("strap-change", ({{ target, detail }}) => {{
  const told = JSON.parse(document.querySelector("#told").textContent || "{{}}");
  told[target.id] = {{ ...detail, pattern: !!detail.pattern }};
  document.querySelector("#told").textContent = JSON.stringify(told);
}});</script><script src="{site}/embed.js" async></script></html>"""
STRICT = (
    "default-src 'none'; script-src {site} 'unsafe-inline'; img-src {site} data:; connect-src {site}; "
    "style-src 'unsafe-inline'"
)
BARE = "<!doctype html><title>A shop</title><link rel=icon href=data:,>"
LOADED = "async (picture) => (await picture.decode(), picture.naturalWidth)"


def write(storefront, html, name="index.html"):
    address, folder = storefront
    (folder / name).write_text(html, encoding="utf-8")
    return f"{address}/{name}"


def told(page, name):
    page.wait_for_function(f"() => JSON.parse(document.querySelector('#told').textContent || '{{}}')['{name}']")
    return json.loads(page.locator("#told").inner_text())[name]


def test_two_elements_on_a_page_of_another_origin(page, site, storefront):
    page.goto(write(storefront, TWO.format(site=site)))
    one, two = told(page, "one"), told(page, "two")
    assert (one["design"], one["choices"]["bells"], one["choices"]["length"]) == ("bell_garter", "6", "15in")
    assert (two["design"], two["made"]) == ("goat_collar", True)
    assert page.request.get(f"{site}/v1/patterns/{two['code']}").ok
    lines = [{"ref": "1", "design": "bell_garter", "choices": one["choices"], "quantity": 1}]
    quote = page.request.post(f"{site}/v1/quotes", data={"lines": lines}).json()
    assert [one[name] for name in ("price", "net", "tax", "total", "currency", "shop")] == [
        quote[name] for name in ("total", "net", "tax", "total", "currency", "shop")
    ]
    assert one["price"] in page.locator("#one [role=status]").inner_text()
    for name in ("one", "two"):
        assert page.locator(f"#{name} img").evaluate(LOADED) > 0
    page.locator("#two select[name=bells]").select_option("3")
    page.wait_for_function("() => JSON.parse(document.querySelector('#told').textContent).two.choices.bells == '3'")
    assert told(page, "one")["choices"]["bells"] == "6"


def test_the_element_follows_the_pages_font_and_asks_nothing_of_others(page, site, storefront):
    page.goto(write(storefront, TWO.format(site=site)))
    told(page, "one")
    font = page.locator("#one select").first.evaluate("(select) => getComputedStyle(select).fontFamily")
    size = page.locator("#one select").first.evaluate("(select) => getComputedStyle(select).fontSize")
    assert (font, size) == ("Georgia", "20px")
    allowed = (site, storefront[0])
    assert [url for url in page.watch.urls if not url.startswith(allowed)] == []


def test_it_works_under_a_strict_policy_of_the_storefront(page, site, storefront):
    policy = f'<meta http-equiv="Content-Security-Policy" content="{STRICT.format(site=site)}">'
    page.goto(write(storefront, TWO.format(site=site).replace("<title>", policy + "<title>")))
    assert told(page, "one")["made"]
    assert page.locator("#one form").evaluate("(form) => getComputedStyle(form).display") == "grid"
    assert not [said for said in page.watch.complaints if "Content Security Policy" in said]


def test_a_script_of_another_origin_reads_answers_tags_and_refusals(page, site, storefront):
    page.goto(write(storefront, BARE))
    found = page.evaluate(
        """async (site) => {
             const good = await fetch(`${site}/v1/designs/goat_collar/choices`);
             const bad = await fetch(`${site}/v1/designs/bell_garter/pattern.json?bells=10`);
             const sent = await fetch(`${site}/v1/patterns`, { method: "POST",
               headers: { "Content-Type": "application/json" },
               body: JSON.stringify({ construction: "one_piece", size: { finished_length: "30 in" } }) });
             return { tag: good.headers.get("ETag"), where: good.headers.get("Content-Location"),
                      remedies: (await bad.json()).remedies.length, status: sent.status,
                      cookie: document.cookie, secret: good.headers.get("Vary") };
           }""",
        site,
    )
    assert found["tag"].startswith('"')
    assert found["where"].startswith("/v1/designs/goat_collar/choices")
    assert found["remedies"] > 0
    assert found["status"] == 200
    assert found["secret"] is None


def test_credentials_are_never_shared(page, site, storefront):
    """The Fetch standard: with credentials, `*` lets nothing through."""
    page.goto(write(storefront, BARE))
    refused = page.evaluate(
        "(site) => fetch(`${site}/v1/shop`, { credentials: 'include' }).then(() => false, () => true)", site
    )
    assert refused


@pytest.mark.parametrize("tag", ['<img src="{url}" alt="A garter">', '<object data="{url}"></object>'])
def test_a_picture_shows_in_a_page_that_is_isolated_from_others(page, site, storefront, tag):
    """`Cross-Origin-Embedder-Policy: require-corp` lets in only what allows it: HTML standard, 7.1.4."""
    url = f"{site}/v1/designs/bell_garter/pattern.svg?view=finished"
    address = write(storefront, BARE + tag.format(url=url), "isolated.html")
    page.goto(address, wait_until="networkidle")
    assert page.evaluate("crossOriginIsolated")
    if tag.startswith("<img"):
        width = page.locator("img").evaluate(LOADED)
    else:
        width = page.locator("object").evaluate("(picture) => picture.clientWidth")
    assert width > 100
    assert page.watch.complaints == []


def test_a_design_that_is_not_there_says_so_and_leaves_the_pages_own_words(page, site, storefront):
    element = f'<strap-design design="none">Call us</strap-design><script src="{site}/embed.js"></script>'
    page.goto(write(storefront, BARE + element))
    page.locator("strap-design [role=status]", has_text="cannot be shown").wait_for()
    assert page.get_by_text("Call us").is_visible()
