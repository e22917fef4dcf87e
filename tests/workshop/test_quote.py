"""Prices against published examples and by hand; every sum exact, for every rounding and currency."""

import json
from dataclasses import fields, replace
from decimal import Decimal
from pathlib import Path
from types import MappingProxyType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.schemas.spec import read_spec
from service.shop.pricing import (
    CURRENCY_DECIMALS,
    Break,
    Margin,
    Markup,
    Operation,
    Operations,
    Pack,
    decimals_of,
)
from service.shop_file import demo_shop
from service.strap.model.spec import Body, Ends, Size, Spec, StrapEnd
from service.strap.model.spec_set import Border, Row
from service.strap.plane.lengths import MM
from service.strap.solve import solve
from service.workshop.labour import Labour
from service.workshop.materials import Order, metres
from service.workshop.money import Purse, price_for
from service.workshop.quote import NoPrices, QuoteLine, quote_of

IDLE = Operation(setup=Decimal(0), each=Decimal(0))
SHOP = demo_shop()
EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"


def strip(shop=SHOP, **more):
    """A strip of 1 m × 50 mm: 0.05 m2."""
    plain = StrapEnd(kind="plain", shape="square")
    spec = Spec(
        construction="open",
        size=Size(body_length=1000 * MM),
        leather="harness_8_9",
        body=Body(width=50 * MM),
        ends=Ends(head=plain, foot=plain),
        **more,
    )
    return solve(spec, shop)


def garter(count=5):
    return solve(
        Spec(construction="one_piece", size=Size(girth=400 * MM), ornaments=Row(item="bell_25", count=count)), SHOP
    )


def simple_shop(*, price_per_m2="300", minutes="180", rate="20", **pricing):
    """A shop that charges leather and one kind of work, without waste, tax and breaks."""
    idle = {field.name: IDLE for field in fields(Operations)}
    operations = Operations(**{**idle, "inspect": Operation(setup=Decimal(0), each=Decimal(minutes))})
    reckons = {
        "waste": Decimal(0),
        "overhead": Decimal(0),
        "tax": Decimal(0),
        "rate_per_hour": Decimal(rate),
        "operations": operations,
        "consumables": {},
        "packs": {},
        "breaks": (),
        **pricing,
    }
    leather = replace(SHOP.leathers["harness_8_9"], price_per_m2=Decimal(price_per_m2))
    leathers = MappingProxyType({**SHOP.leathers, "harness_8_9": leather})
    return replace(SHOP, leathers=leathers, pricing=replace(SHOP.pricing, **reckons))


def one(shop, pattern, quantity=1, **more):
    return quote_of([QuoteLine(ref="A1", pattern=pattern, quantity=quantity)], shop, **more)


def part(line, kind):
    return next(each for each in line.parts if each.kind == kind)


def test_the_published_example_of_cost_overhead_and_doubling():
    """calculator.city: 15 of material + 3 h × 20 = 75; + 10 % overhead = 82.50; × 2 = 165."""
    shop = simple_shop(overhead=Decimal("0.10"), profit=Markup(Decimal(1)))
    (line,) = one(shop, strip()).lines
    assert part(line, "leather").amount == 15
    assert part(line, "labour").amount == 60
    assert part(line, "overhead").amount == Decimal("7.50")
    assert (line.cost, line.total) == (Decimal("82.50"), Decimal("165.00"))


@pytest.mark.parametrize(
    ("cost", "share", "by_margin", "by_markup"),
    [
        # price = cost / (1 - margin), bookkeeping texts; price = cost × (1 + markup)
        ("75", "0.25", "100", "93.75"),
        ("82.50", "0.5", "165", "123.75"),
        ("60", "0.4", "100", "84"),
        ("80", "0", "80", "80"),
    ],
)
def test_margin_is_of_the_price_and_markup_of_the_cost(cost, share, by_margin, by_markup):
    assert price_for(Decimal(cost), Margin(Decimal(share))) == Decimal(by_margin)
    assert price_for(Decimal(cost), Markup(Decimal(share))) == Decimal(by_markup)


