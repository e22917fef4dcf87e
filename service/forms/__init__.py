"""Forms of output: from a neutral drawing, a document of pages or plain data to bytes.

Draws what the drawing says and decides nothing about straps: never imports patterns or settings.
"""
