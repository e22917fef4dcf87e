"""What a shop is: its leathers, tools, hardware, ornaments, rules and limits, as plain frozen dataclasses.

Knows lengths as whole nanometres and nothing else: never reads a file, the environment or JSON.
The demo shop beside this module is data; `service.shop_file` reads it.
"""