@given(st.decimals("0.01", "10000", places=2), st.decimals("0", "0.9", places=3))
def test_a_margin_and_the_markup_that_belongs_to_it_give_one_price(cost, margin):
    """Markup = margin / (1 - margin), bookkeeping texts."""
    markup = margin / (1 - margin)
    assert abs(price_for(cost, Margin(margin)) - price_for(cost, Markup(markup))) < Decimal("1e-9")


def test_a_request_may_replace_the_profit():
    shop = simple_shop(profit=Markup(Decimal(1)))
    quote = one(shop, strip(), profit=Margin(Decimal("0.25")))
    assert quote.lines[0].total == Decimal("100.00")
    assert part(quote.lines[0], "margin").amount == 25
    assert not [each for each in quote.lines[0].parts if each.kind == "markup"]


@given(
    quantity=st.integers(1, 300),
    profit=st.one_of(
        st.decimals("0", "0.95", places=3).map(Margin),
        st.decimals("0", "3", places=3).map(Markup),
    ),
    rounding=st.sampled_from(["half_up", "half_even", "up"]),
    currency=st.sampled_from(["EUR", "JPY", "KWD", "CLF"]),
    tax=st.decimals("0", "0.3", places=3),
    pattern=st.sampled_from([garter(2), garter(5), strip()]),
)
def test_every_sum_is_exact(quantity, profit, rounding, currency, tax, pattern):
    shop = replace(SHOP, currency=currency, pricing=replace(SHOP.pricing, rounding=rounding, profit=profit, tax=tax))
    lines = [QuoteLine(ref=f"A{n}", pattern=pattern, quantity=q) for n, q in enumerate((quantity, 1))]
    quote = quote_of(lines, shop)
    places = Decimal(1).scaleb(-decimals_of(currency))
    for line in quote.lines:
        assert sum(each.amount for each in line.parts) == line.total
        assert line.unit_price * line.quantity == line.total
        assert sum(e.amount for e in line.parts if e.kind not in ("margin", "markup", "discount")) == line.cost
        assert all(each.amount == each.amount.quantize(places) for each in line.parts)
        assert all(
            abs(each.quantity * each.unit_price - each.amount) <= places for each in line.parts if each.unit_price
        )
    assert sum(line.total for line in quote.lines) == quote.net
    assert quote.net + quote.tax == quote.total
    assert abs(quote.net * tax - quote.tax) <= places


@pytest.mark.parametrize(("currency", "places"), [("EUR", 2), ("JPY", 0), ("KWD", 3), ("CLF", 4)])
def test_amounts_have_the_currencys_own_number_of_decimals(currency, places):
    """ISO 4217, list one (from memory)."""
    quote = one(replace(SHOP, currency=currency), garter())
    amounts = [quote.net, quote.tax, quote.total, *(each.amount for each in quote.lines[0].parts)]
    assert {-each.as_tuple().exponent for each in amounts} == {places}


def test_the_table_of_decimals_has_three_letter_codes_only():
    assert all(len(code) == 3 and code.isupper() for code in CURRENCY_DECIMALS)


@pytest.mark.parametrize(
    ("rounding", "amount", "rounded"),
    [
        ("half_up", "0.125", "0.13"),
        ("half_even", "0.125", "0.12"),
        ("half_even", "0.135", "0.14"),
        ("up", "0.121", "0.13"),
        ("up", "-0.129", "-0.12"),
    ],
)
def test_rounding_is_what_the_shop_declares(rounding, amount, rounded):
    assert Purse("EUR", rounding).round(Decimal(amount)) == Decimal(rounded)


