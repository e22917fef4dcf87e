"""The page on which a design is tried: choose, see it change, be refused and mended, take it away, by keyboard too."""

import json
import re

import pytest
from axe_playwright_python.sync_playwright import Axe

PATHS = [
    "/", "/designs/bell_garter", "/designs/parade_harness_strap", "/designs/bell_garter?bells=10",
    "/designs/bell_garter?bells=99", "/workshop", "/workshop/designs/bell_garter",
    "/workshop/designs/bell_garter?bells=10",
]  # fmt: skip
LOST = ["/designs/bell_gartr", "/nowhere", "/docs/?" + "a" * 2000]
"""Addresses that lead to a page which says so."""
API = re.compile("/v1/")
STATES = {
    "busy": lambda _: None,
    "trying again": lambda route: route.fulfill(status=503, headers={"Retry-After": "50"}, body="{}"),
    "given up": lambda route: route.fulfill(status=404, body="{}"),
}
"""What the service does while the element is looked at, by what the element then is."""
SHIFT = """globalThis.shift = 0;
new PerformanceObserver((list) => { for (const { value } of list.getEntries()) shift += value; })
  .observe({ type: "layout-shift", buffered: true });"""
WIDTHS = [360, 800, 1600]


def settled(page):
    """Wait until the element shows what is chosen, and the page beside it too."""
    page.wait_for_function(
        """() => { const shadowRoot = document.querySelector("strap-design")?.shadowRoot;
                   const picture = shadowRoot?.querySelector("img");
                   return picture && (shadowRoot.querySelector("[part=remedies] button")
                     || picture.complete && picture.naturalWidth); }"""
    )


def open_garter(page, site, query="", face="/workshop"):
    """The maker's page: it has all that the buyers' page has, and what is for the bench."""
    page.goto(f"{site}{face}/designs/bell_garter{query}")
    settled(page)


def picture(page):
    return page.locator("strap-design img[part=picture]").get_attribute("src")


def drawn(page):
    """The picture's own text, as the browser got it."""
    return page.request.get(picture(page)).text()


def is_settled(said):
    """Whether a line on the console is of an event that knows all."""
    return said.text.startswith("changed ") and '"made":null' not in said.text


def choose(page, label, value):
    """Choose and wait for what the element says about it in the end."""
    with page.expect_event("console", is_settled) as told:
        page.get_by_label(label, exact=True).select_option(value)
    return json.loads(told.value.text.removeprefix("changed "))


@pytest.fixture
def listening(page):
    """The page, telling each change on its console."""
    page.add_init_script(
        """addEventListener("strap-change", ({ detail }) =>
             console.log("changed " + JSON.stringify({ ...detail, pattern: !!detail.pattern })))"""
    )
    return page


def test_the_front_page_leads_to_a_design(page, site):
    page.goto(site)
    assert page.locator("ul.designs img").count() >= 5
    page.get_by_role("link", name="Goat collar with a bell").click()
    settled(page)
    assert page.url.startswith(f"{site}/designs/goat_collar")
    assert page.get_by_role("heading", level=1).inner_text() == "Goat collar with a bell"
    assert page.watch.complaints == []


def test_a_choice_changes_picture_drawing_facts_curl_and_address(listening, site):
    page = listening
    open_garter(page, site)
    before, facts = drawn(page), page.locator("#facts").inner_text()
    told = choose(page, "Bells", "6")
    assert (told["made"], told["choices"]["bells"]) == (True, "6")
    assert "bells=6" in picture(page)
    assert drawn(page) != before
    assert "bells=6" in page.url
    assert "bells=6" in page.locator("#curl").inner_text()
    assert "bells=6" in page.locator("img.sheet").get_attribute("src")
    assert page.locator("#facts").inner_text() != facts
    for link in page.locator("a[data-form]").all():
        assert page.request.get(site + link.get_attribute("href").removeprefix(site)).ok
    assert page.watch.complaints == []


def test_the_code_in_the_event_is_the_patterns_own(listening, site):
    page = listening
    open_garter(page, site)
    told = choose(page, "Leather", "harness_8_9")
    assert page.request.get(f"{site}/v1/patterns/{told['code']}").json()["spec"]["leather"] == "harness_8_9"
    assert told["query"] in picture(page)


