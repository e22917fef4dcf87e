"""What the element tells and shows while answers are late, wrong or not there: never another strap than is chosen."""

import re

import pytest

from tests.browser.telling import OPEN, again_button, change, check_is_one_strap, settled, status, told

WATCH_GREY = """() => { globalThis.greyed = [];
  new MutationObserver(() => greyed.push(element.shadowRoot.querySelectorAll("option.withheld").length))
    .observe(element.shadowRoot, { subtree: true, attributeFilter: ["class"] }); }"""
"""Notes how many options are marked as not to be had, whenever that changes."""
PARTS = {
    "picture": re.compile(r"/pattern\.svg"),
    "pattern": re.compile(r"/pattern\.json"),
    "price": re.compile("/price"),
    "choices": re.compile("/choices"),
}
EVERYTHING = re.compile("/v1/")


def failing(status=503, body="{}", **headers):
    """A handler that answers so."""
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return lambda route: route.fulfill(status=status, headers=OPEN | named, body=body)


WAYS = {
    "503": failing(),
    "429": failing(429, Retry_After="1"),
    "500 of a proxy": failing(500, "<html>Bad</html>"),
    "422 of a proxy": failing(422, "<html>Blocked</html>"),
    "a login page": failing(200, "<html>Log in to this network</html>", Content_Type="text/html"),
    "no answer": lambda route: route.abort(),
    "no leave to read": lambda route: route.fulfill(status=503, body="{}"),
}


def test_a_change_takes_back_at_once_what_was_told(open_shop, site):
    """In the handler of the change itself: no script of the shop runs between them."""
    page = open_shop()
    settled(page)
    at_once = page.evaluate(
        """() => { choose("bells", "3"); const { made, detail } = element;
                   return { made, detail, event: told.at(-1), told: told.length }; }"""
    )
    assert at_once["told"] == 2
    assert at_once["made"] is None
    assert at_once["event"]["choices"]["bells"] == "3"
    assert (at_once["event"]["made"], at_once["event"]["busy"], at_once["event"]["says"]) == (None, "true", "")
    assert not {"code", "sealed", "price", "net", "tax", "total", "picture"} & set(at_once["detail"])
    check_is_one_strap(page, site, settled(page, bells="3"))
    assert [each["made"] for each in told(page)] == [True, None, True]


def test_choices_that_a_script_sets_take_back_at_once_too(open_shop, site):
    page = open_shop()
    settled(page)
    made = page.evaluate("() => { element.choices = { bells: 4, length: '15 in' }; return element.made; }")
    assert made is None
    check_is_one_strap(page, site, settled(page, bells="4", length="15in"))


@pytest.mark.parametrize(
    "when", ["element.choices = { bells: 4 };", "queueMicrotask(() => element.choices = { bells: 4 });"]
)
def test_choices_set_before_the_script_is_there_are_those_that_are_shown(open_shop, site, when):
    page = open_shop(more=when)
    event = settled(page)
    assert event["choices"]["bells"] == "4"
    assert page.evaluate("element.choices.bells") == "4"
    check_is_one_strap(page, site, event)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("part", PARTS)
def test_one_failure_passes_without_anybody_doing_anything(open_shop, site, part, way):
    page = open_shop()
    before = settled(page)
    page.route(PARTS[part], WAYS[way], times=1)
    name, text = ("leather", "harness_8_9") if part == "choices" else ("bells", "3")
    change(page, name, text)
    page.wait_for_function("() => told.some(({ name }) => name == 'strap-error')")
    if way == "422 of a proxy" and part in ("pattern", "price"):
        again_button(page).click()
    check_is_one_strap(page, site, settled(page, **{name: text}))
    events = told(page)
    error = next(each for each in events if each["name"] == "strap-error")
    assert (error["design"], bool(PARTS[part].search(error["url"]))) == ("bell_garter", True)
    assert [each["made"] for each in events if each["name"] == "strap-change"] == [True, None, True]
    if part == "picture":
        assert error["shows"] == before["picture"]
        assert error["says"].startswith("This picture is of the choice before")
    elif part != "choices":
        assert error["says"].startswith("Price and fit are not known yet")


