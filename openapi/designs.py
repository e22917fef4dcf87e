"""JSON Schemas of what is answered of designs."""

from openapi.answers import COUNT, MILLIMETRES, TEXT, Json, closed, lengths, listed, ref, words

DESIGN_IN_SHORT = closed(
    "A design in short.",
    {
        "name": TEXT,
        "title": TEXT,
        "about": TEXT,
        "href": {"type": "string", "format": "uri-reference"},
        "picture": {"type": "string", "format": "uri-reference", "description": "Its finished look, as SVG."},
    },
)

DESIGNS = closed("The shop's designs.", {"designs": listed(ref("DesignInShort"))})

_VALUE: Json = {"type": ["string", "integer", "boolean"]}
_EXACT: Json = {"type": ["string", "integer"], "description": "A length as a text that is read back exactly; a count."}
_BOUNDS: Json = dict.fromkeys(("from", "to", "step"), _EXACT)

CHOICE = closed(
    "Something that may be chosen: a range of lengths or counts, or a list of values.",
    {
        "name": TEXT | {"description": "The query parameter."},
        "title": TEXT,
        "pointer": {"type": "string", "format": "json-pointer", "description": "What it sets in the spec."},
        "kind": words("length", "count", "value"),
        **_BOUNDS,
        "default": _VALUE,
        **{f"{name}_mm": MILLIMETRES for name in ("from", "to", "step", "default")},
        "values": listed(closed("One value and what a buyer reads for it.", {"value": _VALUE, "title": TEXT})),
    },
    optional=("from", "to", "step", "from_mm", "to_mm", "step_mm", "default_mm", "values"),
)

DESIGN = closed(
    "A design, and what may be chosen of it.",
    {
        "name": TEXT,
        "title": TEXT,
        "about": TEXT,
        "units": words("in", "mm"),
        "spec": ref("Spec") | {"description": "The base spec, with every default chosen."},
        "choices": listed(ref("Choice")),
        "along": TEXT | {"description": "The choice of length."},
        "count": {"type": ["string", "null"], "description": "The choice of how many ornaments, if there is one."},
        "price": {"type": ["string", "null"], "description": "Where the price of one is got, if this shop has prices."},
        "quotes": {"type": ["string", "null"], "description": "Where many are quoted, if this shop has prices."},
    },
)

CHOICES = closed(
    "What of a design can be made, with these choices given. What is not here is refused.",
    {
        "design": TEXT,
        "given": {"type": "object", "additionalProperties": _VALUE, "description": "Every other choice, as taken."},
        "units": words("in", "mm"),
        "along": TEXT,
        **lengths("step"),
        "count": {"type": ["string", "null"]},
        "count_step": {"type": ["integer", "null"]},
        "makeable": listed(
            closed(
                "The counts that can be made at one length; none where the list is empty.",
                {
                    **lengths("length"),
                    "value": TEXT | {"description": "The length as a query says it."},
                    "counts": listed({"type": "array", "items": COUNT, "minItems": 2, "maxItems": 2}, "Closed ranges."),
                },
            )
        ),
        "offered": {
            "type": "object",
            "additionalProperties": listed(_VALUE),
            "description": "Of each other choice the values with which anything at all can be made.",
        },
    },
)

OEMBED = closed(
    "A photo (oEmbed 1.0).",
    {
        "version": words("1.0"),
        "type": words("photo"),
        "title": TEXT,
        "url": {"type": "string", "format": "uri"},
        "width": COUNT,
        "height": COUNT,
        "provider_name": TEXT,
        "provider_url": {"type": "string", "format": "uri"},
        "cache_age": COUNT,
    },
)

DESIGN_ANSWERS: dict[str, Json] = {
    "Choice": CHOICE,
    "Choices": CHOICES,
    "Design": DESIGN,
    "DesignInShort": DESIGN_IN_SHORT,
    "Designs": DESIGNS,
    "OEmbed": OEMBED,
}
