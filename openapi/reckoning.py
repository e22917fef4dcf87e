"""JSON Schemas of the reckoning: what quotes and cut plans answer, and what the members of their requests mean."""

from typing import get_args

from openapi.answers import COUNT, FLAG, SEALED, TEXT, Json, closed, lengths, listed, ref, words
from service.workshop.materials import ItemKind

AREA: Json = {"type": "number", "minimum": 0, "description": "Square millimetres."}
MONEY: Json = {
    "type": "string",
    "pattern": r"^-?[0-9]+(\.[0-9]+)?$",
    "description": "In the quote's currency, with that currency's own number of decimals.",
}
NUMBER: Json = {"type": "string", "pattern": r"^-?[0-9]+(\.[0-9]+)?$", "description": "An exact decimal number."}
SHARE: Json = {"type": "number", "minimum": 0, "maximum": 1}

_PART = closed(
    "One part of a line's total.",
    {
        "kind": TEXT | {"description": "`leather`, `buckle`, `labour`, `overhead`, `margin` and so on."},
        "item": TEXT,
        "quantity": NUMBER,
        "unit": TEXT,
        "unit_price": NUMBER,
        "amount": MONEY | {"description": "Rounded once; the parts' amounts add up to the line's total exactly."},
        "detail": TEXT,
    },
    optional=("unit_price", "detail"),
)
_PRICED: Json = {"ref": TEXT, "unit_price": MONEY, "total": MONEY}
_SUMS: Json = {
    "net": MONEY | {"description": "The sum of the lines."},
    "tax": MONEY,
    "total": MONEY | {"description": "`net` and `tax` together."},
}

_LINE: Json = {**_PRICED, "quantity": COUNT, "sealed": SEALED}
_SAID: Json = {
    **_SUMS,
    "tax_share": NUMBER,
    "tax_title": TEXT,
    "shop": ref("Terms"),
    "what_if": listed(
        closed(
            "The same lines, each at this quantity.",
            {"quantity": COUNT, "lines": listed(closed("One line.", _PRICED)), **_SUMS},
        )
    ),
}
_CURRENCY = TEXT | {"description": "ISO 4217."}

QUOTE = closed(
    "The price of straps, and how it comes about: for the holder of a key, or for all while there are no keys.",
    {
        "currency": _CURRENCY,
        "profit": closed(
            "A margin is a share of the price, a markup a share of the cost.",
            {"kind": words("margin", "markup"), "share": NUMBER},
        ),
        "lines": listed(
            closed(
                "One line; `unit_price` times `quantity` is its total.",
                {
                    **_LINE,
                    "cost": MONEY | {"description": "Materials, labour and overhead."},
                    "minutes": NUMBER | {"description": "Minutes of work on the whole line."},
                    "parts": listed(_PART),
                },
            )
        ),
        **_SAID,
    },
    optional=("what_if",),
)

QUOTE_WITHOUT_COSTS = closed(
    "The price of straps as who shows no key is told it, once there are keys.",
    {
        "currency": _CURRENCY,
        "lines": listed(closed("One line; `unit_price` times `quantity` is its total.", _LINE)),
        **_SAID,
    },
    optional=("what_if",),
)

PRICE = closed(
    "What one of a design costs as chosen.",
    {
        "price": MONEY | {"description": "What buyers are shown: `total` or `net`, as `shown` says."},
        "shown": words("gross", "net", description="Whether `price` is with the tax (`gross`) or without it (`net`)."),
        "net": MONEY,
        "tax": MONEY | {"description": "Of `net`, rounded once."},
        "total": MONEY | {"description": "`net` and `tax` together."},
        "tax_title": TEXT,
        "currency": _CURRENCY,
        "sealed": SEALED,
        "shop": ref("Terms"),
    },
)

TERMS = closed(
    "By whose terms an answer was reckoned.",
    {
        "name": TEXT,
        "digest": TEXT
        | {
            "description": "SHA-256 of all that shapes a pattern or a price: goods, rules, defaults, limits, prices. "
            "Titles, colours, pictures and designs may change without it."
        },
    },
)

_TALLY = closed("Hides and their whole area.", {"sheets": COUNT, "area_mm2": AREA})
_PIECE_OF: Json = {"ref": TEXT | {"description": "The order's ref."}, "copy": COUNT, "piece": TEXT}

