"""Every sentence for people is said through here: a catalogue of another language can stand behind it.

A sentence is a constant text with `{name}` where a value stands; the text itself is what a catalogue will find it by.
`tests/house/test_sentences.py` finds those that are put together otherwise.
"""

from collections.abc import Iterable


def say(sentence: str, **values: object) -> str:
    """The sentence with its values, as plain text; without values as it stands, with its `{name}`s."""
    return sentence.format(**values) if values else sentence


def say_count(one: str, many: str, count: int, **values: object) -> str:
    """What is said of one thing, or of any other number of them, which is `{count}` in the sentence.

    A catalogue finds the forms of its language by the first: it may have more than two (`ngettext` of GNU gettext).
    """
    return say(one if count == 1 else many, count=count, **values)


def say_list(parts: Iterable[str], last_two: str = "{most} and {last}") -> str:
    """`body, buckle billet and keeper`: all that is listed, or, by other words for the last two, any of it."""
    listed = list(parts)
    return say(last_two, most=", ".join(listed[:-1]), last=listed[-1]) if len(listed) > 1 else "".join(listed)


def opening(text: str) -> str:
    """What opens a sentence, with a capital letter."""
    return text[:1].upper() + text[1:]


def within(text: str) -> str:
    """What opened a sentence, within another one."""
    return text[:1].lower() + text[1:]
