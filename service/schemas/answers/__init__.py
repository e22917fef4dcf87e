"""Every answer, declared once: what writes it is checked against this, and the OpenAPI document is made from it.

Declarations only. A class is an object, its docstring what it is; a text in `Annotated` is what a member means. A
member that is not `NotRequired` is always there, and there are no others.
"""
