"""A price as a buyer reads it: the sum that is paid, and the tax in it by its name."""

from decimal import Decimal

from service.words import say
from service.workshop.quote import Quote

_SIGNS = {
    "AUD": "A$", "BRL": "R$", "CAD": "CA$", "CNY": "CN¥", "EUR": "€", "GBP": "£", "ILS": "₪", "INR": "₹", "JPY": "¥",
    "KRW": "₩", "MXN": "MX$", "NZD": "NZ$", "USD": "$",
}  # fmt: skip
"""As browsers write them in English (Unicode CLDR, locale en; from memory), so that a script changes nothing."""


def price_words(quote: Quote) -> str:
    """`€53.72 including VAT 19 %`; or `€45.14 plus VAT 19 % (€8.58)` where the shop shows prices without the tax."""
    values = {
        "price": money_words(quote.price, quote.currency),
        "tax": money_words(quote.tax, quote.currency),
        "title": quote.tax_title,
    }
    if not quote.tax:
        return say("{price} ({title})", **values)
    if quote.shown == "net":
        return say("{price} plus {title} ({tax})", **values)
    return say("{price} including {title}", **values)


def money_words(amount: Decimal, currency: str) -> str:
    """An amount with its currency's sign, or its code where the sign is not known to all."""
    return _SIGNS.get(currency, currency + "\N{NO-BREAK SPACE}") + f"{amount:,f}"
