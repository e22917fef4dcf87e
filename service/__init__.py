"""A stateless service that turns a strap spec into a pattern a leatherworker can cut from.

Data flows one way: HTTP request -> schema -> spec -> pattern -> drawing -> bytes.
"""
