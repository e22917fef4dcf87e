"""Every sentence that pages say to people goes through here: a catalogue of another language can stand behind it.

A sentence is a text with `{name}` where a value stands; the text itself is what a catalogue will find it by.
"""

from markupsafe import Markup, escape


def say(sentence: str, **values: object) -> str:
    """The sentence with its values, as plain text."""
    return sentence.format(**values)


def say_in_html(sentence: str, **values: object) -> Markup:
    """The sentence with its values as HTML: of these only what is `Markup` is not escaped."""
    return escape(sentence).format(**values)
