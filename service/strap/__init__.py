"""The core: what a strap is, how it is laid out, and what may not be punched.

Knows millimetres (as whole nanometres), leather and the shop's goods and rules.
Never imports HTTP, JSON, drawing, the clock or the environment: standard library and `service.shop` only.
"""
