"""The door: routes, strict parsing, negotiation, caching, guards and problems. Knows Flask; knows no leather.

What is made here is bytes and headers; what a strap is stands in `service.strap`, and the way to it in
`service.desk.pipeline`.
"""
