"""Everything that is known, as JSON."""

import orjson

from service.forms.form import Budget, DownloadOffer, Form, OutputOptions, Subject, always


def _encode(subject: Subject, _options: OutputOptions, _budget: Budget) -> bytes:
    return orjson.dumps(subject.data())


JSON = Form(
    name="json",
    title="JSON",
    media_type="application/json",
    is_text=True,
    parameters=frozenset(("units",)),
    of_posted=frozenset(("vary", "price")),
    downloads=(DownloadOffer("data", "Every measure as JSON"),),
    cost=always("small"),
    encode=_encode,
)
