"""Straps that between them are refused in every way, at every place, with every kind of remedy that was seen."""

import json

from tests.golden.kept import HERE

REFUSED = json.loads((HERE / "refused.json").read_text(encoding="utf-8"))
