"""Drawings of what the rules of the bench measure, made of real patterns: `python -m openapi.build` writes them."""
