"""Requests generated from the document: no server error, no surprise, nothing forbidden accepted.

`tests/run` draws some of each operation. Each example and each bound of each member, one after another, are twenty
thousand requests, which take a minute to be written down alone: `tests/heavy generated` sends those too.
"""

import os

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
schema.config.phases.coverage.enabled = schema.config.phases.examples.enabled = "EVERY_BOUND" in os.environ

CHECKS = (
    schemathesis.checks.not_a_server_error,
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
    unsupported_method,
)

LINKED = "Pages"
"""The tag of what links lead to: whoever passes a link on may add to it, so no query of theirs is refused."""


LONG = "/v1/shop-comparisons"
"""Takes two hundred codes of sixteen thousand characters: a generated request is a megabyte, so there are fewer."""


@schemathesis.serializer("application/toml")
def _toml(_context, value):
    """A shop file is sent as the text that was generated."""
    return value if isinstance(value, bytes) else str(value).encode()


def generated(examples):
    """How many requests of each operation, the same in every run."""
    return settings(
        max_examples=examples,
        derandomize=True,
        deadline=None,
        database=None,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
    )


def judge(case):
    """Send it, and hold the answer against the document. What is too long for its path is refused before it is read."""
    answer = case.call()
    refuses = LINKED not in case.operation.tags and answer.status_code != 413
    case.validate_response(answer, checks=(*CHECKS, negative_data_rejection) if refuses else CHECKS)


@pytest.mark.slow
@schema.exclude(path=LONG).parametrize()
@generated(40)
def test_generated_requests_are_answered_as_the_document_says(case):
    judge(case)


@pytest.mark.slow
@schema.include(path=LONG).parametrize()
@generated(4)
def test_generated_long_requests_are_answered_as_the_document_says(case):
    judge(case)
