"""Templates: what is not their own text is escaped, and what they say to people goes through one function."""

import re
from html.parser import HTMLParser

import pytest
from jinja2 import UndefinedError
from markupsafe import Markup

from service.door.pages.rendering import TEMPLATES, say_in_html
from service.words import say

NAMES = TEMPLATES.list_templates()
SAID = ("alt", "aria-label", "placeholder", "title")
"""Attributes that are read out or shown to people (HTML Living Standard; WAI-ARIA 1.2)."""

WORD = re.compile(r"[a-z]", re.IGNORECASE)


def source(name):
    return TEMPLATES.loader.get_source(TEMPLATES, name)[0]


class Bare(HTMLParser):
    """Collects words for people that stand in HTML as they are; what is in `code` is for machines."""

    def __init__(self):
        super().__init__()
        self.found, self.inside = [], []

    def handle_starttag(self, tag, attributes):
        self.inside.append(tag)
        self.found += [value for name, value in attributes if name in SAID and WORD.search(value or "")]

    def handle_endtag(self, tag):
        while self.inside and self.inside.pop() != tag:
            pass

    def handle_data(self, data):
        if "code" not in self.inside and WORD.search(data):
            self.found.append(data)


def bare_words(text):
    parser = Bare()
    parser.feed(re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", "", text, flags=re.DOTALL))
    parser.close()
    return parser.found


@pytest.mark.parametrize("name", NAMES)
def test_a_template_says_nothing_to_people_but_through_say(name):
    assert bare_words(source(name)) == []


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("<p>Hello {{ name }}</p><code>curl {{ url }}</code>", ["Hello "]),
        ('<img alt="A strap" src="{{ url }}">{{ say("All") }}', ["A strap"]),
        ('{# a remark #}<a title="{{ title }}" href="/docs">{{ title }}</a>', []),
    ],
)
def test_words_that_stand_bare_are_found(text, found):
    assert bare_words(text) == found


@pytest.mark.parametrize("name", NAMES)
def test_no_template_turns_escaping_off(name):
    assert not re.search(r"\|\s*safe\b|autoescape\s+false", source(name))


def test_values_are_escaped_and_unknown_ones_refused():
    shown = TEMPLATES.from_string('<p title="{{ name }}">{{ name }}</p>')
    assert shown.render(name="\"'<b>&") == '<p title="&#34;&#39;&lt;b&gt;&amp;">&#34;&#39;&lt;b&gt;&amp;</p>'
    with pytest.raises(UndefinedError):
        shown.render()


def test_a_sentence_takes_its_values():
    assert say("{title}: {value}", title="Length", value="15 in") == "Length: 15 in"
    assert say_in_html("<{one}> & {two}", one="<b>", two=Markup("<i>x</i>")) == "&lt;&lt;b&gt;&gt; &amp; <i>x</i>"