def test_tools_are_set_up_once_for_a_batch():
    """Ten straps take ten times the work of one, less nine times the setting up."""
    pattern, operations = garter(), SHOP.pricing.operations
    single = {use.operation: use for use in Labour(SHOP).of(Order(pattern=pattern), operations)}
    batch = {use.operation: use for use in Labour(SHOP).of(Order(pattern=pattern, quantity=10), operations)}
    assert single.keys() == batch.keys()
    for name, use in batch.items():
        setup = operations.by_name()[name].setup * use.tools
        assert use.tools == single[name].tools
        assert use.minutes - setup == pytest.approx(10 * (single[name].minutes - setup), abs=Decimal("0.01"))


def test_work_is_counted_from_the_patterns_own_features():
    pattern = garter()
    features = [feature for piece in pattern.pieces for feature in piece.features]
    uses = {use.operation: use for use in Labour(SHOP).of(Order(pattern=pattern), SHOP.pricing.operations)}
    punched = [f for f in features if f.action == "punch" and f.method == "one_punch"]
    slots = [f for f in features if f.action == "punch" and f.method == "holes_and_cuts"]
    assert uses["punch"].count == len(punched)
    assert uses["punch"].tools == len({f.tool for f in punched})
    assert ("cut_slot" in uses) == bool(slots)
    assert uses["set_bell"].count == 5
    assert uses["cut_length"].count == len(pattern.pieces)
    assert uses["rivet"].count == sum(line.count for line in pattern.hardware if line.item in SHOP.fasteners)
    assert uses["cut_strip"].tools == len({(piece.leather.id, piece.width) for piece in pattern.pieces})


def test_marks_are_work_of_their_own():
    spec = Spec(
        construction="open",
        size=Size(body_length=600 * MM),
        body=Body(width=64 * MM),
        ornaments=Row(item="bell_30", count=4),
        border=Border(item="spot_6"),
    )
    pattern = solve(spec, SHOP)
    marks = [f for piece in pattern.pieces for f in piece.features if f.action == "mark"]
    uses = {use.operation: use for use in Labour(SHOP).of(Order(pattern=pattern), SHOP.pricing.operations)}
    assert uses["mark"].count == uses["set_spot"].count == len(marks) > 0


def test_stitches_and_linings_are_work_and_thread_is_charged():
    pattern = solve(read_spec(json.loads((EXAMPLES / "lined_bag_strap.json").read_text()), "in"), SHOP)
    stitches = sum(line.stitches for piece in pattern.pieces for line in piece.stitch_lines)
    thread = sum(line.length * line.count for line in pattern.hardware if line.item == "thread")
    uses = {use.operation: use for use in Labour(SHOP).of(Order(pattern=pattern), SHOP.pricing.operations)}
    assert uses["stitch"].count == stitches > 0
    assert uses["glue_lining"].count == 1
    (line,) = one(SHOP, pattern).lines
    assert part(line, "thread").quantity == metres(thread)
    assert {each.item for each in line.parts if each.kind == "leather"} == {"latigo_6_7", "lining_2_3"}


def test_whole_packs_are_charged_whole_and_shares_by_the_piece():
    """Eleven conchos out of packs of ten are two packs; or 11 × 10.80 / 10."""
    spec = Spec(
        construction="open",
        size=Size(body_length=1000 * MM),
        body=Body(width=50 * MM),
        ornaments=Row(item="concho_25", count=11),
    )
    pattern = solve(spec, SHOP)
    pack = Pack(id="concho_25", size=10, price=Decimal("10.80"), charged="whole")
    whole = one(replace(SHOP, pricing=replace(SHOP.pricing, packs={"concho_25": pack})), pattern)
    share = one(
        replace(SHOP, pricing=replace(SHOP.pricing, packs={"concho_25": replace(pack, charged="share")})), pattern
    )
    found = part(whole.lines[0], "ornament")
    assert (found.quantity, found.unit, found.amount) == (2, "pack", Decimal("21.60"))
    assert part(share.lines[0], "ornament").amount == Decimal("11.88")