CUT_PLAN = closed(
    "How a batch is cut: strips of one width the long way of a hide, then pieces out of strips.",
    {
        "sheets": listed(
            closed(
                "The `n`th hide of a stock.",
                {
                    "stock": TEXT,
                    "n": COUNT,
                    "leather": TEXT,
                    **lengths("length", "width", "straighten", "end_trim"),
                    "strips": listed(
                        closed(
                            "A strip; `from` is its place across the hide, `n` its number in working order.",
                            {
                                "n": COUNT,
                                **lengths("width", "from"),
                                "pieces": listed(
                                    closed(
                                        "A piece, along its strip.", {**_PIECE_OF, **lengths("from", "to", "length")}
                                    )
                                ),
                            },
                        )
                    ),
                    "offcuts": listed(
                        closed(
                            "What is left and worth keeping: the rest of the hide's width, or of a strip.",
                            {"of": words("hide", "strip"), **lengths("width", "length", "across", "along")},
                        )
                    ),
                    "yield": SHARE | {"description": "Share of the hide that becomes pieces."},
                },
            )
        ),
        "used": _TALLY,
        "lower_bound": _TALLY | {"description": "What no plan of the pieces that are placed is below."},
        "proven": FLAG | {"description": "Whether no plan needs less leather."},
        "cut_short": FLAG | {"description": "Whether time ended the search; else equal requests give equal plans."},
        "settings": COUNT | {"description": "How often the strap cutter is set."},
        "missing": listed(
            closed(
                "A piece that the stock does not hold.",
                {
                    **_PIECE_OF,
                    "leather": TEXT,
                    **lengths("width", "length"),
                    "why": words("stock_used_up", "fits_no_sheet"),
                },
            )
        ),
        "more": listed(
            closed(
                "So many more hides would hold what is missing; `at_least` as many by any plan.",
                {
                    "leather": TEXT,
                    "stock": TEXT | {"description": "A stock of that size; else it is the size the shop buys."},
                    **lengths("length", "width"),
                    "count": COUNT,
                    "at_least": COUNT,
                },
                optional=("stock",),
            )
        ),
        "leathers": listed(
            closed(
                "The same by leather.",
                {
                    "leather": TEXT,
                    "used": _TALLY,
                    "lower_bound": _TALLY,
                    "proven": FLAG,
                    "settings": COUNT,
                    "pieces_mm2": AREA,
                    "offcuts_mm2": AREA,
                    "yield": SHARE,
                },
            )
        ),
        "steps": listed(
            closed("One thing to do and tick off.", {"n": COUNT, "stock": TEXT, "sheet": COUNT, "do": TEXT})
        ),
    },
)

MATERIALS = closed(
    "What a strap is made of.",
    {
        "straps": COUNT,
        "pieces": listed(
            closed(
                "So many of one piece; the area is inside its outline.",
                {"piece": TEXT, "leather": TEXT, "count": COUNT, **lengths("length", "width"), "area_mm2": AREA},
            )
        ),
        "leather": listed(
            closed(
                "One leather: inside the outlines, as cut from strips, and with the shop's waste share.",
                {"leather": TEXT, "area_mm2": AREA, "blank_mm2": AREA, "waste_share": SHARE, "gross_mm2": AREA},
            )
        ),
        "strips": listed(
            closed(
                "Strip of one width: one setting of the strap cutter.",
                {"leather": TEXT, **lengths("width", "length"), "pieces": COUNT},
            )
        ),
        "items": listed(
            closed("So many of one item.", {"item": TEXT, "kind": words(*get_args(ItemKind)), "count": COUNT})
        ),
        "by_length": listed(
            closed("Lace and thread, all together.", {"item": TEXT, "count": COUNT, **lengths("length")})
        ),
        "consumables": listed(
            closed(
                "Something used up on the way.",
                {"item": TEXT, "title": TEXT, "amount": {"type": "number", "minimum": 0}, "unit": TEXT},
            )
        ),
        "weight_g": {"type": "number", "minimum": 0, "description": "Finished, in grams."},
    },
)

RECKONING_ANSWERS: dict[str, Json] = {
    "Price": PRICE,
    "Terms": TERMS,
    "Quote": QUOTE,
    "QuoteWithoutCosts": QUOTE_WITHOUT_COSTS,
    "CutPlan": CUT_PLAN,
    "Materials": MATERIALS,
}

_ORDER = {
    "ref": "The caller's own name for this order, given once.",
    "quantity": "How many of it; 1 where nothing is said.",
    "spec": "A strap's spec; its bare numbers are in its own units, else the shop's.",
    "code": "A pattern's code, or its `sealed`: of that the same strap, or 409 `shop_changed`.",
    "design": "The name of a design.",
    "choices": "What is chosen of the design; its defaults for all else.",
}

RECKONING_MEANINGS: dict[str, dict[str, str]] = {
    "QuoteRequest": {
        "lines": "What is priced; each line is made as one batch.",
        "what_if": "Quantities that every line takes in turn, beside the quantities of the lines.",
        "margin": "Profit as a share of the price, instead of the shop's own; needs a key once there are keys.",
        "markup": "Profit as a share of the cost, instead of the shop's own; not together with `margin`; needs "
        "a key as well.",
        "leather_by": "`waste_share` (the default), or `cut_plan`: what a plan out of the shop's hides really uses; "
        "needs a key as well.",
    },
    "StrapOrder": _ORDER,
    "CutOrder": _ORDER | {"pieces": "Bare pieces of leather that belong to no pattern."},
    "BarePiece": {
        "name": "What it is found by again.",
        "leather": "The id of a leather.",
        "width": "That of the strip that it is cut from.",
        "length": "Along the strip.",
    },
    "CutPlanRequest": {
        "units": "Unit of bare numbers (but not of those in a spec) and of readings; the shop's own if left out.",
        "orders": "What is cut; every piece of every order is in the plan once, or missing.",
        "stock": "The leather there is; without it as many of the shop's own hides as it takes.",
        "kerf": "What each cut takes away.",
        "straighten": "Cut off one long edge of each hide first.",
        "end_trim": "Cut off each end of every strip.",
        "min_offcut": "The smallest offcut worth keeping.",
        "time_limit_s": "Seconds for the search, 2 where nothing is said.",
    },
    "Stock": {
        "id": "What the hides are found by again, given once.",
        "leather": "The id of a leather.",
        "length": "Usable length, along which strips are cut.",
        "width": "Usable width.",
        "count": "How many there are.",
        "straighten": "For these hides, instead of the request's.",
        "end_trim": "For these hides, instead of the request's.",
    },
    "MinOffcut": {"length": "The shortest.", "width": "The narrowest."},
}
"""As in `openapi.meanings`."""
