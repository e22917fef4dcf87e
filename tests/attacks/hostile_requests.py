"""Hostile requests at every door, each by its seed alone."""

import copy
import json
import random
from base64 import urlsafe_b64decode, urlsafe_b64encode
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote, urlencode

from service.desk.quoting import QUOTE_PLAN_S
from service.shop_file import demo_shop
from tests.attacks.hostile_specs import EXAMPLES, GOOD, JUNK, any_spec, good_spec, hostile_spec, raw_text
from tests.attacks.hostile_tables import a_table, chosen_text, distinct
from tests.attacks.judging import LIMIT_MS, LINE_MS, PLAN_MS, Request
from tests.support.random_straps import random_strap

JSON = {"Content-Type": "application/json", "Accept": "application/json"}
LENGTHS = {design.name: design.length.name for design in demo_shop().designs.values()}


@dataclass(frozen=True)
class Goods:
    """What the service gave out before: its codes and its seals."""

    codes: tuple[str, ...]
    seals: tuple[str, ...]


def goods_of(client: Any) -> Goods:
    """The codes and seals of the examples."""
    told = [client.post("/v1/patterns", json=EXAMPLES[name]).get_json() for name in GOOD]
    return Goods(tuple(each["code"] for each in told), tuple(each["sealed"] for each in told))


def request_of(seed: int, goods: Goods) -> Request:
    """The request of a seed."""
    dice = random.Random(seed)
    return dice.choices(_DOORS, _WEIGHTS)[0](dice, goods)


def posted(path: str, door: str, document: Any, *, limit_ms: float | None = LIMIT_MS, accept: str = "") -> Request:
    """A document sent as JSON. What remedies make of it is asked for as JSON, too."""
    return Request(
        door=door,
        path=path,
        method="POST",
        body=json.dumps(document).encode(),
        headers={**JSON, **({"Accept": accept} if accept else {})},
        limit_ms=limit_ms,
        document=document,
        again=lambda mended: posted(path.partition("?")[0], door, mended, limit_ms=limit_ms),
    )


def a_pattern(dice: random.Random, _goods: Goods) -> Request:
    return posted("/v1/patterns", "pattern", hostile_spec(dice))


def an_odd_strap(dice: random.Random, _goods: Goods) -> Request:
    return posted("/v1/patterns", "odd strap", random_strap(dice.randrange(1_000_000)))


def a_raw_text(dice: random.Random, _goods: Goods) -> Request:
    path = dice.choice(("/v1/patterns", "/v1/quotes", "/v1/cut-plans"))
    types = ("application/json",) * 8 + ("text/plain", "application/json; charset=latin-1", "")
    headers = {"Content-Type": dice.choice(types), "Accept": dice.choice(("application/json", "*/*", "", "text/css"))}
    return Request(door="raw", path=path, method="POST", body=raw_text(dice, hostile_spec(dice)), headers=headers)


def a_drawing(dice: random.Random, _goods: Goods) -> Request:
    accept = dice.choice(("image/svg+xml", "image/svg+xml", "image/png", "application/pdf"))
    options = {
        "image/svg+xml": ("", "?view=finished", "?view=cutter&kerf=0.2mm", "?piece=strap"),
        "image/png": ("?width_px=300", "?view=finished&width_px=400", "?dpi=10", "?width_px=90000"),
        "application/pdf": ("", "?paper=letter", "?sheet=only", "?view=finished"),
    }[accept]
    path = "/v1/patterns" + dice.choice(options)
    door = {"image/svg+xml": "svg", "image/png": "png", "application/pdf": "pdf"}[accept]
    return posted(path, door, hostile_spec(dice), limit_ms=None, accept=accept)


def a_code(dice: random.Random, goods: Goods) -> Request:
    code = _code_of(hostile_spec(dice)) if dice.random() < 0.8 else _tampered(dice, dice.choice(goods.codes))
    return _coded("code", code, dice.choice(("", ".json", ".json", ".svg", ".gif")))


