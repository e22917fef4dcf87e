"""Every sentence for people is said through here: a catalogue of another language can stand behind it.

A sentence is a text with `{name}` where a value stands; the text itself is what a catalogue will find it by. So far it
is said so in pages, in the ways out of a refused design, of a failed rule and of its remedies.
"""


def say(sentence: str, **values: object) -> str:
    """The sentence with its values, as plain text; without values as it stands, with its `{name}`s."""
    return sentence.format(**values) if values else sentence
