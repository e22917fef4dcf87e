"""The bundled family, Bench Sans, by file: Latin, Greek and Cyrillic of DejaVu Sans Condensed, renamed."""