@pytest.mark.parametrize("part", ["picture", "pattern", "price"])
def test_a_failure_that_stays_ends_in_a_button_and_never_in_a_word_about_the_strap(open_shop, site, part):
    page = open_shop()
    settled(page)
    asked = []
    page.on("request", lambda request: asked.append(request.url) if PARTS[part].search(request.url) else None)
    page.route(PARTS[part], WAYS["503"])
    change(page, "bells", "3")
    again_button(page).wait_for()
    assert len(asked) == 5
    waits = page.evaluate("waits")
    assert len(waits) == 4
    assert all(2**n <= wait <= 2**n * 1.25 for n, wait in enumerate(waits))
    assert "does not answer" in status(page)
    assert "€" not in status(page)
    assert page.locator("strap-design").get_attribute("aria-busy") is None
    assert page.locator("strap-design img").evaluate("(picture) => picture.naturalWidth") > 0
    assert [each["made"] for each in told(page) if each["name"] == "strap-change"] == [True, None]
    assert page.evaluate("element.made") is None
    page.unroute(PARTS[part])
    again_button(page).press("Enter")
    assert page.evaluate("element.shadowRoot.activeElement.localName") == "p"
    check_is_one_strap(page, site, settled(page, bells="3"))
    assert again_button(page).count() == 0


@pytest.mark.parametrize("way", WAYS)
def test_a_failure_at_the_start_leaves_the_shops_own_words_and_says_so(open_shop, page, site, way):
    page.route(EVERYTHING, WAYS[way])
    open_shop()
    again_button(page).wait_for()
    assert page.get_by_text("Call us").is_visible()
    assert "cannot be shown now" in status(page)
    assert {each["name"] for each in told(page)} == {"strap-error"}
    page.unroute(EVERYTHING)
    again_button(page).click()
    check_is_one_strap(page, site, settled(page, bells="6"))
    assert page.get_by_text("Call us").count() == 0


@pytest.mark.parametrize("part", PARTS)
def test_one_failure_at_the_start_passes_too(open_shop, page, site, part):
    page.route(PARTS[part], WAYS["503"], times=1)
    open_shop()
    check_is_one_strap(page, site, settled(page, bells="6"))
    assert told(page)[0]["name"] == "strap-error"


@pytest.mark.parametrize(("said", "least"), [("7", 7), ("0", 1), ("soon", 1), ("Thu, 01 Jan 1970 00:00:00 GMT", 1)])
def test_the_answer_says_how_long_to_wait(open_shop, said, least):
    """RFC 9110, section 10.2.3: seconds, or a date."""
    page = open_shop()
    settled(page)
    page.route(PARTS["pattern"], failing(503, Retry_After=said), times=1)
    change(page, "bells", "3")
    settled(page, bells="3")
    (wait,) = page.evaluate("waits")
    assert least <= wait <= least * 1.25


def test_a_long_wait_is_the_buyers_to_choose(open_shop, site):
    page = open_shop()
    settled(page)
    page.route(PARTS["pattern"], failing(503, Retry_After="3600"), times=1)
    change(page, "bells", "3")
    again_button(page).click()
    check_is_one_strap(page, site, settled(page, bells="3"))
    assert page.evaluate("waits") == []


def test_without_a_network_it_waits_and_goes_on_when_there_is_one(open_shop, site):
    page = open_shop()
    settled(page)
    page.context.set_offline(True)
    change(page, "bells", "3")
    again_button(page).wait_for()
    assert all(each["made"] is not False for each in told(page) if each["name"] == "strap-change")
    page.context.set_offline(False)
    check_is_one_strap(page, site, settled(page, bells="3"))


