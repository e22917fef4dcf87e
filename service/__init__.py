"""A stateless service that turns a strap spec into a pattern a leatherworker can cut from.

Data flows one way: HTTP request -> schema -> spec -> pattern -> drawing -> bytes.
"""

ENGINE_VERSION = "1"
"""Goes into every entity tag: raise it when the same spec gives other bytes."""
