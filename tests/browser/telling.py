"""A page of another origin that notes all that the element tells, and what is asked of it in tests."""

import json

PAGE = """<!doctype html><html lang="{lang}"><title>A shop</title><link rel="icon" href="data:,"><main><h1>A shop</h1>
<strap-design design="bell_garter" bells="6">Call us</strap-design></main>
<script>const told = [];
for (const name of ["strap-change", "strap-error"]) addEventListener(name, ({{ target, detail }}) => {{
  const root = target.shadowRoot;
  told.push({{ ...detail, pattern: !!detail.pattern, name, busy: target.getAttribute("aria-busy"),
    made_now: target.made, says: root.querySelector("[role=status]").textContent,
    shows: root.querySelector("img")?.src ?? null }});
}});
const element = document.querySelector("strap-design");
const choose = (name, text) => {{
  const select = element.shadowRoot.querySelector(`[name=${{name}}]`);
  select.value = text;
  select.dispatchEvent(new Event("change", {{ bubbles: true }}));
}};
{more}</script><script src="{site}/embed.js" async></script></html>"""
HURRY = """const waits = globalThis.waits = [], real = setTimeout;
globalThis.setTimeout = (done, wait = 0, ...more) => {
  if (wait < 1000 || wait >= 30000) return real(done, wait, ...more);
  waits.push(wait / 1000);
  return real(done, wait / 50, ...more);
};"""
"""Waits of a second and more pass fifty times as fast, and are noted in seconds."""
OPEN = {"Access-Control-Allow-Origin": "*", "Access-Control-Expose-Headers": "Retry-After"}


def told(page):
    return page.evaluate("told")


def settled(page, **choices):
    """The last `strap-change`, once it knows all of these choices."""
    last = "told.findLast(({ name }) => name == 'strap-change')"
    wanted = f"Object.entries({json.dumps(choices)}).every(([name, text]) => last.choices[name] == text)"
    page.wait_for_function(f"() => {{ const last = {last}; return last && last.made !== null && {wanted}; }}")
    return page.evaluate(last)


def status(page):
    return page.locator("strap-design [role=status]").inner_text()


def again_button(page):
    return page.locator("strap-design").get_by_role("button", name="Try again")


def change(page, name, text):
    page.evaluate("([name, text]) => choose(name, text)", [name, text])


def check_is_one_strap(page, site, event):
    """Everything in an event, and the picture shown, is of one choice: as the service itself has it."""
    assert event["made"] is True
    assert (event["busy"], event["made_now"]) == (None, True)
    assert event["shows"] == event["picture"] == page.locator("strap-design img").get_attribute("src")
    assert all(f"{name}={text}" in event["picture"] for name, text in event["choices"].items())
    price = page.request.get(f"{site}/v1/designs/bell_garter/price?{event['query']}").json()
    pattern = page.request.get(f"{site}/v1/designs/bell_garter/pattern.json?{event['query']}").json()
    assert {name: event[name] for name in ("price", "net", "tax", "total", "tax_title", "currency")} == {
        name: price[name] for name in ("price", "net", "tax", "total", "tax_title", "currency")
    }
    assert [event[name] for name in ("code", "sealed", "shop")] == [
        pattern[name] for name in ("code", "sealed", "shop")
    ]
    assert pattern["spec"]["ornaments"]["count"] == int(event["choices"]["bells"])
    assert status(page) == f"€{price['total']} including {price['tax_title']}"
