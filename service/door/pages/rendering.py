"""Templates in, HTML out; whatever is not a template's own text is escaped."""

from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from service.words import say


def say_in_html(sentence: str, **values: object) -> Markup:
    """The sentence with its values as HTML: of these only what is `Markup` is not escaped."""
    return escape(say(sentence)).format(**values)


TEMPLATES = Environment(
    loader=FileSystemLoader(Path(__file__).with_name("templates")),
    autoescape=True,
    auto_reload=False,
    trim_blocks=True,
    lstrip_blocks=True,
    keep_trailing_newline=True,
    undefined=StrictUndefined,
)

TEMPLATES.globals["say"] = say_in_html


def render(template: str, **values: object) -> str:
    """A template with its values."""
    return TEMPLATES.get_template(template).render(values)