def _coded(door: str, code: str, suffix: str) -> Request:
    """A code asked for; the document inside it is what a remedy changes."""
    return Request(
        door=door,
        path=f"/v1/patterns/{quote(code)}{suffix}",
        headers={"Accept": "application/json"},
        limit_ms=None if suffix == ".svg" else LIMIT_MS,
        document=_inside(code),
        again=lambda mended: posted("/v1/patterns", door, mended),
    )


def a_seal(dice: random.Random, goods: Goods) -> Request:
    sealed = dice.choice(goods.seals)
    sealed = sealed if dice.random() < 0.3 else _tampered(dice, sealed)
    if dice.random() < 0.5:
        return posted("/v1/patterns", "sealed", {"sealed": sealed, **({"size": 1} if dice.random() < 0.1 else {})})
    return _coded("sealed", sealed, ".json")


def a_design(dice: random.Random, _goods: Goods) -> Request:
    return designed(*design_query(dice))


def design_query(dice: random.Random) -> tuple[str, str, dict[str, str]]:
    """A design, what is asked of it, and some of its choices: offered, at the edge, or neither."""
    design = dice.choice(list(demo_shop().designs.values()))
    asked = dice.choice(("pattern.json", "choices", "price"))
    chosen = {each.name: chosen_text(dice, each) for each in design.choices if dice.random() < 0.6}
    if dice.random() < 0.05:
        chosen[dice.choice(("x" * 50, "length", "", "dpi"))] = dice.choice(("", "1", "9" * 60, "%00", "in"))
    name = design.name if dice.random() < 0.98 else dice.choice(("", "no_such", "x" * 500, "%2e%2e"))
    return name, asked, chosen


def designed(name: str, asked: str, chosen: dict[str, str]) -> Request:
    """A question about a design."""
    return Request(
        door=asked.partition(".")[0].replace("pattern", "design"),
        path=f"/v1/designs/{name}/{asked}?{urlencode(chosen)}",
        headers={"Accept": "application/json"},
        document=chosen,
        again=lambda mended: designed(name, asked, mended),
    )


def a_quote(dice: random.Random, goods: Goods) -> Request:
    return quoted(quote_document(dice, goods))


def an_offer(dice: random.Random, goods: Goods) -> Request:
    """A quote as pages, which says odd things of itself."""
    document = quote_document(dice, goods)
    document["lines"] = document["lines"][:8]
    said = {name: dice.choice((raw_words(dice), "x" * 81, 1)) for name in ("number", "date", "for")}
    document["offer"] = {name: each for name, each in said.items() if dice.random() < 0.7}
    query = dice.choice(("", "?copy=maker", "?paper=letter", "?units=mm", "?copy=both"))
    return posted(f"/v1/quotes{query}", "pdf", document, limit_ms=None, accept="application/pdf")


def raw_words(dice: random.Random) -> str:
    """A few characters of any kind."""
    return "".join(
        chr(dice.choice((dice.randrange(1, 128), dice.randrange(0x3000)))) for _ in range(dice.randint(1, 40))
    )


def quote_document(dice: random.Random, goods: Goods) -> dict[str, Any]:
    """One to two hundred lines, repeated or distinct."""
    count = dice.choice((1, 1, 1, 2, 2, 3, 5, 8, 20, 50, 200))
    ill = dice.choice((0.0, 0.0, 0.02, 0.5, 1.0))
    kinds = [a_line(dice, goods, ill) for _ in range(dice.choice((1, count)))]
    lines = [{**copy.deepcopy(kinds[n % len(kinds)]), "ref": f"A{n}"} for n in range(count)]
    document: dict[str, Any] = {"lines": lines}
    if dice.random() < 0.3:
        document["what_if"] = dice.sample(range(1, 10_001), dice.choice((1, 3, 20, 21)))
    if dice.random() < 0.1:
        document["margin"] = dice.choice(("0.4", "0", "1", "9", 0.4))
    if dice.random() < 0.12:
        document["leather_by"] = "cut_plan"
        for line in lines:
            line["quantity"] = dice.choice((1, 2, 5, 20))
    return document


