"""Templates in, HTML out; whatever is not a template's own text is escaped."""

from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from service.door.pages.words import say_in_html

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
