"""Between documents and dataclasses: reads JSON and TOML, writes patterns and problems as plain data.

Knows marshmallow, the shop and the strap. Never imports HTTP, drawing, the clock or the environment.
"""