def quoted(document: Any) -> Request:
    """A quote, with as much time more as it has distinct lines, and that of cut plans where it is reckoned by them."""
    plan = 1000 * QUOTE_PLAN_S + PLAN_MS if document.get("leather_by") == "cut_plan" else 0
    limit = LIMIT_MS + LINE_MS * distinct(document.get("lines")) + plan
    return posted("/v1/quotes", "quote", document, limit_ms=limit)


def a_line(dice: random.Random, goods: Goods, ill: float) -> dict[str, Any]:
    """An order: a spec, a code, a seal, or a design as chosen; spoiled with the chance `ill`."""
    line: dict[str, Any] = {"quantity": dice.choice((1, 3, 20, 10_000))} if dice.random() < 0.5 else {}
    way = dice.random()
    if way < 0.5:
        line["spec"] = hostile_spec(dice) if dice.random() < ill else good_spec(dice)
    elif way < 0.65:
        line["code"] = dice.choice(goods.codes)
    elif way < 0.8:
        seal = dice.choice(goods.seals)
        line["code"] = _tampered(dice, seal) if dice.random() < ill else seal
    else:
        name, _, chosen = design_query(dice)
        line["design"] = name
        if dice.random() < ill:
            line["choices"] = chosen
    if dice.random() < ill * 0.1:
        line[dice.choice(("spec", "quantity", "ref", "unheard_of"))] = dice.choice(JUNK)
    return line


def a_table_of_orders(dice: random.Random, _goods: Goods) -> Request:
    return a_table(dice)


def a_cut_plan(dice: random.Random, goods: Goods) -> Request:
    return planned(plan_document(dice, goods))


def plan_document(dice: random.Random, goods: Goods) -> dict[str, Any]:
    """Straps and bare pieces, out of the shop's hides or of odd ones."""
    ill = dice.choice((0.0, 0.0, 0.0, 0.3))
    orders = [{**a_line(dice, goods, ill), "ref": f"A{n}"} for n in range(dice.choice((1, 1, 2, 5, 20)))]
    for order in orders:
        order["quantity"] = dice.choice((1, 2, 10, 100))
    if dice.random() < 0.5:
        pieces = [_bare_piece(dice, n) for n in range(dice.choice((1, 5, 40, 300)))]
        orders.append({"ref": "B", "pieces": pieces, "quantity": dice.choice((1, 2, 10))})
    document: dict[str, Any] = {"orders": orders, "time_limit_s": dice.choice((0.05, 0.1, 0.2, 0.4))}
    if dice.random() < 0.5:
        document["stock"] = [_stock(dice, n) for n in range(dice.choice((0, 1, 2, 3, 12, 60)))]
    if dice.random() < 0.3:
        document["kerf"] = dice.choice(("0 mm", "0.3 mm", "2 mm", "3 in"))
    return document


def planned(document: Any) -> Request:
    """A cut plan, in the time that it states."""
    seconds = document.get("time_limit_s")
    stated = seconds * 1000 if isinstance(seconds, int | float) else 2000
    limit = stated + PLAN_MS + LINE_MS * distinct(document.get("orders"))
    return posted("/v1/cut-plans", "cut plan", document, limit_ms=limit)


def _bare_piece(dice: random.Random, n: int) -> dict[str, Any]:
    return {
        "name": f"p{n % 50}", "leather": dice.choice(("harness_8_9", "latigo_6_7")),
        "width": f"{dice.randint(10, 90)} mm", "length": f"{dice.randint(30, 2000)} mm",
    }  # fmt: skip