def test_what_cannot_be_made_is_marked_with_its_reason_as_the_service_says(listening, site):
    page = listening
    open_garter(page, site)
    choose(page, "Round the leg", "12in")
    made = page.request.get(f"{site}/v1/designs/bell_garter/choices").json()["makeable"]
    counts = next(line["counts"] for line in made if line["value"] == "12in")
    passing = [str(count) for low, high in counts for count in range(low, high + 1)]
    bells = page.locator("strap-design select[name=bells] option")
    assert [text for text in bells.all_inner_texts() if "–" not in text] == passing
    assert bells.last.inner_text() == f"10 – room for at most {passing[-1]}"
    assert page.locator("strap-design option:disabled").count() == 0
    page.goto(f"{site}/designs/herding_dog_collar?leather=bridle_10_11")
    greyed = page.locator("strap-design select[name=spot] option.withheld")
    greyed.first.wait_for(state="attached")
    assert greyed.all_inner_texts() == ["Small, 6 mm – not with Black bridle leather"]


def test_lengths_say_what_they_have_room_for_once_a_count_is_chosen(listening, site):
    """Ten bells are marked at every length that the service refuses them at, and at no other."""
    page = listening
    open_garter(page, site, "?length=20in")
    choose(page, "Bells", "10")
    made = page.request.get(f"{site}/v1/designs/bell_garter/choices").json()["makeable"]
    long_enough = [line["length"] for line in made if any(low <= 10 <= high for low, high in line["counts"])]
    lengths = page.locator("strap-design select[name=length] option").all_inner_texts()
    assert [text for text in lengths if "–" not in text] == long_enough
    assert 0 < len(long_enough) < len(lengths)
    assert "14 in – room for at most 8" in lengths


def test_a_refusal_tells_why_and_its_button_mends_it(listening, site):
    page = listening
    open_garter(page, site, "?length=20in&bells=10")
    told = choose(page, "Round the leg", "14in")
    assert not told["made"]
    status = page.locator("strap-design [role=status]")
    assert status.inner_text() == "Bells: at 14 in there is room for at most 8, not for 10."
    assert page.get_by_role("heading", name="To take away").is_hidden()
    assert page.locator("#facts").is_hidden()
    ways = page.locator("strap-design button")
    assert ways.first.inner_text() == "Bells: 8 instead of 10."
    ways.first.click()
    page.wait_for_function("() => !document.querySelector('strap-design').shadowRoot.querySelector('button')")
    assert page.get_by_label("Bells", exact=True).input_value() == "8"
    page.get_by_role("heading", name="To take away").wait_for(state="visible")
    assert "bells=8" in picture(page)


def test_a_buyers_page_keeps_up_with_what_is_chosen_and_shows_nothing_of_the_bench(listening, site):
    page = listening
    open_garter(page, site, face="")
    weight = page.locator("#facts").inner_text()
    told = choose(page, "Bells", "6")
    assert told["made"]
    assert "bells=6" in page.url
    assert page.locator("#facts").inner_text() != weight
    assert page.locator("[data-form], pre").count() == 0
    assert page.watch.complaints == []


def test_a_refused_address_opens_with_its_ways_out(page, site):
    open_garter(page, site, "?bells=10")
    assert page.locator("strap-design button").count() >= 2
    assert page.get_by_label("Bells", exact=True).input_value() == "10"


def test_everything_can_be_done_by_keyboard_alone(listening, site):
    page = listening
    open_garter(page, site, "?length=20in&bells=10")
    focused = "(document.activeElement.shadowRoot?.activeElement ?? document.activeElement)"
    for _ in range(20):
        page.keyboard.press("Tab")
        if page.evaluate(f"{focused}.name") == "length":
            break
    outline = page.evaluate(f"getComputedStyle({focused}).outlineStyle")
    assert outline != "none"
    with page.expect_event("console", lambda said: said.text.startswith("changed ") and '"made":false' in said.text):
        for _ in range(24):
            page.keyboard.press("ArrowUp")
    for _ in range(20):
        page.keyboard.press("Tab")
        if page.evaluate(f"{focused}.localName") == "button":
            break
    with page.expect_event("console", lambda said: said.text.startswith("changed ") and '"made":true' in said.text):
        page.keyboard.press("Enter")
    assert page.evaluate(f"{focused}.localName") == "select"


