"""Asks a service by the client that was generated for it: `ask.py ADDRESS FILE`, a JSON file of requests."""

import base64
import json
import sys
from pathlib import Path

from strap_patterns_client import Client
from strap_patterns_client.api.designs import get_design_pattern_json, get_price
from strap_patterns_client.api.patterns import get_pattern_png, make_pattern
from strap_patterns_client.api.reckoning import make_quote
from strap_patterns_client.models import (
    GetDesignPatternJsonChoices,
    GetPriceChoices,
    Pattern,
    Price,
    Problem,
    Quote,
    QuoteRequest,
    Spec,
)
from strap_patterns_client.types import File

address, requests = sys.argv[1], json.loads(Path(sys.argv[2]).read_text(encoding="utf-8"))
client = Client(base_url=address)

pattern = make_pattern.sync(client=client, body=Spec.from_dict(requests["spec"]))
assert isinstance(pattern, Pattern)
picture = get_pattern_png.sync(pattern.code, client=client, width_px=300)
assert isinstance(picture, File)
quote = make_quote.sync(client=client, body=QuoteRequest.from_dict(requests["quote"]))
assert isinstance(quote, Quote)

design, chosen = requests["design"], requests["choices"]
as_chosen = get_design_pattern_json.sync(design, client=client, choices=GetDesignPatternJsonChoices.from_dict(chosen))
assert isinstance(as_chosen, Pattern)
price = get_price.sync(design, client=client, choices=GetPriceChoices.from_dict(chosen))
assert isinstance(price, Price)
refused = make_pattern.sync(client=client, body=Spec.from_dict(requests["refused"]))
assert isinstance(refused, Problem)

answers = {"pattern": pattern, "quote": quote, "as_chosen": as_chosen, "price": price, "refused": refused}
told = {name: each.to_dict() for name, each in answers.items()}
print(json.dumps(told | {"picture": base64.b64encode(picture.payload.read()).decode()}))
