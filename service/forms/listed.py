"""The forms of output that there are, the most preferred first."""

from service.forms.data import JSON
from service.forms.dxf import DXF
from service.forms.form import Form, View
from service.forms.pdf import PDF
from service.forms.png import PNG
from service.forms.svg import SVG
from service.forms.webp import WEBP

FORMS: tuple[Form, ...] = (JSON, SVG, PNG, PDF, WEBP, DXF)


def library_versions() -> str:
    """Every library whose version shows in the bytes of a form."""
    return ", ".join(sorted({library for form in FORMS for library in form.libraries}))


def forms_with(parameter: str) -> tuple[Form, ...]:
    """The forms that a query parameter has a meaning for."""
    return tuple(form for form in FORMS if parameter in form.takes)


def forms_in(view: View) -> tuple[Form, ...]:
    """The forms that a view comes in."""
    return tuple(form for form in FORMS if view in form.views)