def test_a_run_of_quick_changes_ends_with_the_last(listening, site):
    page = listening
    open_garter(page, site)
    page.evaluate("""() => { const element = document.querySelector("strap-design");
                           for (const bells of [2, 3, 4, 5, 6]) element.choices = { bells }; }""")
    page.wait_for_function("() => new URL(location).searchParams.get('bells') == '6'")
    settled(page)
    assert "bells=6" in picture(page)


@pytest.mark.parametrize("name", ["SVG", "PNG", "JSON", "PDF"])
def test_every_form_can_be_downloaded(page, site, name, tmp_path):
    open_garter(page, site)
    links = page.locator(".downloads a", has_text=name)
    with page.expect_download() as download:
        links.first.click()
    path = tmp_path / "file"
    download.value.save_as(path)
    starts = {"SVG": b"<?xml", "PNG": b"\x89PNG", "JSON": b"{", "PDF": b"%PDF-"}[name]
    assert path.read_bytes().lstrip().startswith((starts, b"<svg"))


def violations(page):
    """What axe-core finds with all its rules, WCAG 2.2 AA and best practice among them."""
    found = Axe().run(page).response["violations"]
    return [(each["id"], [node["html"] for node in each["nodes"]]) for each in found]


@pytest.mark.parametrize("path", PATHS + LOST)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(browser, site, path, scheme):
    context = browser.new_context(color_scheme=scheme)
    page = context.new_page()
    page.goto(site + path)
    if "designs" in path and path in PATHS:
        settled(page)
    found = violations(page)
    context.close()
    assert found == []


def unsettle(page, state):
    """Change a choice while the service behaves so, and wait until the element is in that state."""
    page.route(API, STATES[state])
    page.get_by_label("Bells", exact=True).select_option("3")
    element = page.locator("strap-design")
    if state == "given up":
        element.get_by_role("button", name="Try again").wait_for()
    elif state == "trying again":
        element.get_by_text("trying again").wait_for()
    page.wait_for_timeout(700)  # until what fades has faded
    assert (element.get_attribute("aria-busy") == "true") == (state != "given up")


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_while_an_answer_is_waited_for(browser, site, state, scheme):
    context = browser.new_context(color_scheme=scheme, viewport={"width": 320, "height": 800})
    page = context.new_page()
    open_garter(page, site)
    unsettle(page, state)
    found = violations(page)
    over = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    context.close()
    assert found == []
    assert over <= 0


@pytest.mark.parametrize("state", STATES)
def test_nothing_of_the_choice_before_can_be_taken_away_meanwhile(page, site, state):
    open_garter(page, site)
    page.get_by_role("heading", name="To take away").wait_for()
    unsettle(page, state)
    assert page.locator("[data-made]:not([inert])").count() == 0
    assert page.locator("strap-design img[part=picture]").is_visible()
    page.unroute(API)
    page.evaluate("document.querySelector('strap-design').choices = { bells: 4 }")
    page.locator(".downloads a[href*='bells=4']").first.wait_for()
    assert page.locator("[data-made][inert]").count() == 0
    page.locator(".downloads a", has_text="JSON").focus()
    assert "bells=4" in page.evaluate("document.activeElement.href")


def test_a_lost_address_leads_back(page, site):
    answer = page.goto(f"{site}/designs/bell_gartr")
    assert answer.status == 404
    page.get_by_role("link", name="Dancer's bell garter").click()
    settled(page)
    page.goto(f"{site}/designs/bell_garter/?bells=6&utm_source=letter")
    settled(page)
    assert page.get_by_label("Bells", exact=True).input_value() == "6"
    page.wait_for_function("() => !location.search.includes('utm') && !location.pathname.endsWith('/')")


@pytest.mark.parametrize("bells", ["6", "10"])
def test_the_element_takes_the_place_of_the_plain_page_without_a_jolt(browser, site, bells):
    """Cumulative layout shift: 0.1 is good (web.dev, Core Web Vitals); a strip of a button's height is allowed here."""
    for width in (390, 1280):
        context = browser.new_context(viewport={"width": width, "height": 844})
        page = context.new_page()
        page.add_init_script(SHIFT)
        open_garter(page, site, f"?bells={bells}", face="")
        page.wait_for_load_state("networkidle")
        assert page.evaluate("shift") < (0.03 if bells == "6" else 0.1)
        context.close()


