"""The page to choose on, in a headless Chromium: the first picture after navigation, and each change of choice."""

import shutil
import statistics

from playwright.sync_api import Browser, sync_playwright

from tests.benchmarks._timing import line
from tests.benchmarks.http import Server

ROUNDS = 9
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync"]  # fmt: skip

FIRST_PICTURE = """document.addEventListener("load", ({ target }) => {
  if (target.localName == "img") globalThis.seen ??= performance.now(); }, true)"""
CHANGE = """async ([name, text]) => {
  const root = document.querySelector("strap-design").shadowRoot;
  const [picture, select] = [root.querySelector("img"), root.querySelector(`[name=${name}]`)];
  const started = performance.now();
  const shown = new Promise((done) => picture.addEventListener("load", done, { once: true }));
  select.value = text;
  select.dispatchEvent(new Event("change", { bubbles: true }));
  await shown;
  await picture.decode();
  return performance.now() - started;
}"""
READY = """() => document.querySelector("strap-design").shadowRoot?.querySelector("img")?.naturalWidth > 0"""
CHANGES = [("bells", "6"), ("bells", "4"), ("length", "15in"), ("leather", "harness_8_9"), ("bell", "bell_30"),
           ("buckle", "heel_bar_25"), ("length", "17.25in"), ("leather", "bridle_10_11")]  # fmt: skip


def first_picture(browser: Browser, site: str, path: str) -> float:
    """Milliseconds from navigation to the first picture, in a browser that has seen nothing yet."""
    context = browser.new_context()
    page = context.new_page()
    page.add_init_script(FIRST_PICTURE)
    page.goto(site + path)
    page.wait_for_function("() => globalThis.seen")
    seen: float = page.evaluate("seen")
    context.close()
    return seen


def changes(browser: Browser, site: str) -> list[float]:
    """Milliseconds from each change of choice to its decoded picture."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{site}/designs/bell_garter")
    page.wait_for_function(READY)
    page.wait_for_load_state("networkidle")
    taken = [page.evaluate(CHANGE, list(change)) for change in CHANGES]
    context.close()
    return taken


def main() -> None:
    """Print the middle and the slowest of each."""
    chromium = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if chromium is None:
        line("Chromium is not installed here: nothing to measure", 0, "pages")
        return
    server = Server("service.wsgi:app", 8474)
    site = f"http://127.0.0.1:{server.port}"
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=chromium, args=QUIET)
            for path in ("/", "/designs/bell_garter"):
                times = [first_picture(browser, site, path) for _ in range(ROUNDS)]
                line(f"first picture of {path}, cold: the first", times[0], "ms", "aim: at most 300")
                line(f"the middle of {ROUNDS}", statistics.median(times), "ms", "aim: at most 300")
            taken = changes(browser, site)
            line(f"a change of choice, the middle of {len(taken)}", statistics.median(taken), "ms", "aim: at most 100")
            line("the slowest of them", max(taken), "ms", "aim: at most 100")
            browser.close()
    finally:
        server.stop()


if __name__ == "__main__":
    main()
