"""The OpenAPI document: how it is made (`python -m openapi.build`), what it says, and its examples."""