@pytest.mark.parametrize("part", ["picture", "pattern", "price"])
def test_an_answer_that_comes_late_never_wins(open_shop, site, part):
    """The first change's answer is held back until the second has settled."""
    page = open_shop()
    settled(page)
    held = []
    page.route(PARTS[part], lambda route: held.append(route) if "bells=3" in route.request.url else route.continue_())
    with page.expect_request(lambda request: PARTS[part].search(request.url) and "bells=3" in request.url):
        change(page, "bells", "3")
    change(page, "bells", "4")
    check_is_one_strap(page, site, settled(page, bells="4"))
    for route in held:
        route.continue_()
    page.wait_for_load_state("networkidle")
    assert held
    check_is_one_strap(page, site, told(page)[-1])
    assert [(each["choices"]["bells"], each["made"]) for each in told(page)] == [
        ("6", True), ("3", None), ("4", None), ("4", True),
    ]  # fmt: skip


def test_a_failure_that_comes_late_says_nothing_of_what_is_chosen_now(open_shop, site):
    page = open_shop()
    settled(page)
    page.route(
        PARTS["pattern"], lambda route: WAYS["503"](route) if "bells=3" in route.request.url else route.continue_()
    )
    change(page, "bells", "3")
    page.wait_for_function("() => told.at(-1).name == 'strap-error'")
    change(page, "bells", "4")
    check_is_one_strap(page, site, settled(page, bells="4"))
    assert {each["choices"]["bells"] for each in told(page)[3:] if each["name"] == "strap-change"} == {"4"}


def test_what_can_be_made_is_not_held_up_by_what_is_marked(open_shop, site):
    page = open_shop()
    settled(page)
    page.evaluate(WATCH_GREY)
    page.route(PARTS["choices"], WAYS["503"], times=3)
    change(page, "leather", "harness_8_9")
    check_is_one_strap(page, site, settled(page, leather="harness_8_9"))
    page.wait_for_function("() => element.shadowRoot.querySelector('option.withheld')")
    assert 0 in page.evaluate("greyed")
    assert len([each for each in told(page) if each["name"] == "strap-error"]) == 3


def test_a_strap_that_cannot_be_made_is_told_by_the_service_alone(open_shop):
    page = open_shop()
    settled(page)
    page.route(PARTS["pattern"], WAYS["503"], times=1)
    change(page, "bells", "10")
    event = settled(page, bells="10")
    assert event["made"] is False
    assert [event[name] for name in ("code", "sealed", "price")] == [None] * 3
    assert "room for at most 8, not for 10" in status(page)
    assert [each["made"] for each in told(page) if each["name"] == "strap-change"] == [True, None, False]


@pytest.mark.parametrize("other", [{"shop": {"name": "The bell bench", "digest": "0" * 64}}, {"sealed": "other"}])
def test_a_price_of_another_strap_than_the_pattern_is_not_told(open_shop, site, other):
    """As while a new shop file comes up on one server after the other."""

    def answer(route):
        got = route.fetch()
        route.fulfill(response=got, json=got.json() | other)

    page = open_shop()
    settled(page)
    page.route(PARTS["price"], answer, times=1)
    change(page, "bells", "3")
    check_is_one_strap(page, site, settled(page, bells="3"))
    assert [each["name"] for each in told(page)] == ["strap-change", "strap-change", "strap-error", "strap-change"]


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"price": "53.72"}, "€53.72 including VAT 19 %"),
        ({"shown": "net", "price": "45.14", "tax": "8.58"}, "€45.14 plus VAT 19 % (€8.58)"),
        ({"price": "9.50", "tax": "0.00", "tax_title": "no VAT: small business"}, "€9.50 (no VAT: small business)"),
        ({"price": "1234.50", "currency": "CHF"}, "CHF\u00a01,234.50 including VAT 19 %"),
    ],
)
def test_a_price_names_its_tax(open_shop, page, changed, words):

    def answer(route):
        got = route.fetch()
        route.fulfill(response=got, json=got.json() | changed)

    page.route(PARTS["price"], answer)
    open_shop()
    settled(page)
    assert page.locator("strap-design [role=status]").text_content() == words