def _stock(dice: random.Random, n: int) -> dict[str, Any]:
    return {
        "id": f"s{n}", "leather": dice.choice(("harness_8_9", "latigo_6_7", "bridle_10_11")),
        "length": f"{dice.randint(100, 2200)} mm", "width": f"{dice.randint(30, 700)} mm",
        "count": dice.choice((1, 3, 50, 10_000)),
    }  # fmt: skip


def a_page(dice: random.Random, _goods: Goods) -> Request:
    name, _, chosen = design_query(dice)
    page = f"/designs/{name}?{urlencode(chosen)}"
    url = f"http://localhost{page}"
    card = {"url": url, "maxwidth": dice.choice(("64", "8000", "-1", "x")), "format": dice.choice(("json", "xml"))}
    paths = (
        "/", "/docs", "/openapi.json", "/embed.js", "/page.css", "/v1/shop", "/v1/designs", f"/v1/designs/{name}",
        "/health/live", page, page, f"/oembed?{urlencode(card)}", f"/oembed?{urlencode(card)}",
    )  # fmt: skip
    return Request(door="page", path=dice.choice(paths))


def garbage(dice: random.Random, goods: Goods) -> Request:
    kinds = (
        lambda: "/v1/patterns/" + "".join(dice.choices("abcXYZ019-_.%", k=dice.choice((1, 40, 1900, 3000)))),
        lambda: "/v1/patterns/" + dice.choice(goods.codes) + ".png?" + "&".join(f"a{n}=1" for n in range(60)),
        lambda: "/v1/shop?" + "".join(dice.choices("abc=&%;+\u00e9[]", k=300)),
        lambda: "/" + "/".join(dice.choices(("v1", "..", "patterns", "designs", "%2f", "x" * 99), k=6)),
        lambda: "/v1/patterns/" + _code_of([[[]] * 50] * 3),
    )
    method = dice.choice(("GET", "GET", "GET", "HEAD", "PUT", "DELETE", "OPTIONS", "POST"))
    body = dice.randbytes(dice.choice((0, 10, 70_000))) if method in ("POST", "PUT") else None
    return Request(door="garbage", path=dice.choice(kinds)(), method=method, body=body)


def _code_of(document: Any) -> str:
    return urlsafe_b64encode(json.dumps(document).encode()).rstrip(b"=").decode()[:1900]


def _inside(code: str) -> Any:
    """The document that a code is made of; nothing where it is made of none."""
    try:
        return json.loads(urlsafe_b64decode(code + "=" * (-len(code) % 4)))
    except ValueError:
        return None


def _tampered(dice: random.Random, code: str) -> str:
    """A code cut off, with one letter changed, or with something else inside."""
    way = dice.random()
    if way < 0.3:
        return code[: dice.randint(1, len(code))]
    if way < 0.5:
        at = dice.randrange(len(code))
        return code[:at] + dice.choice("AZaz09-_.") + code[at + 1 :]
    document = _inside(code)
    if "sealed" in document and way < 0.9:
        name = dice.choice(("figures", "pattern", "sealed", "spec"))
        values = {"figures": {}, "pattern": "A" * 22, "sealed": 2, "spec": any_spec(dice)}
        document[name] = values[name] if dice.random() < 0.7 else dice.choice(JUNK)
    else:
        document = hostile_spec(dice)
    return urlsafe_b64encode(json.dumps(document).encode()).rstrip(b"=").decode()


Door = Callable[[random.Random, Goods], Request]


def _weighted() -> Iterator[tuple[Door, int]]:
    yield from (
        (a_pattern, 30), (an_odd_strap, 10), (a_raw_text, 8), (a_drawing, 2), (a_code, 8), (a_seal, 7),
        (a_design, 14), (a_quote, 10), (an_offer, 1), (a_cut_plan, 2), (a_table_of_orders, 5),
        (a_page, 5), (garbage, 4),
    )  # fmt: skip


_DOORS, _WEIGHTS = zip(*_weighted(), strict=True)