def test_a_larger_quantity_breaks_the_price():
    shop = simple_shop(
        breaks=(Break(quantity=5, discount=Decimal("0.05")), Break(quantity=20, discount=Decimal("0.10")))
    )
    shop = replace(shop, pricing=replace(shop.pricing, profit=Markup(Decimal(1))))
    prices = {quantity: one(shop, strip(), quantity).lines[0] for quantity in (1, 4, 5, 19, 20)}
    assert {quantity: line.unit_price for quantity, line in prices.items()} == {
        1: Decimal(150),
        4: Decimal(150),
        5: Decimal("142.50"),
        19: Decimal("142.50"),
        20: Decimal(135),
    }
    assert part(prices[5], "discount").amount == Decimal("-37.50")
    assert not [each for each in prices[4].parts if each.kind == "discount"]


def test_waste_is_a_share_of_what_is_used():
    """0.05 m2 of pieces with a waste share of 0.2 are 0.0625 m2 off the shelf."""
    (line,) = one(simple_shop(waste=Decimal("0.2")), strip()).lines
    assert (part(line, "leather").quantity, part(line, "leather").amount) == (Decimal("0.0625"), Decimal("18.75"))


def test_a_cut_plans_own_share_replaces_the_waste():
    (line,) = one(simple_shop(waste=Decimal("0.2")), strip(), shares={"harness_8_9": Decimal("1.1")}).lines
    assert part(line, "leather").quantity == Decimal("0.0550")


def test_tax_is_a_line_of_its_own():
    quote = one(simple_shop(tax=Decimal("0.19"), profit=Markup(Decimal(0))), strip())
    assert (quote.net, quote.tax, quote.total) == (Decimal("75.00"), Decimal("14.25"), Decimal("89.25"))


def test_a_shop_without_prices_makes_no_quote():
    with pytest.raises(NoPrices, match="pricing"):
        one(replace(SHOP, pricing=None), strip())


def test_lace_without_a_price_is_not_given_away():
    with pytest.raises(NoPrices, match="lace"):
        one(replace(SHOP, pricing=replace(SHOP.pricing, per_metre={})), garter())


@pytest.mark.parametrize(
    ("rounding", "price_per_m2", "tax", "told"),
    [
        ("half_up", "902.80", "0.19", ("45.14", "8.58", "53.72")),
        ("half_up", "10", "0.05", ("0.50", "0.03", "0.53")),
        ("half_even", "10", "0.05", ("0.50", "0.02", "0.52")),
        ("up", "902.80", "0.21", ("45.14", "9.48", "54.62")),
    ],
)
def test_net_tax_and_total_worked_by_hand(rounding, price_per_m2, tax, told):
    """0.05 m2 of leather alone. 0.05 x 902.80 = 45.14; x 0.19 = 8.5766; x 0.21 = 9.4794. 0.05 x 10 x 0.05 = 0.025."""
    shop = simple_shop(
        price_per_m2=price_per_m2, minutes="0", profit=Markup(Decimal(0)), tax=Decimal(tax), rounding=rounding
    )
    quote = one(shop, strip(shop))
    assert tuple(map(str, (quote.net, quote.tax, quote.total))) == told


def test_the_tax_is_rounded_once_on_the_sum_of_all_lines():
    """Two lines of 0.50 at 5 %: of the sum 1.00 it is 0.05; line by line it would be twice 0.025, so 0.06."""
    shop = simple_shop(price_per_m2="10", minutes="0", profit=Markup(Decimal(0)), tax=Decimal("0.05"))
    pattern = strip(shop)
    quote = quote_of([QuoteLine(ref=ref, pattern=pattern, quantity=1) for ref in ("A1", "A2")], shop)
    assert (quote.net, quote.tax, quote.total) == (Decimal("1.00"), Decimal("0.05"), Decimal("1.05"))


@pytest.mark.parametrize(("shown", "price"), [("gross", "1.19"), ("net", "1.00")])
def test_the_price_shown_is_with_the_tax_or_without_it(shown, price):
    shop = simple_shop(price_per_m2="20", minutes="0", profit=Markup(Decimal(0)), tax=Decimal("0.19"), shown=shown)
    assert str(one(shop, strip(shop)).price) == price
