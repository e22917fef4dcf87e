"""The shop's own pictures: an SVG file read at start, judged, cleaned and drawn once.

Nothing of the file is passed on as it stands: shapes and gradients are written anew from a list of what is
allowed. Whatever could run, load, repeat itself or go on for ever is refused. Never given a caller's file.
"""
