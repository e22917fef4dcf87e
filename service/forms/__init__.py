"""From a neutral drawing to bytes: SVG and PNG, and a painter that any cairo surface takes.

Draws what the drawing says and decides nothing about straps: never imports patterns, shops or settings.
"""