@pytest.mark.parametrize("path", PATHS + LOST)
@pytest.mark.parametrize("width", WIDTHS)
def test_no_page_has_to_be_moved_sideways(browser, site, path, width):
    """WCAG 2.2, 1.4.10 Reflow: down to 320 px."""
    context = browser.new_context(viewport={"width": 320 if width == min(WIDTHS) else width, "height": 800})
    page = context.new_page()
    page.goto(site + path)
    if "designs" in path and path in PATHS:
        settled(page)
    over = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    small = page.evaluate(
        """() => [...document.querySelectorAll("a, button, select"),
                  ...(document.querySelector("strap-design")?.shadowRoot.querySelectorAll("button, select") ?? [])]
             .filter((each) => each.checkVisibility() && each.localName != "a")
             .filter((each) => each.getBoundingClientRect().height < 24).length"""
    )
    context.close()
    assert over <= 0
    assert small == 0


def test_no_request_leaves_this_host_and_nothing_is_complained_of(page, site):
    for path in PATHS[:3]:
        page.goto(site + path, wait_until="networkidle")
    assert len(page.watch.urls) > 15
    assert [url for url in page.watch.urls if not url.startswith(site)] == []
    assert page.watch.complaints == []


def test_the_page_works_without_a_script(browser, site):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{site}/designs/bell_garter")
    page.get_by_label("Bells").select_option("6")
    page.get_by_role("button", name="Show").click()
    assert re.search(r"[?&]bells=6", page.url)
    assert "bells=6" in page.locator("img.look").get_attribute("src")
    context.close()


def test_the_price_reads_the_same_with_a_script_and_without(browser, page, site):
    context = browser.new_context(java_script_enabled=False)
    plain = context.new_page()
    plain.goto(f"{site}/designs/bell_garter")
    words = plain.locator(".price").text_content()
    context.close()
    open_garter(page, site)
    page.locator("strap-design [role=status]", has_text=words).wait_for()
    assert "VAT" in words


def test_motion_is_left_out_where_it_is_not_wanted(browser, site):
    moving = {}
    for wish in ("reduce", "no-preference"):
        context = browser.new_context(reduced_motion=wish)
        page = context.new_page()
        open_garter(page, site)
        moving[wish] = page.locator("strap-design img[part=picture]").evaluate(
            "(picture) => getComputedStyle(picture).transitionDuration"
        )
        context.close()
    assert moving == {"reduce": "0s", "no-preference": "0.15s"}


def test_the_printed_page_leaves_out_what_is_for_the_screen(page, site):
    open_garter(page, site)
    page.emulate_media(media="print")
    assert page.get_by_role("heading", name="The same from a terminal").is_hidden()
    assert page.locator("strap-design img[part=picture]").is_visible()
    assert page.pdf().startswith(b"%PDF-")


WAITED_FOR = {
    "before the script": re.compile(r"/embed\.js"),
    "before the choices": re.compile("/choices"),
    "before the pattern": re.compile(r"/pattern\.json"),
}
"""What has not come yet, when a buyer chooses in the page's own form."""


def choose_early(page, site, *, when):
    """A design's page on a slow line, on which something is chosen before the element is there."""
    held = []
    page.route(WAITED_FOR[when], lambda route: held.append(route) if held is not None else route.continue_())
    page.goto(f"{site}/designs/bell_garter", wait_until="commit")
    page.locator("#choose-length").select_option("13in")
    page.locator("#choose-bells").select_option("3")
    later, held = held, None
    for route in later:
        route.continue_()
    settled(page)


@pytest.mark.parametrize("when", WAITED_FOR)
def test_what_is_chosen_before_the_element_is_there_is_not_lost(page, site, when):
    choose_early(page, site, when=when)
    page.wait_for_function("document.querySelector('strap-design').made !== null")
    choices = page.evaluate("document.querySelector('strap-design').choices")
    assert (choices["length"], choices["bells"]) == ("13in", "3")
    assert "bells=3" in page.url
    assert "length=13in" in page.url


def test_over_all_stays_with_the_ring_when_something_is_chosen(listening, site):
    page = listening
    page.goto(f"{site}/designs/door_strap")
    settled(page)
    with page.expect_event("console", is_settled):
        page.evaluate("document.querySelector('strap-design').choices = { length: '26in' }")
    pattern = page.request.get(f"{site}/v1/designs/door_strap/pattern.json?length=26in").json()
    assert page.locator("#facts dd").first.inner_text() == pattern["finished"]["from"]["frame"]
