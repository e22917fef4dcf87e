"""Requests generated from the document: no server error, no surprise, nothing forbidden accepted."""

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, settings
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    negative_data_rejection,
    response_schema_conformance,
    status_code_conformance,
    unsupported_method,
)

from service.app import create_app
from service.settings import Settings

schema = schemathesis.openapi.from_wsgi("/openapi.json", create_app(Settings()))

CHECKS = (
    schemathesis.checks.not_a_server_error,
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
    unsupported_method,
)

LINKED = "Pages"
"""The tag of what links lead to: whoever passes a link on may add to it, so no query of theirs is refused."""


@pytest.mark.slow
@schema.parametrize()
@settings(
    max_examples=40,
    derandomize=True,
    deadline=None,
    database=None,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
def test_generated_requests_are_answered_as_the_document_says(case):
    linked = LINKED in case.operation.tags
    case.call_and_validate(checks=CHECKS if linked else (*CHECKS, negative_data_rejection))