def test_a_strap_without_a_price_can_be_made_all_the_same(open_shop, page):
    page.route(PARTS["price"], lambda route: route.fulfill(status=422, headers=OPEN, json={"code": "no_price"}))
    open_shop()
    event = settled(page)
    assert (event["made"], event["price"], event["says"]) == (True, None, "")


@pytest.mark.parametrize("lang", ["", "en_US", "x"])
def test_a_page_whose_language_is_none_shows_the_price(open_shop, lang):
    page = open_shop(lang=lang)
    event = settled(page)
    assert event["price"] in event["says"]


def test_prices_are_asked_for_where_nothing_of_the_shops_cost_is_told(open_shop):
    page = open_shop()
    settled(page)
    assert any("/price?" in url for url in page.watch.urls)
    assert not [url for url in page.watch.urls if "/v1/quotes" in url]


def bring(page, **attributes):
    """Another element beside the first."""
    said = " ".join(f'{name}="{text}"' for name, text in attributes.items())
    page.evaluate(
        "(said) => document.body.insertAdjacentHTML('beforeend', `<strap-design ${said}>Call us</strap-design>`)", said
    )
    return page.locator("strap-design").last


@pytest.mark.parametrize("bells", ["99", "", "\uff13", "6&length=18in"])
def test_an_attribute_that_is_not_offered_is_told_and_the_default_is_shown(open_shop, site, bells):
    """Never the first of the list, which nobody asked for."""
    page = open_shop()
    settled(page)
    other = bring(page, design="bell_garter", bells=bells)
    page.wait_for_function("(element) => element.made", arg=other.element_handle())
    default = page.request.get(f"{site}/v1/designs/bell_garter").json()["choices"]
    usual = {each["name"]: str(each["default"]).replace(" ", "") for each in default}
    assert other.evaluate("(element) => element.choices") == usual
    assert (
        other.locator("[role=status]")
        .inner_text()
        .startswith(f"bells: {bells} is not offered here. €".replace("  ", " "))
    )
    error = next(each for each in told(page) if each["name"] == "strap-error")
    assert (error["message"], error["again"]) == (f"bells: {bells} is not offered here.", None)


def test_choices_that_are_not_offered_are_told_until_something_else_is_chosen(open_shop, site):
    page = open_shop()
    settled(page)
    page.evaluate("element.choices = { bells: 99, colour: 'red' }")
    settled(page, bells="6")
    page.wait_for_function("element.made")
    assert status(page).startswith("bells: 99 is not offered here. colour: red is not offered here. €")
    change(page, "bells", "3")
    check_is_one_strap(page, site, settled(page, bells="3"))


@pytest.mark.parametrize("design", ["nope", ""])
def test_a_design_that_is_gone_is_not_told_as_a_passing_failure(open_shop, design):
    page = open_shop()
    settled(page)
    other = bring(page, design=design)
    other.locator("[role=status]").wait_for()
    assert other.locator("[role=status]").inner_text() == "This cannot be shown now. The shop does not offer it."
    assert other.get_by_role("button").count() == 0
    assert other.get_by_text("Call us").is_visible()
    error = next(each for each in told(page) if each["name"] == "strap-error")
    assert (error["status"], error["again"]) == (404, None)


def test_who_waits_is_told_so_and_what_never_comes_is_named(open_shop, site):
    page = open_shop()
    settled(page)
    held = []
    page.route(PARTS["price"], lambda route: held.append(route), times=1)  # noqa: PLW0108 # it takes no method of C
    change(page, "bells", "3")
    page.wait_for_function("element.shadowRoot.querySelector('[role=status]').textContent == 'One moment…'")
    assert page.evaluate("element.made") is None
    held.pop().continue_()
    check_is_one_strap(page, site, settled(page, bells="3"))
