"""The shop file's prices: every mistake at once, by its key."""

import tomllib
from decimal import Decimal

import pytest

from service.shop.pricing import Cutting, Margin, Markup
from service.shop_file import DEMO, ShopFileError, dotted, load_shop


def changed(tmp_path, *changes):
    """The demo shop's file with texts replaced."""
    text = DEMO.read_text()
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    for picture in DEMO.parent.glob("*.svg"):
        (tmp_path / picture.name).write_bytes(picture.read_bytes())
    path = tmp_path / "shop.toml"
    path.write_text(text)
    return path


def mistakes(path):
    with pytest.raises(ShopFileError) as caught:
        load_shop(path)
    return {dotted(fault.path): fault.code for fault in caught.value.faults}


def test_the_demo_shop_has_prices(shop):
    assert shop.pricing.profit == Margin(Decimal("0.35"))
    assert [each.quantity for each in shop.pricing.breaks] == [5, 20, 50]
    assert shop.pricing.discount(4) == 0
    assert shop.pricing.discount(20) == Decimal("0.10")
    assert shop.pricing.discount(10_000) == Decimal("0.15")


def test_a_markup_instead_of_a_margin(tmp_path):
    shop = load_shop(changed(tmp_path, ('margin = "0.35"', 'markup = "1.2"')))
    assert shop.pricing.profit == Markup(Decimal("1.2"))


@pytest.mark.parametrize("profit", ['margin = "0.35"\nmarkup = "1"', ""])
def test_margin_and_markup_are_never_confused(profit, tmp_path):
    assert mistakes(changed(tmp_path, ('margin = "0.35"', profit))) == {"pricing": "one_of"}


def test_every_mistake_is_told_at_once(tmp_path):
    path = changed(
        tmp_path,
        ('rounding = "half_up"', 'rounding = "down"'),
        ('margin = "0.35"', 'margin = "1"'),
        ('shown = "gross"', 'shown = "both"'),
        ('cut_strip = { setup = "2", each = "0.6" }', 'cut_strip = { setup = "-2" }'),
        ("spot_6 = { size = 50", "spot_7 = { size = 50"),
        ('lace = "0.85"', ""),
        ('per = "strap"', 'per = "moon"'),
        ('quantity = 20, discount = "0.10"', 'quantity = 3, discount = "0.10"'),
        ('offcut_length = "6 in"', "offcut_length = 6"),
    )
    assert mistakes(path) == {
        "pricing.rounding": "unknown_value",
        "pricing.margin": "out_of_range",
        "pricing.shown": "unknown_value",
        "pricing.operations.cut_strip.setup": "invalid",
        "pricing.operations.cut_strip.each": "missing",
        "pricing.packs.spot_7": "unknown_item",
        "pricing.per_metre.lace": "missing",
        "pricing.consumables.swing_tag.per": "unknown_value",
        "pricing.breaks": "out_of_order",
        "cutting.offcut_length": "not_a_length",
    }


def test_a_shop_may_have_no_prices_and_no_cutting(tmp_path):
    text = DEMO.read_text()
    start = text.index("# ---------------------------------------------------------------- how leather is cut")
    tables = tomllib.loads(text[start:])
    assert {"cutting", "pricing"} <= tables.keys()
    end = text.find("# ------", text.index("[pricing.consumables.swing_tag]"))
    path = changed(tmp_path, (text[start : end if end > 0 else len(text)], ""))
    shop = load_shop(path)
    assert (shop.pricing, shop.cutting) == (None, Cutting())


@pytest.mark.parametrize(("line", "shown"), [("", "gross"), ('shown = "net"', "net")])
def test_a_shop_says_which_price_buyers_see(line, shown, tmp_path):
    assert load_shop(changed(tmp_path, ('shown = "gross"', line))).pricing.shown == shown
