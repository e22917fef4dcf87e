"""`GET /v1/shop`: what this shop works with."""

import orjson

from service.door.call import Call
from service.door.query import one_of
from service.door.reply import Reply
from service.schemas.shop_document import shop_document
from service.schemas.spec import UNITS

SHOP_PARAMETERS = (one_of("units", "Units of all readings, instead of the shop's own", *UNITS),)


def get_shop(call: Call) -> Reply:
    """The shop as JSON; its purchase prices only for whom they are meant."""
    units = call.values.get("units", call.shop_units)
    return Reply(content=orjson.dumps(shop_document(call.shop, units, with_prices=call.has_key)))
